"""A chord against the notes that are to be it: what a teacher would not let pass.

Conventions: tones are compared by semitones over the root, so ♯11 and ♭5, 4 and 11, 13 and 6 are one
tone; only ♭3 and ♯9 are told apart, since they make a minor chord and a dominant. A root and a fifth may
always be missing, and so may the natural extensions below the one that the chord is named by. A layer on
its own is a part of its chord: it need not hold what the chord is known by, but nothing foreign either.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable

from drills.errors import DrillsError
from drills.theory.chord import read_suffix
from drills.theory.degree import Degree, degree
from drills.theory.naming import read_over
from drills.theory.symbol import Symbol, symbol
from drills.theory.voicing import Voicing

_ALTERED = ("b5", "#5", "b9", "#9", "#11", "b13")
_NATURAL = ("9", "11", "13")
_SEVENTHS = ("b7", "7", "bb7")
_MAJOR_THIRD = 4
_ONLY_DOMINANTS_HAVE = {"b9", "#9"}


def chord_of_notes(voicing: Voicing) -> tuple[Degree, ...]:
    """The full chord that a voicing makes over its root, its degrees standing as written.

    Raises:
        DrillsError: it has a minor and a major third.
    """
    words = _words(voicing.degrees)
    if {"b3", "3"} <= words:
        raise DrillsError("b3 and 3 sound in one chord", mend="write '#9' for the one above the major third")
    return read_suffix(symbol(voicing.degrees).plain)


def agreed_chord(written: tuple[Degree, ...], voicing: Voicing, *, is_part: bool) -> tuple[Degree, ...]:
    """The full chord as written, with the natural extensions that the voicing adds to it.

    Args:
        written: the degrees of the chord as its symbol has them.
        voicing: the notes.
        is_part: the voicing is a layer on its own.

    Raises:
        DrillsError: the chord contradicts the notes; the mend names the chord they make.
    """
    name, chord = symbol(written), _words(written)
    sounding = {each.semitones for each in voicing.degrees}
    added = [each for each in voicing.degrees if not _is_in(each, written)]
    foreign = [each for each in added if not _extends(each, chord)]
    for each in voicing.degrees:
        third = _third_meant(each, chord)
        if third and (third == "#9") == (_MAJOR_THIRD in sounding):
            what = f"in {_said(name)} the tone {each.plain} is called {third}"
            raise DrillsError(what, mend=f"write {third!r} for {each.plain!r}")
        foreign += [each] if third else []
    missing = [] if is_part else list(_missing(chord, sounding, name))
    if foreign or missing:
        what = f"{_said(name)} needs {_listed(missing)}, which the notes lack"
        if foreign:
            what = (
                f"the notes hold {_listed(each.plain for each in foreign)}, which {_said(name)} does not have"
            )
        raise DrillsError(what, mend=_name_of_notes(voicing))
    return read_suffix(symbol((*written, *added)).plain) if added else written


def _words(degrees: Iterable[Degree]) -> set[str]:
    return {each.plain for each in degrees}


def _is_in(tone: Degree, chord: tuple[Degree, ...]) -> bool:
    return any(tone.semitones == each.semitones for each in chord)


def _third_meant(tone: Degree, chord: set[str]) -> str:
    """The other word for three semitones, where the chord has only that one; else nothing."""
    other = {"b3": "#9", "#9": "b3"}.get(tone.plain, "")
    return other if other in chord and tone.plain not in chord else ""


def _extends(tone: Degree, chord: set[str]) -> bool:
    """Whether a tone is a plain natural extension of a chord, one that goes without saying."""
    has_seventh = bool(chord.intersection(_SEVENTHS))
    if tone.semitones == 2:
        return (has_seventh or "6" in chord) and not chord & {"b9", "#9"}
    if tone.semitones == 5:
        return has_seventh and "b3" in chord and "#11" not in chord
    return tone.semitones == 9 and has_seventh and "b13" not in chord


def _missing(chord: set[str], sounding: set[int], name: Symbol) -> Iterable[str]:
    """The tones without which the notes are not this chord, as far as they do not sound."""
    if name.plain == "7alt":
        if not any(degree(each).semitones in sounding for each in ("b9", "#9", "#11", "b13")):
            yield "an altered tone"
        return
    needed: list[str] = [each for each in ("3", "b3", "4", "6") if each in chord]
    if not (chord & _ONLY_DOMINANTS_HAVE and {"3", "b7"} <= chord):
        needed += [each for each in _SEVENTHS if each in chord]
    needed += [each for each in _ALTERED if each in chord]
    needed += _named_extensions(chord)
    yield from (each for each in needed if degree(each).semitones not in sounding)


def _named_extensions(chord: set[str]) -> list[str]:
    """The natural extensions that a symbol names: the highest over a seventh, and all that are added."""
    naturals = [each for each in _NATURAL if each in chord]
    if not chord.intersection(_SEVENTHS):
        return naturals
    added = ["11"] if {"3", "11"} <= chord else []
    return added + [each for each in naturals if each not in added][-1:]


def _said(name: Symbol) -> str:
    return repr(name.plain or "maj")


def _name_of_notes(voicing: Voicing) -> str:
    """The mend: the chord that the notes make, whatever words were written for them."""
    heard = read_over(voicing.heights_semitones, voicing.lowest_over_root_semitones).symbol
    if not heard.is_chord:
        return "leave the chord out, and the notes name themselves"
    return f'the notes make another chord: write chord = "{heard.plain or "maj"}"'


def _listed(words: Iterable[str]) -> str:
    return " and ".join(dict.fromkeys(words))
