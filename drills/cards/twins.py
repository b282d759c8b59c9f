"""Which voicing of a deck is easily taken for which: grips that differ on one string by a fret or two."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from drills.cards.subject import Subject
from drills.neck.grip import Frets

MOST_FRETS_BETWEEN = 2


def with_twins(subjects: Sequence[Subject]) -> tuple[Subject, ...]:
    """The subjects, each with its twin where it has one: over the same root first, then the nearest."""
    alike: dict[tuple[int, Frets], list[int]] = defaultdict(list)
    for place, subject in enumerate(subjects):
        for string in subject.grip.strings:
            alike[_without(subject, string)].append(place)
    return tuple(_with_twin(subject, subjects, alike) for subject in subjects)


def _without(subject: Subject, string: int) -> tuple[int, Frets]:
    """A string, and the frets of all the others."""
    frets = subject.grip.frets
    return string, (*frets[:string], *frets[string + 1 :])


def _with_twin(
    subject: Subject, subjects: Sequence[Subject], alike: dict[tuple[int, Frets], list[int]]
) -> Subject:
    found = []
    for string in subject.grip.strings:
        for place in alike[_without(subject, string)]:
            other = subjects[place]
            apart = abs((other.grip.frets[string] or 0) - (subject.grip.frets[string] or 0))
            if other.grip.frets[string] is not None and 1 <= apart <= MOST_FRETS_BETWEEN:
                found.append((other.root.pitch_class != subject.root.pitch_class, apart, place))
    return replace(subject, twin=subjects[min(found)[2]]) if found else subject
