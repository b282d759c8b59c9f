"""Of a compressed score no more is unpacked than may be read, and what is broken is told."""

from __future__ import annotations

import struct
import tracemalloc
import zipfile
from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.pack.score import read_chords
from drills.pack.score.read import MOST_BYTES

from .test_read import note, score, triad

CONTAINER = '<container><rootfiles><rootfile media-type="a" full-path="{}"/></rootfiles></container>'
MOST_MEMORY = 25_000_000
DIRECTORY, LOCAL = b"PK\x01\x02", b"PK\x03\x04"


def packed(tmp_path: Path, entries: dict[str, str | bytes], method: int = zipfile.ZIP_DEFLATED) -> Path:
    """A compressed file that holds those."""
    path = tmp_path / "some.mxl"
    with zipfile.ZipFile(path, "w", method) as package:
        for name, content in entries.items():
            package.writestr(name, content)
    return path


@pytest.fixture
def text(tmp_path: Path) -> str:
    """A score of one triad."""
    return score(tmp_path, triad()).read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("container", "midi"),
    [
        ("parts/b&amp;c.xml", (60, 64, 67)),
        ("none.xml", (62, 65, 69)),
        ("é.xml", (62, 65, 69)),
        ("", (62, 65, 69)),
    ],
)
def test_the_score_is_the_one_that_the_container_names(
    tmp_path: Path, text: str, container: str, midi: tuple[int, ...]
) -> None:
    """Where it names none that is there, it is the first; what is in META-INF is none."""
    other = score(tmp_path, note("D", 4) + note("F", 4, chord=True) + note("A", 4, chord=True)).read_text()
    entries: dict[str, str | bytes] = {"META-INF/a.xml": "<a/>", "a.xml": other, "parts/b&c.xml": text}
    if container:
        entries["META-INF/container.xml"] = CONTAINER.format(container).encode("latin-1")
    assert [each.midi for each in read_chords(packed(tmp_path, entries))] == [midi]


def test_a_file_that_is_broken_is_refused(tmp_path: Path, text: str) -> None:
    """Cut off anywhere, with changed bytes, or none at all."""
    whole = packed(tmp_path, {"s.xml": text}).read_bytes()
    middle = whole.index(b"s.xml") + 30
    changed = whole[:middle] + bytes(255 - each for each in whole[middle : middle + 4]) + whole[middle + 4 :]
    for content in (*(whole[:end] for end in range(1, len(whole), 9)), changed, text.encode()):
        path = tmp_path / "some.mxl"
        path.write_bytes(content)
        with pytest.raises(DrillsError) as refused:
            read_chords(path)
        assert str(refused.value) == (
            f"{path}: cannot be read as MusicXML: as a compressed file it is broken or cut off; copy or "
            "export it again; a score that is not compressed ends in .musicxml"
        )


def test_a_file_that_lies_about_its_size_is_not_unpacked(tmp_path: Path) -> None:
    """Forty million blanks that are said to be a hundred; and such a container."""
    huge = b" " * 40_000_000
    for name in ("s.xml", "META-INF/container.xml"):
        path = packed(tmp_path, {name: huge})
        data = bytearray(path.read_bytes())
        for place in (data.rindex(DIRECTORY) + 24, data.index(LOCAL) + 22):
            data[place : place + 4] = struct.pack("<I", 100)
        path.write_bytes(data)
        assert "broken or cut off" in refusal_in_bounds(path)


def refusal_in_bounds(path: Path) -> str:
    """Why it is refused, which takes little memory."""
    tracemalloc.start()
    try:
        with pytest.raises(DrillsError) as refused:
            read_chords(path)
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert most < MOST_MEMORY
    return str(refused.value)


def test_a_score_that_is_too_large_is_refused(tmp_path: Path) -> None:
    """By what is unpacked, up to the limit."""
    path = packed(tmp_path, {"s.xml": b" " * (MOST_BYTES + 1)})
    assert "too much to read at once: 's.xml' in it is over 8.0 MB" in refusal_in_bounds(path)
    assert "it is no XML" in refusal_in_bounds(packed(tmp_path, {"s.xml": b" " * MOST_BYTES}))


def test_a_file_that_is_locked_or_packed_otherwise_is_refused(tmp_path: Path, text: str) -> None:
    """Other ways of packing could swell without bound; the standard has the one."""
    path = packed(tmp_path, {"s.xml": text})
    data = bytearray(path.read_bytes())
    data[data.rindex(DIRECTORY) + 8] |= 1
    path.write_bytes(data)
    with pytest.raises(DrillsError, match="a password locks it; export it without one"):
        read_chords(path)
    for method in (zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA):
        with pytest.raises(DrillsError, match="compressed in another way"):
            read_chords(packed(tmp_path, {"s.xml": text}, method))
    (stored,) = read_chords(packed(tmp_path, {"s.xml": text}, zipfile.ZIP_STORED))
    assert stored.midi == (60, 64, 67)
