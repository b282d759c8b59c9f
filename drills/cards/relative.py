"""Relatives of a subject: the voicing that a move makes of it, and where that lies under the same hand.

Conventions: a relative keeps the strings where it has as many notes and the hand holds it there; it has
no nickname, remark or id, which are the recipe's words for the voicing it came from.
Source: turning on the same strings is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from drills.cards.subject import Subject
from drills.neck.crossing import cross
from drills.neck.grip import Frets, Grip
from drills.neck.hand import hold
from drills.neck.search import Place, find_at
from drills.theory.motion.moved import named_sounding
from drills.theory.naming import Named, chord_of
from drills.theory.voicing import PitchedVoicing, Voicing


def relative(subject: Subject, after: Named) -> Subject | None:
    """What a move made of a subject, where the hand holds it: on the same strings, else nearest to it."""
    place = _place(subject, after.sounding)
    if place is None:
        return None
    chord = None if subject.chord is None else chord_of(after.reading, after.root)
    return _at(replace(subject, chord=chord), place)


def crossed(subject: Subject) -> Subject | None:
    """The same notes on the nearest string set of the same pattern, one string or more further."""
    strings = subject.grip.strings
    for place in cross(subject.sounding, strings, subject.instrument, subject.hand):
        if len({new - old for new, old in zip(place.grip.strings, strings, strict=True)}) == 1:
            return _at(subject, place)
    return None


def turned(subject: Subject) -> Subject | None:
    """The next inversion on the same strings; None where the hand does not hold it there."""
    sounding = turned_up(subject.sounding)
    if sounding is None:
        return None
    grip = on_strings(subject, sounding)
    return None if grip is None else _at(subject, Place(sounding, grip))


def turned_up(sounding: PitchedVoicing) -> PitchedVoicing | None:
    """Every note gone up to the next note of the voicing; None where it has no next one or would rub.

    A pitch class that sounds twice leaves no next inversion on the same strings. One that rubs where the
    voicing did not is none that a player would use.
    """
    degrees, midi = sounding.voicing.degrees, sounding.midi
    by_class = {note % 12: degree for note, degree in zip(midi, degrees, strict=True)}
    if len(by_class) < max(len(midi), 2):
        return None
    higher = tuple(next(note + up for up in range(1, 13) if (note + up) % 12 in by_class) for note in midi)
    heights = tuple(note - higher[0] for note in higher)
    voicing = Voicing(tuple(by_class[note % 12] for note in higher), heights, sounding.voicing.sizes)
    after = PitchedVoicing(voicing, sounding.root, higher[0])
    rubs = set(named_sounding(after).reading.clashes) - set(named_sounding(sounding).reading.clashes)
    return None if rubs else after


def frets_on_strings(subject: Subject, sounding: PitchedVoicing) -> Frets | None:
    """The frets that sound as many notes on the subject's strings; None where the neck has none."""
    instrument = subject.instrument
    frets: list[int | None] = [None] * len(instrument.open_midi)
    for string, midi in zip(subject.grip.strings, sounding.midi, strict=True):
        fret = midi - instrument.open_midi[string]
        if not 0 <= fret <= instrument.highest_fret:
            return None
        frets[string] = fret
    return tuple(frets)


def on_strings(subject: Subject, sounding: PitchedVoicing) -> Grip | None:
    """The grip of as many notes on the subject's strings, if the hand holds it."""
    frets = frets_on_strings(subject, sounding)
    if frets is None:
        return None
    held = hold(frets, subject.instrument, subject.hand)
    return held if isinstance(held, Grip) else None


def _place(subject: Subject, sounding: PitchedVoicing) -> Place | None:
    if len(sounding.midi) == len(subject.sounding.midi):
        grip = on_strings(subject, sounding)
        if grip is not None:
            return Place(sounding, grip)
    here = subject.grip.lowest_fret
    places = find_at(sounding, subject.instrument, subject.hand).places
    return min(places, key=lambda place: abs(place.grip.lowest_fret - here), default=None)


def _at(subject: Subject, place: Place) -> Subject:
    return replace(subject, place=place, others=(), nickname="", note="", id="", reduced="")
