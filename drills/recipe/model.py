"""A recipe as the program knows it once it has been read and found right.

Everything here is checked: degrees agree with the chord, strings exist, keys are notes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from drills.neck.grip import Frets
from drills.neck.hand import USUAL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.theory.chord import Chord, chart_name
from drills.theory.degree import Degree
from drills.theory.layer_pattern import LayerPattern
from drills.theory.pitch import NoteName
from drills.theory.symbol import Quality
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
class ProgressionEntry:
    """One `[[progression]]` of a recipe.

    Attributes:
        chords: in the order they are played, as written.
        key: the key they are written in.
        where: names the entry in messages, such as "progression 1 (Home)".
        voicings: one for each chord, free of key; None lets the catalogue choose.
        notes: how many notes each voicing has, where the catalogue chooses; None for any.
        strings: places of the strings to use, lowest 0; None for any.
        nickname: the player's own name for it; may be empty.
        id: keeps the cards when a voicing is corrected; empty for none.
        keys: the keys to ask it in, spelled as written; None for the recipe's own.
        week: when it comes; None if not said.
        note: a remark for the answer; may be empty.
    """

    chords: tuple[Chord, ...]
    key: NoteName
    where: str
    voicings: tuple[Voicing, ...] | None = None
    notes: int | None = None
    strings: tuple[int, ...] | None = None
    nickname: str = ""
    id: str = ""
    keys: tuple[NoteName, ...] | None = None
    week: int | None = None
    note: str = ""

    @property
    def quality(self) -> Quality:
        """That of the chord it comes home to, which decides how charts spell the key."""
        at_home = [chord for chord in self.chords if chord.root.pitch_class == self.key.pitch_class]
        return at_home[-1].symbol.quality if at_home else "major"

    def over(self, key: NoteName) -> tuple[Chord, ...]:
        """The chords in another key, spelled from it: two, five and one of G♭ are A♭, D♭ and G♭.

        A root that no chart would write, such as E♯ or a double flat, gets its plainer name.
        """
        return tuple(
            replace(
                chord,
                root=chart_name(_moved(chord.root, self.key, key), chord.symbol.quality),
                bass=chord.bass and chart_name(_moved(chord.bass, self.key, key)),
            )
            for chord in self.chords
        )


def _moved(note: NoteName, home: NoteName, key: NoteName) -> NoteName:
    """A note as far above a key as it was above another, letter for letter."""
    return key.above((note.letter - home.letter) % 7, (note.pitch_class - home.pitch_class) % 12)


@dataclass(frozen=True, slots=True)
class FamilyEntry:
    """One `[[family]]` of a recipe: voicings by what they have in common.

    Attributes:
        chords: chord types in plain form, any of which will do.
        where: names the entry in messages, such as "family 1".
        lower, upper: kinds of layer, any of which will do; empty for all.
        notes: how many notes; None for any.
        top, bass: the highest and the lowest degree, any of which will do; empty for all.
        rootless: True for voicings without their root, False for those with it, None for both.
        min_keys: in how many keys they can be held at least.
        max_stretch_mm: how far they stretch at most; None for as far as the hand goes.
        strings: places of the strings to use, lowest 0; None for any.
        at_most: how many of them, the best first.
        keys: roots to ask them in, spelled as written; None for the recipe's own.
        week: when they come; None if not said.
        note: a remark for the answers; may be empty.
    """

    chords: tuple[str, ...]
    where: str
    lower: tuple[LayerPattern, ...] = ()
    upper: tuple[LayerPattern, ...] = ()
    notes: int | None = None
    top: tuple[Degree, ...] = ()
    bass: tuple[Degree, ...] = ()
    rootless: bool | None = None
    min_keys: int = 1
    max_stretch_mm: float | None = None
    strings: tuple[int, ...] | None = None
    at_most: int = 12
    keys: tuple[NoteName, ...] | None = None
    week: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Sound:
    """How the cards of a deck sound.

    Attributes:
        is_on: whether they sound at all.
        seconds: how long each sound is.
        a4_hz: what the strings are tuned to.
    """

    is_on: bool = True
    seconds: float = 3.0
    a4_hz: float = 440.0


@dataclass(frozen=True, slots=True)
class OnPaper:
    """What a deck looks like on paper.

    Attributes:
        is_on: whether there is a handout at all.
        paper: A4 or letter.
        per_page: voicings a page.
        sheets: which kinds of page.
        versions: of the questions, 1 or 2.
        date: printed as it is written; may be empty.
    """

    is_on: bool = True
    paper: Literal["A4", "letter"] = "A4"
    per_page: int = 6
    sheets: tuple[str, ...] = ("voicings", "questions", "blank")
    versions: int = 1
    date: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a deck holds and for whom.

    Attributes:
        id: stable name of the deck; never its title.
        title: shown to people.
        about: shown to people; may be empty.
        voicings: in the order written.
        ask: the drills, in the order written.
        progressions: in the order written.
        families: in the order written; their voicings come after the others.
        keys: roots to ask in, spelled as written; None for all twelve.
        drill_keys: fewer keys for some drills, by the drill's name; None as a value for all twelve.
        order: of first appearance.
        instrument, is_left_handed, hand: who plays and on what.
        fresh_per_day, target_recall: the pace.
        sound: how the cards sound.
        handout: how the deck looks on paper.
        edition: grows when a deck already in use is corrected.
        source: the file's name, for messages.
    """

    id: str
    title: str
    voicings: tuple[VoicingEntry, ...]
    ask: tuple[str, ...]
    progressions: tuple[ProgressionEntry, ...] = ()
    families: tuple[FamilyEntry, ...] = ()
    about: str = ""
    keys: tuple[NoteName, ...] | None = None
    drill_keys: tuple[tuple[str, tuple[NoteName, ...] | None], ...] = ()
    order: Order = "easiest first"
    instrument: Instrument = Instrument()
    is_left_handed: bool = False
    hand: Hand = USUAL_HAND
    fresh_per_day: int = 5
    target_recall: float = 0.9
    sound: Sound = Sound()
    handout: OnPaper = OnPaper()
    edition: int = 1
    source: str = ""
