"""A voicing played: what sounds when, how loud, with a soft end and without a click.

Outside check: the loudness of Recommendation ITU-R BS.1770 worked out here another way, by its two filters
sample after sample at 48,000 a second.
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from numpy.typing import NDArray

from drills.errors import DrillsError
from drills.sound.bank import Bank
from drills.sound.mix import HIGHEST_PEAK, LOUDNESS_LUFS, played
from drills.sound.string import SAMPLE_RATE_HZ, frequency_hz

SECONDS = 3.0
FILTERS = (
    ((1.53512485958697, -2.69169618940638, 1.19839281085285), (-1.69065929318241, 0.73248077421585)),
    ((1.0, -2.0, 1.0), (-1.99004745483398, 0.99007225036621)),
)


@pytest.fixture(scope="module")
def bank() -> Bank:
    """Notes long enough for all that is played here."""
    return Bank(6.0)


def voicings(count: int) -> list[tuple[int, ...]]:
    """Voicings of one to eight notes over the whole neck, the same every time."""
    chance = random.Random(5)
    made = []
    for _ in range(count):
        notes = [chance.randint(28, 70)]
        while len(notes) < chance.randint(1, 8) and notes[-1] < 88:
            notes.append(notes[-1] + chance.randint(1, 10))
        made.append(tuple(notes))
    return made


def strength(samples: NDArray[np.float32], midi: int, start_s: float, stop_s: float) -> float:
    """How much of a note's fundamental is in a stretch of time."""
    start, stop = (round(second * SAMPLE_RATE_HZ) for second in (start_s, stop_s))
    part = samples[start:stop] * np.hanning(stop - start)
    turns = np.exp(-2j * np.pi * frequency_hz(midi) / SAMPLE_RATE_HZ * np.arange(stop - start))
    return float(np.abs(part @ turns) / (stop - start))


def filtered(samples: list[float]) -> list[float]:
    """The two filters of the recommendation, one sample after the other."""
    for (b0, b1, b2), (a1, a2) in FILTERS:
        out, x1, x2, y1, y2 = [], 0.0, 0.0, 0.0, 0.0
        for x in samples:
            y = b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2
            x1, x2, y1, y2 = x, x1, y, y1
            out.append(y)
        samples = out
    return samples


def measured_lufs(samples: NDArray[np.float32]) -> float:
    """Integrated loudness, block by block."""
    n_at_48k = len(samples) * 48_000 // SAMPLE_RATE_HZ
    spectrum = np.zeros(n_at_48k // 2 + 1, np.complex128)
    own = np.fft.rfft(samples.astype(np.float64))
    spectrum[: len(own)] = own
    weighed = np.array(filtered((np.fft.irfft(spectrum, n_at_48k) * n_at_48k / len(samples)).tolist()))
    blocks = [float(np.mean(weighed[at : at + 19_200] ** 2)) for at in range(0, n_at_48k - 19_199, 4_800)]
    gate = sum(blocks) / len(blocks) / 10.0
    loud = [block for block in blocks if block > gate]
    return -0.691 + 10.0 * math.log10(sum(loud) / len(loud))


@pytest.mark.parametrize("notes", voicings(16), ids=str)
def test_every_voicing_is_as_loud_as_the_others(bank: Bank, notes: tuple[int, ...]) -> None:
    """Within half a unit of what all sounds have, by a measure of another make; none of them clips."""
    samples = played(bank, notes, SECONDS)
    assert measured_lufs(samples) == pytest.approx(LOUDNESS_LUFS, abs=0.5)
    assert np.abs(samples).max() <= HIGHEST_PEAK


def test_no_voicing_clips(bank: Bank) -> None:
    """However wide, narrow, high or low, with a root before it or not."""
    for notes in voicings(200):
        for root_midi in (None, notes[0]):
            assert np.abs(played(bank, notes, SECONDS, root_midi)).max() <= HIGHEST_PEAK + 1e-6


@pytest.mark.parametrize("seconds", [1.5, 2.2, 3.0, 6.0])
@pytest.mark.parametrize("root_midi", [None, 40])
def test_a_sound_is_as_long_as_asked(bank: Bank, seconds: float, root_midi: int | None) -> None:
    """To the sample, for one note and for eight."""
    for notes in ((52,), (40, 47, 52, 56, 59, 64, 68, 73)):
        assert len(played(bank, notes, seconds, root_midi)) == round(seconds * SAMPLE_RATE_HZ)


def test_notes_come_one_by_one_and_then_together(bank: Bank) -> None:
    """Before its turn a note is silent; in the chord all of them sound."""
    notes = (45, 51, 58, 62)  # no harmonic of one is another
    samples = played(bank, notes, SECONDS)
    for place, midi in enumerate(notes):
        turn_s = 0.02 + 0.3 * place
        in_turn = strength(samples, midi, turn_s, turn_s + 0.3)
        if place:
            assert strength(samples, midi, turn_s - 0.29, turn_s - 0.01) < 0.1 * in_turn
        assert strength(samples, midi, 1.3, 1.6) > 0.2 * in_turn


def test_the_order_in_which_notes_are_given_does_not_matter(bank: Bank) -> None:
    """They are played from low to high."""
    assert np.array_equal(played(bank, (61, 45, 57, 52), SECONDS), played(bank, (45, 52, 57, 61), SECONDS))


def test_a_root_is_heard_alone_before_the_voicing(bank: Bank) -> None:
    """For the first quarter of the time."""
    notes = (55, 61, 66)  # no harmonic of the root is one of them
    samples = played(bank, notes, SECONDS, root_midi=41)
    alone = strength(samples, 41, 0.1, 0.7)
    assert all(strength(samples, midi, 0.1, 0.7) < 0.05 * alone for midi in notes)
    assert strength(samples, 41, 1.2, 1.8) < 0.1 * alone


def test_a_single_note_is_struck_once(bank: Bank) -> None:
    """It only gets softer."""
    samples = played(bank, (52,), SECONDS).astype(np.float64)
    tenths = np.mean(np.square(samples.reshape(30, -1)), axis=1)
    assert np.all(np.diff(tenths[1:]) < 0.0)


@pytest.mark.parametrize("notes", [(28, 35, 40), (40, 47, 52, 56, 59, 64), (76, 83, 88)], ids=str)
def test_a_sound_begins_and_ends_in_silence(bank: Bank, notes: tuple[int, ...]) -> None:
    """It starts from nothing and is gone at its end, after a fade rather than a cut."""
    samples = played(bank, notes, SECONDS)
    assert not samples[: SAMPLE_RATE_HZ // 60].any()
    assert np.abs(samples[-100:]).max() < 1e-4
    peaks = np.abs(samples[-8_000:]).reshape(8, -1).max(axis=1)
    assert np.all(np.diff(peaks) < 0.0)


def test_nothing_clicks(bank: Bank) -> None:
    """Above 7 kHz nothing stands out but what a pluck brings: a stopped string makes no step."""
    samples = played(bank, (45, 52, 57, 61), SECONDS, root_midi=45).astype(np.float64)
    spectrum = np.fft.rfft(samples)
    spectrum[: round(7_000 * SECONDS)] = 0.0
    blocks = np.abs(np.fft.irfft(spectrum)).reshape(-1, 49).max(axis=1)
    plucked = np.zeros(len(blocks), bool)
    for second in (0.02, 0.75, 1.05, 1.35, 1.65, 1.95, 1.962, 1.974, 1.986):
        block = int(second * SAMPLE_RATE_HZ / 49)
        plucked[max(block - 1, 0) : block + 20] = True
    assert blocks[~plucked].max() < 0.1 * blocks[plucked].max()


def test_a_note_out_of_reach_is_refused(bank: Bank) -> None:
    """Before anything is mixed."""
    with pytest.raises(DrillsError, match="MIDI note 12"):
        played(bank, (12, 40), SECONDS)
