"""Chords are read from files of notation as they sound, or the file is refused in clear words."""

from __future__ import annotations

from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.pack.score import read_chords
from drills.pack.score.read import MOST_BYTES, MOST_CHORDS
from drills.theory.pitch import read_note_name

HERE = Path(__file__).parent
HEAD = (
    '<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list>'
    '<part id="P1">'
)
ATTRIBUTES = (
    "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>"
)


def note(step: str, octave: int, *, chord: bool = False, voice: int = 1, more: str = "") -> str:
    """One whole note of MusicXML."""
    return (
        f"<note>{'<chord/>' * chord}<pitch><step>{step}</step><octave>{octave}</octave></pitch>"
        f"<duration>4</duration>{more}<voice>{voice}</voice><type>whole</type></note>"
    )


def score(tmp_path: Path, *measures: str) -> Path:
    """A file of measures."""
    path = tmp_path / "some.musicxml"
    inner = "".join(
        f'<measure number="{n}">{ATTRIBUTES * (n == 1)}{m}</measure>' for n, m in enumerate(measures, 1)
    )
    path.write_text(f"{HEAD}{inner}</part></score-partwise>", encoding="utf-8")
    return path


def triad(voice: int = 1) -> str:
    """C E G."""
    return (
        note("C", 4, voice=voice)
        + note("E", 4, chord=True, voice=voice)
        + note("G", 4, chord=True, voice=voice)
    )


def test_pitches_and_spelling_are_read() -> None:
    """A file written by hand: two chords in a measure, a clef 8vb, sounding pitches."""
    first, second = read_chords(HERE / "chords.musicxml")
    assert (first.where, second.where) == ("measure 1", "measure 1, beat 3")
    assert first.midi == (49, 55, 60, 65, 69)
    assert first.spelled == tuple(map(read_note_name, "Db G C F A".split()))
    assert (first.sizes, first.root) == (None, None)


def test_two_voices_one_above_the_other_are_layers(tmp_path: Path) -> None:
    """The lower voice is the lower layer, though it is written second."""
    below = note("D", 3, voice=2) + note("G", 3, chord=True, voice=2)
    backup = "<backup><duration>4</duration></backup>"
    (chord,) = read_chords(score(tmp_path, triad() + backup + below))
    assert (chord.midi, chord.sizes) == ((50, 55, 60, 64, 67), (2, 3))


def test_crossing_voices_are_no_layers(tmp_path: Path) -> None:
    """The program splits as usual."""
    between = note("D", 4, voice=2) + note("A", 4, chord=True, voice=2)
    (chord,) = read_chords(score(tmp_path, triad() + "<backup><duration>4</duration></backup>" + between))
    assert (chord.midi, chord.sizes) == ((60, 62, 64, 67, 69), None)


def test_the_same_chord_again_is_taken_once_and_two_notes_not_at_all(tmp_path: Path) -> None:
    """A held harmony is one voicing, a double stop none."""
    double_stop = note("C", 4) + note("E", 4, chord=True)
    assert len(read_chords(score(tmp_path, triad(), triad(), double_stop, triad()))) == 1


def test_a_tie_does_not_begin_a_chord(tmp_path: Path) -> None:
    """Only what is struck counts."""
    tied = '<tie type="stop"/>'
    held = "".join(note(step, 4, chord=place > 0, more=tied) for place, step in enumerate("DFA"))
    (chord,) = read_chords(score(tmp_path, triad(), held))
    assert chord.midi == (60, 64, 67)


def test_the_root_of_a_chord_symbol_is_read(tmp_path: Path) -> None:
    """It tells what a rootless voicing is."""
    root = "<root><root-step>E</root-step><root-alter>-1</root-alter></root>"
    symbol = f"<harmony>{root}<kind>dominant</kind></harmony>"
    (chord,) = read_chords(score(tmp_path, symbol + triad()))
    assert chord.root == read_note_name("Eb")
    assert chord.midi == (60, 64, 67)


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("a.musicxml", b"", "the file is empty"),
        ("a.musicxml", b"no music", "cannot be read as MusicXML"),
        ("a.musicxml", b"<html><p>hello</p></html>", "no chord|cannot be read"),
        ("a.mxl", b"PK\x03\x04 cut off", "cannot be read as MusicXML"),
        ("a.mid", b"MThd", "cannot be read as MIDI"),
        ("a.mid", b"\x89PNG\r\n\x1a\n", "cannot be read as MIDI"),
        ("a.pdf", b"%PDF", "cannot tell what kind of file"),
        ("a", b"", "cannot tell what kind of file"),
    ],
)
def test_what_is_no_music_is_refused(tmp_path: Path, name: str, content: bytes, words: str) -> None:
    """The message names the file and what to do."""
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(DrillsError, match=words):
        read_chords(path)


def test_a_missing_file_a_folder_and_a_huge_file_are_refused(tmp_path: Path) -> None:
    """None of them is parsed."""
    with pytest.raises(DrillsError, match="No such file"):
        read_chords(tmp_path / "none.musicxml")
    (tmp_path / "folder.mid").mkdir()
    with pytest.raises(DrillsError, match="cannot read the file"):
        read_chords(tmp_path / "folder.mid")
    huge = tmp_path / "huge.mid"
    with huge.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with pytest.raises(DrillsError, match="too much to read"):
        read_chords(huge)


def test_a_file_without_a_chord_is_refused(tmp_path: Path) -> None:
    """A melody has no voicings."""
    with pytest.raises(DrillsError, match="no chord of 3 or more notes"):
        read_chords(score(tmp_path, note("C", 4)))


def test_ten_thousand_chords_are_refused_at_once(tmp_path: Path) -> None:
    """Before anything is parsed, which would take minutes."""
    path = score(tmp_path, *[triad()] * 10_000)
    with pytest.raises(DrillsError, match=f"more than {MOST_CHORDS:,} measures"):
        read_chords(path)
