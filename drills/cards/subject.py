"""What a drill asks about: one voicing over one root, at one place on the neck."""

from __future__ import annotations

from dataclasses import dataclass, field

from drills.neck.grip import Grip
from drills.neck.hand import USUAL_HAND, Hand
from drills.neck.instrument import Instrument
from drills.neck.search import Place
from drills.theory.chord import FOURTHS, Chord
from drills.theory.degree import Degree
from drills.theory.naming import Named, Reading, read_over
from drills.theory.pitch import NoteName
from drills.theory.voicing import Layer, PitchedVoicing, Voicing


@dataclass(frozen=True, slots=True)
class Subject:
    """One voicing in one key, ready to be asked about.

    Attributes:
        place: the grip and what it sounds.
        chord: the chord over the root; None for a bare layer, which is called by its own name.
        instrument: what it is played on.
        is_left_handed: how pictures are drawn.
        others: further grips on the same strings, which count as well.
        nickname, note: the recipe's own words; may be empty.
        id: the recipe's own id of the voicing; may be empty.
        reduced: how the voicing was made smaller to fit the hand, such as "without its lowest note".
        week: when it comes; None if not said.
        turn: the place of the voicing in its recipe, for the order of first appearance.
        hand: whose grips count, where a drill moves the voicing.
        twin: the voicing whose grip is most easily taken for this one; None for none.
        next: what comes after it in a progression; None outside of one.
        beside: the voicings of the deck, in whatever key, for a drill that asks which of them it is.
    """

    place: Place
    chord: Chord | None
    instrument: Instrument
    is_left_handed: bool = False
    others: tuple[Grip, ...] = ()
    nickname: str = ""
    note: str = ""
    id: str = ""
    reduced: str = ""
    week: int | None = None
    turn: int = 0
    hand: Hand = USUAL_HAND
    twin: Subject | None = None
    next: Subject | None = None
    beside: tuple[Subject, ...] = field(default=(), compare=False, repr=False)

    @property
    def sounding(self) -> PitchedVoicing:
        """The notes as they sound."""
        return self.place.sounding

    @property
    def voicing(self) -> Voicing:
        """The voicing, free of key."""
        return self.place.sounding.voicing

    @property
    def grip(self) -> Grip:
        """Where it lies."""
        return self.place.grip

    @property
    def root(self) -> NoteName:
        """The root it is asked over."""
        return self.place.sounding.root

    @property
    def reading(self) -> Reading:
        """How it reads over its root, degrees as typed."""
        voicing = self.voicing
        return read_over(voicing.heights_semitones, voicing.lowest_over_root_semitones, voicing.degrees)

    @property
    def named(self) -> Named:
        """The notes with the name that their degrees give them."""
        return Named(self.sounding, self.reading)

    @property
    def is_rootless(self) -> bool:
        """Whether the root of its chord does not sound."""
        return self.chord is not None and self.reading.is_rootless

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The named layers, lowest first."""
        return self.voicing.layers

    @property
    def is_single_layer(self) -> bool:
        """Whether it is one layer by itself."""
        return len(self.layers) == 1

    def alternate(self, count: int) -> int:
        """A choice from 0 to count - 1 that goes round with the keys, so that all are asked in time."""
        return FOURTHS.index(self.root.pitch_class) % count

    def degrees(self, layer: Layer) -> tuple[Degree, ...]:
        """The degrees of a layer, low to high."""
        return self.voicing.degrees[layer.places]
