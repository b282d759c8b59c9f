"""A voicing as typed on the command line, and where it lies.

Octaves: frets and notes with octaves stay where they are; degrees and notes without octaves are
looked for in every octave of the neck.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.errors import DrillsError
from drills.neck.grip import Frets, Grip, Refusal
from drills.neck.hand import USUAL_HAND, Hand, hold
from drills.neck.instrument import MOST_FRETS, Instrument
from drills.neck.search import Found, find_at, find_in_key, roots_by_fourths
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import NoteName
from drills.theory.text import Written, read_voicing
from drills.theory.voicing import PitchedVoicing, Voicing

_ANY_ROOT = NoteName(0)


@dataclass(frozen=True, slots=True)
class Search:
    """What counts as a grip.

    Attributes:
        hand: its limits.
        arpeggio: one note after another, not held together.
        crossing: a higher note may lie on a lower string.
    """

    hand: Hand = USUAL_HAND
    arpeggio: bool = False
    crossing: bool = False


@dataclass(frozen=True, slots=True)
class OnNeck:
    """Where a voicing is shown on the neck.

    Attributes:
        sounding: the voicing in the octave of these frets.
        frets: one for each string; empty where the neck has no place for it.
        held: the grip, or why it is none.
    """

    sounding: PitchedVoicing
    frets: Frets
    held: Grip | Refusal


@dataclass(frozen=True, slots=True)
class Given:
    """A voicing that was typed.

    Attributes:
        written: what the text says.
        named: what it is called.
        instrument: what it is for.
    """

    written: Written
    named: Named
    instrument: Instrument

    @property
    def voicing(self) -> Voicing:
        """The voicing, free of key."""
        return self.named.sounding.voicing

    def find(self, search: Search) -> Found:
        """The grips in the key it was given in, best first."""
        if not self.written.is_fixed:
            return self.find_over(self.named.root, search)
        sounding, hand = self.named.sounding, search.hand
        return find_at(sounding, self.instrument, hand, arpeggio=search.arpeggio, crossing=search.crossing)

    def find_over(self, root: NoteName, search: Search) -> Found:
        """The grips over any root, in every octave, best first."""
        return find_in_key(
            self.voicing,
            root,
            self.instrument,
            search.hand,
            arpeggio=search.arpeggio,
            crossing=search.crossing,
        )

    def find_in_all_keys(self, search: Search) -> dict[NoteName, Found]:
        """The same over twelve roots, by fourths from C, spelled as charts do."""
        roots = roots_by_fourths(self.named.reading.symbol.quality)
        return {root: self.find_over(root, search) for root in roots}

    def on_neck(self, search: Search) -> OnNeck:
        """The frets as typed; of another voicing its best grip, else the narrowest miss."""
        if self.written.frets is not None:
            long_neck = replace(self.instrument, frets=MOST_FRETS)
            frets = self.written.frets
            return OnNeck(self.named.sounding, frets, hold(frets, long_neck, search.hand))
        return self.shown(self.find(search))

    def shown(self, found: Found) -> OnNeck:
        """The best of what was found, else the narrowest miss."""
        if found.places:
            best = found.places[0]
            return OnNeck(best.sounding, best.grip.frets, best.grip)
        sounding, refusal = self.named.sounding, found.refusal or Refusal("", 0.0)
        if refusal.frets:
            strings = zip(self.instrument.open_midi, refusal.frets, strict=True)
            lowest_midi = min(midi + fret for midi, fret in strings if fret is not None)
            sounding = self.voicing.over(sounding.root, lowest_midi)
        return OnNeck(sounding, refusal.frets, refusal)

    def without_lowest(self) -> Given:
        """The same over the same root without its lowest note; there must be two or more."""
        smaller = self.voicing.top(len(self.voicing.degrees) - 1)
        written = replace(
            self.written,
            midi=self.written.midi[1:],
            sizes=smaller.sizes,
            spelled=None,
            degrees=smaller.degrees,
            frets=None,
        )
        named = name_notes(written.midi, written.sizes, root=self.named.root, degrees=written.degrees)
        return Given(written, named, self.instrument)


def read_given(
    words: Sequence[str], root: NoteName | None, instrument: Instrument, *, any_root_will_do: bool = False
) -> Given:
    """Reads and names a voicing; several words count as one text.

    Args:
        words: notes, degrees or frets.
        root: what `--root` says.
        instrument: for frets and the lowest place.
        any_root_will_do: degrees without a root are then read over C.
    """
    try:
        written = read_voicing(words, root=root, open_midi=instrument.open_midi)
    except DrillsError:
        if root is not None or not any_root_will_do:
            raise
        root = _ANY_ROOT
        written = read_voicing(words, root=root, open_midi=instrument.open_midi)
    named = name_notes(
        written.midi, written.sizes, root=root, degrees=written.degrees, spelled=written.spelled
    )
    return Given(written, named, instrument)
