"""MIDI files are read event by event, or refused in our words.

Outside check: the bytes are written out by hand after Standard MIDI Files 1.0 (MIDI Manufacturers
Association, 1996), from memory; that music21 finds the same notes in our files is shown by `test_write.py`.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.pack.score import read_chords
from drills.pack.score.midi_events import Event, events, tracks

END = bytes.fromhex("00 ff2f00")
NOTES = bytes.fromhex("00 903c50 00 4050 00 4350")
"""A triad struck; the second and third note go without their status."""


def file(
    *chunks: bytes, count: int | None = None, kind: int = 1, ticks: int = 480, end: bytes = END
) -> bytes:
    """A file of tracks, each with its end."""
    head = b"".join(each.to_bytes(2) for each in (kind, count or len(chunks), ticks))
    bodies = [each + end for each in chunks]
    return b"MThd" + (6).to_bytes(4) + head + b"".join(map(chunk, bodies))


def chunk(body: bytes) -> bytes:
    """A track with its length before it."""
    return b"MTrk" + len(body).to_bytes(4) + body


def chords_in(tmp_path: Path, data: bytes) -> list[tuple[int, ...]]:
    """The chords of a file that holds that."""
    path = tmp_path / "some.mid"
    path.write_bytes(data)
    return [each.midi for each in read_chords(path)]


def refusal(tmp_path: Path, data: bytes) -> str:
    """Why a file is refused; the mend is told."""
    with pytest.raises(DrillsError) as refused:
        chords_in(tmp_path, data)
    assert refused.value.mend
    return str(refused.value).removeprefix(f"{tmp_path / 'some.mid'}: ")


def test_every_kind_of_event_is_met() -> None:
    """Running status goes on after a meta event; numbers have up to four bytes; the end is the end."""
    track = bytes.fromhex(
        "00 ff5103 07a120"  # tempo
        "8148 923c50"  # 200 ticks later, on channel 3
        "00 f003 010203"  # system exclusive
        "00 3e00"  # running status
        "00 c205 00 d207"  # a program and a pressure have one byte
        "ffffff7f e20040"  # the longest wait
        "00 ff2f00 00 923c50"
    )
    assert list(events(track, 1)) == [
        Event(0, 0xFF, 0x51, b"\x07\xa1\x20"),
        Event(200, 0x92, -1, b"\x3c\x50"),
        Event(200, 0xF0, -1, b"\x01\x02\x03"),
        Event(200, 0x92, -1, b"\x3e\x00"),
        Event(200, 0xC2, -1, b"\x05"),
        Event(200, 0xD2, -1, b"\x07"),
        Event(200 + 0xFFFFFFF, 0xE2, -1, b"\x00\x40"),
    ]


@pytest.mark.parametrize(
    "body",
    [
        "00 903cd0",  # a data byte over 127
        "00 f401",  # a message that files have not
        "00 903c",  # cut off
        "00 ff517f00",  # longer than the track
        "00 ff",
        "ffffffff7f 903c50",  # a number of five bytes
        "81",
    ],
)
def test_a_byte_that_may_not_stand_there_is_told_with_its_place(tmp_path: Path, body: str) -> None:
    """Track and byte, counted from one."""
    said = refusal(tmp_path, file(b"", NOTES + bytes.fromhex(body), end=b""))
    assert said.startswith("track 2, byte 11: cannot be read as MIDI: no event that may stand there; export")


def test_the_first_event_needs_a_status(tmp_path: Path) -> None:
    """There is none that it could go on with; a track that has no end ends with its bytes."""
    assert refusal(tmp_path, file(NOTES[:1] + NOTES[2:])).startswith(
        "track 1, byte 1: cannot be read as MIDI"
    )
    assert chords_in(tmp_path, file(NOTES, end=b"")) == [(60, 64, 67)]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"hello", "it does not begin as a MIDI file does; check that its name ends as its kind asks"),
        (b"RIFF" + file(NOTES), "it does not begin as a MIDI file does"),
        (file(NOTES)[:13], "it ends too early"),
        (file(NOTES)[:20], "track 1 of 1: .*it ends too early"),
        (file(NOTES)[:-1], "track 1 of 1: .*it ends too early"),
        (file(NOTES, count=5), "track 2 of 5: .*it ends too early"),
        (file(NOTES, kind=2), "of format 2, whose tracks have no time in common; export it as format 0 or 1"),
        (file(NOTES, ticks=0), "its header does not divide quarter notes into ticks"),
        (file(NOTES, ticks=0xE728), "its header does not divide quarter notes into ticks"),
        (file(NOTES).replace(b"\x50", b"\x00"), "no chord of 3 or more notes"),
        (file(), "no chord of 3 or more notes"),
    ],
)
def test_what_is_no_midi_of_notes_is_refused(tmp_path: Path, data: bytes, words: str) -> None:
    """Each for its own reason."""
    assert re.search(words, refusal(tmp_path, data))


def test_what_stands_beside_the_tracks_is_passed_over(tmp_path: Path) -> None:
    """A longer header, chunks of another kind, and what follows the last track."""
    whole, other = file(NOTES), b"XTRA" + (4).to_bytes(4) + b"abcd"
    longer = whole[:4] + (8).to_bytes(4) + whole[8:14] + b"\0\0" + whole[14:]
    for data in (whole, whole[:14] + other + whole[14:], whole + b"\0\0\0", longer):
        assert chords_in(tmp_path, data) == [(60, 64, 67)]
    assert tracks(whole) == (480, [NOTES + END])
    assert tracks(file(NOTES, ticks=0x7FFF))[0] == 0x7FFF


def test_a_file_full_of_events_is_read_to_its_end(tmp_path: Path) -> None:
    """Sixty thousand tempos before two thousand chords."""
    tempos = b"\x01\xff\x51\x03\x07\xa1\x20" * 60_000
    struck = b"".join(bytes([96, 0x90, 60 + turn % 2, 80, 0, 64, 80, 0, 67, 80]) for turn in range(1900))
    assert len(chords_in(tmp_path, file(tempos + struck))) == 1900
