"""Loudness: as the recommendation defines it.

Outside checks, from Recommendation ITU-R BS.1770 as remembered: a sine of 997 Hz at full scale on one channel
reads -3.01 LKFS; the first filter lifts highs by 4 dB; the second halves 38 Hz and takes what is below away;
blocks 10 LU below the mean do not count.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from drills.sound.loudness import gain, heard, loudness_lufs
from drills.sound.string import SAMPLE_RATE_HZ


def sine(frequency_hz: float) -> NDArray[np.float64]:
    """Three seconds of a sine at full scale."""
    turns = frequency_hz / SAMPLE_RATE_HZ * np.arange(3 * SAMPLE_RATE_HZ)
    return np.asarray(np.sin(2.0 * np.pi * turns), np.float64)


def test_the_reference_tone_reads_as_it_must() -> None:
    """997 Hz at full scale, and ten decibels less."""
    weighed = heard(sine(997.0), SAMPLE_RATE_HZ)
    assert loudness_lufs(weighed, SAMPLE_RATE_HZ) == pytest.approx(-3.01, abs=0.01)
    assert loudness_lufs(weighed * 10.0**-0.5, SAMPLE_RATE_HZ) == pytest.approx(-13.01, abs=0.01)


@pytest.mark.parametrize(("frequency_hz", "decibels"), [(997.0, 0.691), (10_000.0, 4.0), (38.1, -6.0)])
def test_the_ear_takes_highs_for_more_and_lows_for_less(frequency_hz: float, decibels: float) -> None:
    """The two filters together."""
    factor = gain(np.array([frequency_hz]))[0]
    assert 20.0 * np.log10(factor) == pytest.approx(decibels, abs=0.1)


def test_silence_around_a_sound_does_not_make_it_softer() -> None:
    """What lies far below the rest is left out."""
    tone = sine(997.0)
    with_silence = np.concatenate((tone, np.zeros(4 * SAMPLE_RATE_HZ)))
    told = loudness_lufs(heard(with_silence, SAMPLE_RATE_HZ), SAMPLE_RATE_HZ)
    assert told == pytest.approx(-3.01, abs=0.3)
