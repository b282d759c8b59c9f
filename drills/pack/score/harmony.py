"""A chord symbol with its grip, as the `harmony` and `frame` elements of MusicXML 4.0.

Conventions: kind and degrees say exactly the notes of the chord, for programs that play the symbol. What is
read is the symbol as we show it: the kind's text, and behind it the degrees where the symbol ends on them;
where it does not, the kind's text is all of it, and the degrees are not to be printed; their texts are empty
too, for programs that do not know `print-object`. Strings are numbered 1 for the highest.
Source: MusicXML 4.0, elements harmony, kind, degree, degree-value and frame (W3C Music Notation Community
Group, 2021).
"""

from __future__ import annotations

from collections import Counter
from xml.etree.ElementTree import Element, SubElement

from drills.neck.grip import Grip
from drills.pack.score.kind import Change, kind_of
from drills.theory.chord import Chord
from drills.theory.pitch import LETTERS, NoteName

_LEAST_FRETS_SHOWN = 5


def harmony_element(chord: Chord, grip: Grip) -> Element:
    """The symbol above a measure, with its fret diagram.

    Args:
        chord: the full chord.
        grip: how it is held.
    """
    harmony = Element("harmony")
    _add_note(harmony, "root", chord.root)
    name, changes = kind_of(chord.degrees)
    text, is_printed = _kind_text(chord.symbol.shown, changes)
    SubElement(harmony, "kind", {"text": text, "parentheses-degrees": "no"}).text = name
    if chord.bass is not None:
        _add_note(harmony, "bass", chord.bass)
    for change in changes:
        degree = SubElement(harmony, "degree", {} if is_printed else {"print-object": "no"})
        SubElement(degree, "degree-value", {} if is_printed else {"text": ""}).text = str(change.number)
        SubElement(degree, "degree-alter").text = str(change.alter_semitones)
        SubElement(degree, "degree-type", {"text": ""}).text = change.how
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


def _kind_text(shown: str, changes: tuple[Change, ...]) -> tuple[str, bool]:
    """What is printed for the kind, and whether the degrees are printed behind it.

    >>> _kind_text("13♯11", (Change(11, 1, "alter"),)), _kind_text("6/9", (Change(9, 0, "add"),))
    (('13', True), ('6/9', False))
    """
    before = shown.removesuffix("".join(change.shown for change in changes))
    is_symbol = before[-1:].isalnum() or before.endswith("△")
    if before != shown and is_symbol and all(change.how != "subtract" for change in changes):
        return before, True
    return shown, False


def _add_note(harmony: Element, name: str, note: NoteName) -> None:
    element = SubElement(harmony, name)
    SubElement(element, f"{name}-step").text = LETTERS[note.letter]
    if note.alter_semitones:
        SubElement(element, f"{name}-alter").text = str(note.alter_semitones)


def _texts(texts: dict[str, str]) -> list[Element]:
    """One element a name, each holding its text."""
    elements = []
    for name, text in texts.items():
        element = Element(name)
        element.text = text
        elements.append(element)
    return elements
