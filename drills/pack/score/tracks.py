"""Chords as a MIDI file, put together from music21's events.

From chords of its own music21 makes the same, but takes longer over it than over the score.

Conventions: times in ticks. The first track has the tempo, the second the notes: those of a chord are struck
together and let go together, and the next chord follows at once.
Source: Standard MIDI Files 1.0 and General MIDI level 1 (MIDI Manufacturers Association), from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from music21 import midi

    _Timed: TypeAlias = tuple[int, midi.MidiEvent]
    """An event, and how long after the one before it."""

_TICKS: Final = 480
"""A quarter note, which lasts a second."""
_SECOND_US: Final = 1_000_000
_CHORD: Final = 2 * _TICKS
_NYLON_STRINGS: Final = 24
_VELOCITY: Final = 90


def midi_file(chords: Iterable[Sequence[int]], name: str) -> bytes:
    """The bytes of a MIDI file.

    Args:
        chords: the MIDI numbers of each, two seconds long.
        name: of the track that they are on.
    """
    from music21.midi import ChannelVoiceMessages, MetaEvents, MidiFile

    tempo = _message(MetaEvents.SET_TEMPO, _SECOND_US.to_bytes(3))
    called = _message(MetaEvents.SEQUENCE_TRACK_NAME, name.encode())
    player = _message(ChannelVoiceMessages.PROGRAM_CHANGE, bytes([_NYLON_STRINGS]))
    file = MidiFile()
    file.ticksPerQuarterNote = _TICKS
    file.tracks = [_track(0, [(0, tempo)]), _track(1, [(0, called), (0, player), *_played(chords)])]
    return file.writestr()


def _track(number: int, events: Iterable[_Timed]) -> midi.MidiTrack:
    """Events on a track, and its end a quarter note later."""
    from music21 import midi

    track = midi.MidiTrack(number)
    for ticks, event in (*events, (_TICKS, _message(midi.MetaEvents.END_OF_TRACK, b""))):
        track.events += [midi.DeltaTime(track, time=ticks), event]
    return track


def _played(chords: Iterable[Sequence[int]]) -> Iterator[_Timed]:
    """The notes of each chord struck, then let go."""
    from music21.midi import ChannelVoiceMessages

    for notes in chords:
        for note in notes:
            yield 0, _note(ChannelVoiceMessages.NOTE_ON, note, _VELOCITY)
        for place, note in enumerate(notes):
            yield 0 if place else _CHORD, _note(ChannelVoiceMessages.NOTE_OFF, note, 0)


def _message(kind: midi.MetaEvents | midi.ChannelVoiceMessages, data: bytes) -> midi.MidiEvent:
    """An event that is no note."""
    from music21 import midi

    event = midi.MidiEvent(type=kind)
    event.data = data
    return event


def _note(kind: midi.ChannelVoiceMessages, note: int, velocity: int) -> midi.MidiEvent:
    """A note struck or let go."""
    from music21 import midi

    event = midi.MidiEvent(type=kind)
    event.pitch, event.velocity = note, velocity
    return event
