"""Cards first appear in an order that teaches."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from drills.cards.deal import deal
from drills.cards.order import Asked, in_order
from drills.cards.subject import Subject

from .conftest import MakeSubject

DRILLS = ("place", "spell", "spot", "layer")


def asked(*subjects: Subject) -> list[Asked]:
    """Every drill on every subject."""
    made = []
    for key_turn, of in enumerate(subjects):
        for drill_turn, name in enumerate(DRILLS):
            card = deal(of, name)
            if card is not None:
                made.append(Asked(card, of, drill_turn, key_turn))
    return made


def test_easiest_first_puts_layers_before_wholes_and_long_reaches_last(subject: MakeSubject) -> None:
    """Bare layers, then grips that lie well, then long reaches."""
    long = subject("5 b3 | 11 b7 9", "m11", "Eb", "x 1 4 1 2 1", turn=0)
    easy = subject("b7 3 | 13 9 #11", "13#11", "G", turn=1)
    bare = subject("3 5 1", None, "G", turn=2)
    made = asked(long, easy, bare)
    by_card = {id(each.card): each.subject.turn for each in made}
    order = [by_card[id(card)] for card in in_order(made, "easiest first")]
    assert list(dict.fromkeys(order)) == [2, 1, 0]
    assert order == sorted(order, reverse=True)


def test_a_voicing_s_layer_comes_before_the_voicing(subject: MakeSubject) -> None:
    """In each key the first card of a voicing is its own layer."""
    first = in_order(asked(subject("b7 3 | 13 9 #11", "13#11", "G")), "easiest first")[0]
    assert first.drill == "layer"


def test_drills_are_interleaved(subject: MakeSubject) -> None:
    """With several voicings in one key, past the layers, two cards in a row ask differently."""
    voicings = [
        subject("b7 3 | 13 9 #11", "13#11", "C", turn=0),
        subject("7 3 | 13 9 #11", "maj13#11", "C", turn=1),
        subject("b7 b3 | 13 9 11", "m13", "C", turn=2),
    ]
    drills = [card.drill for card in in_order(asked(*voicings), "easiest first")]
    assert drills[:3] == ["layer"] * 3
    assert all(before != after for before, after in pairwise(drills[3:]))


def test_weeks_come_one_after_another(subject: MakeSubject) -> None:
    """An earlier week's cards all come first, however the rest is ordered."""
    late = subject("3 5 1", None, "C", week=2, turn=0)
    early = subject("5 b3 | 11 b7 9", "m11", "Eb", week=1, turn=1)
    for order in ("easiest first", "fourths", "chromatic", "as written"):
        tags = [card.tags for card in in_order(asked(late, early), order)]
        assert tags == sorted(tags)


def test_keys_go_by_fourths_or_by_half_steps(subject: MakeSubject) -> None:
    """Fourths from C, or chromatic from C."""
    keys = ("D", "Eb", "C", "F")
    made = asked(*(subject("b7 3 | 13 9 #11", "13#11", key) for key in keys))
    by_fourths = list(dict.fromkeys(card.key for card in in_order(made, "fourths")))
    assert by_fourths == ["C", "F", "E♭", "D"]
    assert list(dict.fromkeys(card.key for card in in_order(made, "chromatic"))) == ["C", "D", "E♭", "F"]


def test_as_written_keeps_the_recipe_s_own_order(subject: MakeSubject) -> None:
    """Voicing by voicing, key by key, drill by drill."""
    made = asked(subject("b7 3 | 13 9 #11", "13#11", "D"), subject("b7 3 | 13 9 #11", "13#11", "C"))
    cards = in_order(list(reversed(made)), "as written")
    assert [(card.key, card.drill) for card in cards] == [
        (key, drill) for key in ("D", "C") for drill in DRILLS
    ]


def test_the_steps_of_a_progression_come_after_the_voicings_of_their_week(subject: MakeSubject) -> None:
    """First each chord by itself, in every key, then from one to the next."""
    five = subject("b7 3 | b13 b9 #11", "7b9#11b13", "G", turn=1)
    two = subject("b3 b7 | 9 5 1", "m9", "D", turn=0)
    step = replace(two, next=five, turn=2)
    card = deal(step, "connect")
    assert card is not None
    made = [Asked(card, step, 4, 0), *asked(two, five)]
    order = [card.drill for card in in_order(made, "easiest first")]
    assert order[-1] == "connect"
    assert order.count("connect") == 1
