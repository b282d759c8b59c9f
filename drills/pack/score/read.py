"""The chords of a MusicXML or MIDI file, so that what was worked out elsewhere need not be typed.

Conventions: pitches are sounding pitches, low to high; notes that begin together are one chord, whatever
staff or voice they stand in, and a note that stands there twice (a tablature repeats its staff) counts once.
Where the voices follow one another from low to high they are the layers; otherwise the program splits as
usual. MIDI has no spelling, so its notes are named by the chord they make.
"""

from __future__ import annotations

import logging
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from drills.errors import DrillsError
from drills.pack.score.heard import Beginning, HeardNote, Voice
from drills.pack.score.unreadable import too_much, unreadable
from drills.theory.pitch import HIGHEST_MIDI, LOWEST_MIDI, NoteName

MOST_BYTES: Final = 8_000_000
MOST_MIDI_BYTES: Final = 1_000_000
MOST_CHORDS: Final = 2_000
FEWEST_NOTES: Final = 3
_LARGEST_CHORD: Final = 9
_MIDI_ENDINGS: Final = (".mid", ".midi")
_ZIPPED: Final = ".mxl"
_XML_ENDINGS: Final = (".musicxml", ".xml", _ZIPPED)


@dataclass(frozen=True, slots=True)
class ReadChord:
    """A chord of a file.

    Attributes:
        where: "measure 3", "measure 3, beat 2" or "second 4.5", for messages.
        midi: the sounding notes, low to high, none twice.
        spelled: their names as written; None where the file has none.
        sizes: how many notes each layer has, low to high; None where the file does not tell.
        root: of the chord symbol that stands over it; None for none.
    """

    where: str
    midi: tuple[int, ...]
    spelled: tuple[NoteName, ...] | None
    sizes: tuple[int, ...] | None
    root: NoteName | None = None


def read_chords(path: Path) -> tuple[ReadChord, ...]:
    """Every chord of three or more notes, in order; one that comes again at once is taken once.

    Raises:
        DrillsError: the file is missing, too large, no music, or holds no chord.
    """
    chords: list[ReadChord] = []
    for begun in _beginnings(path):
        _check_heights(begun, path)
        chord = _chord(begun)
        is_again = bool(chords) and chord.midi == chords[-1].midi
        if len(chord.midi) >= FEWEST_NOTES and not is_again:
            chords.append(chord)
        if len(chords) > MOST_CHORDS:
            raise too_much(f"more than {MOST_CHORDS:,} chords").within(str(path))
    if not chords:
        what = f"no chord of {FEWEST_NOTES} or more notes begins together in this file"
        raise DrillsError(
            what, where=str(path), mend="check that the notes of a chord stand one above another"
        )
    return tuple(chords)


def _beginnings(path: Path) -> list[Beginning]:
    """What begins together; every fault of a parser is an error of the file."""
    data, is_midi = _data(path)
    kind: Literal["MIDI", "MusicXML"] = "MIDI" if is_midi else "MusicXML"
    if not data:
        raise DrillsError("the file is empty", where=str(path), mend=f"export the {kind} file again")
    logging.getLogger("music21").setLevel(logging.ERROR)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return _midi(data) if is_midi else _musicxml(path, data)
    except DrillsError as fault:
        raise fault.within(str(path)) from None
    except Exception as fault:
        # music21 raises whatever it meets, in words that help nobody
        why = "its measures are not put together as the standard asks"
        mend = "open it in the program that wrote it, and export it again"
        raise unreadable(kind, why, where=str(path), mend=mend) from fault


def _midi(data: bytes) -> list[Beginning]:
    from drills.pack.score.read_midi import beginnings

    return list(beginnings(data))


def _musicxml(path: Path, data: bytes) -> list[Beginning]:
    from drills.pack.score.read_xml import beginnings
    from drills.pack.score.unpacked import unpacked

    if path.suffix.lower() == _ZIPPED:
        data = unpacked(data, MOST_BYTES)
    return list(beginnings(data, MOST_CHORDS, MOST_CHORDS * _LARGEST_CHORD))


def _data(path: Path) -> tuple[bytes, bool]:
    """What is in the file, and whether it is MIDI by its name."""
    ending = path.suffix.lower()
    if ending not in _MIDI_ENDINGS + _XML_ENDINGS:
        mend = f"name a file that ends in {', '.join(_XML_ENDINGS)} or {', '.join(_MIDI_ENDINGS)}"
        raise DrillsError(f"cannot tell what kind of file {path.name!r} is", where="--from", mend=mend)
    is_midi = ending in _MIDI_ENDINGS
    most = MOST_MIDI_BYTES if is_midi else MOST_BYTES
    try:
        n_bytes = path.stat().st_size
        data = path.read_bytes() if n_bytes <= most else b""
    except OSError as fault:
        what = f"cannot read the file ({fault.strerror or fault})"
        raise DrillsError(what, where=str(path), mend="check its name and that you may read it") from fault
    if n_bytes > most:
        raise too_much(f"{n_bytes / 1e6:.1f} MB").within(str(path))
    return data, is_midi


def _check_heights(begun: Beginning, path: Path) -> None:
    if not all(LOWEST_MIDI <= each.midi <= HIGHEST_MIDI for each in begun.notes):
        mend = "check its octave, and by what its part is transposed"
        raise DrillsError("a note is out of range", where=f"{path}: {begun.where}", mend=mend)


def _chord(begun: Beginning) -> ReadChord:
    once = {each.midi: each for each in reversed(begun.notes)}  # the first staff tells a note's voice
    notes = [once[midi] for midi in sorted(once)]
    names = tuple(each.name for each in notes if each.name is not None)
    spelled = names if len(names) == len(notes) else None
    return ReadChord(begun.where, tuple(each.midi for each in notes), spelled, _sizes(notes), begun.root)


def _sizes(notes: list[HeardNote]) -> tuple[int, ...] | None:
    """The sizes of layers where voices lie one above the other; None for a single voice or crossing ones."""
    runs: list[tuple[Voice, int]] = []
    for each in notes:
        if runs and runs[-1][0] == each.voice:
            runs[-1] = (each.voice, runs[-1][1] + 1)
        else:
            runs.append((each.voice, 1))
    voices = {voice for voice, _ in runs}
    if len(runs) != len(voices) or not 2 <= len(runs) <= 3:
        return None
    return tuple(size for _, size in runs)
