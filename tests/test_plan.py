"""A plan holds every card a recipe asks for, once, and says what could not be reached and why."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drills.cards.task import NeckTask
from drills.errors import DrillsError
from drills.neck.hand import SMALL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.neck.tuning import TUNINGS
from drills.plan import CAUTION, LEGEND, Plan, plan
from drills.recipe.model import Pinned, ProgressionEntry, Recipe, VoicingEntry
from drills.theory.chord import Chord, read_chord, read_suffix
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


def test_a_voicing_that_no_drill_asks_is_not_left_out_in_silence() -> None:
    """Its keys and those of every drill have nothing in common, so it is named, with its keys."""
    alone = replace(TWO_HANDS, keys=notes("E"))
    drill_keys = (("spell", notes("C Eb")), ("place", notes("A")))
    with pytest.raises(DrillsError, match=r"\(Two hands\): no drill asks it in its keys \(E\)"):
        plan(recipe(OVER_TWO, alone, ask=("place", "spell"), drill_keys=drill_keys))
    assert plan(recipe(OVER_TWO, alone, ask=("place", "spell"), drill_keys=drill_keys[:1])).voicings == 2


def test_three_notes_are_made_no_fewer() -> None:
    """A triad without one of its notes is none."""
    tiny = replace(SMALL_HAND, max_stretch_mm=5.0)
    with pytest.raises(DrillsError, match="no card can be made: 1 3 5 in C# cannot be held"):
        plan(recipe(entry("1 3 5", None), ask=("place",), keys=notes("C#"), hand=tiny))


def test_a_voicing_s_own_keys_stand_instead_of_the_recipe_s() -> None:
    """A drill's keys stand instead of the recipe's too, and narrow the voicing's own."""
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
    assert asked["place", "△13♯11"] == ["E", "F"]
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
    high_up = replace(entry("1 5 3", None), strings=(0, 4, 5), keys=notes("C"))
    with pytest.raises(DrillsError, match="204 mm, more than 101 mm, at 20 x x x 8 12"):
        plan(recipe(high_up, ask=("place",)))


def test_as_many_strings_as_notes_or_it_is_unreached() -> None:
    """The rest of the recipe stands; where nothing else is asked, there is nothing to build."""
    crowded = replace(TWO_HANDS, strings=(1, 2, 3, 4, 5), keys=notes("E"))
    made = plan(recipe(crowded, OVER_TWO, ask=("place",)))
    assert len(made.deck.cards) == 12
    (missed,) = made.unreached
    assert (missed.key, missed.why) == ("E", "5 strings for 6 notes")
    with pytest.raises(DrillsError, match=r"cannot be held \(5 strings for 6 notes\)"):
        plan(recipe(crowded, ask=("place",)))


def test_another_octave_on_the_same_strings_counts_as_well() -> None:
    """The grip that is shown first, then the others of its strings, and none of other strings."""
    made = plan(recipe(replace(OVER_TWO, strings=(1, 2, 3, 4, 5)), ask=("place",), keys=notes("C")))
    (card,) = made.deck.cards
    assert card.quiz is not None
    assert isinstance(card.quiz.task, NeckTask)
    assert card.quiz.task.accepts == ((None, 1, 2, 2, 3, 2), (None, 13, 14, 14, 15, 14))


def test_by_ear_the_voicings_of_the_deck_are_told_from_each_other() -> None:
    """Among the choices stands what only this deck has."""
    alone, beside = entry("7 3 | 13 9 #11", "maj13#11"), entry("1 3 | b7 #9", "7#9")
    made = plan(recipe(alone, beside, ask=("hear",), keys=notes("C")))
    assert len(made.deck.cards) == 2
    assert all("7♯9, ♭7 and ♯9 on top" in card.front.lines for card in made.deck.cards)


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


def test_the_legend_tells_what_only_this_deck_has() -> None:
    """A third layer has a marker of its own, and a capo moves the count of frets."""
    three = recipe(entry("3 7 | 9 | #11 13", "maj13#11"), instrument=Instrument(capo=2))
    legend = plan(three).deck.about[0]
    assert legend.startswith(LEGEND)
    assert "plectrum is the middle layer" in legend
    assert "counted from the capo, at fret 2" in legend


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


# --- drills about moves --------------------------------------------------------------------------

BRIGHT = replace(entry("7 3 | 13 9 #11", "maj13#11"), pinned=Pinned((None, 2, 2, 2, 3, 2), C))
LOWER = replace(entry("b7 3 | 13 9 #11", "13#11"), pinned=Pinned((None, 1, 2, 2, 3, 2), C))


def test_two_twins_are_one_card_in_each_key() -> None:
    """Whichever of the two comes first in the recipe asks for the other."""
    made = plan(recipe(BRIGHT, LOWER, ask=("twin",), keys=notes("C F Eb")))
    assert sorted(card.front.head for card in made.deck.cards) == ["C△13♯11", "E♭△13♯11", "F△13♯11"]
    other_way = plan(recipe(LOWER, BRIGHT, ask=("twin",), keys=notes("C F Eb")))
    assert {card.identity for card in made.deck.cards} == {card.identity for card in other_way.deck.cards}


def test_twins_are_sought_only_when_they_are_asked_for() -> None:
    """Other drills ask the same with and without."""
    with_twins = plan(recipe(BRIGHT, LOWER, ask=("place", "twin"), keys=notes("C")))
    without = plan(recipe(BRIGHT, LOWER, ask=("place",), keys=notes("C")))
    assert [card for card in with_twins.deck.cards if card.drill == "place"] == list(without.deck.cards)


def test_every_drill_makes_cards_without_riddles() -> None:
    """Fourteen drills on one term's voicings: no question is asked twice."""
    moving = ("step", "mend", "cross", "turn", "top", "twin")
    made = plan(
        recipe(BRIGHT, LOWER, entry("b3 b7 | 9 5 1", "m9"), entry("3 5 1", None), ask=ALL_DRILLS + moving)
    )
    fronts = [(card.drill, card.front) for card in made.deck.cards]
    assert len(set(fronts)) == len(fronts)
    assert {card.drill for card in made.deck.cards} == {*ALL_DRILLS, *moving}


def test_moves_mind_the_hand_of_the_recipe() -> None:
    """The next inversion of an A major triad on strings 3 to 1 stretches 27 mm."""
    pinned = Pinned((None, None, None, 2, 2, 0), read_note_name("A"))
    triad = recipe(replace(entry("1 3 5", None), pinned=pinned), ask=("place", "turn"), keys=notes("A"))
    assert [card.drill for card in plan(triad).deck.cards] == ["place", "turn"]
    careful = replace(triad, hand=Hand("usual", max_stretch_mm=20.0))
    assert [card.drill for card in plan(careful).deck.cards] == ["place"]


# --- progressions --------------------------------------------------------------------------------

HOME = ("b3 b7 | 9 5 1", "b7 3 | b13 b9 #11", "3 6 | 9 5 1")
ON_FIVE = (1, 2, 3, 4, 5)


def progression(chords: str, key: str, *voicings: str, **extra: object) -> ProgressionEntry:
    """A progression out of symbols and, perhaps, degrees."""
    own = tuple(entry(each, None).voicing for each in voicings) or None
    read = tuple(read_chord(each) for each in chords.split())
    named: dict[str, object] = {"where": "progression 1 (Home)", "voicings": own, **extra}
    return ProgressionEntry(read, read_note_name(key), **named)  # type: ignore[arg-type]


IN_MAJOR = progression("Dm9 G7b9#11b13 C6/9", "C", *HOME, strings=ON_FIVE)


def through(*progressions: ProgressionEntry, **extra: object) -> Recipe:
    """A recipe of progressions alone."""
    return replace(recipe(ask=("connect",)), progressions=progressions, **extra)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("key", "heads", "frets"),
    [
        ("C", ["G7♭9♯11♭13", "C6/9"], ["x 8 9 8 9 9", "x 7 7 7 8 8"]),
        ("Gb", ["D♭7♭9♯11♭13", "G♭6/9"], ["x 2 3 2 3 3", "x 1 1 1 2 2"]),
    ],
)
def test_two_five_one_goes_home_by_half_steps(key: str, heads: list[str], frets: list[str]) -> None:
    """The programme's grips in C, moved and spelled from the key (common practice, no source)."""
    made = plan(through(IN_MAJOR, keys=notes(key)))
    assert [card.drill for card in made.deck.cards] == ["connect"] * 2
    by_head = {card.front.head: card for card in made.deck.cards}
    for head, grip in zip(heads, frets, strict=True):
        assert any(line.startswith(f"frets {grip} ") for line in by_head[head].back.lines)
    assert made.voicings == 3
    assert made.unreached == ()


def test_a_progression_is_asked_in_twelve_keys_unless_keys_are_named() -> None:
    """Two steps a key; the keys of the drill narrow the keys of the progression."""
    assert len(plan(through(IN_MAJOR)).deck.cards) == 24
    some = replace(IN_MAJOR, keys=notes("C F"))
    assert len(plan(through(some)).deck.cards) == 4
    assert len(plan(through(some, drill_keys=(("connect", notes("F G")),))).deck.cards) == 2


def test_every_step_goes_to_the_nearest_grip_of_its_voicing() -> None:
    """What the question says is so: on one set of strings other places lie an octave away."""
    for card in plan(through(IN_MAJOR)).deck.cards:
        assert card.front.picture is not None
        assert card.back.picture is not None
        before = min(marker.fret for marker in card.front.picture.markers)
        after = min(marker.fret for marker in card.back.picture.markers)
        assert abs(before - after) <= 6


def test_in_minor_the_keys_are_spelled_as_minor_keys() -> None:
    """The chord at home decides: G♯ minor, not A♭."""
    minor = progression(
        "Dm9b5 G7b9#11b13 Cm6/9", "C", "b3 b7 | 9 b5 1", HOME[1], "b3 6 | 9 5 1", strings=ON_FIVE
    )
    heads = {card.front.head for card in plan(through(minor)).deck.cards}
    assert {"G♯m6/9", "C♯m6/9", "E♭m6/9"} <= heads
    assert not {"A♭m6/9", "D♭m6/9"} & heads


def test_roots_that_no_chart_writes_get_their_plain_names() -> None:
    """The flat third of D♭ would be F♭, a double flat in G♭."""
    borrowed = progression("C6/9 Eb6/9", "C", HOME[2], HOME[2], strings=ON_FIVE)
    heads = {card.front.head for card in plan(through(borrowed, keys=notes("Db Gb"))).deck.cards}
    assert heads == {"E6/9", "A6/9"}


def test_a_progression_s_own_id_keeps_its_cards() -> None:
    """With an id, a corrected voicing is the same card; without, it is what sounds."""
    named = plan(through(replace(IN_MAJOR, id="home"), keys=notes("C"))).deck.cards
    assert [card.identity.split(" connect")[0] for card in named] == [
        "id home-1 over 2 to id home-2 over 7",
        "id home-2 over 7 to id home-3 over 0",
    ]


def test_a_chord_that_cannot_be_held_leaves_a_gap() -> None:
    """It is told like any voicing; the steps around it are asked all the same."""
    stuck = progression(
        "Dm9 G7b9#11b13 C6/9 Cm11 C6/9 Dm9",
        "C",
        *HOME,
        "1 5 b3 | 11 b7 9",
        HOME[2],
        HOME[0],
    )
    made = plan(through(stuck, keys=notes("C")))
    assert [card.front.head for card in made.deck.cards] == ["Dm9", "G7♭9♯11♭13", "C6/9"]
    (missed,) = made.unreached
    assert (missed.voicing, missed.key) == ("m11 1 5 b3 | 11 b7 9 in progression 1 (Home)", "C")
    assert missed.why.startswith("it stretches 102 mm")


def test_a_chord_that_stays_where_it_is_makes_no_step() -> None:
    """There is nothing to ask between a grip and itself."""
    waiting = progression("Dm9 Dm9 G7b9#11b13", "C", HOME[0], HOME[0], HOME[1], strings=ON_FIVE)
    assert len(plan(through(waiting, keys=notes("C"))).deck.cards) == 1


def test_steps_of_two_progressions_are_one_card_where_they_are_alike() -> None:
    """Five goes home the same way in both."""
    longer = progression("G7b9#11b13 C6/9", "C", *HOME[1:], strings=ON_FIVE)
    made = plan(through(IN_MAJOR, longer, keys=notes("C")))
    assert len(made.deck.cards) == 2


def test_voicings_that_stand_alone_too_are_counted_once() -> None:
    """Three voicings, two of them only in the progression."""
    with_place = replace(through(IN_MAJOR), voicings=(entry(HOME[0], "m9"),), ask=("place", "connect"))
    made = plan(with_place)
    assert made.voicings == 3
    assert {card.drill for card in made.deck.cards} == {"place", "connect"}


def test_too_many_steps_are_counted_too() -> None:
    """Before any way is sought."""
    long = replace(IN_MAJOR, chords=IN_MAJOR.chords * 21, voicings=(IN_MAJOR.voicings or ()) * 21)
    with pytest.raises(DrillsError, match=r"223,200 cards, more than 200,000"):
        plan(through(*([long] * 300)))


# --- progressions whose voicings the catalogue chooses -------------------------------------------


def chosen(made: Plan) -> dict[str, set[tuple[str, ...]]]:
    """The voicings that a plan's progressions go to, by the kind of chord."""
    found: dict[str, set[tuple[str, ...]]] = {}
    for card in made.deck.cards:
        assert card.back.picture is not None
        degrees = tuple(marker.text for marker in card.back.picture.markers)
        found.setdefault(card.back.head.lstrip("ABCDEFG♭♯"), set()).add(degrees)
    return found


def test_the_catalogue_s_voicings_stay_through_the_keys() -> None:
    """Chosen once, in the key that is written, and kept wherever they can be held."""
    catalogued = progression("Dm7 G7 Cmaj7", "C", notes=4, strings=(2, 3, 4, 5))
    made = plan(through(catalogued, keys=notes("C F Gb")))
    assert made.unreached == ()
    assert {kind: len(voicings) for kind, voicings in chosen(made).items()} == {"7": 1, "△7": 1}


def test_a_key_in_which_those_cannot_be_held_gets_voicings_of_its_own() -> None:
    """On a neck of twelve frets E♭ has another way home than C."""
    catalogued = progression("Dm7 G7 Cmaj7", "C", notes=6)
    made = plan(through(catalogued, keys=notes("C Eb"), instrument=Instrument(frets=12)))
    assert len(made.deck.cards) == 4
    assert made.unreached == ()
    assert max(len(voicings) for voicings in chosen(made).values()) == 2


def test_a_chord_that_the_catalogue_lacks_leaves_a_gap() -> None:
    """It says why; the rest of the progression is asked."""
    lacking = progression("Dm7 G7 C(1,b9)", "C", notes=4, strings=(2, 3, 4, 5))
    made = plan(through(lacking, keys=notes("C")))
    assert [card.front.head for card in made.deck.cards] == ["G7"]
    (missed,) = made.unreached
    assert (missed.voicing, missed.key) == ("(1,b9) in progression 1 (Home)", "C")
    assert missed.why == "no voicing of C(1,b9) with 4 notes can be held on this instrument"


def test_a_slash_chord_keeps_its_bass() -> None:
    """In the question and on the neck."""
    slash = progression("Dm7 G7/D Cmaj7", "C", notes=4, strings=(2, 3, 4, 5))
    made = plan(through(slash, keys=notes("F")))
    card = next(card for card in made.deck.cards if card.back.head == "C7/G")
    assert card.back.lines[1].startswith("G ")
