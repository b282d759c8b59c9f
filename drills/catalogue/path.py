"""The smoothest way through a progression: for each chord one place on the neck, moving as little as can be.

Conventions: what a way costs is told in steps of one fret. From grip to grip it is the frets that the hand
shifts, plus half the semitones that the voices move (a note that stays costs nothing), plus one for each
voice that comes or goes. Each grip adds half a fret for a barre, three for a long reach, two above the
twelfth fret, one for each string skipped and one for each low interval that blurs; a choice may bring a cost
of its own. Voices are matched from the top, as the ear follows them.
Source: least movement is common practice, no source; the weights are ours, in one place below. The shortest
way is found exactly, by dynamic programming over the chords (Bellman 1957), with the best few kept at every
place so that the next best ways are exact too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from drills.neck.grip import MIDDLE_OF_NECK
from drills.neck.search import Place
from drills.theory.clash import low_intervals

FRET_SHIFTED = 1.0
SEMITONE_MOVED = 0.5
VOICE_COME_OR_GONE = 1.0
BARRE = 0.5
LONG_REACH = 3.0
HIGH_UP = 2.0
SKIPPED_STRING = 1.0
LOW_INTERVAL = 1.0

_MOST_VOICES = 8
_ABSENT = -1

Costs: TypeAlias = npt.NDArray[np.float64]
_Step: TypeAlias = tuple[npt.NDArray[np.int64], int]
"""For each place after a step its best states before; and how many ways each place before had."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way through a progression.

    Attributes:
        cost: in steps of one fret; less is smoother.
        places: one for each chord.
    """

    cost: float
    places: tuple[Place, ...]


def smoothest(
    choices: Sequence[Sequence[Place]], *, limit: int = 3, extra: Sequence[Sequence[float]] | None = None
) -> tuple[Way, ...]:
    """The smoothest ways through choices of places, smoothest first.

    Args:
        choices: for each chord, the places it may be played at; none may be empty.
        limit: how many ways at most.
        extra: what each choice costs beyond its grip, such as for a voicing that is less usual.

    Ways of equal cost come in the order of the choices.
    """
    held = [np.array([_held(place) for place in places]) for places in choices]
    if extra is not None:
        held = [costs + np.array(more) for costs, more in zip(held, extra, strict=True)]
    best: Costs = held[0][:, None]
    steps: list[_Step] = []
    for before, after, own in zip(choices, choices[1:], held[1:], strict=False):
        moves = _moves(before, after)
        reached = (best[:, :, None] + moves[:, None, :]).reshape(-1, len(after))
        kept = np.argsort(reached, axis=0, kind="stable")[:limit]
        steps.append((kept, best.shape[1]))
        best = np.take_along_axis(reached, kept, axis=0).T + own[:, None]
    ends = np.argsort(best, axis=None, kind="stable")[:limit]
    return tuple(_way(choices, steps, best, int(end)) for end in ends)


def _way(choices: Sequence[Sequence[Place]], steps: list[_Step], best: Costs, end: int) -> Way:
    """Walks back from one of the last places; a state is a place and which of its best ways is meant."""
    place, nth = divmod(end, best.shape[1])
    cost = float(best[place, nth])
    walked = [choices[-1][place]]
    for before, (kept, width) in zip(reversed(choices[:-1]), reversed(steps), strict=True):
        place, nth = divmod(int(kept[nth, place]), width)
        walked.append(before[place])
    return Way(round(cost, 3), tuple(reversed(walked)))


def _held(place: Place) -> float:
    """What a grip costs by itself."""
    grip = place.grip
    return (
        BARRE * grip.barre_strain
        + LONG_REACH * grip.is_long_reach
        + HIGH_UP * (grip.highest_fret > MIDDLE_OF_NECK)
        + SKIPPED_STRING * grip.skipped_strings
        + LOW_INTERVAL * len(low_intervals(place.sounding.midi))
    )


def _moves(before: Sequence[Place], after: Sequence[Place]) -> Costs:
    """What it costs to go from each place to each other, shape (before, after)."""
    return FRET_SHIFTED * _shifts(before, after) + _voice_moves(before, after)


def _shifts(before: Sequence[Place], after: Sequence[Place]) -> Costs:
    """Frets that the hand shifts; a grip of open strings alone lets it stay where it is."""
    here = np.array([place.grip.lowest_fret for place in before], dtype=np.float64)[:, None]
    there = np.array([place.grip.lowest_fret for place in after], dtype=np.float64)[None, :]
    return np.where((here == 0) | (there == 0), 0.0, np.abs(here - there))


def _voice_moves(before: Sequence[Place], after: Sequence[Place]) -> Costs:
    """What the voices move, matched from the top."""
    here, there = _voices(before)[:, None, :], _voices(after)[None, :, :]
    both = (here != _ABSENT) & (there != _ABSENT)
    moved = np.where(both, np.abs(here - there), 0).sum(axis=2)
    unmatched = ((here != _ABSENT) != (there != _ABSENT)).sum(axis=2)
    costs: Costs = SEMITONE_MOVED * moved + VOICE_COME_OR_GONE * unmatched
    return costs


def _voices(places: Sequence[Place]) -> npt.NDArray[np.int64]:
    """MIDI notes from the top down, shape (places, 8)."""
    voices = np.full((len(places), _MOST_VOICES), _ABSENT, dtype=np.int64)
    for row, place in zip(voices, places, strict=True):
        midi = place.sounding.midi
        row[: len(midi)] = midi[::-1]
    return voices
