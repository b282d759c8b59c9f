"""How cards say things: chords, layers, strings, grips and notes, in one home for all drills."""

from __future__ import annotations

from drills.cards.card import LayerLine, SpelledLayers, SpelledNote, notes_line
from drills.cards.subject import Subject
from drills.neck.grip import Grip
from drills.theory.pitch import Pitch
from drills.theory.voicing import Layer, PitchedVoicing

_PREPOSITION = {"lower": "below", "upper": "on top", "middle": "in the middle", "single": ""}
_LIFT_WORDS = ("", "set an octave higher", "set two octaves higher")
LONG_REACH_CAUTION = "A long reach: warm up first, leave a note out rather than force it, stop if it hurts."


def chord_head(subject: Subject) -> str:
    """The large line: the chord, or a bare layer's own name; degrees alone need the root beside them."""
    if subject.chord is not None:
        return subject.chord.shown
    name = layer_name(subject, subject.layers[0])
    has_root = subject.sounding.layer_root(subject.layers[0]) is not None
    return name if has_root else f"{name} over {subject.root.shown}"


def head_note(subject: Subject) -> str:
    """The quiet words beside the chord that a question may tell: no root, what is left out."""
    parts = ["no root" if subject.is_rootless else "", subject.reduced]
    return " · ".join(part for part in parts if part)


def answer_note(subject: Subject) -> str:
    """The quiet word beside the chord on an answer, nickname and all."""
    return " · ".join(part for part in (subject.nickname, head_note(subject)) if part)


def layer_name(subject: Subject, layer: Layer) -> str:
    """A layer by its root and structure, "F major triad"; two notes or one by their degrees, "♭7 and 3"."""
    root = subject.sounding.layer_root(layer)
    if root is None:
        degrees = " and ".join(each.shown for each in subject.degrees(layer))
        return degrees if layer.name.spacing == "close" else f"{degrees}, {layer.name.structure}"
    return f"{root.shown} {layer.name.structure}"


def layer_form(layer: Layer) -> str:
    """Spacing and inversion, "close, second inversion"; nothing for one or two notes."""
    if layer.name.inversion is None:
        return ""
    if layer.name.family in ("stack", "sus") and layer.name.inversion == "root position":
        return layer.name.spacing
    return f"{layer.name.spacing}, {layer.name.inversion}"


def layer_in_full(subject: Subject, layer: Layer) -> str:
    """Name and form, enough to play it: "F major triad, close, second inversion"."""
    parts = [layer_name(subject, layer), layer_form(layer)]
    if layer.first:
        heights = subject.voicing.heights_semitones
        lifts = (heights[layer.first] - heights[layer.first - 1] - 1) // 12
        parts.append(_LIFT_WORDS[min(lifts, 2)])
    return ", ".join(part for part in parts if part)


def layer_with_degrees(subject: Subject, layer: Layer) -> str:
    """Name and degrees, for an answer: "F major triad · 13 9 ♯11"."""
    degrees = " ".join(each.shown for each in subject.degrees(layer))
    if layer.name.inversion is None:
        return f"{degrees} · {layer.name.structure}"
    return f"{layer_in_full(subject, layer)} · {degrees}"


def asked_lines(subject: Subject) -> tuple[LayerLine, ...]:
    """All layers in full, upper first, for a question; of a bare layer the head says the name already."""
    if subject.chord is None and subject.is_single_layer:
        form = layer_form(subject.layers[0])
        return (LayerLine("single", form),) if form else ()
    return tuple(LayerLine(layer.role, layer_in_full(subject, layer)) for layer in reversed(subject.layers))


def answered_lines(subject: Subject) -> tuple[LayerLine, ...]:
    """All layers with their degrees, upper first, for an answer; a bare layer's name is its head."""
    if subject.chord is None and subject.is_single_layer:
        parts = (layer_form(subject.layers[0]), degrees_words(subject))
        return (LayerLine("single", " · ".join(part for part in parts if part)),)
    upper_first = reversed(subject.layers)
    return tuple(LayerLine(layer.role, layer_with_degrees(subject, layer)) for layer in upper_first)


def where_word(layer: Layer) -> str:
    """Where a layer lies among the layers: below, on top."""
    return _PREPOSITION[layer.role]


def strings_words(subject: Subject, strings: tuple[int, ...]) -> str:
    """The strings as guitarists number them: "strings 5 to 1", "strings 6 4 3 2", "string 3"."""
    numbers = [subject.instrument.tuning.string_number(string) for string in sorted(strings)]
    if len(numbers) == 1:
        return f"string {numbers[0]}"
    if numbers[0] - numbers[-1] == len(numbers) - 1:
        return f"strings {numbers[0]} to {numbers[-1]}"
    return f"strings {' '.join(str(number) for number in numbers)}"


def spelled(sounding: PitchedVoicing) -> SpelledLayers:
    """The notes of a voicing as its root spells them, layers apart."""
    named = zip(sounding.names, sounding.midi, strict=True)
    notes = tuple(SpelledNote(name.shown, midi) for name, midi in named)
    return tuple(notes[layer.places] for layer in sounding.voicing.layers)


def degrees_words(subject: Subject) -> str:
    """The degrees, layers apart: "♭7 3 | 13 9 ♯11"."""
    return subject.voicing.shown


def grip_words(grip: Grip) -> str:
    """Frets and fingers on one line."""
    fingers = " ".join("–" if finger is None else str(finger) for finger in grip.fingers)
    return f"frets {grip.text} · fingers {fingers}"


def answer_facts(subject: Subject) -> tuple[str, ...]:
    """The quieter lines that every answer ends on."""
    stretch = f"stretch {subject.grip.stretch_mm:.0f} mm"
    others = " or ".join(other.text for other in subject.others)
    reach = f"{stretch} · also {others}" if others else stretch
    lines = [notes_line(spelled(subject.sounding)), grip_words(subject.grip), reach]
    if subject.grip.is_long_reach:
        lines.append(LONG_REACH_CAUTION)
    if subject.note:
        lines.append(subject.note)
    return tuple(lines)


def voices_words(before: PitchedVoicing, after: PitchedVoicing) -> str:
    """What each voice does, low to high and matched from the top: "D♭ → C · F stays"."""
    old, new = before.pitches, after.pitches
    matched = min(len(old), len(new))
    gone = [f"{pitch.name.shown} left out" for pitch in old[: len(old) - matched]]
    come = [f"{pitch.name.shown} added" for pitch in new[: len(new) - matched]]
    moved = [_voice_words(*pair) for pair in zip(old[-matched:], new[-matched:], strict=True)]
    return " · ".join(gone + come + moved)


def _voice_words(old: Pitch, new: Pitch) -> str:
    if old.midi == new.midi:
        return f"{old.name.shown} stays" + (f" as {new.name.shown}" if new.name != old.name else "")
    return f"{old.name.shown} → {new.name.shown}"
