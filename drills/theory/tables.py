"""The rows that the theory stands on: layer structures, chord-tone rules, low interval limits.

Every table is a tuple, so that nobody can add to it at run time.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StructureRow:
    """A structure of three or four notes that can be turned.

    Attributes:
        name: what players call it.
        semitones: its notes over its root, rising, root first.
        members: for each note, the inversion when that note is lowest (0 root position).
        family: triad, shell, sus, cluster or seventh chord.
    """

    name: str
    semitones: tuple[int, ...]
    members: tuple[int, ...]
    family: str


@dataclass(frozen=True, slots=True)
class GapRow:
    """A structure that stands on its lowest note, known by its gaps.

    Attributes:
        gaps_semitones: from note to note, each within an octave.
        spacing: close for the plain form, open for the form with the middle note an octave up.
    """

    name: str
    gaps_semitones: tuple[int, ...]
    spacing: str
    family: str


INVERSIONS = ("root position", "first inversion", "second inversion", "third inversion")

# Common practice, no source: the names guitarists and pianists use. Together the two tables cover all 19
# transposition classes of three pitch classes (Forte 1973, appendix 1: 12 when inversion counts as well).
GAP_ROWS = (
    GapRow("quartal stack", (5, 5), "close", "stack"),
    GapRow("quartal stack", (10, 7), "open", "stack"),
    GapRow("quintal stack", (7, 7), "close", "stack"),
    GapRow("sus2", (2, 5), "close", "sus"),
    GapRow("sus4", (5, 2), "close", "sus"),
    GapRow("sus4", (7, 10), "open", "sus"),
    GapRow("mixed quartal stack", (5, 6), "close", "stack"),
    GapRow("mixed quartal stack", (6, 5), "close", "stack"),
    GapRow("mixed quintal stack", (7, 6), "close", "stack"),
    GapRow("mixed quintal stack", (6, 7), "close", "stack"),
    GapRow("quartal stack", (5, 5, 5), "close", "stack"),
    GapRow("quintal stack", (7, 7, 7), "close", "stack"),
    GapRow("mixed quartal stack", (5, 5, 6), "close", "stack"),
    GapRow("mixed quartal stack", (5, 6, 5), "close", "stack"),
    GapRow("mixed quartal stack", (6, 5, 5), "close", "stack"),
    GapRow("mixed quintal stack", (7, 7, 6), "close", "stack"),
    GapRow("mixed quintal stack", (7, 6, 7), "close", "stack"),
    GapRow("mixed quintal stack", (6, 7, 7), "close", "stack"),
)

_IN_ORDER = (0, 1, 2)
_SHELL = (0, 1, 3)
_NO_THIRD = (0, 2, 3)

STRUCTURE_ROWS = (
    StructureRow("major triad", (0, 4, 7), _IN_ORDER, "triad"),
    StructureRow("minor triad", (0, 3, 7), _IN_ORDER, "triad"),
    StructureRow("diminished triad", (0, 3, 6), _IN_ORDER, "triad"),
    StructureRow("augmented triad", (0, 4, 8), _IN_ORDER, "triad"),
    StructureRow("sus4 flat five", (0, 5, 6), _IN_ORDER, "sus"),
    StructureRow("sus sharp four", (0, 6, 7), _IN_ORDER, "sus"),
    StructureRow("major seventh shell", (0, 4, 11), _SHELL, "shell"),
    StructureRow("dominant seventh shell", (0, 4, 10), _SHELL, "shell"),
    StructureRow("minor seventh shell", (0, 3, 10), _SHELL, "shell"),
    StructureRow("minor-major seventh shell", (0, 3, 11), _SHELL, "shell"),
    StructureRow("major seventh without third", (0, 7, 11), _NO_THIRD, "shell"),
    StructureRow("seventh without third", (0, 7, 10), _NO_THIRD, "shell"),
    StructureRow("seventh flat five without third", (0, 6, 10), _NO_THIRD, "shell"),
    StructureRow("split third", (0, 3, 4), _IN_ORDER, "cluster"),
    StructureRow("semitone cluster", (0, 1, 2), _IN_ORDER, "cluster"),
    StructureRow("semitone-tone cluster", (0, 1, 3), _IN_ORDER, "cluster"),
    StructureRow("tone-semitone cluster", (0, 2, 3), _IN_ORDER, "cluster"),
    StructureRow("whole-tone cluster", (0, 2, 4), _IN_ORDER, "cluster"),
)

_FOUR = (0, 1, 2, 3)

# Common practice, no source. Sixth chords are the inversions of the minor seventh and half-diminished rows.
FOUR_NOTE_ROWS = (
    StructureRow("major seventh chord", (0, 4, 7, 11), _FOUR, "seventh chord"),
    StructureRow("dominant seventh chord", (0, 4, 7, 10), _FOUR, "seventh chord"),
    StructureRow("minor seventh chord", (0, 3, 7, 10), _FOUR, "seventh chord"),
    StructureRow("minor-major seventh chord", (0, 3, 7, 11), _FOUR, "seventh chord"),
    StructureRow("half-diminished seventh chord", (0, 3, 6, 10), _FOUR, "seventh chord"),
    StructureRow("diminished seventh chord", (0, 3, 6, 9), _FOUR, "seventh chord"),
    StructureRow("diminished major seventh chord", (0, 3, 6, 11), _FOUR, "seventh chord"),
    StructureRow("augmented major seventh chord", (0, 4, 8, 11), _FOUR, "seventh chord"),
    StructureRow("augmented seventh chord", (0, 4, 8, 10), _FOUR, "seventh chord"),
    StructureRow("dominant seventh flat five chord", (0, 4, 6, 10), _FOUR, "seventh chord"),
    StructureRow("major seventh flat five chord", (0, 4, 6, 11), _FOUR, "seventh chord"),
    StructureRow("seventh sus4 chord", (0, 5, 7, 10), _FOUR, "seventh chord"),
    StructureRow("major seventh sus4 chord", (0, 5, 7, 11), _FOUR, "seventh chord"),
    StructureRow("major triad with ninth", (0, 2, 4, 7), (0, 3, 1, 2), "seventh chord"),
    StructureRow("minor triad with ninth", (0, 2, 3, 7), (0, 3, 1, 2), "seventh chord"),
)

# Pease and Pullig, Modern Jazz Voicings (2001), low interval limits, from memory: the lowest MIDI note that
# may lie below each interval. Books differ by up to a third, so these only ever warn.
LOW_INTERVAL_LIMITS_MIDI = (
    (1, 52),
    (2, 51),
    (3, 48),
    (4, 46),
    (5, 46),
    (6, 47),
    (7, 34),
    (8, 41),
    (9, 41),
    (10, 41),
    (11, 41),
    (13, 40),
    (14, 39),
)
