"""A MIDI file holds its chords and nothing else.

Outside check: Standard MIDI Files 1.0 (MIDI Manufacturers Association, 1996), from memory: the bytes below
are written out by hand. That music21 reads the same pitches back is shown by `test_write.py`.
"""

from __future__ import annotations

from drills.pack.score.tracks import midi_file

HEADER = bytes.fromhex("4d546864 00000006 0001 0002 01e0")  # format 1, two tracks, 480 ticks a quarter note
END = bytes.fromhex("8360 ff2f00")  # 480 ticks later


def track(events: bytes) -> bytes:
    """A track with its length before it."""
    return b"MTrk" + len(events).to_bytes(4) + events


def test_every_byte_is_what_the_standard_asks() -> None:
    """Tempo, name, guitar; a fifth for two seconds, and at once the same root again under a third."""
    tempo = bytes.fromhex("00 ff5103 0f4240")  # 1,000,000 microseconds a quarter note
    named = bytes.fromhex("00 ff0305") + b"drill" + bytes.fromhex("00 c018")  # program 25 of General MIDI
    fifth = bytes.fromhex("00 903c5a 00 90435a 8740 803c00 00 804300")  # struck, 960 ticks later let go
    third = bytes.fromhex("00 903c5a 00 90405a 8740 803c00 00 804000")
    expected = HEADER + track(tempo + END) + track(named + fifth + third + END)
    assert midi_file([(60, 67), (60, 64)], "drill") == expected
