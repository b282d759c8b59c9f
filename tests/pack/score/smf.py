"""A small writer of Standard MIDI Files, so that tests know every byte that is read.

Source: Standard MIDI Files 1.0 (MIDI Manufacturers Association, 1996), from memory.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Sequence

TICKS = 480

Event = tuple[int, bytes]


def midi_file(*tracks: Iterable[Event]) -> bytes:
    """A file of tracks; an event is its tick and its bytes."""
    data = b"MThd" + struct.pack(">IHHH", 6, 1, len(tracks), TICKS)
    for track in tracks:
        body, now = b"", 0
        for tick, event in sorted(track, key=lambda each: each[0]):
            body += _length(tick - now) + event
            now = tick
        body += b"\x00\xff\x2f\x00"
        data += b"MTrk" + struct.pack(">I", len(body)) + body
    return data


def chord(midi: Sequence[int], tick: int, *, lasts: int = TICKS, channel: int = 1) -> list[Event]:
    """Notes struck together and let go together."""
    on, off = 0x90 + channel - 1, 0x80 + channel - 1
    return [
        each
        for note in midi
        for each in ((tick, bytes([on, note, 80])), (tick + lasts, bytes([off, note, 0])))
    ]


def tempo(beats_a_minute: int, tick: int = 0) -> Event:
    """How long a quarter note takes from a tick on."""
    return tick, b"\xff\x51\x03" + (60_000_000 // beats_a_minute).to_bytes(3, "big")


def _length(number: int) -> bytes:
    """A variable-length quantity, seven bits a byte, the highest first."""
    found = [number & 127]
    while number := number >> 7:
        found.append(number & 127 | 128)
    return bytes(reversed(found))
