"""A family of a recipe becomes the catalogue's best voicings, or says which filter emptied it."""

from __future__ import annotations

import pytest

from drills.errors import DrillsError
from drills.plan import plan
from drills.plan.families import voicings_of
from drills.recipe.model import Recipe
from drills.recipe.read import parse_recipe

HEAD = 'title = "Riverside evening group, families"\nkeys = ["C", "F"]\n'


def read(family: str, *, rest: str = "") -> Recipe:
    """A recipe with one family."""
    text = f'{HEAD}{rest}\n[[family]]\n{family}\n[drills]\nask = ["place", "split"]\n'
    return parse_recipe(text, source="families.toml", default_id="families")


def test_the_best_voicings_of_the_chord_types_come_out() -> None:
    """They make the chord, are layered as asked, lie on the strings asked for, and are no more than asked."""
    recipe = read('chord = ["13#11"]\nupper = "close major triad"\nnotes = 5\nstrings = "5-1"\nat_most = 3')
    found = voicings_of(recipe.families[0], recipe)
    assert 1 <= len(found) <= 3
    for entry in found:
        assert {4, 10} <= {degree.semitones for degree in entry.voicing.degrees}
        upper = entry.voicing.layers[-1].name
        assert (upper.structure, upper.spacing) == ("major triad", "close")
        assert entry.strings == (1, 2, 3, 4, 5)
        assert entry.chord is not None
    assert "b7 3 | 13 9 #11" in [entry.voicing.text for entry in found]


def test_a_plan_asks_a_family_in_every_key_and_drill() -> None:
    """Its voicings are drilled like any others, after the recipe's own, each once."""
    own = '[[voicing]]\nlower = "b7 3"\nupper = "13 9 #11"\n'
    family = 'chord = ["13#11"]\nupper = "close major triad"\nnotes = 5\nmin_keys = 12\nat_most = 3'
    alone, beside = plan(read(family)), plan(read(family, rest=own))
    assert {card.key for card in alone.deck.cards} == {"C", "F"}
    assert {card.drill for card in alone.deck.cards} == {"place", "split"}
    assert alone.voicings == beside.voicings == 3
    assert {card.identity for card in beside.deck.cards} == {card.identity for card in alone.deck.cards}


@pytest.mark.parametrize(
    ("family", "filtered", "mend"),
    [
        (
            'chord = "m11"\nlower = "open minor triad"\nupper = "close triad"\nnotes = 6\nmin_keys = 12',
            "held in all twelve keys",
            "without that filter there are",
        ),
        ('chord = "m7"\ntop = "b9"', "♭9 on top", "without that filter there are"),
    ],
    ids=["keys", "top"],
)
def test_an_empty_family_says_which_filter_emptied_it(family: str, filtered: str, mend: str) -> None:
    """The message names the family and the filter, and what would be left without it."""
    with pytest.raises(DrillsError) as caught:
        plan(read(family))
    assert caught.value.where == "families.toml: family 1"
    assert filtered in caught.value.what
    assert caught.value.mend.startswith(mend)


def test_a_family_emptied_by_several_filters_is_told_to_ask_for_less() -> None:
    """No single filter would help."""
    with pytest.raises(DrillsError) as caught:
        plan(read('chord = "m7"\ntop = "b9"\nbass = "b9"\nlower = "wide triad"'))
    assert caught.value.mend
