"""The string: in tune everywhere, dying away as strings do, without offset, and the same every time.

Outside checks: the frequencies that music21 gives for the notes, and 440 Hz for A4 after ISO 16. Two methods
that know nothing of how the string is made tell its pitch: the highest point of a long spectrum, and the time
after which the sound repeats itself best.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from music21.pitch import Pitch
from numpy.typing import NDArray

from drills.sound import string
from drills.sound.string import HIGHEST_HZ, LOWEST_HZ, SAMPLE_RATE_HZ, frequency_hz, pluck, ring_s

N_SAMPLES = 3 * SAMPLE_RATE_HZ
TUNED = [
    pytest.param(midi, a4_hz, id=f"{midi}-at-{a4_hz:g}")
    for a4_hz, step in ((440.0, 1), (400.0, 5), (415.3, 7), (480.0, 5))
    for midi in range(20, 104, step)
    if LOWEST_HZ <= frequency_hz(midi, a4_hz) <= HIGHEST_HZ
]


def cents(found_hz: float, wanted_hz: float) -> float:
    """How far apart two frequencies are."""
    return 1_200.0 * math.log2(found_hz / wanted_hz)


def vertex(values: NDArray[np.float64]) -> float:
    """Where the parabola through three points is highest, in steps from the middle one."""
    before, here, after = values
    return float((before - after) / (2.0 * (before - 2.0 * here + after)))


def spectral_hz(samples: NDArray[np.float64], near_hz: float) -> float:
    """The frequency of the strongest partial within a semitone of one."""
    n_points = 1 << 18
    windowed = samples[1_000:] * np.blackman(len(samples) - 1_000)
    decibels = np.log(np.abs(np.fft.rfft(windowed, n_points)))
    low, high = (round(near_hz * 2.0 ** (step / 12) * n_points / SAMPLE_RATE_HZ) for step in (-1, 1))
    place = low + int(decibels[low:high].argmax())
    return float((place + vertex(decibels[place - 1 : place + 2])) * SAMPLE_RATE_HZ / n_points)


def repeating_hz(samples: NDArray[np.float64], near_hz: float) -> float:
    """The frequency whose period, many times over, brings the sound back to itself."""
    n_periods = max(2, round(0.2 * near_hz))
    around = round(n_periods * SAMPLE_RATE_HZ / near_hz)
    reach = max(2, round(0.2 * SAMPLE_RATE_HZ / near_hz))
    part = samples[2_000:14_000]
    likeness = np.array(
        [part @ samples[2_000 + lag : 14_000 + lag] for lag in range(around - reach, around + reach + 1)]
    )
    best = 1 + int(likeness[1:-1].argmax())
    lag = around - reach + best + vertex(likeness[best - 1 : best + 2])
    return n_periods * SAMPLE_RATE_HZ / lag


def decibels_at(samples: NDArray[np.float64], second: float) -> float:
    """How strong a tenth of a second is."""
    start = round(second * SAMPLE_RATE_HZ)
    return float(10.0 * np.log10(np.mean(np.square(samples[start : start + SAMPLE_RATE_HZ // 10]))))


@pytest.mark.parametrize("midi", range(128))
def test_notes_have_the_frequencies_of_music21(midi: int) -> None:
    """Equal temperament over the A of ISO 16."""
    assert frequency_hz(midi) == pytest.approx(Pitch(midi=midi).frequency, rel=1e-9)


def test_a4_is_as_iso_16_has_it() -> None:
    """440 Hz, or whatever else is wanted."""
    assert frequency_hz(69) == 440.0
    assert frequency_hz(69, 415.0) == 415.0
    assert frequency_hz(57, 442.0) == 221.0


@pytest.mark.parametrize(("midi", "a4_hz"), TUNED)
def test_the_string_is_in_tune(midi: int, a4_hz: float) -> None:
    """Two independent methods find the pitch within a cent, the first within a hundredth of one."""
    wanted_hz = frequency_hz(midi, a4_hz)
    samples = pluck(wanted_hz, N_SAMPLES)
    assert abs(cents(spectral_hz(samples, wanted_hz), wanted_hz)) < 0.01
    assert abs(cents(repeating_hz(samples, wanted_hz), wanted_hz)) < 1.0


def test_both_methods_hear_a_cent() -> None:
    """What the check above rests on: a string a cent and a half off is found out by either."""
    samples = pluck(frequency_hz(52) * 2.0 ** (1.5 / 1200), N_SAMPLES)
    for method in (spectral_hz, repeating_hz):
        assert cents(method(samples, frequency_hz(52)), frequency_hz(52)) == pytest.approx(1.5, abs=0.3)


@pytest.mark.parametrize("midi", range(23, 101))
def test_the_loop_never_adds(midi: int) -> None:
    """At no frequency does a round give more than it got, or the string would grow."""
    gains = np.abs(string._loop(string._circle(N_SAMPLES), frequency_hz(midi)))
    assert gains.max() < 1.0


@pytest.mark.parametrize("midi", [28, 40, 52, 64, 76, 88, 100])
def test_a_string_rings_as_long_as_it_should(midi: int) -> None:
    """Between a quarter of a second and one, it loses what its time of decay says, a little more at first."""
    samples = pluck(frequency_hz(midi), N_SAMPLES)
    lost = decibels_at(samples, 0.25) - decibels_at(samples, 1.0)
    assert lost == pytest.approx(0.75 * 60.0 / ring_s(frequency_hz(midi)), rel=0.35)


def test_low_strings_ring_longer() -> None:
    """Each octave up dies away sooner. Common practice, no source: seconds below, one or two on top."""
    left = [decibels_at(pluck(frequency_hz(midi), N_SAMPLES), 2.0) for midi in (28, 40, 52, 64, 76, 88)]
    assert left == sorted(left, reverse=True)
    assert ring_s(frequency_hz(40)) > 5.0
    assert 1.0 < ring_s(frequency_hz(88)) < 2.5


def test_highs_die_away_first() -> None:
    """After a second, the top of the spectrum has lost far more than the bottom."""
    samples = pluck(frequency_hz(40), N_SAMPLES)
    parts = [np.abs(np.fft.rfft(samples[start : start + 8_192])) for start in (0, SAMPLE_RATE_HZ)]
    low_lost, high_lost = (
        10.0 * np.log10(np.sum(parts[0][band] ** 2) / np.sum(parts[1][band] ** 2))
        for band in (slice(20, 80), slice(900, 1_800))
    )
    assert high_lost > low_lost + 20.0


@pytest.mark.parametrize("midi", [23, 40, 64, 100])
def test_a_string_swings_around_zero(midi: int) -> None:
    """There is no offset, which would click where a sound begins and ends."""
    samples = pluck(frequency_hz(midi), N_SAMPLES)
    assert abs(samples.mean()) < 1e-3 * np.abs(samples).max()


@pytest.mark.parametrize("n_samples", [33_075, 44_101, 132_300])
def test_a_longer_note_begins_like_a_shorter_one(n_samples: int) -> None:
    """How long a note is asked for changes nothing of what sounds, to 100 dB below."""
    short, long = pluck(110.0, n_samples), pluck(110.0, 2 * n_samples)
    assert len(short) == n_samples
    assert np.abs(short - long[:n_samples]).max() < 1e-5 * np.abs(long).max()
