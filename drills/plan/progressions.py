"""From a progression of a recipe to its steps: in every key the smoothest way from chord to chord."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby, pairwise
from typing import TypeAlias

from drills.cards.deal import deal
from drills.cards.order import Asked
from drills.cards.subject import Subject
from drills.errors import DrillsError
from drills.neck.search import Place
from drills.plan.keys import key_classes, spelled
from drills.plan.unreached import Unreached, why_not
from drills.plan.voicings import find_on, notes_of
from drills.recipe.known import OF_PROGRESSIONS
from drills.recipe.model import ProgressionEntry, Recipe
from drills.theory.chord import Chord


def connected(recipe: Recipe, entry: ProgressionEntry, turn: int) -> tuple[list[Asked], list[Unreached]]:
    """The steps from chord to chord in every key a progression is asked in, and what stands in the way."""
    wanted = key_classes(recipe, entry, OF_PROGRESSIONS)
    drill_turn = recipe.ask.index(OF_PROGRESSIONS)
    settled = _settled(recipe, entry)
    asked: list[Asked] = []
    unreached: list[Unreached] = []
    for key_turn, key in enumerate(spelled(recipe, entry.keys, entry.quality, wanted)):
        chords = entry.over(key)
        choices = _choices(recipe, settled, chords)
        if settled != entry and not all(places for places, _ in choices):
            choices = _choices(recipe, entry, chords)
        subjects = _smoothest(recipe, entry, chords, choices, turn)
        unreached += [
            Unreached(_step_called(entry, number), chord.root.plain, why)
            for number, (chord, (places, why)) in enumerate(zip(chords, choices, strict=True))
            if not places
        ]
        steps = [
            replace(here, next=there)
            for here, there in pairwise(subjects)
            if here is not None and there is not None and here.place != there.place
        ]
        asked += [
            Asked(card, step, drill_turn, key_turn)
            for step in steps
            if (card := deal(step, OF_PROGRESSIONS)) is not None
        ]
    return asked, unreached


def _settled(recipe: Recipe, entry: ProgressionEntry) -> ProgressionEntry:
    """The progression with the catalogue's smoothest voicings in its own key, to be kept through all keys.

    Unchanged where it has voicings, or where a chord of it cannot be held in its own key.
    """
    from drills.catalogue.progression import ways
    from drills.catalogue.setup import Setup

    if entry.voicings is not None:
        return entry
    setup = Setup(recipe.instrument, recipe.hand, entry.strings)
    try:
        (way,) = ways(entry.chords, notes=entry.notes, limit=1, setup=setup)
    except DrillsError:
        return entry
    return replace(entry, voicings=tuple(place.sounding.voicing for place in way.places))


_Choices: TypeAlias = tuple[tuple[Place, ...], str]
"""Where a chord may be played, or why nowhere."""


def _choices(recipe: Recipe, entry: ProgressionEntry, chords: tuple[Chord, ...]) -> list[_Choices]:
    """For each chord the places of its voicing, or of all that the catalogue has."""
    if entry.voicings is None:
        return [_in_catalogue(recipe, entry, chord) for chord in chords]
    found = [
        find_on(recipe, entry.strings, voicing, chord.root)
        for voicing, chord in zip(entry.voicings, chords, strict=True)
    ]
    return [(each.places, why_not(each.refusal) if each.refusal else "") for each in found]


def _in_catalogue(recipe: Recipe, entry: ProgressionEntry, chord: Chord) -> _Choices:
    """The places of the catalogue's voicings of a chord."""
    from drills.catalogue.progression import choices

    try:
        places = choices(
            chord,
            notes=entry.notes,
            instrument=recipe.instrument,
            hand=recipe.hand,
            strings=entry.strings,
        )
    except DrillsError as fault:
        return (), fault.what
    return places, ""


def _smoothest(
    recipe: Recipe, entry: ProgressionEntry, chords: tuple[Chord, ...], choices: list[_Choices], turn: int
) -> list[Subject | None]:
    """The smoothest way through the chords; one without a place leaves a gap, and the way starts anew."""
    from drills.catalogue.path import smoothest

    subjects: list[Subject | None] = []
    for is_reached, run in groupby(choices, key=lambda choice: bool(choice[0])):
        places = [places for places, _ in run]
        if not is_reached:
            subjects += [None] * len(places)
            continue
        (way,) = smoothest(places, limit=1)
        for place in way.places:
            number = len(subjects)
            subjects.append(
                Subject(
                    place,
                    chords[number],
                    recipe.instrument,
                    recipe.is_left_handed,
                    nickname=entry.nickname,
                    note=entry.note,
                    id=f"{entry.id}-{number + 1}" if entry.id else "",
                    week=entry.week,
                    turn=turn,
                    hand=recipe.hand,
                )
            )
    return subjects


def _step_called(entry: ProgressionEntry, number: int) -> str:
    """How messages call a chord of a progression: chord, degrees, where it stands."""
    chord = entry.chords[number].symbol.plain or "maj"
    degrees = f" {entry.voicings[number].text}" if entry.voicings is not None else ""
    return f"{chord}{degrees} in {entry.where}"


def voicings_joined(connected: Iterable[Asked]) -> set[tuple[object, ...]]:
    """The notes of all voicings that progressions go through, free of key."""
    subjects = [subject for each in connected for subject in (each.subject, each.subject.next) if subject]
    return {notes_of(subject.voicing) for subject in subjects}
