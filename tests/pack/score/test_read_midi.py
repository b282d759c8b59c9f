"""Chords are read from MIDI as they are struck, by hands and programs alike.

Outside check: the files are written byte by byte after the standard (see `smf.py`), not by what reads them.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.pack.score import read_chords
from drills.pack.score.read import MOST_CHORDS

from .smf import TICKS, Event, chord, midi_file, tempo

LOWER, UPPER = (49, 55), (60, 65, 69)
OTHER = (48, 54, 59, 64, 68)
MS = TICKS * 2 / 1000
"""Ticks a millisecond at 120 quarter notes a minute."""

Written = Callable[..., Path]


@pytest.fixture
def written(tmp_path: Path) -> Written:
    """Writes tracks into a file."""

    def write(*tracks: list[Event]) -> Path:
        path = tmp_path / "some.mid"
        path.write_bytes(midi_file(*tracks))
        return path

    return write


def test_chords_are_read_in_time_order(written: Written) -> None:
    """Where a file says nothing, 120 quarter notes make a minute."""
    chords = read_chords(written(chord(OTHER, 4 * TICKS) + chord(LOWER + UPPER, 0)))
    assert [each.midi for each in chords] == [LOWER + UPPER, OTHER]
    assert [each.where for each in chords] == ["second 0", "second 2"]
    assert {each.spelled for each in chords} == {None}


def test_tracks_and_channels_that_lie_above_each_other_are_layers(written: Written) -> None:
    """Two tracks of one instrument each, or one track with two channels."""
    (of_tracks,) = read_chords(written([tempo(90)], chord(UPPER, 0), chord(LOWER, 0)))
    (of_channels,) = read_chords(written(chord(UPPER, 0, channel=1) + chord(LOWER, 0, channel=2)))
    assert of_tracks.midi == of_channels.midi == LOWER + UPPER
    assert of_tracks.sizes == of_channels.sizes == (2, 3)


@pytest.mark.parametrize("beats_a_minute", [60, 120, 200])
def test_what_a_hand_strikes_unevenly_is_one_chord(written: Written, beats_a_minute: int) -> None:
    """Up to 30 ms early or late at any tempo, across a bar line too; the next chord is another one."""
    ms = TICKS * beats_a_minute / 60_000
    late_ms = (0, 27, 12, 30, 8)
    early_ms = (-30, 0, -11, -24, 30)
    track = [tempo(beats_a_minute)]
    for note, late, early in zip(LOWER + UPPER, late_ms, early_ms, strict=True):
        track += chord([note], round(late * ms))
        track += chord([note + 1], round(4 * TICKS + early * ms))
    chords = read_chords(written(track))
    assert [each.midi for each in chords] == [LOWER + UPPER, tuple(note + 1 for note in LOWER + UPPER)]


def test_an_arpeggio_is_no_chord(written: Written) -> None:
    """Notes a tenth of a second apart follow each other."""
    track = [
        event for turn, note in enumerate(LOWER + UPPER) for event in chord([note], round(turn * 100 * MS))
    ]
    with pytest.raises(DrillsError, match="no chord of 3 or more notes"):
        read_chords(written(track))


def test_a_sustained_note_is_struck_once(written: Written) -> None:
    """What sounds on below does not belong to the chords that begin above it."""
    track = chord([40], 0, lasts=8 * TICKS) + chord(UPPER, 0) + chord((62, 66, 71), 4 * TICKS)
    assert [each.midi for each in read_chords(written(track))] == [(40, *UPPER), (62, 66, 71)]


def test_times_follow_the_tempos(written: Written) -> None:
    """Four quarter notes at 60, then four at 240: the third chord begins after five seconds."""
    track = chord(UPPER, 0) + chord(OTHER, 4 * TICKS) + chord(UPPER, 8 * TICKS)
    chords = read_chords(written([tempo(60), tempo(240, 4 * TICKS)], track))
    assert [each.where for each in chords] == ["second 0", "second 4", "second 5"]
    apart = read_chords(written([tempo(240, 4 * TICKS)], [tempo(60)], track))
    assert [each.where for each in apart] == ["second 0", "second 4", "second 5"]


def test_percussion_has_no_chords(written: Written) -> None:
    """Channel 10 is left out, whatever beats together there."""
    drums = chord((36, 42, 49), 0, channel=10)
    (only,) = read_chords(written(chord(UPPER, 0), drums))
    assert only.midi == UPPER
    with pytest.raises(DrillsError, match="no chord of 3 or more notes"):
        read_chords(written(drums))


def test_ten_thousand_chords_are_refused_in_seconds(written: Written) -> None:
    """And the message says what to do."""
    shifted = [chord([note + turn % 2 for note in UPPER], turn * TICKS) for turn in range(10_000)]
    path = written([event for each in shifted for event in each])
    start = time.process_time()
    with pytest.raises(DrillsError, match=f"more than {MOST_CHORDS:,} chords") as refused:
        read_chords(path)
    assert time.process_time() - start < 10
    assert "cut out the bars" in str(refused.value)


@pytest.mark.parametrize("cut", [10, 14, 20, 30, 60])
def test_a_file_that_is_cut_off_is_refused(written: Written, cut: int) -> None:
    """Wherever it ends."""
    path = written(chord(UPPER, 0) + chord(OTHER, 4 * TICKS))
    path.write_bytes(path.read_bytes()[:cut])
    with pytest.raises(DrillsError, match="cannot be read as MIDI"):
        read_chords(path)
