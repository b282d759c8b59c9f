"""Laws of the moves that cards make: turning comes round an octave up, crossing keeps every note."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from drills.cards.relative import crossed, turned, turned_up
from drills.cards.subject import Subject
from drills.neck.instrument import Instrument
from drills.neck.search import find_in_key
from drills.theory.chord import habit_root
from drills.theory.degree import degree
from drills.theory.naming import name_notes
from drills.theory.voicing import PitchedVoicing

from .conftest import MakeSubject

TONES = tuple(degree(text) for text in "1 9 b3 3 11 5 13 b7 7".split())


@st.composite
def sounding(draw: st.DrawFn, *, most: int = 6) -> PitchedVoicing:
    """Three notes or more, low to high, none of them twice, over any root."""
    root = habit_root(draw(st.integers(0, 11)), "major")
    chosen = draw(st.permutations(TONES).map(lambda tones: tones[:most]))[: draw(st.integers(3, most))]
    midi = [40 + (root.pitch_class + chosen[0].semitones - 40) % 12]
    for each in chosen[1:]:
        floor = midi[-1] + 1
        midi.append(floor + (root.pitch_class + each.semitones - floor) % 12)
    return name_notes(tuple(midi), (len(midi) // 2, len(midi) - len(midi) // 2), root=root).sounding


@given(sounding())
def test_turning_as_often_as_there_are_notes_is_an_octave_up(start: PitchedVoicing) -> None:
    """And in between the notes are the same, in another order, rising."""
    after: PitchedVoicing | None = start
    for _ in start.midi:
        assert after is not None
        before, after = after, turned_up(after)
        if after is None:  # the next inversion would rub
            return
        assert {midi % 12 for midi in after.midi} == {midi % 12 for midi in start.midi}
        assert all(low < high for low, high in zip(after.midi, after.midi[1:], strict=False))
        assert all(old < new <= old + 12 for old, new in zip(before.midi, after.midi, strict=True))
    assert after is not None
    assert after.midi == tuple(midi + 12 for midi in start.midi)
    assert after.voicing.degrees == start.voicing.degrees


@given(sounding(most=4))
def test_crossing_sounds_the_same_notes(start: PitchedVoicing) -> None:
    """On other strings, each as far from where it was as all the others."""
    instrument = Instrument()
    for place in find_in_key(start.voicing, start.root, instrument).places[:2]:
        before = Subject(place, None, instrument)
        after = crossed(before)
        if after is None:
            continue
        open_midi = instrument.open_midi
        heard = sorted(
            open_midi[string] + fret for string, fret in enumerate(after.grip.frets) if fret is not None
        )
        assert tuple(heard) == before.sounding.midi
        assert len({new - old for new, old in zip(after.grip.strings, before.grip.strings, strict=True)}) == 1
        assert after.grip.strings != before.grip.strings


@given(sounding(most=4))
def test_a_turned_grip_keeps_its_strings_and_sounds_its_voicing(start: PitchedVoicing) -> None:
    """What the card shows is what the voicing says."""
    instrument = Instrument()
    for place in find_in_key(start.voicing, start.root, instrument).places[:2]:
        after = turned(Subject(place, None, instrument))
        if after is None:
            continue
        assert after.grip.strings == place.grip.strings
        heard = [
            instrument.open_midi[string] + fret
            for string, fret in enumerate(after.grip.frets)
            if fret is not None
        ]
        assert tuple(heard) == after.sounding.midi


def test_a_doubled_note_leaves_no_next_inversion(subject: MakeSubject) -> None:
    """Two voices on one pitch class would run into each other."""
    doubled = subject("1 5 | 1 3", "maj", "C")
    assert turned_up(doubled.sounding) is None


def test_an_inversion_that_rubs_is_none(subject: MakeSubject) -> None:
    """A major seventh chord turned until its root lies a minor ninth above the seventh (drop 2)."""
    chord = subject("5 1 | 3 7", "maj7", "F")
    assert turned_up(chord.sounding) is None


def test_a_clash_that_was_there_before_does_not_stop_the_turning(subject: MakeSubject) -> None:
    """Only a new one does."""
    clashing = subject("1 3 | 7 11", "maj7(add11)", "C")
    assert clashing.reading.clashes
    assert turned_up(clashing.sounding) is not None


def test_a_relative_keeps_week_and_turn_and_drops_the_words(subject: MakeSubject) -> None:
    """It is the same subject for the order of cards, and another voicing for people."""
    named = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", nickname="Two", note="Hm.", week=3)
    after = turned(replace(named, id="two", reduced="its top four notes"))
    assert after is not None
    assert (after.nickname, after.note, after.id, after.reduced, after.week) == ("", "", "", "", 3)
