"""Plucked strings: a note, a bank of notes, a voicing played, and its MP3."""
