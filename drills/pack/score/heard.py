"""What a file of notation lets begin together, before it is taken for a chord."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

from drills.theory.pitch import NoteName

Voice: TypeAlias = tuple[int, str]
"""A part or track, and the voice or channel within it."""


@dataclass(frozen=True, slots=True)
class HeardNote:
    """A note that is struck.

    Attributes:
        midi: as it sounds.
        name: as it is written; None where the file has no spelling.
        voice: where it stands.
    """

    midi: int
    name: NoteName | None
    voice: Voice


@dataclass(slots=True)
class Beginning:
    """What is struck at one moment.

    Attributes:
        where: for messages.
        notes: in the order of the file.
        root: of the chord symbol that stands there.
    """

    where: str
    notes: list[HeardNote] = field(default_factory=list)
    root: NoteName | None = None
