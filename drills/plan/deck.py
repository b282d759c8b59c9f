"""What a recipe would build: its subjects found, every card dealt and ordered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice

from drills.cards.card import Deck, DeckNeck
from drills.cards.deal import deal
from drills.cards.order import Asked, in_order
from drills.cards.riddle import without_riddles
from drills.cards.subject import Subject
from drills.cards.twins import with_twins
from drills.errors import DrillsError
from drills.plan.gathered import gathered
from drills.plan.keys import key_classes
from drills.plan.progressions import connected as steps_of
from drills.plan.progressions import voicings_joined
from drills.plan.unreached import Unreached
from drills.plan.voicings import called, notes_of, subjects_of
from drills.recipe.known import OF_PROGRESSIONS
from drills.recipe.model import MOST_CARDS, Recipe, VoicingEntry

LEGEND = (
    "On the neck: discs are the lower layer, squares the upper one; a ribbon joins the notes of a layer, the "
    "root is ringed, degrees stand in the markers. The highest string is on top."
)
CAUTION = (
    "Warm up before wide stretches. If it hurts, stop; leave a note out rather than force it, and ask a "
    "teacher or a clinician who knows hands."
)


@dataclass(frozen=True, slots=True)
class Plan:
    """What a recipe would build.

    Attributes:
        deck: the cards in order.
        voicings: voicings that have at least one card.
        unreached: what could not be reached.
        subjects: every voicing in every key that it was found in, those of progressions with them.
    """

    deck: Deck
    voicings: int
    unreached: tuple[Unreached, ...]
    subjects: tuple[Subject, ...]


def plan(recipe: Recipe) -> Plan:
    """Works out every card of a recipe without writing anything.

    Raises:
        DrillsError: the recipe would make too many cards, or none at all or of a voicing's keys.
    """
    recipe = _with_families(recipe)
    _check_size(recipe)
    _check_keys(recipe)
    asked: dict[str, Asked] = {}
    unreached: list[Unreached] = []
    found = [subjects_of(recipe, entry, turn) for turn, entry in enumerate(recipe.voicings)]
    reached = 0
    told = _beside_each_other(recipe, _twinned(recipe, [each for each, _ in found]))
    for entry, subjects in zip(recipe.voicings, told, strict=True):
        before = len(asked)
        for each in _deal_all(recipe, entry, subjects):
            asked.setdefault(each.card.identity, each)
        reached += len(asked) > before
    for _, missed in found:
        unreached += missed
    connected: dict[str, Asked] = {}
    for turn, progression in enumerate(recipe.progressions, start=len(recipe.voicings)):
        steps, missed = steps_of(recipe, progression, turn)
        unreached += missed
        for each in steps:
            connected.setdefault(each.card.identity, each)
    reached += len(
        voicings_joined(connected.values()) - {notes_of(entry.voicing) for entry in recipe.voicings}
    )
    asked |= connected
    cards = tuple(in_order(without_riddles(asked.values()), recipe.order))
    if not cards:
        raise _nothing(recipe, unreached)
    deck = Deck(
        recipe.id,
        recipe.title,
        tuple(paragraph for paragraph in (recipe.about, _legend(recipe), CAUTION) if paragraph),
        cards,
        recipe.fresh_per_day,
        recipe.target_recall,
        recipe.edition,
        _neck(recipe),
    )
    own = (subject for subjects, _ in found for subject in subjects)
    joined = (each.subject for each in connected.values())
    return Plan(deck, reached, tuple(unreached), gathered(own, joined))


def _legend(recipe: Recipe) -> str:
    """How to read the neck, and what only some decks have on theirs."""
    sentences = [LEGEND]
    if any(len(entry.voicing.layers) > 2 for entry in recipe.voicings):
        sentences.append("A plectrum is the middle layer.")
    if recipe.instrument.capo:
        sentences.append(f"Frets are counted from the capo, at fret {recipe.instrument.capo}.")
    return " ".join(sentences)


def _neck(recipe: Recipe) -> DeckNeck:
    """The recipe's instrument as a page needs to know it."""
    instrument = recipe.instrument
    names = tuple(pitch.name.shown for pitch in instrument.open_pitches)
    return DeckNeck(names, instrument.open_midi, instrument.highest_fret, recipe.is_left_handed)


def _with_families(recipe: Recipe) -> Recipe:
    """The recipe with the voicings of its families after its own."""
    if not recipe.families:
        return recipe
    from drills.plan.families import voicings_of

    own = {notes_of(entry.voicing) for entry in recipe.voicings}
    found = [entry for family in recipe.families for entry in voicings_of(family, recipe)]
    new = [entry for entry in found if notes_of(entry.voicing) not in own]
    return replace(recipe, voicings=(*recipe.voicings, *new), families=())


def _check_size(recipe: Recipe) -> None:
    most = sum(len(key_classes(recipe, entry, drill)) for entry in recipe.voicings for drill in recipe.ask)
    most += sum(
        len(key_classes(recipe, entry, OF_PROGRESSIONS)) * (len(entry.chords) - 1)
        for entry in recipe.progressions
    )
    if most > MOST_CARDS:
        mend = "take fewer voicings, keys or drills, or split it into several decks"
        what = f"this would make {most:,} cards, more than {MOST_CARDS:,}"
        raise DrillsError(what, where=recipe.source, mend=mend)


def _check_keys(recipe: Recipe) -> None:
    """Every voicing is asked in some key, or it would be left out without a word."""
    for entry in recipe.voicings:
        if not any(key_classes(recipe, entry, drill) for drill in recipe.ask):
            own = " ".join(key.plain for key in entry.keys or ())
            what = f"{called(entry)}: no drill asks it in its keys ({own})"
            mend = "add one of its keys to [drills.keys], or leave them out there"
            raise DrillsError(what, where=recipe.source, mend=mend)


def _nothing(recipe: Recipe, unreached: list[Unreached]) -> DrillsError:
    if unreached:
        first = unreached[0]
        what = f"no card can be made: {first.voicing} in {first.key} cannot be held ({first.why})"
        mend = "leave a note out, widen [hand], or try other strings, another tuning or other keys"
        return DrillsError(what, where=recipe.source, mend=mend)
    mend = "check keys, [drills] ask and [drills.keys] against each other"
    return DrillsError("no card can be made: no drill applies to any voicing", where=recipe.source, mend=mend)


def _twinned(recipe: Recipe, found: list[list[Subject]]) -> list[tuple[Subject, ...]]:
    """The subjects of each voicing, with their twins among all of them where the recipe asks for twins."""
    if "twin" not in recipe.ask:
        return [tuple(subjects) for subjects in found]
    told = iter(with_twins([subject for subjects in found for subject in subjects]))
    return [tuple(islice(told, len(subjects))) for subjects in found]


def _beside_each_other(recipe: Recipe, found: list[tuple[Subject, ...]]) -> list[tuple[Subject, ...]]:
    """The subjects, each with one of every voicing where the recipe asks which of them is heard."""
    if "hear" not in recipe.ask:
        return found
    all_of_them = tuple(subjects[0] for subjects in found if subjects)
    return [tuple(replace(each, beside=all_of_them) for each in subjects) for subjects in found]


def _deal_all(recipe: Recipe, entry: VoicingEntry, subjects: Iterable[Subject]) -> Iterator[Asked]:
    for drill_turn, drill in enumerate(recipe.ask):
        classes = key_classes(recipe, entry, drill)
        for key_turn, subject in enumerate(subjects):
            if subject.root.pitch_class not in classes:
                continue
            card = deal(subject, drill)
            if card is not None:
                yield Asked(card, subject, drill_turn, key_turn)
