"""A chord symbol with its grip, as the `harmony` and `frame` elements of MusicXML 4.0.

Conventions: the kind is the triad, sixth or seventh chord; every further tone is a `degree` of its own, so
that programs which play the symbol play exactly its notes; its text is the symbol as we show it. Degrees are
altered against the major scale with a minor seventh, as the standard says. Strings are numbered 1 for the
highest.
Source: MusicXML 4.0, elements harmony, kind, degree and frame (W3C Music Notation Community Group, 2021).
"""

from __future__ import annotations

from collections import Counter
from xml.etree.ElementTree import Element, SubElement

from drills.neck.grip import Grip
from drills.theory.chord import Chord
from drills.theory.degree import Degree
from drills.theory.pitch import LETTERS, NoteName

_KINDS: tuple[tuple[str, frozenset[str]], ...] = tuple(
    (kind, frozenset(degrees.split()))
    for kind, degrees in (
        ("half-diminished", "1 b3 b5 b7"),
        ("diminished-seventh", "1 b3 b5 bb7"),
        ("augmented-seventh", "1 3 #5 b7"),
        ("dominant", "1 3 5 b7"),
        ("major-seventh", "1 3 5 7"),
        ("major-minor", "1 b3 5 7"),
        ("minor-seventh", "1 b3 5 b7"),
        ("major-sixth", "1 3 5 6"),
        ("minor-sixth", "1 b3 5 6"),
        ("diminished", "1 b3 b5"),
        ("augmented", "1 3 #5"),
        ("suspended-fourth", "1 4 5"),
        ("minor", "1 b3 5"),
        ("major", "1 3 5"),
        ("power", "1 5"),
    )
)
"""Kinds and their degrees, the fuller first."""

_NATURAL = {"b7": 0, "7": 1, "bb7": -1}
"""How a seventh is altered: the standard counts from the minor one."""

_LEAST_FRETS_SHOWN = 5


def harmony_element(chord: Chord, grip: Grip) -> Element:
    """The symbol above a measure, with its fret diagram.

    Args:
        chord: the full chord; what a kind does not hold becomes a degree.
        grip: how it is held.
    """
    harmony = Element("harmony")
    _add_note(harmony, "root", chord.root)
    name, contained = _kind(chord.degrees)
    kind = SubElement(harmony, "kind", {"text": chord.symbol.shown})
    kind.text = name
    if chord.bass is not None:
        _add_note(harmony, "bass", chord.bass)
    plain = {each.plain for each in chord.degrees}
    for each in sorted(chord.degrees, key=lambda each: each.number):
        if each.plain not in contained:
            _add_degree(harmony, each, "add")
    for missing in sorted(contained - plain):
        SubElement(harmony, "degree", {"print-object": "no"}).extend(
            _texts({"degree-value": missing.strip("b#"), "degree-alter": "0", "degree-type": "subtract"})
        )
    harmony.append(frame_element(grip))
    return harmony


def frame_element(grip: Grip) -> Element:
    """The fret diagram of a grip, fingers and barres with it."""
    fretted = [fret for fret in grip.frets if fret]
    first = 1 if max(fretted, default=1) <= _LEAST_FRETS_SHOWN else min(fretted)
    frame = Element("frame")
    shown = max(_LEAST_FRETS_SHOWN, max(fretted, default=1) - first + 1)
    frame.extend(_texts({"frame-strings": str(len(grip.frets)), "frame-frets": str(shown)}))
    if first > 1:
        SubElement(frame, "first-fret").text = str(first)
    held = Counter(finger for finger in grip.fingers if finger)
    begun: Counter[int] = Counter()
    for string, (fret, finger) in enumerate(zip(grip.frets, grip.fingers, strict=True)):
        if fret is None:
            continue
        note = SubElement(frame, "frame-note")
        note.extend(_texts({"string": str(len(grip.frets) - string), "fret": str(fret)}))
        if not finger:
            continue
        SubElement(note, "fingering").text = str(finger)
        begun[finger] += 1
        if held[finger] > 1 and begun[finger] in (1, held[finger]):
            SubElement(note, "barre", {"type": "start" if begun[finger] == 1 else "stop"})
    return frame


def _kind(degrees: tuple[Degree, ...]) -> tuple[str, frozenset[str]]:
    """The fullest kind that lies within the chord; failing one, the kind that misses only its fifth."""
    plain = {each.plain for each in degrees}
    for kind, contained in _KINDS:
        if contained <= plain:
            return kind, contained
    for kind, contained in _KINDS:
        if contained - {"5"} <= plain:
            return kind, contained
    return "other", frozenset({"1"})


def _add_note(harmony: Element, name: str, note: NoteName) -> None:
    element = SubElement(harmony, name)
    SubElement(element, f"{name}-step").text = LETTERS[note.letter]
    if note.alter_semitones:
        SubElement(element, f"{name}-alter").text = str(note.alter_semitones)


def _add_degree(harmony: Element, each: Degree, how: str) -> None:
    alter = _NATURAL.get(each.plain, each.plain.count("#") - each.plain.count("b"))
    value = {"degree-value": str(each.number), "degree-alter": str(alter), "degree-type": how}
    SubElement(harmony, "degree", {"print-object": "no"}).extend(_texts(value))


def _texts(texts: dict[str, str]) -> list[Element]:
    """One element a name, each holding its text."""
    elements = []
    for name, text in texts.items():
        element = Element(name)
        element.text = text
        elements.append(element)
    return elements
