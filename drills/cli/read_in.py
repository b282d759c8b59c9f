"""The chords of a notation file, named: what `drills name --from` shows and what its recipe holds."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from drills.errors import DrillsError
from drills.theory.layer import LARGEST_LAYER
from drills.theory.naming import Named, name_notes
from drills.theory.voicing import DEFAULT_SIZES, MOST_NOTES

if TYPE_CHECKING:
    from drills.pack.score import ReadChord
    from drills.theory.pitch import NoteName


@dataclass(frozen=True, slots=True)
class ReadIn:
    """What a file holds.

    Attributes:
        named: where each chord stands, and what it is.
        skipped: where a chord stands that has too many notes, and how many.
    """

    named: tuple[tuple[str, Named], ...]
    skipped: tuple[tuple[str, int], ...]


def read_in(path: Path, root: NoteName | None) -> ReadIn:
    """Reads and names every chord of a file.

    Args:
        path: MusicXML or MIDI.
        root: over which all are named; None takes that of each chord's symbol, else its best reading.

    Raises:
        DrillsError: the file cannot be read, or all of its chords have too many notes.
    """
    from drills.pack.score import read_chords

    chords = read_chords(path)
    named = tuple((each.where, _named(each, root)) for each in chords if len(each.midi) <= MOST_NOTES)
    skipped = tuple((each.where, len(each.midi)) for each in chords if len(each.midi) > MOST_NOTES)
    if not named:
        where, count = skipped[0]
        what = f"every chord has more than {MOST_NOTES} notes ({count} in {where})"
        raise DrillsError(what, where=str(path), mend="take out doublings, or export one part alone")
    return ReadIn(named, skipped)


def _named(chord: ReadChord, root: NoteName | None) -> Named:
    sizes = chord.sizes
    if sizes is None or max(sizes) > LARGEST_LAYER:
        sizes = DEFAULT_SIZES[len(chord.midi)]
    return name_notes(chord.midi, sizes, root=root or chord.root, spelled=chord.spelled)
