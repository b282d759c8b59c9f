"""The notes of a build, each plucked once, all equally loud."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from drills.errors import DrillsError
from drills.sound.loudness import BLOCK_S, heard
from drills.sound.string import HIGHEST_HZ, LOWEST_HZ, SAMPLE_RATE_HZ, frequency_hz, pluck

Rows: TypeAlias = NDArray[np.float32]
"""Two rows of samples: as they sound, and as the ear weighs them."""


class Bank:
    """Plucked notes by their MIDI numbers, made when first asked for and kept.

    Args:
        seconds: how long each rings.
        a4_hz: what they are tuned to.
    """

    def __init__(self, seconds: float, a4_hz: float = 440.0) -> None:
        self.n_samples = round(seconds * SAMPLE_RATE_HZ)
        self._a4_hz = a4_hz
        self._notes: dict[int, Rows] = {}

    def note(self, midi: int) -> Rows:
        """The note's samples, its loudness 1: the root mean square of the second row's first 0.4 s.

        Raises:
            DrillsError: the string cannot sound this note.
        """
        if midi not in self._notes:
            check_sounds(midi, self._a4_hz)
            self._notes[midi] = _note(frequency_hz(midi, self._a4_hz), self.n_samples)
        return self._notes[midi]


def _note(string_hz: float, n_samples: int) -> Rows:
    samples = pluck(string_hz, n_samples)
    rows = np.stack((samples, heard(samples, SAMPLE_RATE_HZ)))
    judged = rows[1, : round(BLOCK_S * SAMPLE_RATE_HZ)]
    note: Rows = (rows / np.sqrt(np.mean(np.square(judged)))).astype(np.float32)
    note.flags.writeable = False
    return note


def check_sounds(midi: int, a4_hz: float) -> None:
    """Raises unless the plucked string can sound the note.

    Raises:
        DrillsError: it is too low or too high.

    >>> check_sounds(12, 440.0)
    Traceback (most recent call last):
    drills.errors.DrillsError: MIDI note 12 would sound at 16 Hz; use notes from 20 to 3000 Hz, or no sound
    """
    sounding_hz = frequency_hz(midi, a4_hz)
    if not LOWEST_HZ <= sounding_hz <= HIGHEST_HZ:
        what = f"MIDI note {midi} would sound at {sounding_hz:.0f} Hz"
        mend = f"use notes from {LOWEST_HZ:.0f} to {HIGHEST_HZ:.0f} Hz, or no sound"
        raise DrillsError(what, mend=mend)
