"""Scores hold every voicing as it sounds, in a form that the standard allows.

Outside checks: music21 reads the files back; the W3C schema of MusicXML 4.0 (2021), as the library `musicxml`
carries it, through the library `xmlschema`.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from importlib.util import find_spec
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from drills.errors import DrillsError
from drills.pack.score import Sheet, read_chords, write_midi, write_musicxml
from drills.pack.score.sheet import ledger_lines
from drills.plan import plan
from drills.recipe.read import parse_recipe
from drills.recipe.shelf import shelf_names
from drills.theory.pitch import read_pitch

from .conftest import SheetOf

WEEK = "weeks-03-05-third-and-seventh-below"
TREBLE_8VB, BASS = (30, 38), (25, 33)


@pytest.fixture(scope="session")
def schema(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The schema of MusicXML 4.0; what it imports from elsewhere is not needed, as we write no links."""
    import xmlschema

    found = find_spec("musicxml")
    assert found is not None
    assert found.submodule_search_locations
    source = Path(found.submodule_search_locations[0]) / "generate_classes" / "musicxml_4_0.xsd"
    folder = tmp_path_factory.mktemp("schema")
    links = '<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://www.w3.org/1999/xlink">'
    names = ("href", "type", "role", "title", "show", "actuate")
    links += "".join(f'<xs:attribute name="{name}" type="xs:string"/>' for name in names) + "</xs:schema>"
    (folder / "xlink.xsd").write_text(links)
    text = source.read_text(encoding="utf-8")
    for file in ("xml.xsd", "xlink.xsd"):
        text = text.replace(f"http://www.musicxml.org/xsd/{file}", file)
    (folder / "musicxml.xsd").write_text(text, encoding="utf-8")
    (folder / "xml.xsd").write_bytes((source.parent / "xml.xsd").read_bytes())
    return xmlschema.XMLSchema(folder / "musicxml.xsd", allow="local")


def ordered(sheet: Sheet) -> list[Any]:
    """The subjects as they stand on the score."""
    return [subject for group in sheet.groups for subject in group]


@pytest.mark.parametrize("name", shelf_names())
def test_every_recipe_of_the_shelf_comes_back_from_musicxml(
    sheet_of: SheetOf, tmp_path: Path, name: str
) -> None:
    """Pitches, spelling and roots, read by music21; two layers come back as two."""
    sheet, path = sheet_of(name), tmp_path / "score.musicxml"
    write_musicxml(sheet, path)
    read, wanted = read_chords(path), _once(ordered(sheet))
    assert [each.midi for each in read] == [each.sounding.midi for each in wanted]
    assert [each.spelled for each in read] == [each.sounding.names for each in wanted]
    assert [each.root for each in read] == [each.root for each in wanted]
    layered = [(mine.sizes, each.voicing.sizes) for mine, each in zip(read, wanted, strict=True)]
    assert all(mine == sizes for mine, sizes in layered if len(sizes) > 1)


@pytest.mark.parametrize("name", shelf_names())
def test_every_recipe_of_the_shelf_comes_back_from_midi(sheet_of: SheetOf, tmp_path: Path, name: str) -> None:
    """The same pitches in the same order, read by us and by music21."""
    from music21.midi import MidiFile

    sheet, path = sheet_of(name), tmp_path / "score.mid"
    write_midi(sheet, path)
    assert [each.midi for each in read_chords(path)] == [each.sounding.midi for each in _once(ordered(sheet))]
    file = MidiFile()
    file.readstr(path.read_bytes())
    struck = [event.pitch for track in file.tracks for event in track.events if event.isNoteOn()]
    assert struck == [note for each in ordered(sheet) for note in each.sounding.midi]


def _once(subjects: list[Any]) -> list[Any]:
    """What reading gives: the same notes twice in a row are one chord."""
    return [
        each
        for place, each in enumerate(subjects)
        if place == 0 or each.sounding.midi != subjects[place - 1].sounding.midi
    ]


@pytest.mark.parametrize("name", shelf_names())
def test_a_score_is_valid(sheet_of: SheetOf, schema: Any, tmp_path: Path, name: str) -> None:
    """The schema finds no fault with any recipe of the shelf."""
    path = tmp_path / "score.musicxml"
    write_musicxml(sheet_of(name), path)
    assert [str(fault) for fault in schema.iter_errors(path)] == []


def test_the_schema_would_find_a_fault(sheet_of: SheetOf, schema: Any, tmp_path: Path) -> None:
    """A fret that is no number, and a tuning in the wrong place."""
    path = tmp_path / "score.musicxml"
    write_musicxml(sheet_of(WEEK), path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("<fret>2</fret>", "<fret>two</fret>", 1), encoding="utf-8")
    assert list(schema.iter_errors(path))
    path.write_text(text.replace("<staff-lines>", "<capo>1</capo><staff-lines>", 1), encoding="utf-8")
    assert list(schema.iter_errors(path))


def test_strings_and_frets_sound_the_notes_they_stand_at(sheet_of: SheetOf, tmp_path: Path) -> None:
    """Every tablature note, by the tuning that the file itself gives."""
    path = tmp_path / "score.musicxml"
    write_musicxml(sheet_of("seven-strings"), path)
    root = ET.parse(path).getroot()
    open_midi = [_midi(each, "tuning-") for each in root.iter("staff-tuning")]
    assert len(open_midi) == 7
    assert [each.get("line") for each in root.iter("staff-tuning")] == list("1234567")
    notes = [note for note in root.iter("note") if note.findtext("staff") == "2"]
    assert len(notes) == sum(len(each.sounding.midi) for each in sheet_of("seven-strings").subjects)
    for note in notes:
        string = int(note.findtext("notations/technical/string", ""))
        fret = int(note.findtext("notations/technical/fret", ""))
        pitch = note.find("pitch")
        assert pitch is not None
        assert open_midi[-string] + fret == _midi(pitch)


def test_tuning_and_capo_are_told(schema: Any, tmp_path: Path) -> None:
    """Open strings a half step down, and a capo on the second fret."""
    recipe = parse_recipe(
        'title = "Riverside evening group"\nkeys = ["C"]\n\n[instrument]\n'
        'tuning = "D#2 G#2 C#3 F#3 A#3 D#4"\ncapo = 2\n\n[[voicing]]\nlower = "b7 3"\nupper = "13 9 #11"\n',
        source="week.toml",
        default_id="week",
    )
    path = tmp_path / "score.musicxml"
    write_musicxml(Sheet(recipe.title, plan(recipe).subjects, recipe.instrument), path)
    root = ET.parse(path).getroot()
    assert [_midi(each, "tuning-") for each in root.iter("staff-tuning")] == [39, 44, 49, 54, 58, 63]
    assert root.findtext("part/measure/attributes/staff-details/capo") == "2"
    assert [str(fault) for fault in schema.iter_errors(path)] == []


def _midi(element: ET.Element, prefix: str = "") -> int:
    step, octave = element.findtext(f"{prefix}step", ""), int(element.findtext(f"{prefix}octave", ""))
    alter = int(element.findtext(f"{prefix}alter", "0"))
    return (octave + 1) * 12 + {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[step] + alter


def test_the_same_sheet_is_the_same_bytes(sheet_of: SheetOf, tmp_path: Path) -> None:
    """No date, no random number, and a rebuild over the last file."""
    for write, name in ((write_musicxml, "score.musicxml"), (write_midi, "score.mid")):
        path = tmp_path / name
        write(sheet_of(WEEK), path)
        first = path.read_bytes()
        write(sheet_of(WEEK), path)
        assert path.read_bytes() == first
        assert b"music21" not in first.lower()
        assert b"layered-voicing drills" in first  # by which the files of earlier makes are known too


@pytest.mark.parametrize(("write", "name"), [(write_musicxml, "a.musicxml"), (write_midi, "a.mid")])
def test_a_file_of_somebody_else_stays(sheet_of: SheetOf, tmp_path: Path, write: Any, name: str) -> None:
    """It is told, and nothing is written."""
    path = tmp_path / name
    path.write_bytes(b"mine")
    with pytest.raises(DrillsError, match="not written by this program"):
        write(sheet_of(WEEK), path)
    assert path.read_bytes() == b"mine"
    assert list(tmp_path.iterdir()) == [path]


def test_a_title_that_is_markup_is_text(sheet_of: SheetOf, tmp_path: Path) -> None:
    """XML escapes it."""
    path = tmp_path / "score.musicxml"
    title = '<b>&"week"</b>'
    write_musicxml(replace(sheet_of(WEEK), title=title), path)
    assert ET.parse(path).getroot().findtext("work/work-title") == title


def test_a_voicing_too_wide_for_a_staff_is_an_error(sheet_of: SheetOf, tmp_path: Path) -> None:
    """It says which, and nothing is written."""
    sheet = sheet_of(WEEK)
    subject = sheet.subjects[0]
    sounding = replace(subject.place.sounding, lowest_midi=subject.sounding.lowest_midi + 48)
    wide = replace(subject, place=replace(subject.place, sounding=sounding))
    with pytest.raises(DrillsError, match="ledger lines"):
        write_musicxml(replace(sheet, subjects=(wide,)), tmp_path / "score.musicxml")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("note", "lines", "count"),
    [
        (
            "E2",
            TREBLE_8VB,
            3,
        ),  # written E3: the sixth string, three below the staff (common practice, no source)
        ("D3", TREBLE_8VB, 0),
        ("C3", TREBLE_8VB, 1),
        ("G4", TREBLE_8VB, 0),
        ("A4", TREBLE_8VB, 1),
        ("E5", TREBLE_8VB, 3),
        ("G2", BASS, 0),
        ("E2", BASS, 1),
        ("C4", BASS, 1),
    ],
)
def test_ledger_lines_are_counted(note: str, lines: tuple[int, int], count: int) -> None:
    """Middle C has one over the bass staff; the notes just outside a staff need none."""
    assert ledger_lines(read_pitch(note), lines) == count


def test_music21_is_loaded_only_when_a_score_is_written() -> None:
    """It costs a third of a second."""
    import subprocess

    code = "import sys, drills.pack.score; sys.exit('music21' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
