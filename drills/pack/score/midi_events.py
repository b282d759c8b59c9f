"""The events of a MIDI file, in one pass over its bytes.

Conventions: bytes are counted from 1 at the beginning of a track's events. What follows the last track that
the header counts, and chunks that are no tracks, are passed over.
Source: Standard MIDI Files 1.0 (MIDI Manufacturers Association, 1996), from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from drills.errors import DrillsError
from drills.pack.score.unreadable import unreadable

_META: Final = 0xFF
_END_OF_TRACK: Final = 0x2F
_SYSTEM: Final = 0xF0
"""From here on up a status is no channel's."""
_SYSTEM_EXCLUSIVE: Final = (0xF0, 0xF7)
_OF_ONE_BYTE: Final = (0xC, 0xD)
"""Program change and channel pressure; all other messages of a channel have two bytes."""
_LONGEST_NUMBER: Final = 4
_TOO_EARLY: Final = "it ends too early"


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happens in a track.

    Attributes:
        tick: when, from the beginning of the track.
        status: the byte that says what, and on which channel.
        meta: the kind of a meta event; -1 for any other.
        data: what belongs to it.
    """

    tick: int
    status: int
    meta: int
    data: bytes


def tracks(data: bytes) -> tuple[int, list[bytes]]:
    """How many ticks a quarter note has, and the bytes of each track.

    Raises:
        DrillsError: it is no MIDI file, it is cut off, or of a kind that has no common time in quarter notes.
    """
    if data[:4] != b"MThd":
        mend = "check that its name ends as its kind asks, and export it again"
        raise unreadable("MIDI", "it does not begin as a MIDI file does", mend=mend)
    if len(data) < 14:
        raise unreadable("MIDI", _TOO_EARLY)
    kind, count, ticks = (int.from_bytes(data[place : place + 2]) for place in (8, 10, 12))
    if kind > 1:
        mend = "export it as format 0 or 1"
        raise unreadable("MIDI", f"it is of format {kind}, whose tracks have no time in common", mend=mend)
    if ticks == 0 or ticks & 0x8000:
        mend = "export it with times in quarter notes"
        raise unreadable("MIDI", "its header does not divide quarter notes into ticks", mend=mend)
    found: list[bytes] = []
    place = 8 + int.from_bytes(data[4:8])
    while len(found) < count:
        begins, place = place + 8, place + 8 + int.from_bytes(data[place + 4 : place + 8])
        if begins > len(data) or place > len(data):
            raise unreadable("MIDI", _TOO_EARLY, where=f"track {len(found) + 1} of {count}")
        if data[begins - 8 : begins - 4] == b"MTrk":
            found.append(data[begins:place])
    return ticks, found


def events(track: bytes, number: int) -> Iterator[Event]:
    """Every event of a track but its end, in order.

    Args:
        track: its bytes, without its head.
        number: which track it is, for messages.

    Raises:
        DrillsError: a byte is none that may stand there.
    """
    place = tick = running = 0
    while place < len(track):
        begins = place
        try:
            delta, place = _number(track, place)
            tick += delta
            status = running
            if track[place] >= 0x80:
                status, place = track[place], place + 1
            meta, length, place = _head(track, place, status)
        except (IndexError, ValueError):
            raise _fault(number, begins) from None
        if meta == _END_OF_TRACK:
            return
        data = track[place : place + length]
        if len(data) < length or (status < _SYSTEM and max(data) >= 0x80):
            raise _fault(number, begins)
        running = status if status < _SYSTEM else running
        yield Event(tick, status, meta, data)
        place += length


def _head(track: bytes, place: int, status: int) -> tuple[int, int, int]:
    """The kind of a meta event or -1, how long the data is, and where it begins."""
    if status == _META:
        return track[place], *_number(track, place + 1)
    if status in _SYSTEM_EXCLUSIVE:
        return -1, *_number(track, place)
    if not 0x80 <= status < _SYSTEM:
        raise ValueError(status)
    return -1, 1 if status >> 4 in _OF_ONE_BYTE else 2, place


def _number(track: bytes, place: int) -> tuple[int, int]:
    """A number of seven bits a byte, and where it ends."""
    number = 0
    for each in track[place : place + _LONGEST_NUMBER]:
        place += 1
        number = number << 7 | each & 0x7F
        if each < 0x80:
            return number, place
    raise ValueError(number)


def _fault(number: int, place: int) -> DrillsError:
    return unreadable("MIDI", "no event that may stand there", where=f"track {number}, byte {place + 1}")
