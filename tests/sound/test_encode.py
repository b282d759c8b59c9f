"""MP3: small, as long as what went in, in tune, and the same bytes every time.

Outside check: libsndfile's decoder, and the pitch by the highest point of a spectrum.
"""

from __future__ import annotations

import hashlib
import io
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from drills.sound import encode
from drills.sound.bank import Bank
from drills.sound.encode import mp3
from drills.sound.mix import played
from drills.sound.string import SAMPLE_RATE_HZ, frequency_hz

SECONDS = 3.0
MOST_BYTES = 12 * 1024
VOICINGS = [
    (40, 47, 52, 56, 59, 64),
    (46, 53, 61, 63, 68, 72),
    (49, 55, 60, 65, 69),
    (64, 69, 74),
    (30, 35, 40, 45, 50, 55, 59, 64),
    (23, 30, 35),
    (26, 27),
    (88,),
]


@pytest.fixture(scope="module")
def bank() -> Bank:
    """Notes for three seconds."""
    return Bank(SECONDS)


def decoded(data: bytes) -> NDArray[np.float64]:
    """What a player gets to hear, checked to be one channel at our rate."""
    samples, rate_hz = soundfile.read(io.BytesIO(data))
    assert rate_hz == SAMPLE_RATE_HZ
    assert samples.ndim == 1
    return np.asarray(samples, np.float64)


@pytest.mark.parametrize("notes", VOICINGS, ids=str)
@pytest.mark.parametrize("root_midi", [None, 36])
def test_three_seconds_are_small_and_whole(bank: Bank, notes: tuple[int, ...], root_midi: int | None) -> None:
    """At most 12 KB; to the sample as long as before, in place, not clipping, close to what went in."""
    samples = played(bank, notes, SECONDS, root_midi)
    data = mp3(samples)
    heard = decoded(data)
    assert len(data) <= MOST_BYTES
    assert len(heard) == len(samples)
    assert np.abs(heard).max() < 1.0
    assert np.mean(np.square(heard - samples)) < 0.04 * np.mean(np.square(samples))
    assert np.abs(heard[-50:]).max() < 1e-3


def test_only_what_would_be_too_large_is_held_to_a_steady_stream(bank: Bank) -> None:
    """A voicing gets the bits it needs; two notes below every guitar would need more than there may be."""
    usual, low = (played(bank, notes, SECONDS) for notes in (VOICINGS[0], (26, 27)))
    assert mp3(usual) == encode._encoded(usual, *encode.FOLLOWING)
    assert len(encode._encoded(low, *encode.FOLLOWING)) > MOST_BYTES
    assert mp3(low) == encode._encoded(low, *encode.STEADY)


@pytest.mark.parametrize("midi", [28, 40, 57, 69, 88])
def test_a_note_is_still_in_tune(bank: Bank, midi: int) -> None:
    """Within a cent after decoding."""
    heard = decoded(mp3(played(bank, (midi,), SECONDS)))[2_000:]
    n_points = 1 << 18
    logs = np.log(np.abs(np.fft.rfft(heard * np.blackman(len(heard)), n_points)) + 1e-9)
    near = round(frequency_hz(midi) * n_points / SAMPLE_RATE_HZ)
    place = near - near // 30 + int(logs[near - near // 30 : near + near // 30].argmax())
    before, here, after = logs[place - 1 : place + 2]
    found_hz = (place + (before - after) / (2.0 * (before - 2.0 * here + after))) * SAMPLE_RATE_HZ / n_points
    assert abs(1200.0 * np.log2(found_hz / frequency_hz(midi))) < 1.0


def test_the_same_sound_is_the_same_bytes(bank: Bank) -> None:
    """Twice in a row, on two threads, and in another process."""
    samples = played(bank, VOICINGS[0], SECONDS)
    once = mp3(samples)
    with ThreadPoolExecutor(2) as pool:
        assert set(pool.map(mp3, [samples] * 4)) == {once}
    code = (
        "import hashlib; from drills.sound.bank import Bank; from drills.sound.encode import mp3;"
        "from drills.sound.mix import played;"
        f"print(hashlib.sha256(mp3(played(Bank({SECONDS}), {VOICINGS[0]}, {SECONDS}))).hexdigest())"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == hashlib.sha256(once).hexdigest()


def test_a_file_names_no_person_date_or_program_of_ours(bank: Bank) -> None:
    """It begins with a frame of sound, not with a tag; the encoder names only itself."""
    data = mp3(played(bank, (60,), SECONDS))
    assert data[:2] == b"\xff\xf3"
    assert b"ID3" not in data
    assert b"TAG" not in data[-128:]
