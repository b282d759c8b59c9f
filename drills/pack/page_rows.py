"""What the cards of a quiz page share, as tables of rows; drills/page/deck.js reads them again.

Conventions: a row is a flat list of numbers, read from left to right; what varies in length has its count
before it. A table of rows is one text, numbers apart by commas and rows by semicolons: a browser reads it in
one piece, and takes apart what is asked for. What stands in a table is pointed to by its place there, counted
from 1 where 0 means none. Frets are one character a string, lowest string first, in base 36, `.` for none; a
set of strings is a mask. A text is the place of its pattern, then for each `~` of the pattern the place of a
sign: so sentences that differ by their note names alone are one pattern.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Sequence
from itertools import chain
from typing import Generic, TypeAlias, TypeVar

from drills.cards.card import Face, PictureSpec, SpelledLayers, ToneNames, notes_line
from drills.cards.task import (
    ChoiceTask,
    ChordReading,
    DegreePart,
    DegreesTask,
    LayerParts,
    NeckTask,
    NotesTask,
    PartsTask,
    Task,
)

ROLES = ("lower", "middle", "upper", "single")
"""A role is its place here."""

_NOTES = 0
"""Stands in place of a pattern where a line tells the notes of the face; patterns count from 1."""

_OF_TEXTS = ("signs", "patterns", "frets")
"""Tables whose values are texts; those of the others are rows."""

_SIGN = re.compile(r"[A-G][♭♯𝄫𝄪]*|~")
_DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"

Row: TypeAlias = tuple[int, ...]
Value = TypeVar("Value", bound=Hashable)


class Table(Generic[Value]):
    """Values in the order in which they first come, each once."""

    def __init__(self) -> None:
        self._places: dict[Value, int] = {}

    def place(self, value: Value) -> int:
        """Where a value stands; a new one is put at the end."""
        return self._places.setdefault(value, len(self._places))

    @property
    def values(self) -> list[Value]:
        """All of them, in order."""
        return list(self._places)


class Rows:
    """The tables, and the ways into them; they are to be asked about the parts of one deck only."""

    def __init__(self) -> None:
        self.signs: Table[str] = Table()
        self.patterns: Table[str] = Table()
        self.faces: Table[Row] = Table()
        self.told: Table[Row] = Table()
        self.pictures: Table[Row] = Table()
        self.sketches: Table[Row] = Table()
        self.frets: Table[str] = Table()
        self.heights: Table[Row] = Table()
        self.chords: Table[Row] = Table()
        self.ways: Table[Row] = Table()
        self.tasks: Table[Row] = Table()
        self.spellings: Table[Row] = Table()
        self.functions: Table[Row] = Table()
        self.names: Table[Row] = Table()
        self._texts: dict[str, Row] = {}
        self._met: dict[Hashable, int] = {}

    def all(self) -> dict[str, str | list[str]]:
        """Every table by its name: of texts a list, of rows one text."""
        tables = {name: table.values for name, table in vars(self).items() if isinstance(table, Table)}
        return {name: values if name in _OF_TEXTS else _one_text(values) for name, values in tables.items()}

    def text(self, text: str) -> Row:
        """A text by its pattern and signs."""
        row = self._texts.get(text)
        if row is None:
            pattern = 1 + self.patterns.place(_SIGN.sub("~", text))
            row = self._texts[text] = (pattern, *map(self.signs.place, _SIGN.findall(text)))
        return row

    def _texts_of(self, texts: Iterable[str]) -> Row:
        """Texts with their count before them."""
        rows = [self.text(text) for text in texts]
        return (len(rows), *chain.from_iterable(rows))

    def _line(self, line: str, notes: SpelledLayers) -> Row:
        """A line by its text; the one that tells the notes by their names and heights, layers apart."""
        if not notes or line != notes_line(notes):
            return self.text(line)
        told = [note for layer in notes for note in layer]
        sizes = [len(layer) for layer in notes]
        chord = self.chord(tuple(note.midi for note in told))
        return (_NOTES, chord, len(sizes), *sizes, *(self.signs.place(note.name) for note in told))

    def face(self, face: Face) -> tuple[int, int]:
        """Where a face stands, and where the lines before its notes; the rest is often shared."""
        n_told = face.lines.index(notes_line(face.notes)) if face.notes else 0
        told, lines = face.lines[:n_told], face.lines[n_told:]
        same = id(face.layers), id(face.notes), id(face.picture)
        shared = (face.head, face.head_note, face.ask, lines, *same)
        place = self._met.get(shared)
        if place is None:
            layers = [(ROLES.index(layer.role), *self.text(layer.text)) for layer in face.layers]
            rows = [self._line(line, face.notes) for line in lines]
            row = (
                *self._texts_of((face.head, face.head_note, face.ask))[1:],
                *(len(layers), *chain.from_iterable(layers)),
                *(len(rows), *chain.from_iterable(rows)),
                0 if face.picture is None else 1 + self.picture(face.picture),
            )
            place = self._met[shared] = self.faces.place(row)
        return place, self.told.place(self._texts_of(told))

    def picture(self, picture: PictureSpec) -> int:
        """Where a picture stands: its markers free of frets, the frets, the window."""
        markers = picture.markers
        frets: list[int | None] = [None] * len(picture.string_names)
        for marker in markers:
            frets[marker.string] = marker.fret
        looks = [
            (
                each.string,
                each.layer,
                each.is_root | each.is_asked << 1 | each.is_doubled << 2,
                *self.text(each.text),
            )
            for each in markers
        ]
        sketch = (_mask(picture.muted), len(markers), *chain.from_iterable(looks))
        window = picture.first_fret, picture.last_fret
        return self.pictures.place((self.sketches.place(sketch), self._frets(frets), *window))

    def _frets(self, frets: Iterable[int | None]) -> int:
        return self.frets.place("".join("." if fret is None else _DIGITS[fret] for fret in frets))

    def chord(self, midi: Row) -> int:
        """Where sounding notes stand: their heights, and the lowest one."""
        lowest = midi[0]
        return self.chords.place((self.heights.place(tuple([each - lowest for each in midi])), lowest))

    def name(self, names: ToneNames) -> int:
        """Where the twelve names stand: notes by pitch class, degrees from the root up, the root."""
        root = names.degrees.index("1")
        notes = self.spellings.place(tuple(map(self.signs.place, names.notes)))
        from_root = names.degrees[root:] + names.degrees[:root]
        return self.names.place((notes, self.functions.place(self._texts_of(from_root)[1:]), root))

    def task(self, task: Task) -> int:
        """Where a task stands; its first number tells its kind."""
        return self.tasks.place(self._task(task))

    def _task(self, task: Task) -> Row:
        match task:
            case NeckTask():
                accepts = [self._frets(frets) for frets in task.accepts]
                start = 0 if task.start is None else 1 + self._frets(task.start)
                by_pitches = int(task.by == "pitches")
                return (0, by_pitches, *_counted(accepts), _mask(task.strings), start, _mask(task.fixed))
            case PartsTask():
                readings = [self._reading(each) for each in task.readings]
                layers = [self._layer(each) for each in task.layers]
                degrees = self._degrees(task.degrees)
                return (1, task.root_said, *_joined(readings), *_joined(layers), *degrees)
            case NotesTask():
                return (2, self.chord(task.midi), *map(self.signs.place, task.names))
            case DegreesTask():
                return (3, *self._degrees(task.asked))
            case ChoiceTask():
                return (4, task.right, *self._texts_of(task.options))

    def _reading(self, reading: ChordReading) -> Row:
        way = (reading.quality, *_counted(reading.needs), *_counted(reading.allows))
        return (reading.root, self.ways.place(way), *self.text(reading.text))

    def _layer(self, layer: LayerParts) -> Row:
        inversion = 0 if layer.inversion is None else 1 + layer.inversion
        roots = (layer.root, *_counted(layer.other_roots))
        return (ROLES.index(layer.role), *roots, layer.structure, inversion, *self.text(layer.text))

    def _degrees(self, degrees: Iterable[DegreePart]) -> Row:
        return _joined(
            [(self.signs.place(each.name), each.semitones, *self.text(each.text)) for each in degrees]
        )


def _one_text(rows: Iterable[Row]) -> str:
    return ";".join(",".join(map(str, row)) for row in rows)


def _mask(strings: Iterable[int]) -> int:
    return sum(1 << string for string in strings)


def _counted(places: Sequence[int]) -> Row:
    return (len(places), *places)


def _joined(rows: Sequence[Row]) -> Row:
    return (len(rows), *chain.from_iterable(rows))
