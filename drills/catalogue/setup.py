"""What a catalogue is made for: an instrument, a hand, and perhaps one set of strings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from drills.neck.hand import USUAL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.neck.search import STANDARD_INSTRUMENT


@dataclass(frozen=True, slots=True)
class Setup:
    """Whose grips count.

    Attributes:
        instrument: its strings, capo and frets.
        hand: its limits.
        strings: places of the strings that are all to be used, 0 the lowest; None for any.
    """

    instrument: Instrument = STANDARD_INSTRUMENT
    hand: Hand = USUAL_HAND
    strings: tuple[int, ...] | None = None

    def string_sets(self, notes: int) -> Iterator[tuple[int, ...]]:
        """The sets of strings for so many notes; low strings first.

        >>> len(list(Setup().string_sets(4))), list(Setup(strings=(2, 3, 4, 5)).string_sets(4))
        (15, [(2, 3, 4, 5)])
        """
        if self.strings is None:
            yield from combinations(range(len(self.instrument.open_midi)), notes)
        elif len(self.strings) == notes:
            yield self.strings
