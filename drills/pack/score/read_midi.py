"""What begins together in a MIDI file.

Conventions: times are counted in seconds by the tempos of the file. People and programs that imitate them do
not strike the notes of a chord at once, so what begins within a short time of its first note is together.
Percussion, on channel 10, has no pitches.
Source: Standard MIDI Files 1.0 (MIDI Manufacturers Association, 1996), delta times and Set Tempo; General
MIDI 1 (1991), channel 10; from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from drills.pack.score.heard import Beginning, HeardNote

if TYPE_CHECKING:
    from music21 import midi

TOGETHER_S: Final = 0.07
"""A little over twice the 30 ms by which hands and programs are uneven (common practice, no source)."""

_PERCUSSION: Final = 10
_USUAL_TEMPO: Final = 500_000
"""Microseconds a quarter note, where a file says nothing: 120 a minute."""


def beginnings(data: bytes) -> Iterator[Beginning]:
    """What begins together, in time order.

    Raises:
        ValueError: the file is cut off.
        Exception: whatever the parser of music21 meets.
    """
    from music21 import midi

    _check_whole(data)
    file = midi.MidiFile()
    file.readstr(data)
    clock = _Clock(tuple(sorted(_tempos(file))), file.ticksPerQuarterNote)
    struck = sorted(((tick, each) for tick, each in _struck(file)), key=lambda pair: pair[0])
    begun, began_s = Beginning(""), float("-inf")
    for tick, note in struck:
        time_s = clock.seconds(tick)
        if time_s - began_s > TOGETHER_S:
            if begun.notes:
                yield begun
            begun, began_s = Beginning(f"second {round(time_s, 1):g}"), time_s
        begun.notes.append(note)
    if begun.notes:
        yield begun


def _check_whole(data: bytes) -> None:
    """Raises where a chunk is longer than what is left: the parser would take that for all of it."""
    place = 0
    while place < len(data):
        place += 8 + int.from_bytes(data[place + 4 : place + 8], "big")
    if place > len(data):
        raise ValueError("it ends too early")


@dataclass(frozen=True, slots=True)
class _Clock:
    """From ticks to seconds.

    Attributes:
        tempos: from which tick on a quarter note takes so many microseconds, in order.
        ticks: a quarter note.
    """

    tempos: tuple[tuple[int, int], ...]
    ticks: int

    def seconds(self, tick: int) -> float:
        """When that is."""
        total, last, tempo = 0.0, 0, _USUAL_TEMPO
        for begins, next_tempo in self.tempos:
            if begins >= tick:
                break
            total, last, tempo = total + (begins - last) * tempo, begins, next_tempo
        return (total + (tick - last) * tempo) / self.ticks / 1e6


def _timed(file: midi.MidiFile) -> Iterator[tuple[int, int, Any]]:
    """Every event with its track and its time in ticks."""
    for track, each in enumerate(file.tracks):
        tick = 0
        for event in each.events:
            if event.isDeltaTime():
                tick += event.time
            else:
                yield track, tick, event


def _tempos(file: midi.MidiFile) -> Iterator[tuple[int, int]]:
    from music21.midi import MetaEvents

    for _, tick, event in _timed(file):
        if event.type == MetaEvents.SET_TEMPO:
            yield tick, int.from_bytes(event.data, "big")


def _struck(file: midi.MidiFile) -> Iterator[tuple[int, HeardNote]]:
    for track, tick, event in _timed(file):
        if event.isNoteOn() and event.channel != _PERCUSSION:
            yield tick, HeardNote(event.pitch, None, (track, str(event.channel)))
