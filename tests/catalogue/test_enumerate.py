"""Enumeration: everything that makes the chord, nothing else, nothing twice.

The catalogue is made here once more, another way: note upon note, each voicing judged on its own. Scales and
the tones that make a chord are written out by hand (common practice, no source).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TypeAlias

import pytest

from drills.catalogue.chord_type import CHORD_TYPES, ChordType, chord_type
from drills.catalogue.enumerate import LAYER_PAIRS, enumerate_rows, heights_of
from drills.theory.degree import Degree, degree
from drills.theory.naming import read_over
from drills.theory.symbol import meant
from drills.theory.voicing import layers_of

Found: TypeAlias = tuple[str, tuple[int, ...], tuple[int, ...]]
"""Degrees, heights, layer sizes."""

PAIRS = ((1, 3), (2, 2), (2, 3), (3, 2), (3, 3), (3, 4))

TYPES = {
    # chord type: (its usual scale in the chord's own words, what makes it; a slash for either)
    "maj7": ("1 9 3 11 5 13 7", "3 7"),
    "maj7#11": ("1 9 3 #11 5 13 7", "3 7 #11"),
    "6/9": ("1 9 3 11 5 6", "3 6 9"),
    "m7": ("1 9 b3 11 5 13 b7", "b3 b7"),
    "m11": ("1 9 b3 11 5 13 b7", "b3 b7 11"),
    "m7b5": ("1 b9 b3 11 b5 b13 b7", "b3 b5 b7"),
    "dim7": ("1 9 b3 11 b5 b13 bb7 7", "b3 b5 bb7"),
    "m(maj7)": ("1 9 b3 11 5 13 7", "b3 7"),
    "13": ("1 9 3 11 5 13 b7", "3 b7 13"),
    "13#11": ("1 9 3 #11 5 13 b7", "3 b7 13 #11"),
    "7b9": ("1 b9 #9 3 #11 5 13 b7", "3 b7 b9"),
    "7alt": ("1 b9 #9 3 #11 b13 b7", "3 b7 b9/#9 #11/b13"),
    "9sus4": ("1 9 3 4 5 13 b7", "4 9 b7"),
}


def voicings(name: str, pair: tuple[int, int], *, repeats: int = 0) -> Iterator[Found]:
    """Every voicing of a chord type with layers of these sizes."""
    tones = tuple(degree(word) for word in TYPES[name][0].split())
    makers = [set(maker.split("/")) for maker in TYPES[name][1].split()]
    for held, heights in _upwards((), (), tones, sum(pair), repeats):
        words = [each.plain for each in held]
        if all(maker & set(words) for maker in makers) and _is_sound(held, heights, pair):
            yield " ".join(words), heights, pair


def _upwards(
    held: tuple[Degree, ...],
    heights: tuple[int, ...],
    tones: tuple[Degree, ...],
    missing: int,
    repeats: int,
) -> Iterator[tuple[tuple[Degree, ...], tuple[int, ...]]]:
    """Every way to go on with a tone of the scale at most an octave above the last note."""
    if not missing:
        yield held, heights
        return
    for gap in range(1, 13) if held else (0,):
        for tone in tones:
            repeated = held.count(tone)
            is_elsewhere = held and (tone.semitones - held[-1].semitones - gap) % 12
            if is_elsewhere or repeated > repeats:
                continue
            height = heights[-1] + gap if held else 0
            yield from _upwards((*held, tone), (*heights, height), tones, missing - 1, repeats - repeated)


def _is_sound(held: tuple[Degree, ...], heights: tuple[int, ...], pair: tuple[int, int]) -> bool:
    """Nothing clashes, the words stand, and each layer has a name."""
    reading = read_over(heights, held[0].semitones, held)
    named = all(layer.name.structure != "four mixed notes" for layer in layers_of(heights, pair))
    return named and not reading.clashes and reading.degrees == held


def enumerated(kind: ChordType, *, repeats: int = 0) -> list[Found]:
    """The rows in the words of the brute search."""
    rows = enumerate_rows(kind, repeats=repeats)
    found: list[Found] = []
    for tones, gaps, pair in zip(rows.tones.tolist(), rows.gaps.tolist(), rows.pair.tolist(), strict=True):
        size = sum(LAYER_PAIRS[pair])
        words = " ".join(kind.tones[tone].plain for tone in tones[:size])
        found.append((words, heights_of(tuple(gaps[: size - 1])), LAYER_PAIRS[pair]))
    return found


def cases() -> Iterator[object]:
    """Every chord type with every layer pair; those of six and seven notes take their time."""
    for name in TYPES:
        for pair in PAIRS:
            is_slow = sum(pair) > 5 and (name, pair) not in (("m11", (3, 3)), ("7alt", (3, 4)))
            marks = [pytest.mark.slow] if is_slow else []
            yield pytest.param(name, pair, marks=marks, id=f"{name}-{pair[0]}+{pair[1]}")


@pytest.mark.parametrize(("name", "pair"), list(cases()))
def test_brute_force_finds_the_same(name: str, pair: tuple[int, int]) -> None:
    """Note upon note, each voicing judged on its own, gives the same voicings."""
    ours = [each for each in enumerated(chord_type(name)) if each[2] == pair]
    assert Counter(ours) == Counter(voicings(name, pair))


@pytest.mark.parametrize("name", ["maj7", "m11", "7b9"])
@pytest.mark.parametrize("pair", [(1, 3), (2, 3), (3, 2)])
def test_brute_force_finds_the_same_with_repeats(name: str, pair: tuple[int, int]) -> None:
    """The same holds where one tone may sound twice."""
    ours = [each for each in enumerated(chord_type(name), repeats=1) if each[2] == pair]
    assert Counter(ours) == Counter(voicings(name, pair, repeats=1))
    assert any(len(set(words.split())) < sum(pair) for words, *_ in ours)


@pytest.mark.parametrize("name", CHORD_TYPES)
def test_no_voicing_comes_twice(name: str) -> None:
    """Nor does the order change from one time to the next."""
    once = enumerated(chord_type(name))
    assert len(set(once)) == len(once) > 0
    assert once == enumerated(chord_type(name))


@pytest.mark.parametrize("name", CHORD_TYPES)
def test_every_tone_has_the_right_word(name: str) -> None:
    """The words stand when the voicing is read, none of them clashes, and the chord has a name."""
    kind = chord_type(name)
    for words, heights, _ in enumerated(kind)[::37]:
        degrees = tuple(each for word in words.split() for each in kind.tones if each.plain == word)
        reading = read_over(heights, degrees[0].semitones, degrees)
        assert (reading.degrees, reading.clashes, reading.symbol.is_chord) == (degrees, (), True)
        assert meant(degrees) == degrees
