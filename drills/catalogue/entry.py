"""One voicing of the catalogue: what it is, what it is called, and where it can be held."""

from __future__ import annotations

from dataclasses import dataclass, field

from drills.catalogue.rank import REASONS
from drills.catalogue.setup import Setup
from drills.neck.grip import Grip
from drills.neck.hand import hold
from drills.neck.search import Place, find_in_key
from drills.theory.chord import FOURTHS
from drills.theory.pitch import NoteName
from drills.theory.symbol import Symbol
from drills.theory.voicing import PitchedVoicing, Voicing


@dataclass(frozen=True, slots=True)
class Entry:
    """A voicing of the catalogue.

    Attributes:
        voicing: its degrees and layers, free of key.
        asked: the chord type that it was found for.
        symbol: the chord that its own tones make; m7 may be answered by an m11.
        key_mask: a bit for each root's pitch class over which it can be held.
        stretch_mm: of its grip; None where it cannot be held.
        points: for each of rank.REASONS.
        setup: whose grips count.
        root: where its grip is shown: C, or the first key by fourths from there in which it can be held.
        lowest_midi: the lowest note of that grip.
        string_set: which of setup.string_sets that grip is on.
    """

    voicing: Voicing
    asked: str
    symbol: Symbol
    key_mask: int
    stretch_mm: float | None
    points: tuple[int, ...]
    setup: Setup = field(repr=False)
    root: NoteName = field(repr=False)
    lowest_midi: int = field(repr=False)
    string_set: int = field(repr=False)

    @property
    def keys(self) -> int:
        """In how many of the twelve keys it can be held."""
        return self.key_mask.bit_count()

    @property
    def key_classes(self) -> tuple[int, ...]:
        """The pitch classes of the roots over which it can be held, by fourths from C."""
        return tuple(each for each in FOURTHS if self.key_mask >> each & 1)

    @property
    def is_rootless(self) -> bool:
        """Whether the root does not sound."""
        return all(each.semitones for each in self.voicing.degrees)

    @property
    def score(self) -> int:
        """All points together; the higher comes first."""
        return sum(self.points)

    @property
    def why(self) -> tuple[tuple[str, int], ...]:
        """The reasons for its place in the order, each with its points."""
        return tuple(zip(REASONS, self.points, strict=True))

    @property
    def place(self) -> Place | None:
        """Its best grip over its root, which nothing had to be searched for; None where there is none."""
        if self.stretch_mm is None:
            return None
        instrument = self.setup.instrument
        strings = tuple(self.setup.string_sets(len(self.voicing.degrees)))[self.string_set]
        sounding = PitchedVoicing(self.voicing, self.root, self.lowest_midi)
        frets: list[int | None] = [None] * len(instrument.open_midi)
        for string, midi in zip(strings, sounding.midi, strict=True):
            frets[string] = midi - instrument.open_midi[string]
        grip = hold(tuple(frets), instrument, self.setup.hand)
        return Place(sounding, grip) if isinstance(grip, Grip) else None

    def place_over(self, root: NoteName) -> Place | None:
        """Its best grip over any root."""
        if not self.key_mask >> root.pitch_class & 1:
            return None
        found = find_in_key(self.voicing, root, self.setup.instrument, self.setup.hand)
        wanted = self.setup.strings
        return next(each for each in found.places if wanted is None or each.grip.strings == wanted)
