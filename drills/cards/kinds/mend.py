"""mend: a voicing with a clash; which note must change, and to what?

A voicing without a clash is spoiled first by the classic slip, where there is room for one: the natural 11
of a chord with a major third, or the ♭9 of a chord that is no dominant.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import chain

from drills.cards import words
from drills.cards.answer import neck_of, whole_answer
from drills.cards.card import Face, notes_line
from drills.cards.dealt import Dealt
from drills.cards.picture import picture_of
from drills.cards.relative import frets_on_strings, relative
from drills.cards.subject import Subject
from drills.cards.task import NeckTask
from drills.neck.grip import Frets
from drills.theory.degree import Degree, degree
from drills.theory.motion.mend import mend
from drills.theory.motion.moved import named_sounding, renamed, voices_of
from drills.theory.naming import Named, chord_of
from drills.theory.voicing import PitchedVoicing, Voicing

_SLIPS = (("#11", "11"), ("9", "b9"))
_FAULTS = {
    # the note to change: (the fault as the question tells it, the question)
    "11": ("a natural 11 with a major third", "Which note must change, and to what? Keep the third."),
    "#9": ("a ♯9 below the major third", "Which notes must change, and how?"),
    "1": ("the root high above the major seventh", "Which note must change, and to what? Keep the seventh."),
    "b13": ("♭13 and fifth together", "Which note must go? Keep the ♭13."),
    "b9": ("a ♭9, and the chord is no dominant", "Which note must change, and to what?"),
    "#11": ("a ♯11 below the fifth", "Which notes must change, and how?"),
}


def make(subject: Subject) -> Dealt | None:
    """Asks what a single clash needs, and says what must stay."""
    if subject.chord is None:
        return None
    is_faulty = bool(subject.reading.clashes)
    faulty = renamed(subject.named, voices_of(subject.named)) if is_faulty else _spoiled(subject)
    if faulty is None or len(faulty.reading.clashes) != 1:
        return None
    moved = mend(faulty)
    mended = relative(subject, moved.named) if is_faulty else subject
    if mended is None:
        return None
    fault, ask = _FAULTS[faulty.reading.clashes[0].degree]
    front = Face(
        chord_of(faulty.reading, faulty.root).shown,
        head_note=words.head_note(subject),
        lines=(fault,),
        ask=ask,
    )
    frets = frets_on_strings(subject, faulty.sounding)
    task = NeckTask("pitches", (mended.grip.frets,), start=frets)
    back = whole_answer(mended, moved.words)
    return Dealt(_shown(subject, faulty, frets, front), back, task, mended.sounding)


def _spoiled(subject: Subject) -> Named | None:
    """The voicing with a classic slip in it; None where there is no room for one."""
    for right, wrong in _SLIPS:
        for place, each in enumerate(subject.voicing.degrees):
            if each.plain == right:
                faulty = named_sounding(_lowered(subject.sounding, place, degree(wrong)))
                if mend(faulty).named.sounding.midi == subject.sounding.midi:
                    return faulty
    return None


def _lowered(sounding: PitchedVoicing, place: int, now: Degree) -> PitchedVoicing:
    """The notes with one of them a half step lower, where another degree stands."""
    old = sounding.voicing
    heights = [height - (note == place) for note, height in enumerate(old.heights_semitones)]
    voicing = Voicing(
        (*old.degrees[:place], now, *old.degrees[place + 1 :]),
        tuple(height - heights[0] for height in heights),
        old.sizes,
    )
    return PitchedVoicing(voicing, sounding.root, sounding.lowest_midi + heights[0])


def _shown(subject: Subject, faulty: Named, frets: Frets | None, front: Face) -> Face:
    """The question with the faulty notes on its neck; in words where the neck has no place for them."""
    if faulty.sounding.midi == subject.sounding.midi:
        return replace(front, picture=neck_of(subject))
    if frets is None:
        notes = (tuple(chain.from_iterable(words.spelled(faulty.sounding))),)
        return replace(front, lines=(*front.lines, notes_line(notes)), notes=notes)
    picture = picture_of(faulty.sounding, frets, subject.instrument, is_left_handed=subject.is_left_handed)
    return replace(front, picture=picture)
