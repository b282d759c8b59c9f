"""What a voicing is called: every root is tried, the readings are ranked, the best one names it.

Conventions: a reading is free of key. It is known by the heights of the notes over the lowest one
and by how far that one lies above the root, so one answer serves twelve keys and is kept.
Source: the ranking and the chord-tone rules are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from drills.theory.chord import Chord, chart_name, habit_root
from drills.theory.clash import Clash, clashes, low_intervals
from drills.theory.degree import Degree, degree
from drills.theory.pitch import NoteName
from drills.theory.symbol import Symbol, symbol
from drills.theory.voicing import Layer, PitchedVoicing, Voicing

_PLAIN_CHORDS = tuple(
    frozenset(classes)
    for classes in ((0,), (0, 7), (0, 4), (0, 3), (0, 4, 7), (0, 3, 7), (0, 3, 6))
)
"""Thirds, fifths and triads name themselves, whatever note is lowest."""

_PLAIN_OVER_BASS = tuple(frozenset(classes) for classes in ((0, 2, 7), (0, 5, 7), (0, 4, 8)))
"""Sus triads and the augmented triad have several roots, so the lowest note decides."""

_RANK_PLAIN, _RANK_BASS, _RANK_SOUNDING, _RANK_TRIAD, _RANK_ROOTLESS, _RANK_BASS_ANYWAY, _RANK_REST = range(7)


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to hear a voicing.

    Attributes:
        lowest_over_root_semitones: how far the lowest note lies above the root, 0 to 11.
        degrees: low to high.
        symbol: the chord symbol without its root.
        is_rootless: the root does not sound.
        clashes: notes that rub in this reading.
        rank: 0 is the best; readings of one rank are ordered by how plain their symbol is.
    """

    lowest_over_root_semitones: int
    degrees: tuple[Degree, ...]
    symbol: Symbol
    is_rootless: bool
    clashes: tuple[Clash, ...]
    rank: int


@dataclass(frozen=True, slots=True)
class _Heard:
    """What one set of pitch classes is over one root, whatever the order of its notes.

    Attributes:
        degrees: for each semitone over the root that sounds, its degree.
        rank_clean, rank_clashing: the rank without and with a clash, were the root not the lowest note.
        rank_bass_clean: the rank without a clash, were it the lowest.
    """

    degrees: dict[int, Degree]
    symbol: Symbol
    rank_clean: int
    rank_clashing: int
    rank_bass_clean: int
    is_worth_telling: bool


@lru_cache(maxsize=4096)
def _heard(classes_mask: int) -> _Heard:
    """Reads pitch classes over a root; bit n of the mask is n semitones over it."""
    classes = frozenset(each for each in range(12) if classes_mask >> each & 1)
    degrees = _tones(classes)
    found = symbol(degrees.values())
    words = frozenset(each.plain for each in degrees.values())
    is_telling = found.is_chord and (0 in classes or (_has_third(words) and _has_seventh(words)))
    return _Heard(
        degrees,
        found,
        _rank(words, found, has_clash=False, is_bass=False),
        _rank(words, found, has_clash=True, is_bass=False),
        _rank(words, found, has_clash=False, is_bass=True),
        is_telling,
    )


def _tones(classes: frozenset[int]) -> dict[int, Degree]:
    """What each pitch class over a root is, by the whole set that sounds."""
    words = {0: "1", 1: "b9", 2: "9", 4: "3", 7: "5", 10: "b7", 11: "7"}
    is_minor = 3 in classes and 4 not in classes
    has_flat_five = 6 in classes and ((is_minor and 7 not in classes) or classes - {0} == {4, 6, 10})
    words[3] = "b3" if is_minor else "#9"
    words[5] = "11" if {3, 4} & classes else "4"
    words[6] = "b5" if has_flat_five else "#11"
    has_sharp_nine = {3, 4} <= classes
    words[8] = "b13" if {7, 1} & classes or has_sharp_nine or has_flat_five else "#5"
    if is_minor and has_flat_five and 10 not in classes:
        words[9] = "bb7"
    else:
        words[9] = "13" if {10, 11} & classes else "6"
    return {each: degree(words[each]) for each in classes}


@lru_cache(maxsize=65536)
def read_over(
    heights_semitones: tuple[int, ...],
    lowest_over_root_semitones: int,
    degrees: tuple[Degree, ...] | None = None,
) -> Reading:
    """How notes read over one root; degrees that a player typed stand as typed."""
    if degrees is None:
        return _read(heights_semitones, lowest_over_root_semitones)
    found = symbol(degrees)
    rubs = clashes(degrees, heights_semitones, found.quality) if found.is_chord else ()
    words = frozenset(each.plain for each in degrees)
    rank = _rank(words, found, has_clash=bool(rubs), is_bass=lowest_over_root_semitones == 0)
    is_rootless = all(each.semitones for each in degrees)
    return Reading(lowest_over_root_semitones, degrees, found, is_rootless, rubs, rank)


def _read(heights: tuple[int, ...], lowest: int) -> Reading:
    places = [(height + lowest) % 12 for height in heights]
    mask = 0
    for place in places:
        mask |= 1 << place
    heard = _heard(mask)
    degrees = tuple([heard.degrees[place] for place in places])
    rubs = clashes(degrees, heights, heard.symbol.quality) if heard.symbol.is_chord else ()
    if rubs:
        rank = _RANK_BASS_ANYWAY if lowest == 0 else heard.rank_clashing
    else:
        rank = heard.rank_clean if lowest else heard.rank_bass_clean
    return Reading(lowest, degrees, heard.symbol, not mask & 1, rubs, rank)


def _rank(words: frozenset[str], found: Symbol, *, has_clash: bool, is_bass: bool) -> int:
    """The place of a reading among all readings of the same notes."""
    classes = frozenset(degree(word).semitones for word in words)
    if classes in _PLAIN_CHORDS or (is_bass and classes in _PLAIN_OVER_BASS):
        return _RANK_PLAIN
    if found.is_chord and not has_clash and not _is_unusual(words):
        if is_bass and _is_complete(words):
            return _RANK_BASS
        if _has_third(words) and _has_seventh(words):
            return _RANK_SOUNDING if "1" in words else _RANK_ROOTLESS
        if _has_third(words) and {"1", "5"} <= words:
            return _RANK_TRIAD
    return _RANK_BASS_ANYWAY if is_bass else _RANK_REST


def _has_third(words: frozenset[str]) -> bool:
    return "3" in words or "b3" in words


def _has_seventh(words: frozenset[str]) -> bool:
    return bool(words & {"b7", "7", "bb7"})


def _is_complete(words: frozenset[str]) -> bool:
    """Third and seventh, sixth or fifth; or, in a sus chord, fourth and seventh or fifth."""
    if _has_third(words):
        return _has_seventh(words) or bool(words & {"6", "13", "5"})
    return "4" in words and (_has_seventh(words) or "5" in words)


_UNUSUAL_PAIRS = (
    {"b3", "#5"},
    {"4", "#11"},
    {"4", "#5"},
    {"b7", "7"},
    {"9", "b9"},
    {"9", "#9"},
    {"13", "b13"},
    {"11", "#11"},
    {"7", "b9"},
)


def _is_unusual(words: frozenset[str]) -> bool:
    return any(pair <= words for pair in _UNUSUAL_PAIRS)


@lru_cache(maxsize=65536)
def readings(heights_semitones: tuple[int, ...]) -> tuple[Reading, ...]:
    """Every reading of sounding notes, best first; the first always exists.

    >>> [reading.symbol.plain for reading in readings((0, 4, 9, 14))][:2]
    ['m11', '6/9']
    """
    mask = 0
    for height in heights_semitones:
        mask |= 1 << height % 12
    kept = [
        _read(heights_semitones, lowest)
        for lowest in range(12)
        if _heard((mask << lowest | mask >> 12 - lowest) & 0xFFF).is_worth_telling
    ]
    if not any(each.rank < _RANK_REST for each in kept):
        kept.append(_read(heights_semitones, 0))
    kept.sort(key=lambda each: (each.rank, len(each.symbol.plain), each.lowest_over_root_semitones))
    return tuple(_with_partners(kept))


def _with_partners(ordered: list[Reading]) -> Iterable[Reading]:
    """The readings with a rootless dominant's tritone partner right behind it."""
    rest = list(ordered)
    while rest:
        reading = rest.pop(0)
        yield reading
        if not (reading.is_rootless and reading.symbol.quality == "dominant"):
            continue
        partner_lowest = (reading.lowest_over_root_semitones + 6) % 12
        partner = next((each for each in rest if each.lowest_over_root_semitones == partner_lowest), None)
        if partner is not None and partner.is_rootless and partner.symbol.quality == "dominant":
            rest.remove(partner)
            yield partner


@dataclass(frozen=True, slots=True)
class Named:
    """A sounding voicing with its name.

    Attributes:
        sounding: the notes, degree-true.
        reading: the reading that names it.
        also: the other readings, best first.
    """

    sounding: PitchedVoicing
    reading: Reading
    also: tuple[Reading, ...]

    @property
    def root(self) -> NoteName:
        """The root, whether it sounds or not."""
        return self.sounding.root

    @property
    def bass(self) -> NoteName:
        """The lowest note."""
        return self.reading.degrees[0].over(self.root)

    @property
    def chord_plain(self) -> str:
        """The chord's name, plain form."""
        return f"{self.root.plain}{self.reading.symbol.plain}{self._slash(plain=True)}"

    @property
    def chord_shown(self) -> str:
        """The chord's name, shown form."""
        return f"{self.root.shown}{self.reading.symbol.shown}{self._slash(plain=False)}"

    def _slash(self, *, plain: bool) -> str:
        if self.reading.is_rootless or not self.reading.lowest_over_root_semitones or not self.reading.symbol.is_chord:
            return ""
        bass = chart_name(self.bass)
        return f"/{bass.plain if plain else bass.shown}"

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The named layers, lowest first."""
        return self.sounding.voicing.layers

    @property
    def also_named(self) -> tuple[tuple[str, str, NoteName], ...]:
        """The other readings as (plain name, shown name, root)."""
        lowest_midi = self.sounding.lowest_midi
        return tuple(_named_over(lowest_midi, each) for each in self.also)

    @property
    def low_intervals(self) -> tuple[tuple[int, int], ...]:
        """Neighbouring notes too low to be clear, as places in the voicing."""
        midi = self.sounding.midi
        return tuple((midi.index(low), midi.index(high)) for low, high in low_intervals(midi))


@lru_cache(maxsize=16384)
def _named_over(lowest_midi: int, reading: Reading) -> tuple[str, str, NoteName]:
    root = habit_root(lowest_midi - reading.lowest_over_root_semitones, reading.symbol.quality)
    voicing = Voicing(reading.degrees, (0,) * len(reading.degrees), (1,))
    named = Named(PitchedVoicing(voicing, root, lowest_midi), reading, ())
    return named.chord_plain, named.chord_shown, root


def name_notes(
    midi: tuple[int, ...],
    sizes: tuple[int, ...],
    *,
    root: NoteName | None = None,
    degrees: tuple[Degree, ...] | None = None,
    spelled: tuple[NoteName, ...] | None = None,
) -> Named:
    """Names sounding notes.

    Args:
        midi: MIDI notes, low to high; one to eight of them.
        sizes: notes in each layer, lowest layer first.
        root: the root, when it is given; it need not sound.
        degrees: what a player typed over that root; they stand.
        spelled: note names as a player typed them; a sounding root keeps its spelling where it can.
    """
    lowest_midi = midi[0]
    heights = tuple(note - lowest_midi for note in midi)
    ranked = readings(heights)
    if root is None:
        reading = ranked[0]
        if spelled is not None and reading.rank == _RANK_PLAIN:
            reading = _as_spelled(ranked, spelled, lowest_midi)
        root = _root_of(reading, lowest_midi, spelled)
    else:
        reading = read_over(heights, (lowest_midi - root.pitch_class) % 12, degrees)
    also = tuple(each for each in ranked if each.lowest_over_root_semitones != reading.lowest_over_root_semitones)
    return Named(PitchedVoicing(_voicing(reading.degrees, heights, sizes), root, lowest_midi), reading, also)


@lru_cache(maxsize=65536)
def _voicing(degrees: tuple[Degree, ...], heights: tuple[int, ...], sizes: tuple[int, ...]) -> Voicing:
    return Voicing(degrees, heights, sizes)


def _as_spelled(ranked: tuple[Reading, ...], spelled: tuple[NoteName, ...], lowest_midi: int) -> Reading:
    """The reading of an augmented triad that its spelling asks for; else the first."""
    letters = {name.letter for name in spelled}
    for reading in ranked:
        for name in spelled:
            is_root = (lowest_midi - reading.lowest_over_root_semitones) % 12 == name.pitch_class
            if is_root and reading.symbol.plain == "aug" and {(name.letter + 2) % 7, (name.letter + 4) % 7} <= letters:
                return reading
    return ranked[0]


def _root_of(reading: Reading, lowest_midi: int, spelled: tuple[NoteName, ...] | None) -> NoteName:
    """The root as typed, where the typed notes are degree-true to it; else as charts spell it."""
    habit = habit_root(lowest_midi - reading.lowest_over_root_semitones, reading.symbol.quality)
    if spelled is None:
        return habit
    typed = next((name for name in spelled if name.pitch_class == habit.pitch_class), habit)
    true_names = tuple(each.over(typed) for each in reading.degrees)
    return typed if true_names == spelled else habit


def chord_of(reading: Reading, root: NoteName) -> Chord:
    """The chord a reading names, with just the degrees that sound."""
    return Chord(root, tuple(sorted(set(reading.degrees), key=lambda each: (each.number, each.alter_semitones))))
