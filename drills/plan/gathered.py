"""What a deck is about: every voicing in every key, each once, for pages that are not cards."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from drills.cards.identity import voicing_identity
from drills.cards.subject import Subject


def gathered(subjects: Iterable[Subject], steps: Iterable[Subject]) -> tuple[Subject, ...]:
    """The subjects, one voicing after another as each first comes.

    Args:
        subjects: of the deck's own voicings, in all their keys.
        steps: of its progressions; what follows them counts as well.
    """
    by_voicing: dict[str, dict[int, Subject]] = defaultdict(dict)
    both = (each for step in steps for each in (step, step.next) if each is not None)
    for each in (*subjects, *both):
        by_voicing[voicing_identity(each)].setdefault(each.root.pitch_class, each)
    return tuple(each for in_keys in by_voicing.values() for each in in_keys.values())
