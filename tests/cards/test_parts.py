"""Every naming task can be answered on the pads, and its own answer is right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

import pytest

from drills.cards.kinds import drill
from drills.cards.pads import QUALITY_TEXTS, STRUCTURES, TENSION_TEXTS
from drills.cards.parts import naming_task
from drills.cards.task import ChordReading, DegreesTask, PartsTask
from drills.catalogue.chord_type import CHORD_TYPES
from drills.plan import plan
from drills.recipe.read import read_recipe
from drills.recipe.shelf import shelf_names
from drills.theory.chord import Chord, read_suffix
from drills.theory.degree import degree
from drills.theory.naming import name_notes
from drills.theory.parts import QUALITIES, TENSIONS
from drills.theory.pitch import NoteName
from drills.theory.text import read_voicing

from .conftest import MakeSubject


def is_right(task: PartsTask, root: int, quality: int, tensions: set[int]) -> bool:
    """What the page holds an answer to; see ChordReading."""
    return any(
        (each.root, each.quality) == (root, quality)
        and set(each.needs) <= tensions <= {*each.needs, *each.allows}
        for each in task.readings
    )


def sounds(reading: ChordReading) -> set[int]:
    """The pitch classes of a reading's name with all it allows, a fifth put aside."""
    tones = {each.semitones for each in read_suffix(QUALITIES[reading.quality])}
    words = [TENSIONS[place] for place in (*reading.needs, *reading.allows)]
    tones |= {degree(word).semitones for word in words if not word.startswith(("no", "add"))}
    tones |= {11} if "add7" in words else {4} if "add3" in words else set()
    return {(reading.root + each) % 12 for each in tones - ({4} if "no3" in words else set())}


@pytest.mark.parametrize("name", shelf_names())
def test_every_naming_task_of_the_shelf_can_be_entered(name: str) -> None:
    """Its own name first, as the answer's head says it; every reading can be said in full or in short."""
    for card in plan(read_recipe(name)).deck.cards:
        assert card.quiz is not None
        task = card.quiz.task
        if not isinstance(task, PartsTask):
            continue
        assert task.readings or task.layers or task.degrees
        for reading in task.readings:
            assert is_right(task, reading.root, reading.quality, set(reading.needs))
            assert is_right(task, reading.root, reading.quality, {*reading.needs, *reading.allows})
        if task.readings:
            own = task.readings[0]
            assert (own.root, own.text) == (task.root_said, card.back.head)
            assert not is_right(task, own.root, (own.quality + 1) % len(QUALITY_TEXTS), set(own.needs))
        for layer in task.layers:
            assert STRUCTURES[layer.structure] in layer.text


def orders(suffix: str) -> Iterator[tuple[str, ...]]:
    """Up to sixty orders of the tones that a chord type is known by, by themselves and over its root."""
    root, *rest = [each.plain for each in read_suffix(suffix)]
    colours = [each for each in rest if each != "5"]
    whole = list(permutations(colours))
    for order in whole[:: max(1, len(whole) // 30)]:
        yield order if len(order) > 1 else (root, *order, "5")
        yield (root, *order)


def test_every_chord_type_of_the_catalogue_can_be_entered(subject: MakeSubject) -> None:
    """Its own name comes first, and every reading sounds what is heard, a root and a fifth put aside."""
    on_neck = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5")
    asked = 0
    for suffix in CHORD_TYPES:
        chord = Chord(on_neck.root, read_suffix(suffix))
        for order in orders(suffix):
            written = read_voicing(" ".join(order), root=chord.root)
            named = name_notes(written.midi, written.sizes, root=chord.root, degrees=written.degrees)
            of = replace(on_neck, chord=chord, place=replace(on_neck.place, sounding=named.sounding))
            task = naming_task(of, of.layers)
            assert isinstance(task, PartsTask)
            assert task.readings[0].text == chord.shown
            heard = {midi % 12 for midi in written.midi}
            for reading in task.readings:
                aside = {reading.root, (reading.root + 7) % 12}
                assert heard - aside <= sounds(reading), (chord.plain, order, reading)
            asked += 1
    assert asked > 1000


def test_no_reading_over_another_root_rubs(subject: MakeSubject) -> None:
    """What counts besides the card's own name is correct: as the answer lists it, without a clash."""
    of = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5")
    made = drill("name")(of)
    assert made is not None
    assert isinstance(made.task, PartsTask)
    listed = made.back.lines[0].removeprefix("also heard as ").split(", ")
    texts = [each.text for each in made.task.readings]
    assert [text for text in texts if text in listed]
    assert set(listed) <= set(texts)
    for root in {each.root for each in made.task.readings} - {3}:
        named = name_notes(of.sounding.midi, of.voicing.sizes, root=habit(root))
        assert not named.reading.clashes


def habit(pitch_class: int) -> NoteName:
    """Any note of a pitch class."""
    return next(
        NoteName(letter, alter)
        for alter in (0, -1)
        for letter in range(7)
        if NoteName(letter, alter).pitch_class == pitch_class
    )


@pytest.mark.parametrize(
    ("degrees", "suffix", "quality", "needs"),
    [
        ("1 5 | 3 6 9", "6/9", "6", ["9"]),
        ("1 b7 | 3 11", "7(add11)", "7", ["11"]),
        ("1 5 | b7 9", "9(no3)", "7", ["9", "no 3"]),
        ("1 4 | b7 9", "9sus4", "7sus4", ["9"]),
        ("1 4 | b7 3", "7sus4(add3)", "7sus4", ["add 3"]),
        ("1 5 | 9", "sus2", "sus2", []),
        ("1 3 | 5 9", "(add9)", "major", ["9"]),
        ("1 b3 | b5 7", "dim(maj7)", "°(△7)", []),
        ("3 b7 | #9 b13", "7alt", "7alt", []),
    ],
)
def test_chords_with_odd_names_have_a_plain_way_in(
    subject: MakeSubject, degrees: str, suffix: str, quality: str, needs: list[str]
) -> None:
    """(addN), (no3), 6/9, sus with a third, alt: all on the same pads."""
    made = drill("join")(subject(degrees, suffix, "C"))
    assert made is not None
    assert isinstance(made.task, PartsTask)
    own = made.task.readings[0]
    assert (QUALITY_TEXTS[own.quality], [TENSION_TEXTS[place] for place in own.needs]) == (quality, needs)


def test_a_slash_bass_needs_no_part_of_its_own(subject: MakeSubject) -> None:
    """The same notes as a chord on another root with a slash are named by root, quality and tensions."""
    made = drill("name")(subject("1 b3 | 5 b7", "m7", "A"))
    assert made is not None
    assert isinstance(made.task, PartsTask)
    sixth = next(each for each in made.task.readings if each.text == "C6/A")
    assert (sixth.root, QUALITY_TEXTS[sixth.quality], sixth.needs) == (0, "6", ())


def test_what_is_no_chord_is_asked_by_layers_or_degrees(subject: MakeSubject) -> None:
    """A chord that is written as its degrees has no quality to choose."""
    of = subject("1 b9 | #11", None, "C")
    of = replace(of, chord=Chord(of.root, read_suffix("(1,b9,#11)")))
    made = drill("name")(of)
    assert made is not None
    assert isinstance(made.task, DegreesTask)
    assert [each.text for each in made.task.asked] == ["1", "♭9", "♯11"]
