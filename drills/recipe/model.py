"""A recipe as the program knows it once it has been read and found right.

Everything here is checked: degrees agree with the chord, strings exist, keys are notes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from drills.neck.grip import Frets
from drills.neck.hand import USUAL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.theory.chord import Chord
from drills.theory.pitch import NoteName
from drills.theory.voicing import Voicing

Order: TypeAlias = Literal["easiest first", "fourths", "chromatic", "as written"]
ORDERS: tuple[Order, ...] = ("easiest first", "fourths", "chromatic", "as written")

MOST_CARDS = 200_000


@dataclass(frozen=True, slots=True)
class Pinned:
    """A grip that the recipe itself gives, in one key."""

    frets: Frets
    key: NoteName


@dataclass(frozen=True, slots=True)
class VoicingEntry:
    """One `[[voicing]]` of a recipe.

    Attributes:
        voicing: degrees, heights and layers, free of key.
        chord: the chord it stands for, over a root of C; None for a bare layer without a chord.
        where: names the entry in messages, such as "voicing 3 (Two hands)".
        nickname: the player's own name for it; may be empty.
        id: keeps the cards when a degree is corrected; empty for none.
        strings: places of the strings to use, lowest 0; None for the best set.
        pinned: a grip given by the recipe.
        keys: roots to ask it in, spelled as written; None for the recipe's own.
        week: when it comes; None if not said.
        note: a remark for the answer; may be empty.
    """

    voicing: Voicing
    chord: Chord | None
    where: str
    nickname: str = ""
    id: str = ""
    strings: tuple[int, ...] | None = None
    pinned: Pinned | None = None
    keys: tuple[NoteName, ...] | None = None
    week: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a deck holds and for whom.

    Attributes:
        id: stable name of the deck; never its title.
        title: shown to people.
        about: shown to people; may be empty.
        voicings: in the order written.
        ask: the drills, in the order written.
        keys: roots to ask in, spelled as written; None for all twelve.
        drill_keys: fewer keys for some drills, by the drill's name; None as a value for all twelve.
        order: of first appearance.
        instrument, is_left_handed, hand: who plays and on what.
        fresh_per_day, target_recall: the pace.
        edition: grows when a deck already in use is corrected.
        source: the file's name, for messages.
    """

    id: str
    title: str
    voicings: tuple[VoicingEntry, ...]
    ask: tuple[str, ...]
    about: str = ""
    keys: tuple[NoteName, ...] | None = None
    drill_keys: tuple[tuple[str, tuple[NoteName, ...] | None], ...] = ()
    order: Order = "easiest first"
    instrument: Instrument = Instrument()
    is_left_handed: bool = False
    hand: Hand = USUAL_HAND
    fresh_per_day: int = 5
    target_recall: float = 0.9
    edition: int = 1
    source: str = ""
