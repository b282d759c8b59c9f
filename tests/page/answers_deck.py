"""A deck in the form that drills/page/deck.js gives, small enough to read: what answers are checked against.

The voicing is `b7 3 | 13 9 #11` over E♭: D♭ G | C F A, frets x 4 5 5 6 5.
"""

from __future__ import annotations

from typing import Any

from drills.cards import pads
from drills.theory.degree import degree
from drills.theory.pitch import read_note_name
from drills.theory.tables import INVERSIONS

GRIP = [None, 4, 5, 5, 6, 5]
"""Frets of D♭ G | C F A, lowest string first."""
TWELFTH = [None, 16, 17, 17, 18, 17]
OPEN_MIDI = [40, 45, 50, 55, 59, 64]

_OVER_E_FLAT = "13 b7 7 1 b9 9 #9 3 11 #11 5 b13".split()
"""From C up, over E♭."""

DECK: dict[str, Any] = {
    "instrument": {"names": list("EADGBE"), "midi": OPEN_MIDI, "frets": 20, "isLeftHanded": False},
    "plainNames": [name.shown for name in pads.PLAIN_NAMES],
    "keyNames": [name.shown for name in pads.KEY_NAMES],
    "pads": {
        "notes": [
            [{"text": each.shown, "pitchClass": each.pitch_class} for each in row] for row in pads.NOTES
        ],
        "degrees": [
            {"semitones": place, "texts": [each.shown for each in row]}
            for place, row in enumerate(pads.DEGREES)
        ],
        "qualities": pads.QUALITY_TEXTS,
        "tensions": pads.TENSION_TEXTS,
        "structures": pads.STRUCTURES,
        "structureGroups": [
            {"text": family, "structures": places} for family, places in pads.STRUCTURE_FAMILIES
        ],
        "inversions": INVERSIONS,
    },
}

_ROOT = read_note_name("Eb")
CARD: dict[str, Any] = {
    "drill": "place",
    "key": {"text": "E♭", "pitchClass": 3},
    "names": {
        "notes": [degree(text).over(_ROOT).shown for text in _OVER_E_FLAT],
        "degrees": [degree(text).shown for text in _OVER_E_FLAT],
    },
    "front": {"picture": None},
    "back": {
        "layers": [{"role": "upper", "text": ""}, {"role": "lower", "text": ""}],
        "lines": [
            {
                "notes": [
                    [{"name": "D♭", "midi": 49}, {"name": "G", "midi": 55}],
                    [{"name": "C", "midi": 60}, {"name": "F", "midi": 65}, {"name": "A", "midi": 69}],
                ]
            }
        ],
    },
}


def place(pad: str, text: str) -> int:
    """Where a text stands in one of the pads' lists."""
    return list(DECK["pads"][pad]).index(text)


NECK: dict[str, Any] = {
    "kind": "neck",
    "by": "frets",
    "accepts": [GRIP, TWELFTH],
    "strings": [1, 2, 3, 4, 5],
    "start": None,
    "fixed": [],
}
PITCHES = NECK | {"by": "pitches", "accepts": [GRIP], "strings": []}
NOTES: dict[str, Any] = {"kind": "notes", "midi": [49, 55, 60, 65, 69], "names": ["D♭", "G", "C", "F", "A"]}
SPOT: dict[str, Any] = {"kind": "degrees", "asked": [{"name": "A", "semitones": 6, "text": "♯11"}]}
SPLIT: dict[str, Any] = {
    "kind": "degrees",
    "asked": [{"name": "D♭", "semitones": 10, "text": "♭7"}, {"name": "G", "semitones": 4, "text": "3"}],
}
CHORD: dict[str, Any] = {
    "root": 3,
    "text": "E♭13♯11",
    "quality": place("qualities", "7"),
    "needs": [place("tensions", "♯11"), place("tensions", "13")],
    "allows": [place("tensions", "9")],
}
OTHER_CHORD: dict[str, Any] = {
    "root": 9,
    "text": "A7♯9♭13",
    "quality": place("qualities", "7"),
    "needs": [place("tensions", "♯9"), place("tensions", "♭13")],
    "allows": [],
}
LAYER: dict[str, Any] = {
    "role": "upper",
    "root": 5,
    "otherRoots": [],
    "structure": place("structures", "major triad"),
    "inversion": 2,
    "text": "F major triad, close, second inversion",
}
NAME: dict[str, Any] = {
    "kind": "parts",
    "rootSaid": 3,
    "readings": [CHORD, OTHER_CHORD],
    "layers": [LAYER],
    "degrees": [],
}
JOIN: dict[str, Any] = NAME | {
    "layers": [],
    "degrees": [{"name": "C", "semitones": 9, "text": "13"}, {"name": "F", "semitones": 2, "text": "9"}],
}
HEAR: dict[str, Any] = {
    "kind": "choice",
    "options": ["m11, minor triad on the ♭3", "13♯11, major triad on the 9"],
    "right": 1,
}

LAYER_GIVEN = {"root": 5, "structure": LAYER["structure"], "inversion": 2}
NAME_GIVEN: dict[str, Any] = {
    "root": 3,
    "quality": CHORD["quality"],
    "tensions": CHORD["needs"],
    "layers": [LAYER_GIVEN],
    "degrees": [],
}


def spelled(text: str) -> list[dict[str, Any]]:
    """Notes of the pad, by their names with blanks between."""
    by_text = {note["text"]: note for row in DECK["pads"]["notes"] for note in row}
    return [by_text[each] for each in text.split()]
