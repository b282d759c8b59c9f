"""What begins together in a MIDI file.

Conventions: times are counted in seconds by the tempos of the file. People and programs that imitate them do
not strike the notes of a chord at once, so what begins within a short time of its first note is together.
Percussion, on channel 10, has no pitches.
Source: Standard MIDI Files 1.0 (MIDI Manufacturers Association, 1996), delta times and Set Tempo; General
MIDI 1 (1991), channel 10; from memory.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from typing import Final

from drills.pack.score.heard import Beginning, HeardNote
from drills.pack.score.midi_events import Event, events, tracks

TOGETHER_S: Final = 0.07
"""A little over twice the 30 ms by which hands and programs are uneven (common practice, no source)."""

_NOTE_ON: Final = 0x9
_TEMPO: Final = 0x51
_PERCUSSION: Final = 10
_USUAL_TEMPO: Final = 500_000
"""Microseconds a quarter note, where a file says nothing: 120 a minute."""


def beginnings(data: bytes) -> Iterator[Beginning]:
    """What begins together, in time order.

    Raises:
        DrillsError: the file is cut off, or no MIDI.
    """
    ticks, chunks = tracks(data)
    timed = [(turn, event) for turn, chunk in enumerate(chunks) for event in events(chunk, turn + 1)]
    clock = _Clock((event for _, event in timed), ticks)
    struck = sorted((pair for pair in timed if _is_struck(pair[1])), key=lambda pair: pair[1].tick)
    begun, began_s = Beginning(""), float("-inf")
    for turn, event in struck:
        time_s = clock.seconds(event.tick)
        if time_s - began_s > TOGETHER_S:
            if begun.notes:
                yield begun
            begun, began_s = Beginning(f"second {round(time_s, 1):g}"), time_s
        begun.notes.append(HeardNote(event.data[0], None, (turn, str(_channel(event)))))
    if begun.notes:
        yield begun


class _Clock:
    """From ticks to seconds, by the tempos of a file."""

    def __init__(self, file: Iterable[Event], ticks: int) -> None:
        tempos = {each.tick: int.from_bytes(each.data) for each in file if each.meta == _TEMPO}
        self._ticks = ticks
        self._begins, self._tempos, self._reached = [0], [_USUAL_TEMPO], [0]
        for begins in sorted(tempos):
            self._reached.append(self._units(begins))
            self._begins.append(begins)
            self._tempos.append(tempos[begins])

    def seconds(self, tick: int) -> float:
        """When that is."""
        return self._units(tick) / self._ticks / 1e6

    def _units(self, tick: int) -> int:
        """Microseconds, a quarter note's ticks times as many, so that they are whole."""
        now = max(0, bisect_left(self._begins, tick) - 1)
        return self._reached[now] + (tick - self._begins[now]) * self._tempos[now]


def _is_struck(event: Event) -> bool:
    """Whether a note begins: struck without force it ends, and percussion has no pitch."""
    return event.status >> 4 == _NOTE_ON and event.data[1] > 0 and _channel(event) != _PERCUSSION


def _channel(event: Event) -> int:
    return 1 + (event.status & 0xF)
