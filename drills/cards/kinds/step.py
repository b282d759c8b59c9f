"""step: a voicing and its scale; which voicing lies one step up, the root moving along?

Source: that no note of melodic minor is avoided, and what to do about an avoid note elsewhere, is common
practice, no source.
"""

from __future__ import annotations

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face, LayerLine
from drills.cards.dealt import Dealt
from drills.cards.mode import is_one_colour, mode_above, mode_words, seventh_chord
from drills.cards.relative import relative
from drills.cards.subject import Subject
from drills.cards.task import NeckTask
from drills.theory.degree import Degree, degree, read_degree
from drills.theory.motion.mend import mend
from drills.theory.motion.moved import Moved, layer_words, renamed, voices_of
from drills.theory.motion.step import step
from drills.theory.naming import Named, chord_of
from drills.theory.scale import Scale, scales_for


def make(subject: Subject) -> Dealt | None:
    """Asks for the next voicing in the chord's first usual scale, and what its avoid note needs."""
    scale = scale_of(subject)
    if scale is None:
        return None
    moved = step(subject.named, subject.root, scale, 1)
    advice = _advice(moved.named, scale)
    choice = " Mend, keep or skip it?" if advice else ""
    front = Face(
        words.chord_head(subject),
        head_note=words.head_note(subject),
        lines=(mode_words(subject.root, scale),),
        ask=f"One step up, the root moving along: what does it become?{choice}",
        picture=neck_of(subject),
    )
    after = relative(subject, moved.named)
    task = None if after is None else NeckTask("pitches", (after.grip.frets,))
    return Dealt(front, _answer(subject, moved, after, advice), task, moved.named.sounding)


def scale_of(subject: Subject) -> Scale | None:
    """The first usual scale of the chord that holds the voicing and its root."""
    chord = subject.chord or chord_of(subject.reading, subject.root)
    sounding = {each.semitones for each in subject.voicing.degrees}
    return next((scale for scale in scales_for(chord) if sounding <= set(scale.semitones)), None)


def _answer(subject: Subject, moved: Moved, after: Subject | None, advice: str) -> Face:
    """The next voicing on the neck; in words alone where the hand cannot hold it."""
    lines = [words.voices_words(subject.sounding, moved.named.sounding)]
    lines += [advice] if advice else []
    if after is not None:
        return whole_answer(after, *lines)
    named = moved.named
    head = named.sounding.layer_words(named.layers[0])
    if subject.chord is not None:
        head = chord_of(named.reading, named.root).shown
    layers = tuple(LayerLine(layer.role, layer_words(named, layer)) for layer in reversed(named.layers))
    told = (*lines, named.sounding.voicing.shown, "the hand cannot hold it here: play its notes in turn")
    return Face(head, layers=layers, lines=told)


def _advice(after: Named, scale: Scale) -> str:
    """What the avoid note of the next voicing needs, and why; nothing where it has none."""
    settled = renamed(after, voices_of(after))
    clashes = settled.reading.clashes
    told = [degree(clash.degree).shown for clash in clashes] or [
        each.shown for each in _avoided(settled, scale)
    ]
    if not told:
        return ""
    if is_one_colour(scale):
        return f"keep the {told[0]}: this scale is one colour, and no note of it is avoided"
    if len(clashes) > 1:
        return f"skip it, or only pass through: {' and '.join(told)} both rub"
    if clashes:
        return f"mend: {mend(settled).words}"
    if told[0] == "♭9":
        return "keep the ♭9: it is a colour of this chord"
    return f"keep the {told[0]}: the chord tone a half step below it does not sound"


def _avoided(after: Named, scale: Scale) -> list[Degree]:
    """The notes a half step above a chord tone of the mode they stand in."""
    mode = mode_above(scale)
    if mode is None:
        return []
    avoided = {read_degree(text).semitones for text in mode.avoid(seventh_chord(mode))}
    return [each for each in after.reading.degrees if each.semitones in avoided]
