"""What goes onto a score, and whether a staff can show it.

Source: ledger lines of the treble clef 8vb and of the bass clef, common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from drills.cards.identity import voicing_identity
from drills.cards.subject import Subject
from drills.errors import DrillsError
from drills.neck.instrument import Instrument
from drills.theory.chord import FOURTHS
from drills.theory.pitch import Pitch

HALF_NOTE: Final = 2.0
"""How long a voicing lasts, in quarter notes."""

_MOST_LEDGER_LINES: Final = 7
_TREBLE_LINES: Final = (30, 38)
"""The outer lines of the treble clef 8vb, E3 and F4 as they sound, in letters above C of octave -1."""
_BASS_LINES: Final = (25, 33)
"""The outer lines of the bass clef, G2 and A3."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What goes onto a score.

    Attributes:
        title: of the deck.
        subjects: the voicings, each in its keys.
        instrument: what they are played on.
    """

    title: str
    subjects: tuple[Subject, ...]
    instrument: Instrument

    @property
    def groups(self) -> Iterator[tuple[Subject, ...]]:
        """One voicing after another, its keys by fourths."""
        for _, group in groupby(self.subjects, voicing_identity):
            yield tuple(sorted(group, key=lambda each: FOURTHS.index(each.root.pitch_class)))


def clef_name(group: Sequence[Subject]) -> str:
    """The clef under which a voicing needs fewer ledger lines in all its keys; the treble one if in doubt."""
    is_low = _most_ledger_lines(group, _BASS_LINES) < _most_ledger_lines(group, _TREBLE_LINES)
    return "BassClef" if is_low else "Treble8vbClef"


def ledger_lines(pitch: Pitch, lines: tuple[int, int]) -> int:
    """How many ledger lines a note needs beyond the outer lines of a clef."""
    place = pitch.octave * 7 + pitch.name.letter + 7
    return max(0, (lines[0] - place) // 2, (place - lines[1]) // 2)


def check_range(subject: Subject) -> None:
    """Raises where a voicing is too wide for a staff.

    Raises:
        DrillsError: it would need more ledger lines than can be read.
    """
    most = min(_most_ledger_lines([subject], lines) for lines in (_TREBLE_LINES, _BASS_LINES))
    if most > _MOST_LEDGER_LINES:
        notes = " ".join(pitch.plain for pitch in subject.sounding.pitches)
        what = f"{notes} would need {most} ledger lines, more than a staff can show well"
        raise DrillsError(what, where="notation", mend="bring its layers closer together")


def _most_ledger_lines(group: Sequence[Subject], lines: tuple[int, int]) -> int:
    return max(ledger_lines(pitch, lines) for subject in group for pitch in subject.sounding.pitches)
