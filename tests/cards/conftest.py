"""Subjects that the card tests ask about."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drills.cards.subject import Subject
from drills.neck.instrument import Instrument
from drills.neck.search import find_in_key
from drills.theory.chord import Chord, read_suffix
from drills.theory.naming import name_notes
from drills.theory.pitch import read_note_name
from drills.theory.text import read_voicing

MakeSubject = Callable[..., Subject]


@pytest.fixture(scope="session")
def subject() -> MakeSubject:
    """Makes a subject out of degrees, a chord suffix (None for a bare layer) and a key."""

    def make(degrees: str, suffix: str | None, key: str, frets: str = "", **extra: object) -> Subject:
        root = read_note_name(key)
        written = read_voicing(degrees, root=root)
        named = name_notes(written.midi, written.sizes, root=root, degrees=written.degrees)
        instrument = Instrument()
        places = find_in_key(named.sounding.voicing, root, instrument).places
        place = next((each for each in places if each.grip.text == frets), places[0])
        assert not frets or place.grip.text == frets
        chord = None if suffix is None else Chord(root, read_suffix(suffix))
        return Subject(place, chord, instrument, **extra)  # type: ignore[arg-type]

    return make
