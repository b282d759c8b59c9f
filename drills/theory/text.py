"""The three ways to write a voicing: notes, degrees over a root, frets.

Conventions: `|` or `/` separates the layers. Notes without octaves and degrees lie as near above the
note before them as they can; an apostrophe lifts one by an octave. Frets go low string first, `x`
for a string that is not played. With a root, numbers are degrees; otherwise, when their count fits
the strings, frets.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Literal, TypeAlias

from drills.errors import DrillsError
from drills.theory.chord import read_chord
from drills.theory.degree import Degree, is_degree, read_degree
from drills.theory.pitch import NoteName, Pitch, checked_range, plain_signs, read_note
from drills.theory.voicing import DEFAULT_SIZES, MOST_NOTES, checked_sizes

STANDARD_OPEN_MIDI = (40, 45, 50, 55, 59, 64)
"""The open strings of a guitar in standard tuning, low to high."""

MOST_FRETS = 24
"""The last fret of the longest neck."""

_LONE_NOTE_OCTAVES = range(-1, 6)

Form: TypeAlias = Literal["notes", "degrees", "frets"]

_BAR = "|"
_NOTE_LIKE = re.compile(r"[A-G](?:bb|b|##|#|x)?(?:-?[0-9]{1,2})?'*")
_FRET = re.compile(r"[xX]|[0-9]{1,2}")
_COMPACT = re.compile(r"[xX0-9]+")
_SLASH_CHORD = re.compile(r"\s*[A-G](?:bb|b|##|#)?/[A-G](?:bb|b|##|#)?\s*")


@dataclass(frozen=True, slots=True)
class Written:
    """A voicing as somebody wrote it.

    Attributes:
        form: which of the three ways.
        midi: what sounds, low to high.
        sizes: notes in each layer.
        spelled: the note names as typed, low to high (notes only).
        degrees: the degrees as typed (degrees only).
        frets: one for each string, low string first, None for not played (frets only).
        is_fixed: its octave is written; otherwise it starts at the lowest place of the instrument.
    """

    form: Form
    midi: tuple[int, ...]
    sizes: tuple[int, ...]
    spelled: tuple[NoteName, ...] | None = None
    degrees: tuple[Degree, ...] | None = None
    frets: tuple[int | None, ...] | None = None
    is_fixed: bool = False


def read_voicing(
    words: str | Iterable[str],
    *,
    root: NoteName | None = None,
    open_midi: Sequence[int] = STANDARD_OPEN_MIDI,
    where: str = "",
) -> Written:
    """Reads a voicing in any of the three forms.

    Args:
        words: one text, or several that count as one.
        root: needed for degrees.
        open_midi: the open strings, low to high, for frets and for the lowest place.
        where: named in errors.

    Raises:
        DrillsError: the text is no voicing.

    >>> read_voicing("1 5 b3 | 11 b7 9", root=NoteName(6, -1)).midi
    (46, 53, 61, 63, 68, 72)
    >>> read_voicing("x32010").midi
    (48, 52, 55, 60, 64)
    """
    text = words if isinstance(words, str) else " ".join(words)
    plain = plain_signs(text)
    tokens, sizes = _split(plain, where)
    lowest_midi = min(open_midi)
    if len(tokens) == 1 and len(tokens[0]) == len(open_midi) and _COMPACT.fullmatch(tokens[0]):
        return _from_frets(tuple(tokens[0]), None, open_midi, where)
    if all(_NOTE_LIKE.fullmatch(token) for token in tokens) and not _is_symbol(plain, tokens):
        return _from_notes(tokens, sizes, lowest_midi, where)
    if root is not None and all(is_degree(token) for token in tokens):
        return _from_degrees(tokens, sizes, root, lowest_midi, where)
    if all(_FRET.fullmatch(token) for token in tokens) and len(tokens) == len(open_midi):
        return _from_frets(tokens, sizes, open_midi, where)
    raise _no_voicing(text, tokens, root, len(open_midi), where)


def _is_symbol(text: str, tokens: tuple[str, ...]) -> bool:
    """C/E is a chord symbol; so is a lone C6, B♭9, C13 or C-7, not a note at the edge of hearing."""
    if _SLASH_CHORD.fullmatch(text):
        return True
    octave = read_note(tokens[0].rstrip("'"))[1]
    return len(tokens) == 1 and octave is not None and octave not in _LONE_NOTE_OCTAVES


def _split(text: str, where: str) -> tuple[tuple[str, ...], tuple[int, ...] | None]:
    """The tokens, and how many stand in each layer where bars are written."""
    parts = [part.replace(",", " ").split() for part in text.replace("/", _BAR).split(_BAR)]
    tokens = tuple(token for part in parts for token in part)
    if not tokens:
        mend = "write notes (C3 G3 E4), degrees with a root (1 5 3) or frets (x32010)"
        raise DrillsError("there is no voicing here", where=where, mend=mend)
    return tokens, tuple(len(part) for part in parts) if len(parts) > 1 else None


def _from_notes(
    tokens: tuple[str, ...], sizes: tuple[int, ...] | None, lowest_midi: int, where: str
) -> Written:
    pitches: list[Pitch] = []
    octaves = []
    for token in tokens:
        lifts = len(token) - len(token.rstrip("'"))
        name, octave = read_note(token.rstrip("'"), where=where)
        octaves.append(octave)
        if octave is None:
            floor = pitches[-1].midi + 1 if pitches else lowest_midi
            pitch = name.at_midi(floor + (name.pitch_class - floor) % 12)
            octave = pitch.octave
        pitches.append(checked_range(Pitch(name, octave + lifts), where=where))
    ordered = sorted(pitches, key=lambda pitch: pitch.midi)
    if ordered != pitches and sizes is not None:
        mend = "write the layers from low to high, or leave the bar out"
        raise DrillsError("the notes of the layers cross", where=where, mend=mend)
    return Written(
        "notes",
        tuple(pitch.midi for pitch in ordered),
        _sizes(sizes, len(tokens), where),
        spelled=tuple(pitch.name for pitch in ordered),
        is_fixed=any(octave is not None for octave in octaves),
    )


def _from_degrees(
    tokens: tuple[str, ...], sizes: tuple[int, ...] | None, root: NoteName, lowest_midi: int, where: str
) -> Written:
    degrees: list[Degree] = []
    midi: list[int] = []
    for token in tokens:
        lifts = len(token) - len(token.rstrip("'"))
        degree = read_degree(token.rstrip("'"), where=where)
        floor = midi[-1] + 1 if midi else lowest_midi
        degrees.append(degree)
        midi.append(floor + (root.pitch_class + degree.semitones - floor) % 12 + 12 * lifts)
        checked_range(degree.over(root).at_midi(midi[-1]), where=where)
    return Written("degrees", tuple(midi), _sizes(sizes, len(tokens), where), degrees=tuple(degrees))


def _from_frets(
    tokens: Sequence[str], sizes: tuple[int, ...] | None, open_midi: Sequence[int], where: str
) -> Written:
    frets = tuple(None if token in "xX" else int(token) for token in tokens)
    for fret in frets:
        if fret is not None and fret > MOST_FRETS:
            raise DrillsError(f"fret {fret} is on no neck", where=where, mend=f"use frets 0 to {MOST_FRETS}")
    sounding = sorted(
        string + fret for string, fret in zip(open_midi, frets, strict=True) if fret is not None
    )
    if not sounding:
        raise DrillsError("no string is played", where=where, mend="write a fret for at least one string")
    if sizes is not None:
        edges = pairwise(accumulate(sizes, initial=0))
        sizes = tuple(sum(fret is not None for fret in frets[low:high]) for low, high in edges)
    return Written("frets", tuple(sounding), _sizes(sizes, len(sounding), where), frets=frets, is_fixed=True)


def _sizes(sizes: tuple[int, ...] | None, count: int, where: str) -> tuple[int, ...]:
    if count > MOST_NOTES:
        raise DrillsError(f"{count} notes are too many", where=where, mend=f"write at most {MOST_NOTES}")
    return checked_sizes(DEFAULT_SIZES[count] if sizes is None else sizes, where=where)


def _no_voicing(
    text: str, tokens: tuple[str, ...], root: NoteName | None, strings: int, where: str
) -> DrillsError:
    """The error for a text that is no voicing, with a hint at what it may have been meant for."""
    chord = _chord_meant(text)
    if chord:
        mend = f"a voicing needs its notes; `drills spell {chord}` shows what the chord holds"
        return DrillsError(f"{text.strip()!r} is a chord symbol", where=where, mend=mend)
    if all(is_degree(token) for token in tokens) and root is None:
        mend = "give the root, as in --root C"
        if all(_FRET.fullmatch(token) for token in tokens):
            mend += f", or one fret for each of the {strings} strings, x for those not played"
        return DrillsError(f"{text.strip()!r} looks like degrees without a root", where=where, mend=mend)
    if all(_FRET.fullmatch(token) for token in tokens):
        mend = f"write {strings}, low string first, x for strings not played"
        return DrillsError(f"{len(tokens)} frets do not fit {strings} strings", where=where, mend=mend)
    odd = next((token for token in tokens if not _is_any(token)), "")
    mend = "write notes (C3 G3 E4), degrees with a root (1 5 3) or frets (x32010)"
    what = f"cannot read {odd!r} in a voicing" if odd else f"{text.strip()!r} mixes notes, degrees and frets"
    return DrillsError(what, where=where, mend=mend)


def _is_any(token: str) -> bool:
    return bool(_NOTE_LIKE.fullmatch(token) or is_degree(token) or _FRET.fullmatch(token))


def _chord_meant(text: str) -> str:
    try:
        return read_chord(text.strip()).plain
    except DrillsError:
        return ""
