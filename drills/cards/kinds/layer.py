"""layer: one layer is named, with its strings and region; where does it lie?"""

from __future__ import annotations

from dataclasses import replace

from drills.cards import words
from drills.cards.card import Face, LayerLine, notes_line
from drills.cards.dealt import Dealt
from drills.cards.picture import own_degrees, picture_of_layer
from drills.cards.subject import Subject
from drills.cards.task import NeckTask
from drills.neck.grip import Frets, Grip
from drills.theory.voicing import Layer, PitchedVoicing, Voicing


def make(subject: Subject) -> Dealt | None:
    """Asks for one layer of at least three notes, going round with the keys; the answer is it alone."""
    askable = [layer for layer in reversed(subject.layers) if layer.last - layer.first >= 3]
    if not askable:
        return None
    layer = askable[subject.alternate(len(askable))]
    frets = _frets(subject, layer)
    strings = tuple(string for string, fret in enumerate(frets) if fret is not None)
    name, form = words.layer_name(subject, layer), words.layer_form(layer)
    where = f"{words.strings_words(subject, strings)}, {_region(frets)}"
    front = Face(name, layers=(LayerLine(layer.role, form),), lines=(where,), ask="Where does it lie?")
    own = " ".join(each.shown for each in own_degrees(subject.sounding, layer))
    notes = (words.spelled(subject.sounding)[subject.layers.index(layer)],)
    lines = [notes_line(notes), words.grip_words(_part(subject.grip, frets))]
    if not subject.is_single_layer:
        degrees = " ".join(each.shown for each in subject.degrees(layer))
        lines.append(f"{degrees} of {words.chord_head(subject)}, {words.where_word(layer)}")
    back = Face(
        name,
        head_note=subject.nickname if subject.is_single_layer else "",
        layers=(LayerLine(layer.role, f"{form} · {own}"),),
        lines=tuple(lines),
        picture=picture_of_layer(
            subject.sounding,
            layer,
            subject.grip.frets,
            subject.instrument,
            is_left_handed=subject.is_left_handed,
        ),
        notes=notes,
    )
    return Dealt(front, back, NeckTask("frets", (frets,), strings), _alone(subject, layer))


def _alone(subject: Subject, layer: Layer) -> PitchedVoicing:
    """One layer by itself, over its own root."""
    midi = subject.sounding.midi[layer.places]
    heights = tuple(each - midi[0] for each in midi)
    voicing = Voicing(own_degrees(subject.sounding, layer), heights, (len(midi),))
    return PitchedVoicing(voicing, subject.sounding.layer_root(layer) or subject.root, midi[0])


def _frets(subject: Subject, layer: Layer) -> Frets:
    """The frets of one layer alone."""
    wanted = set(subject.sounding.midi[layer.places])
    return tuple(
        fret if fret is not None and open_midi + fret in wanted else None
        for open_midi, fret in zip(subject.instrument.open_midi, subject.grip.frets, strict=True)
    )


def _part(grip: Grip, frets: Frets) -> Grip:
    """Some of a grip's frets, with the fingers that the whole of it wants there."""
    fingers = zip(frets, grip.fingers, strict=True)
    own = tuple(None if fret is None else finger for fret, finger in fingers)
    return replace(grip, frets=frets, fingers=own)


def _region(frets: Frets) -> str:
    """Where on the neck: the middle of the fretted frets, or the open strings."""
    fretted = [fret for fret in frets if fret]
    if not fretted:
        return "on open strings"
    return f"around fret {(min(fretted) + max(fretted) + 1) // 2}"
