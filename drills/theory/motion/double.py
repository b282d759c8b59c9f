"""Double: one note of a voicing once more, on top.

Conventions: the doubled note stands in the first octave that puts it above all others, and joins the
highest layer; a full layer leaves it to be one of its own.
Source: common practice, no source.
"""

from __future__ import annotations

from drills.errors import DrillsError
from drills.theory.degree import Degree
from drills.theory.layer import LARGEST_LAYER
from drills.theory.motion.moved import Moved, Voice, changes, renamed, voices_of
from drills.theory.naming import Named
from drills.theory.voicing import MOST_NOTES, checked_sizes

_AS_OCTAVES = ("", "an octave up", "two octaves up", "three octaves up")


def double(named: Named, wanted: Degree, *, where: str = "") -> Moved:
    """The voicing with one of its notes doubled on top.

    Raises:
        DrillsError: the voicing has no such degree, or has no room for another note.

    >>> from drills.theory.degree import degree
    >>> from drills.theory.naming import name_notes
    >>> moved = double(name_notes((48, 52, 55), (3,)), degree("1"))
    >>> [pitch.plain for pitch in moved.named.sounding.pitches], moved.words
    (['C3', 'E3', 'G3', 'C4'], 'C4 added on top: the 1 an octave up')
    """
    voices = voices_of(named)
    same = [voice for voice in voices if voice.degree.semitones == wanted.semitones]
    if not same:
        there = " ".join(dict.fromkeys(voice.degree.plain for voice in voices))
        what = f"{named.chord_plain} has no {wanted.plain} to double"
        raise DrillsError(what, where=where, mend=f"its degrees are {there}")
    if len(voices) == MOST_NOTES:
        raise DrillsError(
            f"{MOST_NOTES} notes leave no room to double one", where=where, mend="reduce it first"
        )
    source, top = same[-1], voices[-1]
    octaves = (top.midi - source.midi) // 12 + 1
    sizes = named.sounding.voicing.sizes
    layer = len(sizes) - 1 if sizes[-1] < LARGEST_LAYER else len(sizes)
    checked_sizes((*sizes, 1) if layer == len(sizes) else sizes, where=where)
    doubled = (*voices, Voice(source.degree, source.midi + 12 * octaves, layer))
    after = renamed(named, doubled)
    added = after.sounding.pitches[-1]
    how = _AS_OCTAVES[octaves] if octaves < len(_AS_OCTAVES) else f"{octaves} octaves up"
    words = f"{added.shown} added on top: the {source.degree.shown} {how}"
    return Moved(after, f"{source.degree.shown} doubled on top", changes(named, after, doubled), words)
