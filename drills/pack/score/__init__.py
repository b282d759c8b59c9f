"""Notation, music21's only door: voicings out as MusicXML and MIDI, chords of such files in."""

from __future__ import annotations

from drills.pack.score.read import ReadChord, read_chords
from drills.pack.score.sheet import Sheet
from drills.pack.score.write import check_notation, write_midi, write_musicxml

__all__ = ("ReadChord", "Sheet", "check_notation", "read_chords", "write_midi", "write_musicxml")
