"""How notes read over a root, and the order of the readings."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drills.theory.degree import KNOWN, read_degree
from drills.theory.reading import Reading, best_reading, degrees_over, read_over, readings

heights = st.lists(st.integers(0, 40), max_size=6).map(lambda rest: tuple(sorted([0, *rest])))

# notes over C in semitones: degrees (DESIGN of the project, chord tones; common practice, no source)
TONES = """
0 4 7         | 1 3 5
0 3 7         | 1 b3 5
0 3 4 10      | 1 #9 3 b7
0 5 7         | 1 4 5
0 4 5 10      | 1 3 11 b7
0 3 5 10      | 1 b3 11 b7
0 3 6 10      | 1 b3 b5 b7
0 3 6 7       | 1 b3 #11 5
0 4 6 10      | 1 3 b5 b7
4 6 10        | 3 b5 b7
0 2 4 6 10    | 1 9 3 #11 b7
0 4 6         | 1 3 #11
0 4 6 11      | 1 3 #11 7
0 5 6         | 1 4 #11
0 4 8 10      | 1 3 #5 b7
0 4 7 8 10    | 1 3 5 b13 b7
0 1 4 8 10    | 1 b9 3 b13 b7
0 3 4 8 10    | 1 #9 3 b13 b7
0 3 8         | 1 b3 #5
0 3 6 8 10    | 1 b3 b5 b13 b7
0 4 9         | 1 3 6
0 4 9 10      | 1 3 13 b7
0 4 9 11      | 1 3 13 7
0 3 6 9       | 1 b3 b5 bb7
0 3 6 9 10    | 1 b3 b5 13 b7
0 3 6 9 11    | 1 b3 b5 bb7 7
0 3 7 9       | 1 b3 5 6
12 4 7        | 1 3 5
"""
TONE_ROWS = [[word.strip() for word in line.split("|")] for line in TONES.strip().splitlines()]


@pytest.mark.parametrize(("notes", "degrees"), TONE_ROWS, ids=[row[1] for row in TONE_ROWS])
def test_a_pitch_is_what_the_whole_chord_makes_of_it(notes: str, degrees: str) -> None:
    """Three semitones are ♭3 or ♯9, six ♭5 or ♯11, eight ♯5 or ♭13, nine 6, 13 or a diminished seventh."""
    found = degrees_over(tuple(int(word) for word in notes.split()), 0)
    assert " ".join(each.plain for each in found) == degrees


def test_notes_may_lie_below_the_one_they_are_counted_from() -> None:
    """A layer over its own root in the middle."""
    assert [each.plain for each in degrees_over((-5, 0, 4), 0)] == ["5", "1", "3"]


def over_c(text: str) -> Reading:
    """Degrees, each above the one before it, read over the root they were written for."""
    degrees = tuple(read_degree(word) for word in text.split())
    places = [degrees[0].semitones]
    for each in degrees[1:]:
        places.append(places[-1] + 1 + (each.semitones - places[-1] - 1) % 12)
    found = tuple(place - places[0] for place in places)
    return read_over(found, degrees[0].semitones, degrees)


@pytest.mark.parametrize(
    ("typed", "printed", "symbol"),
    [
        ("1 5 b3 4 b7 9", "1 5 b3 11 b7 9", "m11"),
        ("1 3 4 b7", "1 3 11 b7", "7(add11)"),
        ("1 4 5 b7", "1 4 5 b7", "7sus4"),
        ("1 4 b7 3", "1 4 b7 3", "7sus4(add3)"),
        ("b7 9 5 1 11 13", "b7 9 5 1 11 13", "13sus4"),
        ("1 3 5 #5", "1 3 5 #5", "(addb13)"),
        ("1 b3 3 5", "1 b3 3 5", "(add#9)"),
        ("1 3 b7 b13", "1 3 b7 b13", "7b13"),
        ("1 3 b7 #5", "1 3 b7 #5", "7#5"),
        ("1 3 6 b7", "1 3 6 b7", "13"),
    ],
)
def test_typed_degrees_stand(typed: str, printed: str, symbol: str) -> None:
    """Except a 4 in a chord that is not sus, which is an 11."""
    found = over_c(typed)
    assert " ".join(each.plain for each in found.degrees) == printed
    assert found.symbol.plain == symbol


@given(st.lists(st.sampled_from(KNOWN), min_size=1, max_size=8).map(" ".join))
@example("b9 13")
def test_any_typed_degrees_can_be_read(typed: str) -> None:
    """However they contradict each other; clashes are told in the words typed, or of a root left out."""
    found = over_c(typed)
    printed = typed.split()
    assert [each.plain for each in found.degrees] in (printed, ["11" if w == "4" else w for w in printed])
    told = {word for rub in found.clashes for word in (rub.degree, rub.against)}
    assert told <= {each.plain for each in found.degrees} | {"1"}


@given(heights, st.integers(0, 11))
def test_a_reading_keeps_the_pitches(notes: tuple[int, ...], lowest: int) -> None:
    """Each degree stands where its note sounds."""
    found = read_over(notes, lowest)
    assert [each.semitones for each in found.degrees] == [(note + lowest) % 12 for note in notes]
    assert found.is_rootless == all((note + lowest) % 12 for note in notes)


@given(heights, st.integers(0, 11))
def test_reading_what_was_read_changes_nothing(notes: tuple[int, ...], lowest: int) -> None:
    """Degrees told by us and typed back make the same symbol, degrees and clashes."""
    first = read_over(notes, lowest)
    assert read_over(notes, lowest, first.degrees) == first


@given(heights)
def test_the_best_reading_is_the_first_of_all(notes: tuple[int, ...]) -> None:
    """The short cut finds what the long way finds; every root comes at most once."""
    ranked = readings(notes)
    assert best_reading(notes) == ranked[0]
    roots = [each.lowest_over_root_semitones for each in ranked]
    assert len(roots) == len(set(roots))


@pytest.mark.parametrize("size", range(1, 8))
def test_the_short_cut_holds_for_every_close_set(size: int) -> None:
    """All sets of pitch classes, stacked as close as can be."""
    for rest in combinations(range(1, 12), size - 1):
        assert best_reading((0, *rest)) == readings((0, *rest))[0]


@given(heights)
def test_better_readings_come_first(notes: tuple[int, ...]) -> None:
    """Ranks rise, but for a rootless dominant's tritone partner, which stands right behind it."""
    ranked = readings(notes)
    for before, after in pairwise(ranked):
        are_partners = {before.symbol.quality, after.symbol.quality} == {"dominant"} and (
            before.lowest_over_root_semitones - after.lowest_over_root_semitones
        ) % 12 == 6
        assert before.rank <= after.rank or are_partners or ranked.index(before) > 0
    kept = [each.rank for each in ranked if not (each.is_rootless and each.symbol.quality == "dominant")]
    assert kept == sorted(kept)


@pytest.mark.parametrize(
    ("degrees", "first", "last"),
    [
        ("5 b3 11 b7 9", "maj9", "maj7#9#11b13"),  # Cm11 is E♭maj9 or F13sus4 before it is Bmaj7♯9♯11♭13
        ("1 5 7 3", "m9", "maj7#9b13"),  # Cmaj7 is Am9 before it is A♭maj7♯9♭13
        ("1 3 5", "m7", "dim(maj7)"),  # C is Am7 and A♭maj7♯5 before it is C♯°(maj7)
        ("1 b3 5 7", "m9b5", "maj7#9"),  # Em(maj7) is C♯m9♭5 before it is Cmaj7♯9
        ("1 5 b7 b3", "6", "maj7b9b13"),  # Cm7 is E♭6 before it is Bmaj7♭9♭13
    ],
)
def test_nobody_hears_a_far_fetched_root_that_is_silent(degrees: str, first: str, last: str) -> None:
    """A rootless major seventh with ♯9, ♭13 or a diminished triad comes after the readings with a reason."""
    places = [0]
    words = [read_degree(word).semitones for word in degrees.split()]
    for low, high in pairwise(words):
        places.append(places[-1] + (high - low) % 12)
    others = [each for each in readings(tuple(places)) if each.lowest_over_root_semitones != words[0]]
    symbols = [each.symbol.plain for each in others]
    assert symbols[0] == first
    far_fetched = others[symbols.index(last)]
    assert far_fetched.is_rootless
    assert all(each.rank <= far_fetched.rank for each in others)
    assert far_fetched.rank > max(each.rank for each in others if each.symbol.plain in (first, "maj7#5"))


def test_an_augmented_major_seventh_may_be_rootless() -> None:
    """A major triad over a bass a major third below it: C over A♭ is A♭maj7♯5, before C♯°(maj7)."""
    symbols = [each.symbol.plain for each in readings((0, 4, 7))]
    assert symbols.index("maj7#5") < symbols.index("dim(maj7)")


def test_a_rootless_dominant_has_its_tritone_partner_behind_it() -> None:
    """Third and seventh of C7 are seventh and third of F♯7."""
    first, second, *_ = readings((0, 6))
    assert [first.lowest_over_root_semitones, second.lowest_over_root_semitones] == [4, 10]
    assert first.symbol.plain == second.symbol.plain == "7"
    assert [each.symbol.plain for each in readings((0, 6, 11))[:2]] == ["13", "7#9"]
