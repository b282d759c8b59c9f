"""Chords are read from files of notation as they sound, or the file is refused in clear words."""

from __future__ import annotations

import tracemalloc
import zipfile
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


def test_four_voices_are_no_layers(tmp_path: Path) -> None:
    """A voicing has three at most; a choir's chord is split as usual."""
    backup = "<backup><duration>4</duration></backup>"
    voices = [note(step, 4, voice=turn) for turn, step in enumerate("CEGB", 1)]
    (four,) = read_chords(score(tmp_path, backup.join(voices)))
    assert (four.midi, four.sizes) == ((60, 64, 67, 71), None)
    (three,) = read_chords(score(tmp_path, backup.join(voices[:3])))
    assert three.sizes == (1, 1, 1)


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


TRANSPOSE = (
    "<transpose><diatonic>{0}</diatonic><chromatic>{1}</chromatic>"
    "<octave-change>{2}</octave-change></transpose>"
)


@pytest.mark.parametrize(
    ("steps", "midi", "root"),
    [
        ((0, 0, -1), (48, 52, 55), "C"),  # a guitar written an octave higher
        ((-1, -2, 0), (58, 62, 65), "Bb"),  # in B flat: a written C sounds a whole step lower
        ((-5, -9, 0), (51, 55, 58), "Eb"),  # in E flat: a major sixth lower
        ((-1, -2, -1), (46, 50, 53), "Bb"),  # in B flat, an octave and a whole step lower
    ],
)
def test_transposing_parts_are_read_as_they_sound(
    tmp_path: Path, steps: tuple[int, int, int], midi: tuple[int, ...], root: str
) -> None:
    """Pitches, spelling and chord symbol alike (how instruments transpose: common practice, no source)."""
    symbol = "<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>"
    path = score(tmp_path, symbol + triad())
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("</time>", "</time>" + TRANSPOSE.format(*steps)), encoding="utf-8")
    (chord,) = read_chords(path)
    assert chord.midi == midi
    assert chord.root == read_note_name(root)
    assert chord.spelled is not None
    assert [name.pitch_class for name in chord.spelled] == [note % 12 for note in midi]


def test_a_chord_may_be_split_over_staves_and_parts(tmp_path: Path) -> None:
    """Two staves of one part are two voices; so are two parts, one instrument each."""
    high = triad().replace("</type>", "</type><staff>1</staff>")
    low = note("D", 3, voice=5) + note("G", 3, chord=True, voice=5)
    low = low.replace("</type>", "</type><staff>2</staff>")
    path = score(tmp_path, high + "<backup><duration>4</duration></backup>" + low)
    text = path.read_text(encoding="utf-8").replace("</time>", "</time><staves>2</staves>")
    path.write_text(text, encoding="utf-8")
    (of_staves_read,) = read_chords(path)
    assert (of_staves_read.midi, of_staves_read.sizes) == ((50, 55, 60, 64, 67), (2, 3))
    one = f'<part id="P1"><measure number="1">{ATTRIBUTES}{triad()}</measure></part>'
    below = note("D", 3) + note("G", 3, chord=True)
    two = f'<part id="P2"><measure number="1">{ATTRIBUTES}{below}</measure></part>'
    parts = "".join(f'<score-part id="P{n}"><part-name/></score-part>' for n in (1, 2))
    path.write_text(
        f'<score-partwise version="4.0"><part-list>{parts}</part-list>{one}{two}</score-partwise>',
        encoding="utf-8",
    )
    (of_parts_read,) = read_chords(path)
    assert (of_parts_read.midi, of_parts_read.sizes) == ((50, 55, 60, 64, 67), (2, 3))


@pytest.mark.parametrize(
    ("alter", "midi", "spelled"), [(2, 62, "C##"), (-2, 58, "Cbb"), (3, 63, "Eb"), (1, 61, "C#")]
)
def test_a_triple_sign_gives_way_to_a_plainer_name(
    tmp_path: Path, alter: int, midi: int, spelled: str
) -> None:
    """Double signs stay as they are written."""
    signed = triad().replace("C</step>", f"C</step><alter>{alter}</alter>")
    (chord,) = read_chords(score(tmp_path, signed))
    assert chord.spelled is not None
    names = dict(zip(chord.midi, chord.spelled, strict=True))
    assert names[midi] == read_note_name(spelled)


def test_what_a_second_part_begins_earlier_is_read_earlier(tmp_path: Path) -> None:
    """In the order of time, not of the parts."""
    rest = "<note><rest/><duration>4</duration><type>whole</type></note>"
    late, early = rest + triad(), triad().replace("<octave>4", "<octave>3") + rest
    bars = [
        f'<measure number="1">{ATTRIBUTES.replace(">4<", ">8<", 1)}{each}</measure>' for each in (late, early)
    ]
    parts = "".join(f'<part id="P{n}">{bar}</part>' for n, bar in enumerate(bars, 1))
    path = tmp_path / "two.musicxml"
    path.write_text(f'<score-partwise version="4.0">{parts}</score-partwise>', encoding="utf-8")
    assert [chord.midi for chord in read_chords(path)] == [(48, 52, 55), (60, 64, 67)]


def test_grace_notes_and_percussion_are_no_notes_of_a_chord(tmp_path: Path) -> None:
    """They are struck with it, and belong elsewhere."""
    grace = "<note><grace/><pitch><step>B</step><octave>5</octave></pitch><type>eighth</type></note>"
    beaten = (
        "<backup><duration>4</duration></backup><note><unpitched><display-step>E</display-step>"
        "<display-octave>4</display-octave></unpitched><duration>4</duration><voice>2</voice><type>whole</type></note>"
    )
    (chord,) = read_chords(score(tmp_path, grace + triad() + beaten))
    assert chord.midi == (60, 64, 67)


@pytest.mark.parametrize("has_container", [True, False])
def test_a_compressed_score_is_read(tmp_path: Path, has_container: bool) -> None:
    """With what stands beside the score in such a file, or without."""
    path = tmp_path / "some.mxl"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        if has_container:
            package.writestr("META-INF/container.xml", '<container><rootfiles><rootfile full-path="s.xml"/>')
        package.writestr("s.xml", score(tmp_path, triad()).read_text(encoding="utf-8"))
    (chord,) = read_chords(path)
    assert chord.midi == (60, 64, 67)


def test_a_compressed_file_without_a_score_is_refused(tmp_path: Path) -> None:
    """The message says so."""
    path = tmp_path / "some.mxl"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("picture.png", b"")
    with pytest.raises(DrillsError, match="no score inside"):
        read_chords(path)


def test_nothing_outside_a_score_is_opened(tmp_path: Path) -> None:
    """An entity that names another file stays unread."""
    (tmp_path / "secret").write_text("C")
    path = score(tmp_path, triad())
    text = path.read_text(encoding="utf-8").replace("<part-name/>", "<part-name>&s;</part-name>")
    declared = f'<!DOCTYPE score-partwise [<!ENTITY s SYSTEM "{(tmp_path / "secret").as_uri()}">]>'
    path.write_text(declared + text, encoding="utf-8")
    with pytest.raises(DrillsError, match="cannot be read as MusicXML"):
        read_chords(path)


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("a.musicxml", b"", "the file is empty; export the MusicXML file again"),
        ("a.mid", b"", "the file is empty; export the MIDI file again"),
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
        file.truncate(100_000_000)
    tracemalloc.start()
    try:
        with pytest.raises(DrillsError, match=r"too much to read at once: 100\.0 MB"):
            read_chords(huge)
        assert tracemalloc.get_traced_memory()[1] < MOST_BYTES
    finally:
        tracemalloc.stop()


def test_a_file_without_a_chord_is_refused(tmp_path: Path) -> None:
    """A melody has no voicings."""
    with pytest.raises(DrillsError, match="no chord of 3 or more notes"):
        read_chords(score(tmp_path, note("C", 4)))


def test_ten_thousand_chords_are_refused_at_once(tmp_path: Path) -> None:
    """Before anything is parsed, which would take minutes."""
    path = score(tmp_path, *[triad()] * 10_000)
    with pytest.raises(DrillsError, match=f"more than {MOST_CHORDS:,} measures"):
        read_chords(path)
