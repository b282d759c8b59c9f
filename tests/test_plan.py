"""A plan holds every card a recipe asks for, once, and says what could not be reached and why."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drills.errors import DrillsError
from drills.neck.hand import SMALL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.neck.tuning import TUNINGS
from drills.plan import CAUTION, LEGEND, plan
from drills.recipe.model import Pinned, Recipe, VoicingEntry
from drills.theory.chord import Chord, read_suffix
from drills.theory.naming import name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import read_voicing

C = read_note_name("C")
ALL_DRILLS = ("place", "name", "split", "join", "spell", "spot", "layer")


def notes(text: str) -> tuple[NoteName, ...]:
    """Note names in a row."""
    return tuple(read_note_name(each) for each in text.split())


def entry(degrees: str, suffix: str | None, **extra: object) -> VoicingEntry:
    """A voicing out of degrees and a chord suffix; None is a bare layer."""
    written = read_voicing(degrees, root=C)
    named = name_notes(written.midi, written.sizes, root=C, degrees=written.degrees)
    chord = None if suffix is None else Chord(C, read_suffix(suffix))
    return VoicingEntry(named.sounding.voicing, chord, degrees, **extra)  # type: ignore[arg-type]


def recipe(*entries: VoicingEntry, ask: tuple[str, ...] = ALL_DRILLS, **extra: object) -> Recipe:
    """A recipe of the evening group."""
    title = "Riverside evening group, week 3"
    return Recipe("week-03", title, entries, ask, source="week-03.toml", **extra)  # type: ignore[arg-type]


OVER_TWO = entry("b7 3 | 13 9 #11", "13#11")
TWO_HANDS = entry("1 5 b3 | 11 b7 9", "m11", nickname="Two hands")


def test_seven_drills_in_twelve_keys_make_eighty_four_cards() -> None:
    """Every drill asks a voicing of two layers once in each key."""
    made = plan(recipe(OVER_TWO))
    assert len(made.deck.cards) == 7 * 12
    assert made.voicings == 1
    assert made.unreached == ()
    assert len({card.identity for card in made.deck.cards}) == 84


def test_no_two_questions_of_a_plan_are_alike() -> None:
    """No card is a riddle: one question never has two answers."""
    made = plan(
        recipe(OVER_TWO, entry("7 3 | 13 9 #11", "maj13#11"), entry("5 b3 | 11 b7 9", "m11"), TWO_HANDS)
    )
    fronts = [(card.drill, card.front) for card in made.deck.cards]
    assert len(set(fronts)) == len(fronts)


def test_questions_that_would_fit_two_answers_are_told_apart() -> None:
    """Two voicings with one chord, one lower layer and upper layers of one form say what they alone hold."""
    alike = recipe(entry("b13 3 | b7 b9 #11", "7alt"), entry("b13 3 | b7 #9 #11", "7alt"), ask=("split",))
    fronts = [card.front for card in plan(alike).deck.cards if "on top" in card.front.ask]
    assert len(set(fronts)) == len(fronts)
    assert {line for front in fronts for line in front.lines} == {"♭9 is in it", "♯9 is in it"}


def test_the_complete_minor_eleven_is_reached_in_e_only() -> None:
    """Eleven keys are told with their reasons (common practice, no source)."""
    made = plan(recipe(TWO_HANDS, ask=("place",)))
    assert [card.key for card in made.deck.cards] == ["E"]
    assert len(made.unreached) == 11
    in_c = next(each for each in made.unreached if each.key == "C")
    assert in_c.voicing == "m11 1 5 b3 | 11 b7 9 (Two hands)"
    assert in_c.why == "it stretches 102 mm, more than 101 mm, at 8 10 13 10 11 10"


def test_drop_d_reaches_it_in_all_twelve() -> None:
    """One barre in drop D (common practice, no source)."""
    made = plan(recipe(TWO_HANDS, ask=("place",), instrument=Instrument(TUNINGS["drop D"])))
    assert len(made.deck.cards) == 12
    assert made.unreached == ()


def test_a_small_hand_is_offered_the_voicing_without_its_lowest_note() -> None:
    """Where the whole does not fit, a smaller one takes its place and says so."""
    made = plan(recipe(replace(TWO_HANDS, id="two-hands"), ask=("place",), hand=SMALL_HAND))
    assert len(made.deck.cards) == 12
    smaller = [card for card in made.deck.cards if "without its lowest note" in card.front.head_note]
    assert smaller
    assert all(each.instead for each in made.unreached)
    assert all(card.identity.startswith("id two-hands-top-") for card in smaller)


def test_what_no_smaller_form_can_mend_stays_unreached() -> None:
    """A hand that holds next to nothing gets no card, and the reason of the first miss."""
    tiny = replace(SMALL_HAND, max_stretch_mm=5.0)
    with pytest.raises(DrillsError, match=r"no card can be made: .* cannot be held"):
        plan(recipe(TWO_HANDS, ask=("place",), keys=notes("C"), hand=tiny))


def test_recipe_drill_and_voicing_keys_narrow_each_other() -> None:
    """A drill's keys replace the recipe's; a voicing's keys narrow both."""
    made = plan(
        recipe(
            OVER_TWO,
            replace(entry("7 3 | 13 9 #11", "maj13#11"), keys=notes("E F")),
            ask=("place", "spell"),
            keys=notes("C F Bb Eb"),
            drill_keys=(("spell", notes("C E")),),
        )
    )
    asked = {
        (name, head): sorted(
            card.key for card in made.deck.cards if card.drill == name and head in card.front.head
        )
        for name in ("place", "spell")
        for head in ("△13♯11", "♭13♯11", "C13♯11", "F13♯11", "E13♯11")
    }
    assert asked["place", "△13♯11"] == ["F"]
    assert asked["spell", "△13♯11"] == ["E"]
    assert asked["place", "♭13♯11"] == ["B♭", "E♭"]
    assert asked["spell", "♭13♯11"] == []
    assert asked["place", "C13♯11"] == asked["spell", "C13♯11"] == ["C"]
    assert asked["place", "F13♯11"] == ["F"]
    assert asked["spell", "E13♯11"] == ["E"]


def test_an_explicit_key_keeps_its_spelling() -> None:
    """Asked in A♭, a minor chord has C♭; asked in all keys, charts write G♯."""
    explicit = plan(recipe(entry("5 b3 | 11 b7 9", "m11"), ask=("spell",), keys=notes("Ab")))
    (card,) = explicit.deck.cards
    assert card.front.head == "A♭m11"
    assert "C♭" in card.back.lines[0]
    every = plan(recipe(entry("5 b3 | 11 b7 9", "m11"), ask=("spell",)))
    assert "G♯" in [card.key for card in every.deck.cards]
    assert card.identity in [each.identity for each in every.deck.cards]


def test_one_string_set_serves_all_keys() -> None:
    """A voicing keeps its strings through its keys, and strings can be asked for."""
    made = plan(recipe(replace(OVER_TWO, strings=(1, 2, 3, 4, 5)), ask=("place",)))
    assert {card.front.lines for card in made.deck.cards} == {("strings 5 to 1",)}


def test_strings_that_do_not_serve_say_why() -> None:
    """A voicing that lies elsewhere but not on the strings asked for is unreached there."""
    spread = replace(entry("1 5 3 | 7", "maj7"), strings=(2, 3, 4, 5))
    with pytest.raises(DrillsError, match="it stretches 147 mm"):
        plan(recipe(spread, ask=("place",)))
    nowhere = replace(entry("1 3 5", None), strings=(0, 1, 5), keys=notes("D"))
    with pytest.raises(DrillsError, match="these strings have no place for it"):
        plan(recipe(nowhere, ask=("place",)))


def test_a_pinned_grip_stands_in_its_key() -> None:
    """The recipe's own frets are the ones that are shown, and its strings serve the other keys."""
    frets = (None, 10, 13, 10, 11, 10)
    pinned = replace(entry("5 b3 | 11 b7 9", "m11"), pinned=Pinned(frets, C))
    made = plan(recipe(pinned, ask=("place",)))
    in_c = next(card for card in made.deck.cards if card.key == "C")
    assert "x 10 13 10 11 10" in in_c.back.lines[1]
    assert {card.front.lines for card in made.deck.cards} == {("strings 5 to 1",)}


def test_the_same_question_is_asked_once() -> None:
    """Two voicings with one upper layer on the same frets make one card for that layer."""
    shared = recipe(
        replace(entry("1 3 13 | 9 5 7", "maj13"), pinned=Pinned((8, 7, 7, 7, 8, 7), C)),
        replace(entry("3 13 | 9 5 7", "maj13"), pinned=Pinned((None, 7, 7, 7, 8, 7), C)),
        ask=("layer",),
        keys=notes("C"),
    )
    cards = plan(shared).deck.cards
    assert len({(card.front.head, card.front.lines) for card in cards}) == len(cards)


def test_the_description_has_legend_and_caution() -> None:
    """What the recipe says about itself, how to read the neck, and how to mind the hand."""
    assert plan(recipe(OVER_TWO, about="Lydian colours.")).deck.about == ("Lydian colours.", LEGEND, CAUTION)
    assert plan(recipe(OVER_TWO)).deck.about == (LEGEND, CAUTION)


def test_too_many_cards_are_refused_before_any_work() -> None:
    """More than 200,000 cards are counted, not made."""
    many = recipe(*([OVER_TWO] * 2_400))
    with pytest.raises(DrillsError, match="201,600 cards, more than 200,000"):
        plan(many)


def test_a_recipe_in_which_no_drill_applies_says_so() -> None:
    """A bare layer cannot be split."""
    with pytest.raises(DrillsError, match="no drill applies"):
        plan(recipe(entry("3 5 1", None), ask=("split", "join")))


def test_a_wider_hand_reaches_more() -> None:
    """The hand of the recipe decides."""
    wide = Hand("usual", max_stretch_mm=130.0, max_frets_apart=6)
    assert len(plan(recipe(TWO_HANDS, ask=("place",), hand=wide)).unreached) <= 11
