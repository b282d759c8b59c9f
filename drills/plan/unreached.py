"""What could not be reached, and why."""

from __future__ import annotations

from dataclasses import dataclass

from drills.neck.grip import Refusal


@dataclass(frozen=True, slots=True)
class Unreached:
    """A voicing that cannot be held in a key, and why not.

    Attributes:
        voicing: how messages call it.
        key: the root, plain form.
        why: the narrowest miss.
        instead: the smaller voicing that the deck holds in its place; empty for none.
    """

    voicing: str
    key: str
    why: str
    instead: str = ""


def why_not(refusal: Refusal) -> str:
    """The narrowest miss, and where on the neck it was tried."""
    frets = " ".join("x" if fret is None else str(fret) for fret in refusal.frets)
    return f"{refusal.why}, at {frets}" if frets else refusal.why
