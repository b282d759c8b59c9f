"""Pictures by name: what a picture is called, and its bytes when somebody asks for them."""

from __future__ import annotations

from functools import lru_cache

from drills.cards.card import PictureSpec
from drills.draw.neck import look_fingerprint, render_pair
from drills.media.names import file_stem, short_hash


class Pictures:
    """Names and draws neck pictures, light and dark."""

    def names(self, picture: PictureSpec, label: str) -> tuple[str, str]:
        """File names for the day's and the night's picture, without drawing either.

        Args:
            picture: what is shown.
            label: chord, key and grip in plain text, such as "Eb13#11 x-4-5-5-6-5".
        """
        stem = file_stem(label, _digest(picture))
        return f"{stem}_day.png", f"{stem}_night.png"

    def render(self, picture: PictureSpec) -> tuple[bytes, bytes]:
        """The PNG bytes of both."""
        return render_pair(picture)


@lru_cache(maxsize=4096)
def _digest(picture: PictureSpec) -> str:
    return short_hash(f"{look_fingerprint()} {picture!r}")
