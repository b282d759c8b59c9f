"""What a voicing is called: the best reading of its notes, over a spelled root.

Source: how charts spell roots and slash basses is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from drills.theory.chord import Chord, chart_name, habit_root
from drills.theory.clash import low_intervals
from drills.theory.degree import Degree
from drills.theory.pitch import NoteName
from drills.theory.reading import RANK_SELF_NAMED, Reading, best_reading, read_over, readings
from drills.theory.voicing import Layer, PitchedVoicing, Voicing

__all__ = ["Named", "Reading", "chord_of", "name_notes", "read_over", "readings"]


@dataclass(frozen=True, slots=True)
class Named:
    """A sounding voicing with its name.

    Attributes:
        sounding: the notes, degree-true.
        reading: the reading that names it.
        others: the other readings to tell, best first; None for all of them.
    """

    sounding: PitchedVoicing
    reading: Reading
    others: tuple[Reading, ...] | None = None

    @property
    def root(self) -> NoteName:
        """The root, whether it sounds or not."""
        return self.sounding.root

    @property
    def bass(self) -> NoteName:
        """The lowest note."""
        return self.reading.degrees[0].over(self.root)

    @property
    def chord_plain(self) -> str:
        """The chord's name, plain form."""
        slash = _slash_bass(self.reading, self.root)
        return f"{self.root.plain}{self.reading.symbol.plain}{f'/{slash.plain}' if slash else ''}"

    @property
    def chord_shown(self) -> str:
        """The chord's name, shown form."""
        slash = _slash_bass(self.reading, self.root)
        return f"{self.root.shown}{self.reading.symbol.shown}{f'/{slash.shown}' if slash else ''}"

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The named layers, lowest first."""
        return self.sounding.voicing.layers

    @property
    def also(self) -> tuple[Reading, ...]:
        """The other readings, best first."""
        if self.others is not None:
            return self.others
        own = self.reading.lowest_over_root_semitones
        ranked = readings(self.sounding.voicing.heights_semitones)
        return tuple(each for each in ranked if each.lowest_over_root_semitones != own)

    @property
    def also_named(self) -> tuple[tuple[str, str, NoteName], ...]:
        """The other readings as (plain name, shown name, root)."""
        return tuple(self._named(each) for each in self.also)

    def _named(self, reading: Reading) -> tuple[str, str, NoteName]:
        root = habit_root(
            self.sounding.lowest_midi - reading.lowest_over_root_semitones, reading.symbol.quality
        )
        other = replace(self, sounding=replace(self.sounding, root=root), reading=reading)
        return other.chord_plain, other.chord_shown, root

    @property
    def low_intervals(self) -> tuple[tuple[int, int], ...]:
        """Neighbouring notes too low to be clear, as places in the voicing."""
        midi = self.sounding.midi
        return tuple((midi.index(low), midi.index(high)) for low, high in low_intervals(midi))


def _slash_bass(reading: Reading, root: NoteName) -> NoteName | None:
    """The note to write after a slash: the lowest one, where the root sounds above it."""
    if reading.is_rootless or not reading.lowest_over_root_semitones or not reading.symbol.is_chord:
        return None
    return chart_name(reading.degrees[0].over(root))


def name_notes(
    midi: tuple[int, ...],
    sizes: tuple[int, ...],
    *,
    root: NoteName | None = None,
    degrees: tuple[Degree, ...] | None = None,
    spelled: tuple[NoteName, ...] | None = None,
) -> Named:
    """Names sounding notes.

    Args:
        midi: MIDI notes, low to high; one to eight of them.
        sizes: notes in each layer, lowest layer first.
        root: the root, when it is given; it need not sound.
        degrees: what a player typed over that root; they stand.
        spelled: note names as a player typed them; a sounding root keeps its spelling where it can.
    """
    lowest_midi = midi[0]
    heights = tuple([note - lowest_midi for note in midi])
    if root is None:
        reading = best_reading(heights)
        if spelled is not None and reading.rank == RANK_SELF_NAMED:
            reading = _as_spelled(reading, readings(heights), spelled, lowest_midi)
        root = _root_of(reading, lowest_midi, spelled)
    else:
        reading = read_over(heights, (lowest_midi - root.pitch_class) % 12, degrees)
    return Named(PitchedVoicing(_voicing(reading.degrees, heights, sizes), root, lowest_midi), reading)


@lru_cache(maxsize=65536)
def _voicing(degrees: tuple[Degree, ...], heights: tuple[int, ...], sizes: tuple[int, ...]) -> Voicing:
    return Voicing(degrees, heights, sizes)


def _as_spelled(
    best: Reading, ranked: tuple[Reading, ...], spelled: tuple[NoteName, ...], lowest_midi: int
) -> Reading:
    """The reading of an augmented triad that its spelling asks for; else the best."""
    letters = {name.letter for name in spelled}
    for reading in ranked:
        for name in spelled:
            is_root = (lowest_midi - reading.lowest_over_root_semitones) % 12 == name.pitch_class
            has_third_and_fifth = {(name.letter + 2) % 7, (name.letter + 4) % 7} <= letters
            if is_root and has_third_and_fifth and reading.symbol.plain == "aug":
                return reading
    return best


def _root_of(reading: Reading, lowest_midi: int, spelled: tuple[NoteName, ...] | None) -> NoteName:
    """The root as typed, where the typed notes are degree-true to it; else as charts spell it."""
    habit = habit_root(lowest_midi - reading.lowest_over_root_semitones, reading.symbol.quality)
    if spelled is None:
        return habit
    typed = next((name for name in spelled if name.pitch_class == habit.pitch_class), habit)
    true_names = tuple(each.over(typed) for each in reading.degrees)
    return typed if true_names == spelled else habit


def chord_of(reading: Reading, root: NoteName) -> Chord:
    """The chord a reading names, with just the degrees that sound."""
    return Chord(
        root, tuple(sorted(set(reading.degrees), key=lambda each: (each.number, each.alter_semitones)))
    )
