"""Rows hold once what cards share, so that a deck stays small."""

from __future__ import annotations

from dataclasses import replace

from drills.cards.card import Face, SpelledNote, notes_line
from drills.pack.page_rows import Rows


def test_sentences_that_differ_by_their_note_names_are_one_pattern() -> None:
    """The names stand apart, each once; a sign of ours that an author writes is one of them."""
    rows = Rows()
    texts = ("A♭ over D", "D over F𝄪", "~ over D")
    assert [rows.text(text) for text in texts] == [(1, 0, 1), (1, 1, 2), (1, 3, 1)]
    assert rows.patterns.values == ["~ over ~"]
    assert rows.signs.values == ["A♭", "D", "F𝄪", "~"]


def test_a_chord_in_another_key_has_the_same_heights() -> None:
    """Counted from its lowest note, which stands beside them."""
    rows = Rows()
    assert [rows.chord(midi) for midi in ((50, 55, 59), (52, 57, 61), (50, 55, 59))] == [0, 1, 0]
    assert rows.heights.values == [(0, 5, 9)]
    assert rows.chords.values == [(0, 50), (0, 52)]


def test_faces_that_differ_before_their_notes_share_the_rest() -> None:
    """Such as where the voicing lies; without notes every line belongs to the face."""
    notes = ((SpelledNote("D♭", 49), SpelledNote("G", 55)),)
    face = Face("E♭7", lines=("strings 5 and 4", notes_line(notes), "stretch 56 mm"), notes=notes)
    other = replace(face, lines=("strings 6 and 5", *face.lines[1:]))
    rows = Rows()
    (place, told), (other_place, other_told) = rows.face(face), rows.face(other)
    assert place == other_place
    assert told != other_told
    bare = [replace(each, lines=each.lines[:1], notes=()) for each in (face, other)]
    (place, told), (other_place, other_told) = map(rows.face, bare)
    assert place != other_place
    assert told == other_told
