"""The order in which cards first appear.

Weeks come one after another. Within a week: single layers before wholes, wholes before the steps of a
progression, easy grips before long reaches, keys by fourths, and drills interleaved, so that two cards in
a row seldom ask alike.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from drills.cards.card import Card
from drills.cards.subject import Subject
from drills.theory.chord import FOURTHS


@dataclass(frozen=True, slots=True)
class Asked:
    """A card with what it is about and the place of its drill in the recipe."""

    card: Card
    subject: Subject
    drill_turn: int
    key_turn: int


def in_order(asked: Sequence[Asked], order: str) -> list[Card]:
    """The cards in the order that a recipe wants.

    Args:
        asked: in any order.
        order: easiest first, fourths, chromatic or as written.
    """
    if order == "as written":
        return [each.card for each in sorted(asked, key=_as_written)]
    groups: dict[tuple[int, ...], list[Asked]] = defaultdict(list)
    for each in asked:
        groups[_group(each, order)].append(each)
    return [each.card for group in sorted(groups) for each in _interleaved(groups[group])]


def _as_written(each: Asked) -> tuple[int, ...]:
    return _week(each), each.subject.turn, each.key_turn, each.drill_turn


def _week(each: Asked) -> int:
    return each.subject.week or 0


def _group(each: Asked, order: str) -> tuple[int, ...]:
    """What decides before the drills are interleaved: week, ease, key."""
    pitch_class = each.subject.root.pitch_class
    key = pitch_class if order == "chromatic" else FOURTHS.index(pitch_class)
    if order != "easiest first":
        return (_week(each), key)
    is_whole = not each.subject.is_single_layer
    is_step = each.subject.next is not None
    return (_week(each), is_whole, is_step, each.subject.grip.is_long_reach, key)


def _interleaved(group: list[Asked]) -> list[Asked]:
    """One card of each voicing in turn; a voicing's own layer first, then its drills, each voicing one on."""
    by_voicing: dict[int, list[Asked]] = defaultdict(list)
    for each in sorted(group, key=lambda each: (each.subject.turn, each.drill_turn)):
        by_voicing[each.subject.turn].append(each)
    queues = []
    for turn, (_, own) in enumerate(sorted(by_voicing.items())):
        layers = [each for each in own if each.card.drill == "layer"]
        rest = [each for each in own if each.card.drill != "layer"]
        shift = turn % len(rest) if rest else 0
        queues.append(layers + rest[shift:] + rest[:shift])
    longest = max(len(queue) for queue in queues)
    return [queue[place] for place in range(longest) for queue in queues if place < len(queue)]
