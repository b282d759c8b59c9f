"""The plucked string that the page makes, sample by sample, in a small JavaScript engine.

Outside facts: ISO 16:1975 (standard tuning frequency, 440 Hz); equal temperament, 2 ** (1 / 12) a semitone.
"""

from __future__ import annotations

import base64
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

import numpy as np
import pytest
from numpy.typing import NDArray

Samples: TypeAlias = NDArray[np.float64]
Pluck: TypeAlias = Callable[..., Samples]

RATE = 44_100
LOWEST, HIGHEST = 28, 88
"""E1, the lowest string of an eight-string neck's octave below, to E6, the 24th fret of the first string."""


@pytest.fixture(scope="module")
def pluck(checkout: Path) -> Pluck:
    """The samples of `string(rate, hz, seconds)`; they pass as letters, six bits each, which is fast."""
    import quickjs

    harness = """
    globalThis.pluck = (rate, hz, seconds) => {
      const samples = string(rate, hz, seconds);
      const digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
      const letters = [];
      for (const sample of samples) {
        const whole = Math.round(sample * 2 ** 20) + 2 ** 23;
        for (const shift of [18, 12, 6, 0]) letters.push(digits[(whole >> shift) & 63]);
      }
      return letters.join("");
    };
    """
    context = quickjs.Context()
    context.module((checkout / "drills/page/sounds/string.js").read_text(encoding="utf-8") + harness)
    run = context.get("pluck")

    def call(hz: float, seconds: float = 1.2, rate: int = RATE) -> Samples:
        packed = np.frombuffer(base64.b64decode(run(rate, hz, seconds)), dtype=np.uint8).reshape(-1, 3)
        whole = packed.astype(np.int64) @ np.array([1 << 16, 1 << 8, 1])
        samples: Samples = (whole - 2**23) / 2**20
        return samples

    return call


def tempered_hz(midi: int, a4_hz: float = 440.0) -> float:
    """Equal temperament about the A of ISO 16, written here a second time."""
    return a4_hz * float(np.exp2((midi - 69) / 12))


def measured_hz(samples: Samples, near_hz: float, rate: int = RATE) -> float:
    """The peak of the spectrum near a pitch: Hann window, zeros added, a parabola through the peak."""
    held = samples * np.hanning(len(samples))
    size = 1 << 19
    level = np.log(np.abs(np.fft.rfft(held, size)) + 1e-12)
    low, high = (int(near_hz * factor * size / rate) for factor in (0.94, 1.06))
    top = low + int(np.argmax(level[low:high]))
    left, middle, right = level[top - 1 : top + 2]
    return float((top + (left - right) / (2 * (left - 2 * middle + right))) * rate / size)


def cents(one_hz: float, other_hz: float) -> float:
    """How far one pitch lies above the other; 100 to a semitone."""
    return float(1200 * np.log2(one_hz / other_hz))


@pytest.mark.parametrize("midi", range(LOWEST, HIGHEST + 1))
def test_every_string_is_in_tune(pluck: Pluck, midi: int) -> None:
    """Every note of every neck lies within a cent of equal temperament about 440 Hz (ISO 16)."""
    wanted = tempered_hz(midi)
    assert abs(cents(measured_hz(pluck(wanted), wanted), wanted)) < 1


@pytest.mark.parametrize("rate", [22_050, 48_000, 96_000])
@pytest.mark.parametrize("midi", [LOWEST, 40, 64, HIGHEST])
def test_other_rates_are_in_tune_too(pluck: Pluck, midi: int, rate: int) -> None:
    """The device says how many samples a second it takes; the pitch does not hang on it."""
    wanted = tempered_hz(midi)
    assert abs(cents(measured_hz(pluck(wanted, rate=rate), wanted, rate), wanted)) < 1


@pytest.mark.parametrize("a4_hz", [400, 415, 440, 442, 480])
def test_pitch_follows_its_reference(checkout: Path, a4_hz: int) -> None:
    """The A above middle C sounds at the reference, an octave below at half of it."""
    import quickjs

    context = quickjs.Context()
    source = (checkout / "drills/page/sounds/string.js").read_text(encoding="utf-8")
    context.module(source + "globalThis.pitch = pitch_hz;")
    pitch = context.get("pitch")
    assert pitch(69, a4_hz) == a4_hz
    assert pitch(57, a4_hz) == pytest.approx(a4_hz / 2)
    assert pitch(40, 440) == pytest.approx(tempered_hz(40))


def test_all_strings_are_equally_loud(pluck: Pluck) -> None:
    """The RMS of the first second differs by less than one decibel over the whole neck."""
    levels = [
        10 * np.log10(np.mean(pluck(tempered_hz(midi))[:RATE] ** 2)) for midi in range(LOWEST, HIGHEST + 1, 3)
    ]
    assert max(levels) - min(levels) < 1


def test_six_strings_at_once_do_not_clip(pluck: Pluck) -> None:
    """Even if six strings had their highest sample at one moment, the sum would stay below 1."""
    peaks = [np.abs(pluck(tempered_hz(midi))).max() for midi in range(LOWEST, HIGHEST + 1, 3)]
    assert 6 * max(peaks) < 1
    assert min(peaks) > 0.08


def test_a_string_begins_and_ends_in_silence(pluck: Pluck) -> None:
    """Neither end jumps: the first and the last sample are silence, and the last hundredth nearly."""
    samples = pluck(tempered_hz(52), seconds=3.2)
    assert len(samples) == round(3.2 * RATE)
    assert abs(samples[0]) < 1e-5
    assert abs(samples[-1]) < 1e-5
    assert np.abs(samples[-RATE // 100 :]).max() < 1e-4
    assert np.abs(np.diff(samples)).max() < 0.1


@pytest.mark.parametrize("midi", [LOWEST, 45, 64, HIGHEST])
def test_a_string_dies_away(pluck: Pluck, midi: int) -> None:
    """Each half second is softer than the one before."""
    samples = pluck(tempered_hz(midi), seconds=3.2)
    halves = [float(np.mean(half**2)) for half in np.array_split(samples, 6)]
    assert halves == sorted(halves, reverse=True)
    assert halves[0] > 100 * halves[-1]


def test_the_same_string_is_the_same_samples(pluck: Pluck) -> None:
    """The noise of the pluck is the same noise each time."""
    assert np.array_equal(pluck(110.0), pluck(110.0))


@pytest.mark.parametrize("seconds", [0, 0.001, 0.01])
def test_a_very_short_string_does_no_harm(pluck: Pluck, seconds: float) -> None:
    """A sound shorter than its period is short, nothing else."""
    samples = pluck(41.2, seconds=seconds)
    assert len(samples) == round(seconds * RATE)
    assert np.all(np.isfinite(samples))
