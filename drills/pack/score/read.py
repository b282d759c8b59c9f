"""The chords of a MusicXML or MIDI file, so that what was worked out elsewhere need not be typed.

Conventions: pitches are sounding pitches, low to high; notes that begin together are one chord, whatever
staff or voice they stand in, and a note that stands there twice (a tablature repeats its staff) counts once.
Where the voices follow one another from low to high they are the layers; otherwise the program splits as
usual. MIDI has no spelling, so its notes are named by the chord they make.
"""

from __future__ import annotations

import logging
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from drills.errors import DrillsError
from drills.theory.pitch import LETTERS, NoteName

if TYPE_CHECKING:
    from music21 import stream

MOST_BYTES: Final = 8_000_000
MOST_CHORDS: Final = 2_000
FEWEST_NOTES: Final = 3
_MIDI_ENDINGS: Final = (".mid", ".midi")
_ZIPPED: Final = ".mxl"
_XML_ENDINGS: Final = (".musicxml", ".xml", _ZIPPED)


@dataclass(frozen=True, slots=True)
class ReadChord:
    """A chord of a file.

    Attributes:
        where: "measure 3" or "measure 3, beat 2", for messages.
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


@dataclass(frozen=True, slots=True)
class _Heard:
    midi: int
    name: NoteName | None
    voice: tuple[int, str]


def read_chords(path: Path) -> tuple[ReadChord, ...]:
    """Every chord of three or more notes, in order; one that comes again at once is taken once.

    Raises:
        DrillsError: the file is missing, too large, no music, or holds no chord.
    """
    score = _parsed(path)
    chords: list[ReadChord] = []
    for chord in _chords(score, is_spelled=path.suffix.lower() not in _MIDI_ENDINGS):
        if not chords or chord.midi != chords[-1].midi:
            chords.append(chord)
        if len(chords) > MOST_CHORDS:
            raise _too_much(path, f"more than {MOST_CHORDS:,} chords")
    if not chords:
        what = f"no chord of {FEWEST_NOTES} or more notes begins together in this file"
        raise DrillsError(
            what, where=str(path), mend="check that the notes of a chord stand one above another"
        )
    return tuple(chords)


def _parsed(path: Path) -> stream.Stream[Any]:
    ending = path.suffix.lower()
    if ending not in _MIDI_ENDINGS + _XML_ENDINGS:
        mend = f"name a file that ends in {', '.join(_XML_ENDINGS)} or {', '.join(_MIDI_ENDINGS)}"
        raise DrillsError(f"cannot tell what kind of file {path.name!r} is", where="--from", mend=mend)
    try:
        n_bytes = path.stat().st_size
        data = path.read_bytes() if n_bytes <= MOST_BYTES else b""
    except OSError as fault:
        what = f"cannot read the file ({fault.strerror or fault})"
        raise DrillsError(what, where=str(path), mend="check its name and that you may read it") from fault
    if n_bytes > MOST_BYTES:
        raise _too_much(path, f"{n_bytes / 1e6:.0f} MB")
    if data.count(b"<measure ") > MOST_CHORDS:  # parsing them would take minutes
        raise _too_much(path, f"more than {MOST_CHORDS:,} measures")
    return _parse(path, data, is_midi=ending in _MIDI_ENDINGS)


def _parse(path: Path, data: bytes, *, is_midi: bool) -> stream.Stream[Any]:
    import warnings

    from music21 import converter, midi

    logging.getLogger("music21").setLevel(logging.ERROR)
    kind = "MIDI" if is_midi else "MusicXML"
    if not data:
        raise DrillsError("the file is empty", where=str(path), mend=f"export the {kind} file again")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            if is_midi:
                file = midi.MidiFile()
                file.readstr(data)
                played: stream.Stream[Any] = midi.translate.midiFileToStream(file)
                return played
            if path.suffix.lower() == _ZIPPED:
                return converter.parse(path, format="musicxml", forceSource=True)
            return converter.parseData(data, format="musicxml")
    except Exception as fault:
        # music21 raises whatever its parsers meet: expat, zip, struct and index faults of many kinds
        what = f"cannot be read as {kind} ({type(fault).__name__}: {_first_line(fault)})"
        raise DrillsError(what, where=str(path), mend=f"export the {kind} file again") from fault


def _first_line(fault: Exception) -> str:
    return (str(fault).splitlines() or [""])[0][:120]


def _too_much(path: Path, what: str) -> DrillsError:
    mend = "cut out the bars you want, and read those"
    return DrillsError(f"too much to read at once: {what}", where=str(path), mend=mend)


def _chords(score: stream.Stream[Any], *, is_spelled: bool) -> Iterator[ReadChord]:
    """What begins together, in time order."""
    from music21 import harmony, note, stream

    beginnings: dict[float, list[_Heard]] = defaultdict(list)
    places: dict[float, str] = {}
    roots: dict[float, NoteName] = {}
    for turn, part in enumerate(score.getElementsByClass(stream.Part) or [score]):
        for each in part.recurse().getElementsByClass(note.NotRest):
            offset = float(each.getOffsetInHierarchy(part))
            if isinstance(each, harmony.ChordSymbol):
                if each.root() is not None and not isinstance(each, harmony.NoChord):
                    roots[offset] = _name(each.root())
                continue
            if not _begins(each):
                continue
            voice = (turn, str(each.activeSite.id) if isinstance(each.activeSite, stream.Voice) else "")
            places.setdefault(offset, _where(each))
            beginnings[offset] += [
                _Heard(round(pitch.ps), _name(pitch) if is_spelled else None, voice) for pitch in each.pitches
            ]
    for offset in sorted(beginnings):
        chord = _chord(places[offset], beginnings[offset], roots.get(offset))
        if len(chord.midi) >= FEWEST_NOTES:
            yield chord


def _begins(each: Any) -> bool:
    """Whether it has pitches that are struck here: no percussion, no grace note, no note tied over."""
    is_struck = each.tie is None or each.tie.type == "start"
    return bool(each.pitches) and is_struck and not each.duration.isGrace


def _name(pitch: Any) -> NoteName:
    """The spelling of a pitch; a triple sign, which we do not know, gives way to a plainer name."""
    plain = pitch if abs(pitch.alter) <= 2 else pitch.simplifyEnharmonic()
    return NoteName(LETTERS.index(plain.step), round(plain.alter))


def _where(each: Any) -> str:
    measure = f"measure {each.measureNumber}" if each.measureNumber else "the file"
    beat = getattr(each, "beat", 1)
    return measure if beat == 1 or not each.measureNumber else f"{measure}, beat {float(beat):g}"


def _chord(where: str, heard: list[_Heard], root: NoteName | None) -> ReadChord:
    once = {each.midi: each for each in reversed(heard)}  # the first staff that has a note tells its voice
    notes = [once[midi] for midi in sorted(once)]
    names = tuple(each.name for each in notes if each.name is not None)
    spelled = names if len(names) == len(notes) else None
    return ReadChord(where, tuple(each.midi for each in notes), spelled, _sizes(notes), root)


def _sizes(notes: list[_Heard]) -> tuple[int, ...] | None:
    """The sizes of layers where voices lie one above the other; None for a single voice or crossing ones."""
    runs: list[tuple[tuple[int, str], int]] = []
    for each in notes:
        if runs and runs[-1][0] == each.voice:
            runs[-1] = (each.voice, runs[-1][1] + 1)
        else:
            runs.append((each.voice, 1))
    voices = {voice for voice, _ in runs}
    if len(runs) != len(voices) or not 2 <= len(runs) <= 3:
        return None
    return tuple(size for _, size in runs)
