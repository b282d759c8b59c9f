"""An instrument: a tuning on a neck of a certain length.

Conventions: frets are counted from the capo, as players count them; positions along the neck are in
millimetres from the nut. Fret n stands at L(1 - 2^(-n/12)).
Source: equal temperament; 648 mm is a common scale length (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from drills.errors import DrillsError
from drills.neck.tuning import STANDARD, Tuning
from drills.theory.pitch import Pitch, read_note_name

FEWEST_FRETS, MOST_FRETS = 12, 24

_IN_FLATS = tuple(map(read_note_name, "C Db D Eb E F Gb G Ab A Bb B".split()))
_IN_SHARPS = tuple(map(read_note_name, "C C# D D# E F F# G G# A A# B".split()))


@dataclass(frozen=True, slots=True)
class Instrument:
    """A guitar as the search sees it.

    Attributes:
        tuning: the open strings.
        capo: the fret it sits at; 0 for none.
        frets: of the whole neck.
        scale_length_mm: from nut to bridge.
        open_midi: what the open strings sound, capo and all, low to high.
        positions_mm: of each fret from the capo on, 0 the capo or nut itself.
    """

    tuning: Tuning = STANDARD
    capo: int = 0
    frets: int = 20
    scale_length_mm: float = 648.0
    open_midi: tuple[int, ...] = field(init=False, compare=False, repr=False)
    positions_mm: tuple[float, ...] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Checks the measures and works out what the search asks for most."""
        if not FEWEST_FRETS <= self.frets <= MOST_FRETS:
            mend = f"a neck has {FEWEST_FRETS} to {MOST_FRETS} frets"
            raise DrillsError(f"{self.frets} frets", where="frets", mend=mend)
        if not 0 <= self.capo <= self.frets - FEWEST_FRETS // 2:
            mend = f"put it between 0 and {self.frets - FEWEST_FRETS // 2}"
            raise DrillsError(f"a capo at fret {self.capo}", where="capo", mend=mend)
        if not 300 <= self.scale_length_mm <= 900:
            mend = "write millimetres between 300 and 900, such as 648"
            raise DrillsError(
                f"a scale length of {self.scale_length_mm:g} mm", where="scale_length_mm", mend=mend
            )
        object.__setattr__(self, "open_midi", tuple(midi + self.capo for midi in self.tuning.open_midi))
        positions = tuple(
            fret_position_mm(fret, self.scale_length_mm) for fret in range(self.capo, self.frets + 1)
        )
        object.__setattr__(self, "positions_mm", positions)

    @property
    def open_pitches(self) -> tuple[Pitch, ...]:
        """The open strings as they sound over the capo: sharps with F♯ and no B♭ among them, else flats."""
        if not self.capo:
            return self.tuning.open_pitches
        classes = [midi % 12 for midi in self.open_midi]
        names = _IN_SHARPS if 6 in classes and 10 not in classes else _IN_FLATS
        return tuple(names[midi % 12].at_midi(midi) for midi in self.open_midi)

    @property
    def highest_fret(self) -> int:
        """The last fret, counted from the capo."""
        return self.frets - self.capo


def fret_position_mm(fret: int, scale_length_mm: float = 648.0) -> float:
    """Where a fret stands, in millimetres from the nut.

    >>> round(fret_position_mm(12), 1)
    324.0
    """
    return scale_length_mm * (1.0 - math.pow(2.0, -fret / 12.0))
