"""A chord name in parts: a quality, and the tensions that a player adds to it.

A symbol leaves tones unsaid: the 9 below a 13, a fifth that does not sound. So a name in parts has tensions
that must be said and others that may be.
Source: which names are of one chord is common practice, no source; 7alt stands for any altered ninth with
any altered fifth.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from drills.theory.chord import read_suffix
from drills.theory.degree import Degree, degree
from drills.theory.symbol import Symbol, meant, symbol

ALTERED = "7alt"
QUALITIES = (
    *("maj7", "7", "m7", "m(maj7)", "m7b5", "dim7", "6", "m6", "7sus4", ALTERED),
    *("", "m", "dim", "aug", "sus4", "sus2", "5", "maj7sus4", "6sus4", "dim(maj7)"),
)
"""What a name can start from, as suffixes in plain form."""

NO_THIRD, ADDED_THIRD, ADDED_SEVENTH = "no3", "add3", "add7"
TENSIONS = (
    *("b9", "9", "#9", "11", "#11", "b5", "#5", "b13", "13"),
    *(NO_THIRD, ADDED_THIRD, ADDED_SEVENTH),
)
"""What can be added, in plain form; the last three are for chords that have no plainer name."""

_TONES = {
    quality: frozenset(each.plain for each in read_suffix(quality))
    for quality in QUALITIES
    if quality != ALTERED
}
_SEVENTHS = frozenset({"b7", "7"})
_ALTERED_NINTHS = frozenset({"b9", "#9"})
_ALTERED_FIFTHS = frozenset({"b5", "#11", "#5", "b13"})
_SAME_TONE = {"#5": "b13", "b13": "#5", "b5": "#11", "#11": "b5"}


@dataclass(frozen=True, slots=True)
class Parts:
    """One right way to name a chord over its root.

    Attributes:
        symbol: the name in one word.
        quality: one of QUALITIES.
        needs: tensions that have to be said, in the order of TENSIONS.
        allows: tensions that may be said as well.
    """

    symbol: Symbol
    quality: str
    needs: tuple[str, ...]
    allows: tuple[str, ...]


@lru_cache(maxsize=4096)
def parts_of(chord: frozenset[Degree], sounding: frozenset[Degree]) -> tuple[Parts, ...]:
    """Every right way to name a chord in parts over its own root, the plainest first; none if it is no chord.

    Args:
        chord: the full chord, as its symbol has it.
        sounding: the tones that are heard; nobody need say what is not.

    >>> whole = frozenset(read_suffix("13#11"))
    >>> [(each.quality, each.needs, each.allows) for each in parts_of(whole, whole)]
    [('7', ('#11', '13'), ('9',))]
    """
    heard = frozenset(each.semitones for each in sounding)
    plainest, *others = _forms(chord | sounding, heard)
    ways = [*_ways(plainest, heard), *_altered(plainest, heard)]
    if symbol(degree(word) for word in plainest).plain == ALTERED:
        ways.insert(0, ways.pop())
    ways += [each for words in others for each in _ways(words, heard)]
    first_of: dict[tuple[object, ...], Parts] = {}
    for each in ways:
        first_of.setdefault((each.quality, each.needs, each.allows), each)
    return tuple(first_of.values())


def _forms(degrees: frozenset[Degree], heard: frozenset[int]) -> Iterator[frozenset[str]]:
    """The chord in words; without a sounding fifth also with ♭13 for ♯5 and the like, which sound alike."""
    words = frozenset(each.plain for each in meant(tuple(degrees))) | {"1"}
    yield words
    if degree("5").semitones in heard:
        return
    for word, other in _SAME_TONE.items():
        if word in words and other not in words:
            yield words - {word, "5"} | {other}


def _ways(words: frozenset[str], heard: frozenset[int]) -> Iterator[Parts]:
    """The ways to name one form of a chord: the fewer tensions to add, the earlier."""
    own = symbol(degree(word) for word in words)
    if not own.is_chord:
        return
    added = {quality: _added(tones, words) for quality, tones in _TONES.items()}
    for quality, tensions in sorted(added.items(), key=lambda each: len(each[1] or ())):
        if tensions is not None:
            silent = _unsaid(_TONES[quality], tensions)
            yield _way(own, quality, tensions, tensions - silent - _not_heard(tensions, heard))


def _way(own: Symbol, quality: str, tensions: frozenset[str], needs: frozenset[str]) -> Parts:
    in_order = [each for each in TENSIONS if each in tensions]
    allows = tuple(each for each in in_order if each not in needs)
    return Parts(own, quality, tuple(each for each in in_order if each in needs), allows)


def _added(tones: frozenset[str], words: frozenset[str]) -> frozenset[str] | None:
    """What has to be added to a quality to make a chord of it; None where nothing can."""
    missing, more = tones - words - {"5"}, words - tones
    added = set(more)
    if missing == {"3"} and not more & {"b3", "4"}:
        added.add(NO_THIRD)
    elif missing:
        return None
    if "3" in more and "4" in tones:
        added = added - {"3"} | {ADDED_THIRD}
    if "7" in more and tones & {"b7", "bb7"}:
        added = added - {"7"} | {ADDED_SEVENTH}
    return frozenset(added) if added <= set(TENSIONS) else None


def _unsaid(tones: frozenset[str], tensions: frozenset[str]) -> frozenset[str]:
    """The natural extensions that a symbol leaves unsaid, below the highest one over a seventh."""
    if not tones & _SEVENTHS or {"b5", "7"} <= tones:
        return frozenset()
    naturals = ("9", "11", "13") if "b3" in tones else ("9", "13")
    return frozenset([each for each in naturals if each in tensions][:-1])


def _not_heard(tensions: frozenset[str], heard: frozenset[int]) -> frozenset[str]:
    tones = tensions - {NO_THIRD, ADDED_THIRD, ADDED_SEVENTH}
    return frozenset(each for each in tones if degree(each).semitones not in heard)


def _altered(words: frozenset[str], heard: frozenset[int]) -> Iterator[Parts]:
    """The name alt, for a dominant with an altered ninth, an altered fifth and no other colour."""
    colours = words - {"1", "3", "b7"} - (frozenset() if degree("5").semitones in heard else {"5"})
    is_all_altered = {"3", "b7"} <= words and colours <= _ALTERED_NINTHS | _ALTERED_FIFTHS
    if is_all_altered and colours & _ALTERED_NINTHS and colours & _ALTERED_FIFTHS:
        also = {_SAME_TONE[each] for each in colours & _ALTERED_FIFTHS}
        own = symbol(degree(word) for word in words)
        yield _way(own, ALTERED, colours | also, frozenset())
