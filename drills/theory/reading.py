"""How sounding notes read over a root, and which root they are named from.

Conventions: a reading is free of key. It is known by the heights of the notes over the lowest one
and by how far that one lies above the root, so one answer serves twelve keys and is kept. A set of
pitch classes over a root is a mask: bit n stands for n semitones over it.
Source: the chord-tone rules and the ranking are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from drills.theory.clash import Clash, clashes
from drills.theory.degree import Degree, degree
from drills.theory.symbol import Symbol, meant, symbol


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


def _mask(semitones: Iterable[int]) -> int:
    mask = 0
    for each in semitones:
        mask |= 1 << each
    return mask


_ROOT = 1 << 0
_FLAT_NINE = 1 << 1
_NINE = 1 << 2
_MINOR_THIRD = 1 << 3
_MAJOR_THIRD = 1 << 4
_FOURTH = 1 << 5
_TRITONE = 1 << 6
_FIFTH = 1 << 7
_SHARP_FIVE = 1 << 8
_SIXTH = 1 << 9
_FLAT_SEVEN = 1 << 10
_SEVEN = 1 << 11
_THIRDS = _MINOR_THIRD | _MAJOR_THIRD
_SEVENTHS = _FLAT_SEVEN | _SEVEN
_WITHOUT_THIRD = _ROOT | _NINE | _FIFTH | _SIXTH | _SEVENTHS

_SELF_NAMED = frozenset(
    _mask(each) for each in ((0,), (0, 7), (0, 4), (0, 3), (0, 4, 7), (0, 3, 7), (0, 3, 6))
)
"""Thirds, fifths and triads name themselves, whatever note is lowest."""

_SELF_NAMED_OVER_BASS = frozenset(_mask(each) for each in ((0, 2, 7), (0, 5, 7), (0, 4, 8)))
"""Sus triads and the augmented triad have several roots, so the lowest note decides."""

_MAJOR_SEVENTH_CHORDS = frozenset(
    _mask(each) for each in ((0, 4, 7, 11), (0, 3, 7, 11), (0, 3, 6, 11), (0, 4, 8, 11))
)
"""A seventh chord keeps its name in the inversions that put its seventh a minor ninth below its root.

So does one that stands on its root and has all four notes, whatever rubs against them; but a minor one
with its ♭13 is heard as the major chord on that note.
"""

RANK_SELF_NAMED = 0
_RANK_BASS = 1  # the root in the bass, and the chord complete
_RANK_SOUNDING = 2  # another sounding root with third and seventh
_RANK_OPEN = 3  # the root in the bass with fifth and seventh, no third
_RANK_TRIAD = 4  # a sounding triad that something is added to
_RANK_ROOTLESS = 5  # a root that does not sound, with third and seventh
_RANK_BASS_ANYWAY = 6
_RANK_REST = 7


def _is_minor(mask: int) -> bool:
    return mask & _THIRDS == _MINOR_THIRD


def _has_flat_five(mask: int) -> bool:
    """Whether six semitones over the root are its fifth: over a minor third, or in a bare 7♭5."""
    if not mask & _TRITONE or mask & _FIFTH:
        return False
    return _is_minor(mask) or mask | _ROOT == _ROOT | _MAJOR_THIRD | _TRITONE | _FLAT_SEVEN


def _has_diminished_seventh(mask: int) -> bool:
    return bool(_is_minor(mask) and _has_flat_five(mask) and mask & _SIXTH and not mask & _FLAT_SEVEN)


def _has_sharp_five(mask: int) -> bool:
    """Whether eight semitones over the root are its fifth, for want of another one."""
    has_other = mask & _FIFTH or mask & _FLAT_NINE or mask & _THIRDS == _THIRDS or _has_flat_five(mask)
    return bool(mask & _SHARP_FIVE and not has_other)


@lru_cache(maxsize=4096)
def _tones(mask: int) -> tuple[Degree | None, ...]:
    """What each of the twelve semitones over a root is, by the whole set that sounds; None is silent."""
    words = ["1", "b9", "9", "#9", "3", "4", "#11", "5", "b13", "6", "b7", "7"]
    if _is_minor(mask):
        words[3] = "b3"
    if mask & _THIRDS:
        words[5] = "11"
    if _has_flat_five(mask):
        words[6] = "b5"
    if _has_sharp_five(mask):
        words[8] = "#5"
    if _has_diminished_seventh(mask):
        words[9] = "bb7"
    elif mask & _SEVENTHS:
        words[9] = "13"
    return tuple(degree(word) if mask >> place & 1 else None for place, word in enumerate(words))


@lru_cache(maxsize=4096)
def _symbol(mask: int) -> Symbol:
    return symbol(each for each in _tones(mask) if each is not None)


def _is_chord(mask: int) -> bool:
    return bool(mask & (_THIRDS | _FOURTH | _FIFTH | _SIXTH | _SEVENTHS))


def _has_third_and_seventh(mask: int) -> bool:
    return bool(mask & _THIRDS and (mask & _SEVENTHS or _has_diminished_seventh(mask)))


def _has_triad(mask: int) -> bool:
    return bool(mask & _ROOT and mask & _THIRDS and mask & _FIFTH)


def _is_complete(mask: int) -> bool:
    """Third and seventh, sixth or fifth; or, in a sus chord, fourth and seventh or fifth."""
    if mask & _THIRDS:
        return bool(mask & (_SEVENTHS | _SIXTH | _FIFTH))
    return bool(mask & _FOURTH and mask & (_SEVENTHS | _FIFTH))


_SELDOM_TOGETHER = (
    _FLAT_NINE | _NINE,
    _NINE | _THIRDS,
    _SEVENTHS,
    _FLAT_NINE | _SEVEN,
)


def _is_unusual(mask: int) -> bool:
    """Whether it holds notes that players put into one chord only when they mean another root."""
    if any(mask & notes == notes for notes in _SELDOM_TOGETHER):
        return True
    if mask & _FOURTH and mask & _TRITONE and not _has_flat_five(mask):
        return True
    if _has_sharp_five(mask) and mask & _THIRDS != _MAJOR_THIRD:
        return True
    if _is_sharp_nine_over_its_third(mask):
        return True
    if not mask & _SIXTH or _has_diminished_seventh(mask):
        return False
    return bool(mask & _SHARP_FIVE) or (not mask & _SEVENTHS and _is_unusual_sixth_chord(mask))


def _is_sharp_nine_over_its_third(mask: int) -> bool:
    """Whether it is a 7♯9 over its third: that chord's 5 ♭7 1 ♯9 would be ♭3 ♭5 ♭13 7 of a °(△7)♭13."""
    is_diminished_triad = _is_minor(mask) and _has_flat_five(mask) and not mask & (_SIXTH | _FLAT_SEVEN)
    return bool(is_diminished_triad and mask & _SEVEN and mask & _SHARP_FIVE)


def _is_unusual_sixth_chord(mask: int) -> bool:
    """A minor or sus sixth with 11 is named from another root; so is 6♯11 without a fifth."""
    if not mask & _MAJOR_THIRD:
        return bool(mask & _FOURTH)
    return bool(mask & _TRITONE and not mask & _FIFTH)


def _is_far_fetched(mask: int) -> bool:
    """Whether nobody hears the root that it lacks: a major seventh with ♯9, ♭13 or a diminished triad."""
    if not mask & _SEVEN:
        return False
    if _is_minor(mask):
        return _has_flat_five(mask)
    return mask & _THIRDS == _THIRDS or bool(mask & _SHARP_FIVE and not _has_sharp_five(mask))


@lru_cache(maxsize=8192)
def _rank(mask: int, *, is_bass: bool, has_clash: bool) -> int:
    """The place of a reading among all readings of the same notes."""
    if mask in _SELF_NAMED or (is_bass and mask in _SELF_NAMED_OVER_BASS):
        return RANK_SELF_NAMED
    stands_whole = is_bass and _has_triad(mask) and mask & _SEVENTHS
    is_minor_flat_thirteen = _is_minor(mask) and mask & _SHARP_FIVE
    is_plain = mask in _MAJOR_SEVENTH_CHORDS or (stands_whole and not is_minor_flat_thirteen)
    if _is_chord(mask) and not _is_unusual(mask) and (is_plain or not has_clash):
        return _rank_of_usual(mask, is_bass=is_bass)
    if is_bass:
        return _RANK_TRIAD if _has_triad(mask) else _RANK_BASS_ANYWAY
    return _RANK_REST


def _rank_of_usual(mask: int, *, is_bass: bool) -> int:
    if is_bass and _is_complete(mask):
        return _RANK_BASS
    if _has_third_and_seventh(mask):
        if mask & _ROOT:
            return _RANK_SOUNDING
        return _RANK_REST if _is_far_fetched(mask) else _RANK_ROOTLESS
    if is_bass:
        is_open = mask & _FIFTH and mask & _SEVENTHS and mask | _WITHOUT_THIRD == _WITHOUT_THIRD
        return _RANK_OPEN if is_open else _RANK_BASS_ANYWAY
    return _RANK_TRIAD if _has_triad(mask) else _RANK_REST


def degrees_over(heights_semitones: tuple[int, ...], lowest_over_root_semitones: int) -> tuple[Degree, ...]:
    """What notes are over a root, by all that sounds: chord tones from pitches.

    >>> [each.plain for each in degrees_over((0, 7, 15, 17, 22, 26), 0)]
    ['1', '5', 'b3', '11', 'b7', '9']
    """
    places = [(height + lowest_over_root_semitones) % 12 for height in heights_semitones]
    tones = _tones(_mask(places))
    return tuple(each for place in places if (each := tones[place]) is not None)


@lru_cache(maxsize=4096)
def twelve_degrees(degrees: tuple[Degree, ...]) -> tuple[Degree, ...]:
    """What each of the twelve semitones over a root is called beside degrees that sound, root first.

    The sounding ones keep their word; any other is what it would be if it sounded as well.

    >>> [each.plain for each in twelve_degrees((degree("b7"), degree("3"), degree("13")))]
    ['1', 'b9', '9', '#9', '3', '11', '#11', '5', '#5', '13', 'b7', '7']
    """
    sounding = {each.semitones: each for each in reversed(degrees)}
    mask = _mask(sounding)
    words = [_tones(mask | 1 << semitones)[semitones] for semitones in range(12)]
    return tuple(sounding.get(place, word) for place, word in enumerate(words) if word is not None)


@lru_cache(maxsize=65536)
def read_over(
    heights_semitones: tuple[int, ...],
    lowest_over_root_semitones: int,
    degrees: tuple[Degree, ...] | None = None,
) -> Reading:
    """How notes read over one root.

    Degrees that a player typed stand as typed, but for a 4 in a chord that is not sus: that is an 11.
    """
    if degrees is None:
        degrees = understood = degrees_over(heights_semitones, lowest_over_root_semitones)
        mask = _mask(each.semitones for each in degrees)
        found = _symbol(mask)
    else:
        degrees = _with_fourths_settled(degrees)
        understood = meant(degrees)
        mask = _mask(each.semitones for each in degrees)
        found = symbol(degrees)
    rubs: tuple[Clash, ...] = ()
    if found.is_chord:
        rubs = clashes(understood, heights_semitones, found.quality)
        if understood != degrees:
            rubs = tuple(_as_typed(rub, understood, degrees) for rub in rubs)
    rank = _rank(mask, is_bass=lowest_over_root_semitones == 0, has_clash=bool(rubs))
    return Reading(lowest_over_root_semitones, degrees, found, not mask & _ROOT, rubs, rank)


def _with_fourths_settled(degrees: tuple[Degree, ...]) -> tuple[Degree, ...]:
    """Typed degrees with 4 for the fourth of a sus chord alone: no third, or a major one above it."""
    fourth, third = degree("4"), degree("3")
    if fourth not in degrees:
        return degrees
    is_below_third = third not in degrees or degrees.index(third) > degrees.index(fourth)
    if is_below_third and degree("b3") not in degrees:
        return degrees
    return tuple(degree("11") if each == fourth else each for each in degrees)


def _as_typed(rub: Clash, understood: tuple[Degree, ...], typed: tuple[Degree, ...]) -> Clash:
    """A clash told in the words that the player typed; a root that does not sound was not typed."""
    words = {new.plain: old.plain for new, old in zip(understood, typed, strict=True)}
    return replace(rub, degree=words[rub.degree], against=words.get(rub.against, rub.against))


def _roots(heights_semitones: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """The roots worth telling: how far the lowest note lies above each, and what sounds over it."""
    sounding = _mask(height % 12 for height in heights_semitones)
    for lowest in range(12):
        mask = (sounding << lowest | sounding >> 12 - lowest) & 0xFFF
        if _is_chord(mask) and (mask & _ROOT or _has_third_and_seventh(mask)):
            yield lowest, mask


def _order(reading: Reading) -> tuple[int, int, int]:
    return reading.rank, len(reading.symbol.plain), reading.lowest_over_root_semitones


@lru_cache(maxsize=65536)
def best_reading(heights_semitones: tuple[int, ...]) -> Reading:
    """The first of all readings, found without the others: a clash can only put one further back.

    >>> best_reading((0, 4, 9, 14)).symbol.plain
    '6/9'
    """
    hopes = sorted(
        (_rank(mask, is_bass=lowest == 0, has_clash=False), lowest)
        for lowest, mask in _roots(heights_semitones)
    )
    best: Reading | None = None
    for rank, lowest in hopes:
        if best is not None and best.rank < rank:
            break
        reading = read_over(heights_semitones, lowest)
        if best is None or _order(reading) < _order(best):
            best = reading
    if best is None or best.rank == _RANK_REST:
        return read_over(heights_semitones, 0)
    return best


@lru_cache(maxsize=65536)
def readings(heights_semitones: tuple[int, ...]) -> tuple[Reading, ...]:
    """Every reading of sounding notes, best first; the first always exists.

    >>> [reading.symbol.plain for reading in readings((0, 4, 7, 9))][:2]
    ['6', 'm7']
    """
    kept = [read_over(heights_semitones, lowest) for lowest, _ in _roots(heights_semitones)]
    if all(each.rank == _RANK_REST for each in kept):
        kept.append(read_over(heights_semitones, 0))
    return tuple(_with_partners(sorted(kept, key=_order)))


def _with_partners(ordered: list[Reading]) -> Iterator[Reading]:
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
