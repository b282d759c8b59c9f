"""What a student puts an answer together from: whole lists, so that no choice gives the answer away.

Source: chart habit for plain names is common practice, no source.
"""

from __future__ import annotations

from drills.theory.chord import habit_root, read_suffix
from drills.theory.degree import KNOWN, degree
from drills.theory.layer import LayerName
from drills.theory.parts import ADDED_SEVENTH, ADDED_THIRD, NO_THIRD, QUALITIES, TENSIONS
from drills.theory.pitch import NoteName
from drills.theory.symbol import symbol
from drills.theory.tables import FOUR_NOTE_ROWS, GAP_ROWS, STRUCTURE_ROWS

KEY_NAMES = tuple(habit_root(pitch_class, "major") for pitch_class in range(12))
"""The twelve keys as charts name them, C first."""

PLAIN_NAMES = tuple(habit_root(pitch_class, "dominant") for pitch_class in range(12))
"""The twelve notes in the plainest spelling, C first: no double signs, no E♯, C♭ and the like."""

NOTES = tuple(tuple(NoteName(letter, alter) for letter in range(7)) for alter in (1, 0, -1))
"""Sharps, naturals, flats, each from C to B."""

DEGREES = tuple(
    tuple(sorted((each for each in map(degree, KNOWN) if each.semitones == place), key=lambda it: it.number))
    for place in range(12)
)
"""For each semitone over a root what it may be called."""

_TRIADS = {"": "major", "m": "minor"}
_ADDED = {NO_THIRD: "no 3", ADDED_THIRD: "add 3", ADDED_SEVENTH: "add 7"}

QUALITY_TEXTS = tuple(_TRIADS.get(each) or symbol(read_suffix(each)).shown for each in QUALITIES)
"""In the order of `theory/parts.py: QUALITIES`."""

TENSION_TEXTS = tuple(_ADDED.get(each) or degree(each).shown for each in TENSIONS)
"""In the order of `theory/parts.py: TENSIONS`."""

_TURNED = tuple(dict.fromkeys(row.name for row in (*STRUCTURE_ROWS, *FOUR_NOTE_ROWS)))
_STANDING = tuple(dict.fromkeys(row.name for row in GAP_ROWS))
_OTHERS = ("four-note cluster", "four mixed notes")
STRUCTURES = (*_TURNED, *_STANDING, *_OTHERS)
"""Structures of three and four notes, those that can be turned first."""

STRUCTURE_FAMILIES = tuple(
    (family, tuple(STRUCTURES.index(name) for name in dict.fromkeys(names)))
    for family, names in {
        "triad": [row.name for row in STRUCTURE_ROWS if row.family == "triad"],
        "shell": [row.name for row in STRUCTURE_ROWS if row.family == "shell"],
        "sus": [row.name for row in (*GAP_ROWS, *STRUCTURE_ROWS) if row.family == "sus"],
        "stack": [row.name for row in GAP_ROWS if row.family == "stack"],
        "cluster": [row.name for row in STRUCTURE_ROWS if row.family == "cluster"] + list(_OTHERS),
        "seventh chord": [row.name for row in FOUR_NOTE_ROWS],
    }.items()
)
"""The structures by family, as places in STRUCTURES; each is in one."""


def structure_place(name: LayerName) -> int | None:
    """Which of the structures a layer is, a doubled note left aside; None for one or two different notes."""
    structure = name.structure.partition(", ")[0]
    return STRUCTURES.index(structure) if structure in STRUCTURES else None


def is_turned(structure: int) -> bool:
    """Whether a structure has inversions."""
    return structure < len(_TURNED)


def is_even(structure: int) -> bool:
    """Whether a structure divides the octave evenly, so that each of its notes may be its root."""
    return STRUCTURES[structure] in ("augmented triad", "diminished seventh chord")
