"""The bank: every note once, all equally loud, and a clear word about what cannot sound."""

from __future__ import annotations

import numpy as np
import pytest

from drills.errors import DrillsError
from drills.sound import bank as bank_module
from drills.sound.bank import Bank, check_sounds
from drills.sound.string import SAMPLE_RATE_HZ, pluck


@pytest.fixture(scope="module")
def bank() -> Bank:
    """Notes of two seconds."""
    return Bank(2.0)


def test_all_notes_are_equally_loud(bank: Bank) -> None:
    """Within a tenth of a decibel over the whole range, as the ear weighs the first 0.4 s."""
    powers = [np.mean(np.square(bank.note(midi)[1, : 4 * SAMPLE_RATE_HZ // 10])) for midi in range(23, 101)]
    assert np.ptp(10.0 * np.log10(powers)) < 0.1


def test_a_note_is_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time it comes out of the bank."""
    made: list[float] = []

    def counted(string_hz: float, n_samples: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        made.append(string_hz)
        return pluck(string_hz, n_samples)

    monkeypatch.setattr(bank_module, "pluck", counted)
    small = Bank(0.5)
    assert made == []
    assert small.note(60) is small.note(60)
    assert len(made) == 1


def test_a_note_cannot_be_changed(bank: Bank) -> None:
    """Every sound of a build shares it."""
    with pytest.raises(ValueError, match="read-only"):
        bank.note(60)[0, 0] = 1.0


@pytest.mark.parametrize(
    ("midi", "a4_hz", "said"),
    [(12, 440.0, "16 Hz"), (15, 400.0, "18 Hz"), (103, 440.0, "3136 Hz"), (101, 480.0, "3048 Hz")],
)
def test_a_note_that_cannot_sound_is_refused(midi: int, a4_hz: float, said: str) -> None:
    """It says how low or high it would be, and what there is instead."""
    with pytest.raises(DrillsError, match=f"MIDI note {midi} would sound at {said}") as caught:
        Bank(1.0, a4_hz).note(midi)
    assert "from 20 to 3000 Hz" in caught.value.mend


@pytest.mark.parametrize(("midi", "a4_hz"), [(14, 480.0), (18, 400.0), (102, 440.0), (100, 480.0)])
def test_a_note_just_inside_sounds(midi: int, a4_hz: float) -> None:
    """The nearest notes to both ends."""
    check_sounds(midi, a4_hz)
