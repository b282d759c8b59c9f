"""A small deck of our own scenario, pictures that need no drawing, and a way to look into a package."""

from __future__ import annotations

import json
import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from drills.cards.card import Card, Deck, Face, LayerLine, Marker, PictureSpec

SIX = ("E", "A", "D", "G", "B", "E")
FRETS = (4, 5, 5, 6, 5)
DEGREES = ("♭7", "3", "13", "9", "♯11")


def neck(shift: int = 0, *, asked: int | None = None, shows_degrees: bool = True) -> PictureSpec:
    """The rootless 13♯11 on strings 5 to 1, moved up by some frets."""
    markers = tuple(
        Marker(
            string=string,
            fret=fret + shift,
            layer=int(string > 2),
            text=degree if shows_degrees and string != asked else "",
            is_asked=string == asked,
        )
        for string, (fret, degree) in enumerate(zip(FRETS, DEGREES, strict=True), start=1)
    )
    return PictureSpec(SIX, markers, 3 + shift, 7 + shift, muted=(0,))


def card(drill: str, key: str, shift: int = 0, *, head: str = "", lines: tuple[str, ...] = ()) -> Card:
    """A card about that voicing."""
    layers = (LayerLine("upper", "major triad, close · 13 9 ♯11"), LayerLine("lower", "♭7 and 3"))
    chord = f"{key}13♯11"
    return Card(
        identity=f"{drill} ♭7 3 | 13 9 ♯11 over {key}",
        drill=drill,
        key=key,
        label=f"{key.replace('♭', 'b')}13#11",
        front=Face(
            head or chord,
            ask="Which degree is missing?" if drill == "spot" else "Where does it lie?",
            head_note="no root",
            layers=layers,
            lines=("strings 5 to 1",),
            picture=neck(shift, asked=5) if drill == "spot" else None,
        ),
        back=Face(
            chord, layers=layers, lines=lines or ("D♭ G | C F A", "stretch 56 mm"), picture=neck(shift)
        ),
        tags=("week-3",),
    )


def riverside() -> Deck:
    """Six cards, four of them with a picture on the question too, in an order of their own."""
    keys = (("G", 4), ("E♭", 0), ("A♭", 5))
    cards = [card(drill, key, shift) for drill in ("place", "spot") for key, shift in keys]
    return Deck(
        id="week-03",
        title="Riverside evening group, week 3",
        about=("Squares are the upper layer & discs the lower.", "Stop when it hurts."),
        cards=tuple(cards),
        fresh_per_day=7,
        target_recall=0.88,
    )


@dataclass
class Sketches:
    """Media that remember what they were asked to draw, and may be told to fail."""

    fails_at: int | None = None
    failure: BaseException | None = None
    drawn: list[PictureSpec] = field(default_factory=list)

    def names(self, picture: PictureSpec, label: str) -> tuple[str, str]:
        """Names from the label and from what is shown."""
        sign = "".join(f"{marker.fret}{marker.text}{'?' * marker.is_asked}" for marker in picture.markers)
        stem = f"{label}_{sign.encode().hex()}".replace("#", "sharp")
        return f"{stem}_day.png", f"{stem}_night.png"

    def render(self, picture: PictureSpec) -> tuple[bytes, bytes]:
        """Bytes that tell the picture, or the failure."""
        if self.failure is not None and len(self.drawn) == self.fails_at:
            raise self.failure
        self.drawn.append(picture)
        return f"day {picture}".encode(), f"night {picture}".encode()


class NoteRow(NamedTuple):
    """A note and its card as a reader finds them."""

    note_id: int
    guid: str
    mod: int
    tags: str
    fields: list[str]
    card_id: int
    deck_id: int
    due: int


class Opened(NamedTuple):
    """A package, looked into without any code of ours."""

    notes: dict[str, NoteRow]
    decks: dict[str, Any]
    options: dict[str, Any]
    models: dict[str, Any]
    media: dict[str, bytes]
    deck: dict[str, Any]


@contextmanager
def database(path: Path) -> Iterator[sqlite3.Connection]:
    """The package's database."""
    with zipfile.ZipFile(path) as package:
        (name,) = (name for name in package.namelist() if name.startswith("collection."))
        data = package.read(name)
    connection = sqlite3.connect(":memory:")
    connection.deserialize(data)
    try:
        yield connection
    finally:
        connection.close()


def look_into(path: Path) -> Opened:
    """Everything a reader takes out of a package, notes by label."""
    with database(path) as connection:
        rows = connection.execute(
            "SELECT n.id, guid, n.mod, tags, flds, c.id, did, due FROM notes n JOIN cards c ON c.nid = n.id"
        ).fetchall()
        notes = [NoteRow._make((*row[:4], row[4].split("\x1f"), *row[5:])) for row in rows]
        columns = connection.execute("SELECT decks, dconf, models FROM col").fetchone()
    decks, options, models = map(json.loads, columns)
    with zipfile.ZipFile(path) as package:
        names = json.loads(package.read("media"))
        media = {name: package.read(number) for number, name in names.items()}
    (own,) = (deck for number, deck in decks.items() if number != "1")
    return Opened({note.fields[0]: note for note in notes}, decks, options, models, media, own)


@pytest.fixture
def deck() -> Deck:
    """The deck of week 3."""
    return riverside()


@pytest.fixture
def media() -> Sketches:
    """Media without drawing."""
    return Sketches()
