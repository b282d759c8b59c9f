"""Chord types: the kinds of chord that the catalogue knows, and the tones that each is built from.

A type is a chord symbol without its root. Its tones are those of the first of its usual scales, each
in the word that the chord gives it (♯9 over a major third, ♭13 beside a fifth). A tone makes the chord
when the chord would be called something else without it: third or sus fourth, seventh or sixth,
altered fifth, named tensions; a triad wants all three of its tones.
Source: which types are usual is common practice, no source. An altered dominant (7alt) wants an
altered ninth and a ♯11 or ♭13, not all four at once (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from drills.errors import DrillsError
from drills.theory.chord import Chord, read_chord, read_suffix
from drills.theory.degree import Degree
from drills.theory.pitch import NoteName
from drills.theory.reading import degrees_over
from drills.theory.scale import scales_for
from drills.theory.symbol import Symbol, symbol
from drills.theory.words import nearest

CHORD_TYPES = (
    *("maj", "maj7", "maj9", "maj13", "maj7#11", "maj9#11", "maj13#11", "maj7#5", "6", "6/9"),
    *("m", "m7", "m9", "m11", "m13", "m6", "m6/9", "m(maj7)", "m9(maj7)"),
    *("m7b5", "m9b5", "m11b5", "dim", "dim7", "aug"),
    *("7", "9", "13", "7#11", "9#11", "13#11", "7b5", "9b5", "7#5", "9#5", "7b13", "9b13"),
    *("7b9", "7#9", "13b9", "13#9", "7b9#11", "7#9#11", "7b9b13", "7#9b13", "7b9#5", "7#9#5"),
    *("7b9#11b13", "7#9#11b13", "13b9#11", "7alt"),
    *("sus4", "7sus4", "9sus4", "13sus4", "7sus4b9", "13sus4b9"),
)
"""The usual types in the order in which they are gone through."""

_ALTERED = (frozenset({"3"}), frozenset({"b7"}), frozenset({"b9", "#9"}), frozenset({"#11", "b13"}))
_SEVENTHS_AND_SIXTH = frozenset({"b7", "7", "bb7", "6"})
_FIFTHS_ALTERED = frozenset({"b5", "#5"})
_C = NoteName(0)


@dataclass(frozen=True, slots=True)
class ChordType:
    """A kind of chord.

    Attributes:
        name: its symbol in plain form; empty for a major triad.
        symbol: plain, shown, quality.
        tones: every tone that a voicing of it may hold, rising from the root.
        makers: sets of plain degrees; a voicing holds at least one of each.
    """

    name: str
    symbol: Symbol
    tones: tuple[Degree, ...]
    makers: tuple[frozenset[str], ...]

    def is_made_by(self, degrees: tuple[Degree, ...]) -> bool:
        """Whether degrees hold every tone that makes the chord.

        >>> from drills.theory.degree import degree
        >>> [chord_type("m11").is_made_by(tuple(map(degree, text.split()))) for text in ("b3 b7 11", "b3 b7")]
        [True, False]
        """
        held = {each.plain for each in degrees}
        return all(held & maker for maker in self.makers)


def read_chord_type(text: str, *, where: str = "") -> tuple[ChordType, NoteName | None]:
    """A chord type as it was typed, and its root where one stands before it.

    >>> read_chord_type("-11")[0].name, read_chord_type("E♭m11")[1].plain
    ('m11', 'Eb')
    """
    root = None
    try:
        degrees = read_suffix(text, where=where)
    except DrillsError:
        chord = _read_rooted(text, where)
        degrees, root = chord.degrees, chord.root
        if chord.bass is not None:
            mend = "name the chord without its bass, and ask for the lowest degree beside it"
            raise DrillsError(f"{text!r} names a bass", where=where, mend=mend) from None
    return _of(degrees, text, where), root


def _read_rooted(text: str, where: str) -> Chord:
    try:
        return read_chord(text, where=where)
    except DrillsError:
        close = nearest(text, CHORD_TYPES) or "maj7"
        mend = f"write {close!r}, or another type such as 'm11', '13#11', '7alt' or '9sus4'"
        raise DrillsError(f"no chord type {text!r}", where=where, mend=mend) from None


def chord_type(name: str) -> ChordType:
    """A chord type by its symbol without a root.

    >>> [each.plain for each in chord_type("7b9").tones]
    ['1', 'b9', '#9', '3', '#11', '5', '13', 'b7']
    """
    return read_chord_type(name)[0]


@lru_cache(maxsize=1024)
def _of(degrees: tuple[Degree, ...], text: str, where: str) -> ChordType:
    chord = Chord(_C, degrees)
    scales = scales_for(chord)
    if not scales:
        close = nearest(chord.symbol.plain, [each for each in CHORD_TYPES if each != text]) or "7alt"
        mend = f"try {close!r}, or leave a tension out"
        raise DrillsError(f"no scale we know holds all of {text!r}", where=where, mend=mend)
    own = {each.semitones: each for each in degrees}
    words = {each.plain for each in degrees}
    tones = [own.get(step) or _word_over(degrees, step) for step in scales[0].semitones]
    kept = tuple(each for each in tones if each in own.values() or not _is_foreign(each, words))
    return ChordType(chord.symbol.plain, chord.symbol, kept, _makers(degrees, chord.symbol))


def _word_over(degrees: tuple[Degree, ...], semitones: int) -> Degree:
    """What a further tone is over a chord, by the table of chord tones."""
    places = tuple(sorted({each.semitones for each in degrees} | {0, semitones}))
    return degrees_over(places, 0)[places.index(semitones)]


def _is_foreign(tone: Degree, words: set[str]) -> bool:
    """Whether a tone of the scale would make another kind of chord: a seventh in a sixth chord, and so on."""
    if tone.plain == "5":
        return bool(words & _FIFTHS_ALTERED)
    if tone.plain == "b3":
        return "4" in words
    if tone.plain in ("b7", "7"):
        return not words & {"b7", "7", "bb7"}
    return tone.plain in ("6", "bb7") and not words & _SEVENTHS_AND_SIXTH


def _makers(degrees: tuple[Degree, ...], name: Symbol) -> tuple[frozenset[str], ...]:
    if name.plain == "7alt":
        return _ALTERED
    words = {each.plain for each in degrees}
    if not words & _SEVENTHS_AND_SIXTH:
        return tuple(frozenset({each.plain}) for each in degrees)
    return tuple(
        frozenset({each.plain})
        for each in degrees
        if symbol(other for other in degrees if other != each).plain != name.plain
    )
