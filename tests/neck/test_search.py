"""Every place where a voicing lies on the neck."""

from __future__ import annotations

from itertools import combinations, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.neck.grip import Frets
from drills.neck.hand import USUAL_HAND, hold
from drills.neck.instrument import Instrument
from drills.neck.search import (
    Found,
    find_at,
    find_in_key,
    on_one_string_set,
    positions,
    roots_by_fourths,
)
from drills.neck.tuning import TUNINGS
from drills.theory.naming import name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import read_voicing
from drills.theory.voicing import DEFAULT_SIZES, PitchedVoicing, Voicing

GUITAR = Instrument()
TUNED = {name: Instrument(tuning) for name, tuning in TUNINGS.items()}
C = NoteName(0)


def sounding(*midi: int) -> PitchedVoicing:
    """Notes as a voicing that sounds."""
    return name_notes(midi, DEFAULT_SIZES[len(midi)]).sounding


def voicing_of(text: str) -> Voicing:
    """A voicing from its degrees."""
    written = read_voicing(text, root=C)
    return name_notes(written.midi, written.sizes, root=C, degrees=written.degrees).sounding.voicing


def frets_on(strings: tuple[int, ...], midi: tuple[int, ...], instrument: Instrument) -> Frets | None:
    """The frets of notes on given strings, or None where the neck ends before."""
    frets: list[int | None] = [None] * len(instrument.open_midi)
    for string, note in zip(strings, midi, strict=True):
        frets[string] = note - instrument.open_midi[string]
    return tuple(frets) if all(f is None or 0 <= f <= instrument.highest_fret for f in frets) else None


rising = st.lists(st.integers(28, 88), min_size=1, max_size=6, unique=True).map(
    lambda notes: tuple(sorted(notes))
)
instruments = st.sampled_from([*TUNED.values(), Instrument(capo=3), Instrument(frets=24)])


@given(rising, instruments)
def test_positions_are_all_there_are(midi: tuple[int, ...], instrument: Instrument) -> None:
    """Every choice of strings, from the lowest up, that the neck allows, and each once."""
    choices = combinations(range(len(instrument.open_midi)), len(midi))
    expected = [frets for strings in choices if (frets := frets_on(strings, midi, instrument))]
    assert sorted(positions(midi, instrument), key=str) == sorted(expected, key=str)


@given(rising.filter(lambda notes: len(notes) <= 4), instruments)
def test_crossing_lets_notes_lie_on_any_strings(midi: tuple[int, ...], instrument: Instrument) -> None:
    """Every order of strings then."""
    choices = permutations(range(len(instrument.open_midi)), len(midi))
    expected = {frets for strings in choices if (frets := frets_on(strings, midi, instrument))}
    found = list(positions(midi, instrument, crossing=True))
    assert set(found) == expected
    assert set(positions(midi, instrument)) <= expected


@given(rising, instruments, st.booleans(), st.booleans())
def test_what_is_found_sounds_what_was_asked(
    midi: tuple[int, ...], instrument: Instrument, arpeggio: bool, crossing: bool
) -> None:
    """Exactly these notes, one on each string, best first; or a reason."""
    found = find_at(sounding(*midi), instrument, arpeggio=arpeggio, crossing=crossing and len(midi) <= 4)
    for place in found.places:
        heard = [
            open_midi + fret
            for open_midi, fret in zip(instrument.open_midi, place.grip.frets, strict=True)
            if fret is not None
        ]
        assert tuple(sorted(heard)) == midi == place.sounding.midi
        assert crossing or heard == sorted(heard)
    ranks = [place.grip.rank for place in found.places]
    assert ranks == sorted(ranks)
    assert (found.refusal is None) == bool(found.places)


@given(st.sampled_from(["1 5 b3 | 11 b7 9", "b7 3 | 13 9 #11", "1 3 5", "1 b7 3 13"]), instruments)
def test_a_search_in_a_key_tries_every_octave(text: str, instrument: Instrument) -> None:
    """All grips that hold, in whatever octave, and no others."""
    voicing = voicing_of(text)
    for root in roots_by_fourths("minor")[::5]:
        expected = set()
        for lowest in range(20, 100):
            if (lowest - root.pitch_class - voicing.lowest_over_root_semitones) % 12 == 0:
                for frets in positions(voicing.over(root, lowest).midi, instrument):
                    if not hasattr(hold(frets, instrument, USUAL_HAND), "why"):
                        expected.add(frets)
        found = find_in_key(voicing, root, instrument)
        assert {place.grip.frets for place in found.places} == expected
        assert all(place.sounding.root == root for place in found.places)


def test_the_narrowest_miss_is_told() -> None:
    """Where nothing can be held; and that the neck has no place, where there is none."""
    m11 = voicing_of("1 5 b3 | 11 b7 9")
    missed = find_in_key(m11, C).refusal
    assert missed is not None
    assert (missed.why, missed.frets) == ("it stretches 102 mm, more than 101 mm", (8, 10, 13, 10, 11, 10))
    nowhere = find_at(sounding(20, 21)).refusal
    assert nowhere is not None
    assert (nowhere.why, nowhere.frets) == ("the neck has no place for it, one note on each string", ())
    assert find_in_key(voicing_of("1 3'''' 5"), C).refusal == nowhere


@pytest.mark.parametrize(("start", "first"), [(0, "C"), (10, "Bb"), (-2, "Bb")])
def test_roots_go_by_fourths_from_any_key(start: int, first: str) -> None:
    """Twelve of them, as charts spell them."""
    roots = roots_by_fourths("major", start)
    assert roots[0].plain == first
    assert len({root.pitch_class for root in roots}) == 12
    assert roots_by_fourths("minor")[4].plain == "G#"


def test_a_voicing_stays_on_one_string_set() -> None:
    """On the set that serves most keys, and there in the best place."""
    voicing = voicing_of("b7 3 | 13 9 #11")
    found = {root: find_in_key(voicing, root) for root in roots_by_fourths("dominant")}
    chosen = on_one_string_set(found)
    assert list(chosen) == list(found)
    assert {place.grip.strings for place in chosen.values()} == {(1, 2, 3, 4, 5)}
    for root, place in chosen.items():
        same_set = [other for other in found[root].places if other.grip.strings == place.grip.strings]
        assert place == same_set[0]


def test_a_key_without_that_string_set_has_its_own_best_place() -> None:
    """And a key without any place is left out."""
    voicing = voicing_of("1 5 b3 | b7 9")
    short = Instrument(frets=12)
    found = {root: find_in_key(voicing, root, short) for root in roots_by_fourths("minor")}
    served = {place.grip.strings for root in found for place in found[root].places[:1]}
    assert len(served) > 1
    chosen = on_one_string_set(found)
    assert set(chosen) == {root for root, each in found.items() if each.places}
    counts = {
        strings: sum(any(p.grip.strings == strings for p in each.places) for each in found.values())
        for strings in {p.grip.strings for each in found.values() for p in each.places}
    }
    common = max(counts, key=lambda strings: counts[strings])
    for root, place in chosen.items():
        has_common = any(p.grip.strings == common for p in found[root].places)
        assert (place.grip.strings == common) if has_common else (place == found[root].places[0])
    assert on_one_string_set({read_note_name("E"): Found(())}) == {}
