"""The nearest right word for a wrong one."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(wrong: str, known: Iterable[str]) -> str:
    """The known word most like a wrong one, or nothing when none is close.

    >>> nearest("dorain", ["ionian", "dorian", "lydian"])
    'dorian'
    """
    by_lower = {word.lower(): word for word in known}
    close = get_close_matches(wrong.lower(), list(by_lower), n=1, cutoff=0.5)
    return by_lower[close[0]] if close else ""
