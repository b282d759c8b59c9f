"""Mend: every clash in a voicing put right, one after the other, until none is left.

Conventions: a note that is raised or lowered stays in its octave; two notes that exchange do so by a
half step each, and a ♯9 right below the third goes an octave up instead; two notes that fall on one
pitch become one.
Source: the table of clashes in `theory/clash.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drills.theory.clash import Clash
from drills.theory.degree import degree
from drills.theory.motion.moved import Moved, Voice, changes, in_order, pairs_words, renamed, voices_of
from drills.theory.naming import Named

_NOTHING = "nothing to mend"
_WHY = {
    "11": "natural 11 clashes with the third",
    "#9": "♯9 belongs above the third",
    "1": "the root rubs a minor ninth above the seventh",
    "b13": "the fifth clashes with ♭13",
    "b9": "♭9 belongs to dominants",
    "#11": "♯11 belongs above the fifth",
}


def mend(named: Named) -> Moved:
    """The voicing without clashes; unchanged where there is none.

    >>> from drills.theory.naming import name_notes
    >>> from drills.theory.pitch import NoteName
    >>> moved = mend(name_notes((50, 57, 66, 73, 76, 79), (3, 3), root=NoteName(1)))
    >>> moved.named.chord_plain, moved.words
    ('Dmaj9#11', 'G → G♯: natural 11 clashes with the third')
    """
    if not named.reading.clashes:
        return Moved(named, _NOTHING, (), _NOTHING)
    after = renamed(named, voices_of(named))
    places = tuple(range(len(named.sounding.midi)))
    told: list[str] = []
    while after.reading.clashes:
        before, clash = after, after.reading.clashes[0]
        mended = in_order(_mended(voices_of(before), clash))
        after = renamed(before, mended)
        told.append(f"{_what_changes(before, after, mended)}: {_WHY[clash.degree]}")
        places = tuple(places[voice.place] for voice in mended)
    voices = [replace(voice, place=place) for voice, place in zip(voices_of(after), places, strict=True)]
    return Moved(after, "mended", changes(named, after, voices), "; ".join(told))


def _what_changes(before: Named, after: Named, voices: list[Voice]) -> str:
    pairs = changes(before, after, voices)
    heard_before, heard_after = ({note.plain for note in each.sounding.names} for each in (before, after))
    names = [old.name.shown for old, _ in pairs if old is not None]
    if len(names) == 2 and heard_before == heard_after:
        return f"{names[0]} and {names[1]} change places"
    return pairs_words(pairs)


def _mended(voices: tuple[Voice, ...], clash: Clash) -> Iterator[Voice]:
    """The voices with one clash put right; those that stay come before those that move."""
    rubbing = [voice for voice in voices if voice.degree.plain == clash.degree]
    others = [voice for voice in voices if voice.degree.plain == clash.against]
    moved: tuple[Voice, ...]
    if clash.mend == "leave out 5":
        gone, moved = others, ()
    elif clash.mend == "exchange them":
        gone = [rubbing[0], others[-1]]
        moved = _exchanged(*gone)
    elif clash.mend == "13":
        gone = [note for note in rubbing if any((note.midi - low.midi) % 12 == 1 for low in others)]
        gone = [note for note in gone if any(note.midi - low.midi > 1 for low in others)]
        moved = tuple(replace(note, degree=degree("13"), midi=note.midi - 3) for note in gone)
    else:
        gone = rubbing
        moved = tuple(replace(note, degree=degree(clash.mend), midi=note.midi + 1) for note in gone)
    yield from (voice for voice in voices if voice not in gone)
    yield from moved


def _exchanged(low: Voice, high: Voice) -> tuple[Voice, ...]:
    """Two notes, the degree of the lower a half step below the other's, each in the other's octave."""
    if high.midi - low.midi == 1:
        return replace(low, midi=low.midi + 12), high
    return (
        replace(low, degree=high.degree, midi=low.midi + 1),
        replace(high, degree=low.degree, midi=high.midi - 1),
    )
