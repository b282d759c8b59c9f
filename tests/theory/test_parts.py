"""A chord name falls into a quality and tensions, and what a symbol leaves unsaid nobody needs to say."""

from __future__ import annotations

import json
from collections import Counter
from itertools import combinations, permutations
from pathlib import Path

import pytest

from drills.catalogue.chord_type import CHORD_TYPES
from drills.theory.chord import read_chord, read_suffix
from drills.theory.degree import degree
from drills.theory.parts import ALTERED, NO_THIRD, QUALITIES, TENSIONS, Parts, parts_of
from drills.theory.reading import degrees_over
from drills.theory.symbol import symbol

_ADDED = {"add3": 4, "add7": 11}


def whole(suffix: str) -> tuple[Parts, ...]:
    """The ways to name a chord of which every tone sounds."""
    degrees = frozenset(read_suffix(suffix))
    return parts_of(degrees, degrees)


def tones(quality: str, tensions: tuple[str, ...]) -> frozenset[int]:
    """What a name in parts sounds, as semitones over its root."""
    heard = {each.semitones for each in read_suffix(quality)}
    if {"b5", "#5"} & set(tensions):
        heard.discard(7)
    if NO_THIRD in tensions:
        heard.discard(4)
    return frozenset(
        heard | {_ADDED.get(each) or degree(each).semitones for each in tensions if each != NO_THIRD}
    )


@pytest.mark.parametrize(
    ("suffix", "quality", "needs", "allows"),
    [
        ("13#11", "7", ("#11", "13"), ("9",)),
        ("13", "7", ("13",), ("9",)),
        ("m13", "m7", ("13",), ("9", "11")),
        ("m11", "m7", ("11",), ("9",)),
        ("maj9#11", "maj7", ("9", "#11"), ()),
        ("m9(maj7)", "m(maj7)", ("9",), ()),
        ("m11b5", "m7b5", ("11",), ("9",)),
        ("dim7", "dim7", (), ()),
        ("6/9", "6", ("9",), ()),
        ("m6/9", "m6", ("9",), ()),
        ("(add9)", "", ("9",), ()),
        ("9(add11)", "7", ("9", "11"), ()),
        ("7(no3)", "7", ("no3",), ()),
        ("13sus4", "7sus4", ("13",), ("9",)),
        ("7sus4b9", "7sus4", ("b9",), ()),
        ("7b9b13", "7", ("b9", "b13"), ()),
        ("7alt", "7alt", (), ("b9", "#9", "#11", "b5", "#5", "b13")),
        ("7#5", "7", ("#5",), ()),
        ("aug", "aug", (), ()),
        ("sus2", "sus2", (), ()),
        ("5", "5", (), ()),
    ],
)
def test_the_plainest_way_to_name_a_chord(
    suffix: str, quality: str, needs: tuple[str, ...], allows: tuple[str, ...]
) -> None:
    """Quality, what has to be said, what may be said (common practice, no source)."""
    first = whole(suffix)[0]
    assert (first.symbol.plain, first.quality, first.needs, first.allows) == (suffix, quality, needs, allows)


@pytest.mark.parametrize(
    ("suffix", "quality", "needs"),
    [
        ("m7b5", "m7", ("b5",)),
        ("7#9b13", "7", ("#9", "b13")),
        ("sus2", "5", ("9",)),
        ("5", "", ("no3",)),
        ("7alt", "7", ("b9", "#9", "#11", "b13")),
    ],
)
def test_other_right_ways_count(suffix: str, quality: str, needs: tuple[str, ...]) -> None:
    """m7 with a ♭5 is half-diminished, an altered chord may be spelled out (common practice, no source)."""
    assert (quality, needs) in [(each.quality, each.needs) for each in whole(suffix)]


def test_without_a_sounding_fifth_a_tone_may_bear_either_of_its_names() -> None:
    """♯5 and ♭13, ♭5 and ♯11 sound alike; beside a fifth only one of them is right."""
    open_chord, full = frozenset(map(degree, ("1", "3", "b7", "#11"))), frozenset(read_suffix("7#11"))
    assert [each.needs for each in parts_of(full, open_chord)] == [("#11",), ("b5",)]
    assert [each.needs for each in parts_of(full, full)] == [("#11",)]


def test_alt_takes_an_altered_ninth_and_an_altered_fifth_and_no_other_colour() -> None:
    """7♯9♭13 without a fifth is alt; 7♭9, 7♯11 and 13♭9♯11 are not (common practice, no source)."""

    def is_alt(words: str) -> bool:
        degrees = frozenset(map(degree, words.split()))
        return ALTERED in [each.quality for each in parts_of(degrees, degrees)]

    assert is_alt("3 b7 #9 b13")
    assert is_alt("1 3 b7 b9 #11")
    assert not any(map(is_alt, ("3 b7 b9", "3 b7 #11", "3 b7 13 b9 #11", "3 5 b7 #9 b13")))


def test_nobody_need_say_what_does_not_sound() -> None:
    """A 7alt voicing with ♯9 and ♭13 alone is named by those; the rest of alt may be said."""
    sounding = frozenset(map(degree, ("3", "b7", "#9", "b13")))
    spelled = [each for each in parts_of(frozenset(read_suffix("7alt")), sounding) if each.quality == "7"]
    assert (spelled[0].needs, spelled[0].allows) == (("#9", "b13"), ("b9", "#11"))


def test_degrees_that_are_no_chord_have_no_parts() -> None:
    """A root with a ♭9 is called by its degrees."""
    assert whole("(1,b9)") == ()


ALL_TONES = [(0, *semitones) for count in range(1, 8) for semitones in combinations(range(1, 12), count)]


def test_every_chord_that_has_a_name_can_be_put_together() -> None:
    """Of all 2,047 sets of tones on a root, each that makes a chord has parts, and they sound the chord.

    The first parts are those of the chord's own symbol; a root and a fifth may always be missing.
    """
    named = 0
    for semitones in ALL_TONES:
        degrees = frozenset(degrees_over(semitones, 0))
        own = symbol(degrees)
        ways = parts_of(degrees, degrees)
        assert bool(ways) == own.is_chord, own.plain
        for way in ways:
            named += 1
            assert tones(way.quality, way.needs) - {7} <= set(semitones) | _alt_tones(way), way
            assert set(semitones) <= tones(way.quality, way.needs + way.allows), way
        if ways:
            assert ways[0].symbol == own
    assert named > 2000


def _alt_tones(way: Parts) -> set[int]:
    """Alt names tones that need not all sound."""
    return {1, 3, 6, 8} if way.quality == ALTERED else set()


def test_no_name_is_right_for_a_chord_that_sounds_otherwise() -> None:
    """Of all pairs of chord types, the name of one is right for the other only if they differ by a fifth."""
    refused = 0
    for one, other in permutations([each for each in CHORD_TYPES if each != ALTERED], 2):
        sounds_alike = not (_semitones(one) ^ _semitones(other)) - {7}
        is_right = any(_is_right(whole(one)[0], way) for way in whole(other))
        assert not is_right or sounds_alike, (one, other)
        refused += not is_right
    assert refused > 2500


def _semitones(suffix: str) -> set[int]:
    return {each.semitones for each in read_suffix(suffix)}


def _is_right(said: Parts, way: Parts) -> bool:
    needs, picked = set(way.needs), set(said.needs)
    return said.quality == way.quality and needs <= picked <= needs | set(way.allows)


def test_parts_are_in_the_order_of_the_pads() -> None:
    """Qualities and tensions come from the fixed lists."""
    for suffix in CHORD_TYPES:
        for way in whole(suffix):
            assert way.quality in QUALITIES
            for said in (way.needs, way.allows):
                assert list(said) == [each for each in TENSIONS if each in said]


DIFFERENCES = ("B11", "E13")
"""Where we read otherwise on purpose; tests/oracles/test_chord_symbols.py says why."""

ORACLE = json.loads((Path(__file__).parents[1] / "oracles/chord_symbols.json").read_text(encoding="utf-8"))


def agreed() -> list[tuple[str, frozenset[int]]]:
    """The symbols that at least three outside libraries read alike, with the pitch classes they read."""
    found = []
    for row in ORACLE["rows"]:
        answers = Counter(frozenset(each) for each in row["readings"].values() if each is not None)
        most, votes = answers.most_common(1)[0] if answers else (frozenset(), 0)
        if votes >= 3 and row["symbol"] not in DIFFERENCES:
            found.append((row["symbol"], most))
    return found


@pytest.mark.parametrize(("text", "pitch_classes"), agreed())
def test_the_parts_sound_what_other_libraries_read(text: str, pitch_classes: frozenset[int]) -> None:
    """Source: the libraries named in tests/oracles/chord_symbols.json, at least three of one mind."""
    chord = read_chord(text)
    degrees = frozenset(chord.degrees)
    own = parts_of(degrees, degrees)[0]
    over_root = {(each - chord.root.pitch_class) % 12 for each in pitch_classes}
    assert tones(own.quality, own.needs) - {7} <= over_root <= tones(own.quality, own.needs + own.allows)
