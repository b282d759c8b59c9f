"""A MusicXML file is read for its notes alone, or refused in our words: what, in which line, what to do.

Outside check: XML 1.0 (W3C), what is well-formed and in which encodings it may stand, and MusicXML 4.0 (W3C),
the values of elements; from memory.
"""

from __future__ import annotations

import re
import tracemalloc
from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.pack.score import read_chords
from drills.theory.pitch import read_note_name

from .test_read import HEAD, note, score, triad

TRIAD = (60, 64, 67)
PARSERS_WORDS = ("Error", "Exception", "token", "codec", "music21", "xml.", "invalid")
MOST_MEMORY = 60_000_000


@pytest.fixture
def text(tmp_path: Path) -> str:
    """A score of one triad."""
    return score(tmp_path, triad()).read_text(encoding="utf-8")


def chords_in(tmp_path: Path, content: str | bytes) -> list[tuple[int, ...]]:
    """The chords of a file that holds that."""
    return [each.midi for each in read_chords(written(tmp_path, content))]


def written(tmp_path: Path, content: str | bytes) -> Path:
    """A file that holds that."""
    path = tmp_path / "odd.musicxml"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def refusal(path: Path) -> str:
    """Why a file is refused: the place and the mend are told, no parser is heard."""
    with pytest.raises(DrillsError) as refused:
        read_chords(path)
    said = str(refused.value)
    assert said.startswith(f"{path}: ")
    assert refused.value.mend
    assert not [word for word in PARSERS_WORDS if word in said.removeprefix(str(path))]
    return said.removeprefix(f"{path}: ")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("</pitch>", "</pich>", "line 1: cannot be read as MusicXML: an element is closed that is not"),
        ("<part-name/>", "\n\n<part-name>A & B</part-name>", "line 3: .*a character that may not stand"),
        ("<part-name/>", "<part-name>&nbsp;</part-name>", "line 1: .*it names an entity"),
        ("</score-partwise>", "", "line 1: .*it ends too early"),
        ("</score-partwise>", "</score-part", "line 1: .*it ends too early"),
        ("<score-", '<?xml version="1.0" encoding="runes-8"?><score-', "encoding that is not known"),
        ("score-partwise", "score-timewise", r"a score by measures \(score-timewise\); export it as"),
        ("score-partwise", "recipe", "it is XML, but no score: it begins with <recipe>"),
    ],
)
def test_what_is_no_score_is_refused_in_our_words(
    tmp_path: Path, text: str, old: str, new: str, words: str
) -> None:
    """Where it breaks is told by the line."""
    assert re.search(words, refusal(written(tmp_path, text.replace(old, new))))


@pytest.mark.parametrize("content", [b" \n ", b"no music", b"\0" * 999, b"MThd\0\0\0\6", b"\x89PNG\r\n\xff"])
def test_what_is_no_xml_is_refused(tmp_path: Path, content: bytes) -> None:
    """Its name is most likely wrong."""
    said = refusal(written(tmp_path, content))
    assert said.startswith(
        "cannot be read as MusicXML: it is no XML; check that its name ends as its kind asks"
    )


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "iso-8859-1"])
def test_a_score_may_stand_in_any_encoding_that_it_names(tmp_path: Path, text: str, encoding: str) -> None:
    """XML says its encoding at its beginning; UTF-8 and UTF-16 need not be said."""
    named = f'<?xml version="1.0" encoding="{encoding}"?>' if encoding.startswith("iso") else ""
    named_part = text.replace("<part-name/>", "<part-name>Gitarre für Übende</part-name>")
    assert chords_in(tmp_path, (named + named_part).encode(encoding)) == [TRIAD]
    if named:
        assert "line 1: " in refusal(written(tmp_path, named_part.encode(encoding)))


@pytest.mark.parametrize(
    ("before", "odd", "tag"),
    [
        ("<step>E", "<step>H", "step"),
        ("<octave>4", "<octave>x", "octave"),
        ("<octave>4", "<octave>10", "octave"),
        ("<octave>4", "<octave>-1", "octave"),
        ("</step>", "</step><alter>b</alter>", "alter"),
        ("</step>", "</step><alter>nan</alter>", "alter"),
        ("</step>", "</step><alter>3.5</alter>", "alter"),
        ("<duration>4", "<duration>-4", "duration"),
        ("<type>whole", "<type>longish", "type"),
        ("<divisions>1", "<divisions>0", "divisions"),
        ("<beats>4", "<beats>0", "beats"),
        ("<beats>4", "<beats>3+x", "beats"),
        ("<beat-type>4", "<beat-type>3", "beat-type"),
        ("</time>", "</time><transpose><chromatic>a fifth</chromatic></transpose>", "chromatic"),
        (
            "<type>",
            "<time-modification><actual-notes>0</actual-notes></time-modification><type>",
            "actual-notes",
        ),
    ],
)
def test_a_value_that_cannot_be_is_told_with_its_place(
    tmp_path: Path, text: str, before: str, odd: str, tag: str
) -> None:
    """Measure and line, and what stands there."""
    lines = text.replace("<measure", "\n<measure").replace("<note>", "\n<note>")
    changed = lines.replace(before, odd, 1)
    line = 1 + changed[: changed.index(odd)].count("\n")
    (value,) = re.findall(f"<{tag}>([^<]*)", odd)
    said = refusal(written(tmp_path, changed))
    assert said == (
        f"measure 1, line {line}: cannot be read as MusicXML: its <{tag}> is {value!r}; "
        "export the MusicXML file again"
    )


def test_what_is_not_read_may_be_odd(tmp_path: Path, text: str) -> None:
    """Beams, keys, clefs, lyrics, directions, and a part that the list of parts does not name."""
    odd = text.replace("</type>", '</type><beam number="x">bent</beam><lyric><text>la</text></lyric>')
    odd = odd.replace(
        "</time>", "</time><key><fifths>x</fifths></key><clef><sign>?</sign><line>z</line></clef>"
    )
    odd = odd.replace('<part id="P1">', '<part id="else">')
    odd = odd.replace("</measure>", "<direction><sound tempo='x'/><step>H</step></direction></measure>")
    assert chords_in(tmp_path, odd) == [TRIAD]
    assert chords_in(tmp_path, text.replace(HEAD, '<score-partwise><part id="any">')) == [TRIAD]


E_MAJOR = "<root><root-step>E</root-step></root><kind>major</kind>"


@pytest.mark.parametrize(
    ("inner", "root"),
    [
        ("<root><root-step>E</root-step><root-alter>-1</root-alter></root><kind>of our own</kind>", "Eb"),
        ("<root><root-step>E</root-step></root>", "E"),
        ("<root><root-step>E</root-step></root><kind>pedal</kind>", "E"),
        (f"{E_MAJOR}<bass/>", "E"),
        (f"{E_MAJOR}<degree><degree-value>x</degree-value></degree>", "E"),
        (
            f"{E_MAJOR}<degree><degree-value>13</degree-value><degree-type>subtract</degree-type></degree>",
            "E",
        ),
        ("<root><root-step>E</root-step></root><kind>none</kind>", None),
        ("<numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind>", None),
        ("<function>V</function><kind>major</kind>", None),
        ("", None),
    ],
)
def test_of_a_symbol_the_root_is_read(tmp_path: Path, inner: str, root: str | None) -> None:
    """Whatever kind and degrees it has; a numeral, and the sign for no chord, have none."""
    (chord,) = read_chords(score(tmp_path, f"<harmony>{inner}</harmony>" + triad()))
    assert chord.midi == TRIAD
    assert chord.root == (None if root is None else read_note_name(root))


def test_entities_are_refused_before_they_swell(tmp_path: Path, text: str) -> None:
    """Ten lines that would be a thousand million, and a name from another file."""
    lines = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    for declared in (
        f'<!ENTITY l0 "lol">{lines}',
        '<!ENTITY l9 SYSTEM "other">',
        '<!ENTITY % l9 SYSTEM "other">',
    ):
        swelling = f"<!DOCTYPE score-partwise [{declared}]>" + text.replace(
            "<part-name/>", "<part-name>&l9;</part-name>"
        )
        assert refusal(written(tmp_path, swelling)).startswith(
            "line 1: cannot be read as MusicXML: it declares an"
        )
    plain = '<!DOCTYPE score-partwise PUBLIC "-//of ours" "partwise.dtd">' + text
    assert chords_in(tmp_path, plain) == [TRIAD]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("<score-partwise>" + "<a>" * 2_000_000, "its elements lie too deep"),
        ("<score-partwise>" + "<note>" * 1_000_000, "its elements lie too deep"),
        (HEAD + "<measure>" + "<note/>" * 18_001, "too much to read at once: more than 18,000 notes"),
        (HEAD + "<measure>" + "<harmony/>" * 18_001, "too much to read at once: more than 18,000 notes"),
        (HEAD + "<measure/>" * 2_001, "too much to read at once: more than 2,000 measures"),
        ("<score-partwise><part>" + "x" * 7_000_000, "it ends too early"),
    ],
)
def test_a_file_made_to_fill_the_memory_is_refused(tmp_path: Path, content: str, words: str) -> None:
    """It takes no more than a few times its own size."""
    path = written(tmp_path, content)
    tracemalloc.start()
    try:
        said = refusal(path)
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert words in said
    assert most < MOST_MEMORY


@pytest.mark.parametrize(("steps", "fits"), [("CEG", True), ("CEA", False)])
def test_a_note_beyond_all_midi_numbers_is_refused(tmp_path: Path, steps: str, fits: bool) -> None:
    """G9 has the last one."""
    notes = (note(step, 9, chord=place > 0) for place, step in enumerate(steps))
    path = score(tmp_path, "".join(notes))
    if fits:
        assert [each.midi for each in read_chords(path)] == [(120, 124, 127)]
    else:
        words = "measure 1: a note is out of range; check its octave, and by what its part is transposed"
        assert refusal(path) == words


def test_what_music21_cannot_read_is_told_without_its_words(tmp_path: Path, text: str) -> None:
    """A metre without its lower number."""
    said = refusal(written(tmp_path, text.replace("<beat-type>4</beat-type>", "")))
    assert said.startswith(
        "cannot be read as MusicXML: its measures are not put together as the standard asks; open"
    )
