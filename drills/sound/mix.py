"""A voicing played: its notes one after the other from low to high, then together as a chord.

Conventions: times in seconds; samples as float32 between -1 and 1. Every sound of a deck has the same length
and the same loudness, whatever its notes are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.sound.bank import Bank, Rows
from drills.sound.loudness import loudness_lufs
from drills.sound.string import SAMPLE_RATE_HZ

LOUDNESS_LUFS: Final = -21.0
"""Of every sound; the rest is room for the attacks."""
HIGHEST_PEAK: Final = 0.9
"""No sample goes beyond; encoding may add a little."""

_LEAD_S: Final = 0.02  # of silence: decoders may begin late
_ROOT_SHARE: Final = 0.25  # of all the time, for a root before the voicing
_LONGEST_STEP_S: Final = 0.3  # from note to note in the arpeggio
_STRUM_S: Final = 0.012  # from string to string in the chord
_DAMP_S: Final = 0.04  # a hand stopping a string
_END_S: Final = 0.35  # the last of the sound fades
_CHORD_WEIGHT: Final = 1.25  # so much louder than a note is a chord of any size


@dataclass(frozen=True, slots=True)
class _Stroke:
    """A note in time: struck, and stopped unless it rings to the end."""

    midi: int
    start_s: float
    stop_s: float | None = None


def played(
    bank: Bank, midi: tuple[int, ...], seconds: float, root_midi: int | None = None
) -> NDArray[np.float32]:
    """A voicing as arpeggio and then as chord; a single note just once.

    Args:
        bank: whose notes ring for `seconds` at least.
        midi: the notes; they are played from low to high.
        seconds: how long all of it takes.
        root_midi: a note to be heard alone before all else; None for none.

    Raises:
        DrillsError: a note cannot be sounded.
    """
    before, chord = _strokes(sorted(midi), seconds, root_midi)
    mixed = np.zeros((2, round(seconds * SAMPLE_RATE_HZ)), np.float32)
    for stroke in chord:
        _strike(mixed, bank.note(stroke.midi), stroke)
    mixed *= np.float32(_CHORD_WEIGHT / math.sqrt(len(chord)))
    for stroke in before:
        _strike(mixed, bank.note(stroke.midi), stroke)
    falling = _falling(_END_S)
    mixed[:, -len(falling) :] *= falling
    return _levelled(*mixed)


def _strokes(midi: list[int], seconds: float, root_midi: int | None) -> tuple[list[_Stroke], list[_Stroke]]:
    """When each note is struck and stopped: what comes before the chord, and the chord."""
    start_s, before = _LEAD_S, []
    if root_midi is not None:
        first_s = _ROOT_SHARE * seconds
        before.append(_Stroke(root_midi, start_s, first_s))
        start_s = first_s
    if len(midi) > 1:
        step_s = min(_LONGEST_STEP_S, (0.55 * seconds - start_s / 2.0) / len(midi))
        chord_s = start_s + step_s * len(midi)
        before += [_Stroke(each, start_s + place * step_s, chord_s) for place, each in enumerate(midi)]
        start_s = chord_s
    return before, [_Stroke(each, start_s + place * _STRUM_S) for place, each in enumerate(midi)]


def _strike(mixed: Rows, note: Rows, stroke: _Stroke) -> None:
    """Adds a note where it sounds, and lets a hand stop it."""
    start = round(stroke.start_s * SAMPLE_RATE_HZ)
    stop = mixed.shape[1] if stroke.stop_s is None else round(stroke.stop_s * SAMPLE_RATE_HZ)
    mixed[:, start:stop] += note[:, : stop - start]
    if stroke.stop_s is not None:
        falling = _falling(_DAMP_S)
        end = stop + len(falling)
        mixed[:, stop:end] += note[:, stop - start : end - start] * falling


@lru_cache
def _falling(seconds: float) -> NDArray[np.float32]:
    """From 1 down to 0, without a corner at either end."""
    turn = np.linspace(0.0, np.pi, round(seconds * SAMPLE_RATE_HZ))
    return (0.5 + 0.5 * np.cos(turn)).astype(np.float32)


def _levelled(sounding: NDArray[np.float32], heard: NDArray[np.float32]) -> NDArray[np.float32]:
    """As loud as every sound, but never beyond the highest peak."""
    level = 10.0 ** ((LOUDNESS_LUFS - loudness_lufs(heard, SAMPLE_RATE_HZ)) / 20.0)
    return sounding * np.float32(min(level, HIGHEST_PEAK / np.abs(sounding).max()))
