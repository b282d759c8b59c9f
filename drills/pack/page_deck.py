"""A deck as the quiz page's JSON: compact, so that a phone loads it at once; drills/page/deck.js reads it.

Conventions: the tables are those of `pack/page_rows.py`. Cards stand in an order in which neighbours are
alike, voicing by voicing and drill by drill, so that a column can hold what changes from card to card.
"""

from __future__ import annotations

import json
from itertools import pairwise
from typing import Any

from drills.cards import pads
from drills.cards.card import Card, Deck, Quiz
from drills.cards.identity import short_id
from drills.pack.page_rows import Row, Rows, Table
from drills.theory.chord import FOURTHS
from drills.theory.tables import INVERSIONS

KIND = "layered-voicing drills"
FORMAT = 2
"""Grows when a page that is out could not read what is written here."""

_COLUMNS = (
    *("turn", "drill", "key", "voicing", "isLayer", "front", "frontTold", "back", "backTold"),
    *("task", "chord", "rootMidi", "names"),
)
"""What is held of a card beside its id; `turn` is its place in the deck."""


def packed_deck(deck: Deck) -> str:
    """The deck as JSON in ASCII that may stand inside a script element; the same deck gives the same text.

    Raises:
        ValueError: a card has nothing for a page.
    """
    drills: Table[str] = Table()
    keys: Table[tuple[str, int]] = Table()
    voicings: Table[tuple[str, str]] = Table()
    rows = Rows()
    placed = []
    for turn, card in enumerate(deck.cards):
        quiz = _quiz(card)
        voicing = voicings.place((quiz.voicing.title, quiz.voicing.detail))
        placed.append((voicing, drills.place(card.drill), keys.place((card.key, quiz.key_class)), turn))
    in_rows = sorted(placed, key=lambda each: (each[0], each[1], each[3]))
    cards = [_row(deck.cards[turn], turn, drill, key, voicing, rows) for voicing, drill, key, turn in in_rows]
    columns = zip(_COLUMNS, zip(*cards, strict=True), strict=True)
    whole = _head(deck) | {
        "drills": drills.values,
        "keys": keys.values,
        "voicings": voicings.values,
        "tables": rows.all(),
        "ids": "".join(short_id(deck.cards[turn].identity) for *_, turn in in_rows),
        "cards": {name: _steps(column) for name, column in columns},
    }
    return json.dumps(whole, separators=(",", ":")).replace("<", "\\u003c")


def _quiz(card: Card) -> Quiz:
    if card.quiz is None:
        raise ValueError(f"nothing for a page on the card {card.identity!r}")
    return card.quiz


def _row(card: Card, turn: int, drill: int, key: int, voicing: int, rows: Rows) -> Row:
    """A card in the order of the columns."""
    quiz = _quiz(card)
    return (
        *(turn, drill, key, voicing, int(quiz.is_layer)),
        *rows.face(card.front),
        *rows.face(card.back),
        0 if quiz.task is None else 1 + rows.task(quiz.task),
        rows.chord(quiz.sound.midi),
        quiz.sound.root_midi or 0,
        rows.name(quiz.names),
    )


def _steps(column: Row) -> list[int]:
    """The first value of a column, then what is added from each to the next."""
    return [column[0], *(after - before for before, after in pairwise(column))]


def _head(deck: Deck) -> dict[str, Any]:
    """What is said of the deck as a whole, in the form in which the page uses it."""
    neck = deck.neck
    return {
        "kind": KIND,
        "format": FORMAT,
        "id": deck.id,
        "title": deck.title,
        "about": deck.about,
        "freshPerDay": deck.fresh_per_day,
        "targetRecall": deck.target_recall,
        "instrument": {
            "names": neck.string_names,
            "midi": neck.open_midi,
            "frets": neck.highest_fret,
            "isLeftHanded": neck.is_left_handed,
        },
        "plainNames": [name.shown for name in pads.PLAIN_NAMES],
        "keyNames": [name.shown for name in pads.KEY_NAMES],
        "fourths": FOURTHS,
        "pads": _pads(),
    }


def _pads() -> dict[str, Any]:
    return {
        "notes": [
            [{"text": each.shown, "pitchClass": each.pitch_class} for each in row] for row in pads.NOTES
        ],
        "degrees": [
            {"semitones": semitones, "texts": [each.shown for each in degrees]}
            for semitones, degrees in enumerate(pads.DEGREES)
        ],
        "qualities": pads.QUALITY_TEXTS,
        "tensions": pads.TENSION_TEXTS,
        "structures": pads.STRUCTURES,
        "structureGroups": [
            {"text": family, "structures": places} for family, places in pads.STRUCTURE_FAMILIES
        ],
        "inversions": INVERSIONS,
    }
