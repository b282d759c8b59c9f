"""Progressions: chords are read, the catalogue's voicings offered, the ways made of them."""

from __future__ import annotations

import pytest

from drills.catalogue.progression import choices, read_progression, ways
from drills.catalogue.setup import Setup
from drills.errors import DrillsError
from drills.neck.hand import Hand
from drills.theory.chord import read_chord
from drills.theory.naming import name_notes


@pytest.mark.parametrize(
    "text",
    ["Dm7 G7alt Cmaj7", "Dm7|G7alt|Cmaj7", "Dm7, G7alt, Cmaj7", "  Dm7 |  G7alt\n| Cmaj7 "],
    ids=["blanks", "bars", "commas", "all of them"],
)
def test_chords_are_parted_by_blanks_commas_or_bar_lines(text: str) -> None:
    """However people write it down."""
    assert [chord.plain for chord in read_progression(text)] == ["Dm7", "G7alt", "Cmaj7"]


def test_a_comma_inside_a_symbol_parts_nothing() -> None:
    """G7(b9,b13) is one chord."""
    assert [chord.plain for chord in read_progression("G7(b9, b13) Cm6")] == ["G7b9b13", "Cm6"]


def test_choices_make_the_chord_and_can_be_held() -> None:
    """Third and seventh sound over the root, each place sounds its notes once."""
    offered = choices(read_chord("F#m7"), notes=4)
    assert len({(place.sounding.lowest_midi, place.grip.frets) for place in offered}) == len(offered)
    for place in offered:
        classes = {(midi - 6) % 12 for midi in place.sounding.midi}
        assert {3, 10} <= classes
        assert len(place.sounding.midi) == 4


def test_a_slash_chord_has_its_bass_lowest() -> None:
    """C△7/G over G."""
    offered = choices(read_chord("Cmaj7/G"))
    assert {place.sounding.lowest_midi % 12 for place in offered} == {7}


def test_strings_can_be_asked_for() -> None:
    """Only places on just those strings."""
    offered = choices(read_chord("C13"), strings=(1, 2, 3, 4, 5))
    assert {place.grip.strings for place in offered} == {(1, 2, 3, 4, 5)}


def test_an_altered_dominant_brings_its_upper_structures() -> None:
    """Over C7alt the triads of D♭ melodic minor: G♭ (written F♯, the ♯11), A♭, E♭ minor, D♭ minor.

    Source: Levine, The Jazz Piano Book (1989), upper structures, from memory.
    """
    offered = choices(read_chord("C7alt"), notes=5)
    on_top = set()
    for place in offered:
        voicing = place.sounding.voicing
        named = name_notes(
            place.sounding.midi, voicing.sizes, root=place.sounding.root, degrees=voicing.degrees
        )
        on_top.add(named.sounding.layer_words(named.layers[-1]))
    assert {"F♯ major triad", "A♭ major triad", "E♭ minor triad", "D♭ minor triad"} <= on_top


@pytest.mark.parametrize(
    ("chord", "notes", "hand", "mend"),
    [
        ("Cmaj7/Bb", None, Hand(), "leave the bass out: Cmaj7"),
        ("C13b9#11", None, Hand(max_stretch_mm=1.0, max_frets_apart=0), "wider hand"),
    ],
    ids=["bass outside the chord", "a hand that holds next to nothing"],
)
def test_no_voicing_is_said_with_a_mend(chord: str, notes: int | None, hand: Hand, mend: str) -> None:
    """What stands in the way, and what would help."""
    with pytest.raises(DrillsError) as caught:
        choices(read_chord(chord), notes=notes, hand=hand)
    assert mend in caught.value.mend


def test_another_number_of_notes_is_offered_where_it_helps() -> None:
    """Seven notes cannot be held on six strings; fewer can."""
    with pytest.raises(DrillsError) as caught:
        ways(read_progression("Dm11"), notes=7, setup=Setup())
    assert "can be held with 4" in caught.value.mend
