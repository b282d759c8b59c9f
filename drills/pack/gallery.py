"""The media of a package: named while its cards are written, made afterwards, each once.

Conventions: a package numbers its files; a picture has two, the day's and the night's, a sound has one. They
come in the order in which the cards first ask for them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Protocol

from drills.cards.card import Face, PictureSpec, SoundSpec
from drills.pack.faces import Pair

_SAFE_NAME: Final = re.compile(r'[^\x00-\x1f\x7f/\\:*?"<>|#%\[\]]+')


class Media(Protocol):
    """Whoever draws the pictures."""

    def names(self, picture: PictureSpec, label: str) -> Pair:
        """The file names on the day's and on the night's ground, without drawing anything."""

    def render(self, picture: PictureSpec) -> tuple[bytes, bytes]:
        """The two files, the day's and the night's."""


class Sounds(Protocol):
    """Whoever plays the voicings."""

    def name(self, sound: SoundSpec, label: str) -> str:
        """The file name, without playing anything."""

    def render(self, sounds: Iterable[SoundSpec]) -> Iterator[bytes]:
        """The file of each, in order; it may be at work on the next ones meanwhile."""


@dataclass(frozen=True, slots=True)
class _Item:
    """What is in the gallery: its files, what they show or play, and how many cards came before it."""

    names: tuple[str, ...]
    content: PictureSpec | SoundSpec
    n_cards: int


class Gallery:
    """The pictures and sounds of a deck.

    Args:
        media: draws the pictures.
        sounds: plays the sounds; None for a silent package.
    """

    def __init__(self, media: Media, sounds: Sounds | None = None) -> None:
        self._media = media
        self._sounds = sounds
        self._items: dict[str, _Item] = {}
        self._sound_names: dict[SoundSpec, str] = {}

    def hang(self, face: Face, label: str, n_cards: int) -> Pair | None:
        """Takes in the picture of a face, if it has one, and tells its file names.

        Args:
            face: a side of a card.
            label: the card's.
            n_cards: how many cards came before this one.
        """
        if face.picture is None:
            return None
        pair = self._media.names(face.picture, label)
        self._take_in(_Item(pair, face.picture, n_cards))
        return pair

    def sounded(self, sound: SoundSpec | None, label: str, n_cards: int) -> str | None:
        """Takes in a sound, if there is one and the package has sound, and tells its file name.

        What sounds the same is one file, named after the first card that plays it.
        """
        if sound is None or self._sounds is None:
            return None
        if sound not in self._sound_names:
            name = self._sound_names[sound] = self._sounds.name(sound, label)
            self._take_in(_Item((name,), sound, n_cards))
        return self._sound_names[sound]

    def _take_in(self, item: _Item) -> None:
        key = item.names[0].casefold()
        known = self._items.setdefault(key, item)
        if known is item and not all(map(_SAFE_NAME.fullmatch, item.names)):
            raise ValueError(f"no file names for every system: {item.names}")
        if (known.names, known.content) != (item.names, item.content):
            raise ValueError(f"two files are named {item.names[0]!r}")

    def map_json(self) -> bytes:
        """The format's map from a file's place in the package to its name."""
        names = [name for item in self._items.values() for name in item.names]
        return json.dumps(dict(enumerate(names)), separators=(",", ":")).encode()

    def files(self) -> Iterator[tuple[int, bytes]]:
        """Makes each file; gives it with the number of cards that have all theirs by then."""
        played = self._sounds.render(self._sound_names) if self._sounds is not None else iter(())
        for item in self._items.values():
            if isinstance(item.content, PictureSpec):
                for data in self._media.render(item.content):
                    yield item.n_cards, data
            else:
                yield item.n_cards, next(played)
