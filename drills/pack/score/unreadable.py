"""The faults of a file that is read: not the music it should be, or too much of it."""

from __future__ import annotations

from typing import Literal

from drills.errors import DrillsError


def unreadable(
    kind: Literal["MIDI", "MusicXML"], why: str, *, where: str = "", mend: str = ""
) -> DrillsError:
    """An error that says why a file cannot be read, where in it, and how to mend it.

    >>> print(unreadable("MIDI", "it ends too early", where="track 2"))
    track 2: cannot be read as MIDI: it ends too early; export the MIDI file again
    """
    what = f"cannot be read as {kind}: {why}"
    return DrillsError(what, where=where, mend=mend or f"export the {kind} file again")


def too_much(what: str) -> DrillsError:
    """An error about a file that would take minutes."""
    mend = "cut out the bars you want, and read those"
    return DrillsError(f"too much to read at once: {what}", mend=mend)
