"""The files are PNG files.

Source: Portable Network Graphics (PNG) Specification, second edition (W3C, 2003): signature 5.2, chunks 5.3,
order 5.6, IHDR 11.2.2, PLTE 11.2.3, filter types 9.2; read back by Pillow as well.
"""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from drills.draw.png import deflated, png
from drills.draw.theme import DARK, LIGHT, Theme

THEMES = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark")]


def chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    """Kind and content of every chunk, its check sum verified."""
    assert data[:8] == bytes([137, 80, 78, 71, 13, 10, 26, 10])
    found, at = [], 8
    while at < len(data):
        (length,) = struct.unpack_from(">I", data, at)
        kind, content = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert struct.unpack_from(">I", data, at + 8 + length) == (zlib.crc32(kind + content),)
        found.append((kind, content))
        at += 12 + length
    return found


def plane(width: int, height: int, paints: bytes) -> Image.Image:
    """A plane of those paint numbers, repeated as often as needed."""
    return Image.frombytes("L", (width, height), (paints * (width * height))[: width * height])


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("width", "height"), [(1, 1), (7, 3), (64, 5)])
def test_files_follow_the_specification(theme: Theme, width: int, height: int) -> None:
    """Four chunks in order, indexed colour at four bits, one colour a paint, whole rows, known filters."""
    picture = plane(width, height, bytes(range(16)))
    kinds, contents = zip(*chunks(png(picture.size, theme, deflated(picture))), strict=True)
    assert kinds == (b"IHDR", b"PLTE", b"IDAT", b"IEND")
    header, palette, data, end = contents
    assert struct.unpack(">IIBBBBB", header) == (width, height, 4, 3, 0, 0, 0)
    assert palette == bytes(part for colour in theme.colours for part in colour)
    row = 1 + (width * 4 + 7) // 8
    rows = zlib.decompress(data)
    assert len(rows) == row * height
    assert set(rows[::row]) <= {0, 1, 2, 3, 4}
    assert end == b""


@settings(max_examples=60)
@given(
    st.integers(1, 40), st.integers(1, 12), st.binary(min_size=1, max_size=60), st.sampled_from([LIGHT, DARK])
)
def test_every_pixel_comes_back(width: int, height: int, noise: bytes, theme: Theme) -> None:
    """Another reader of PNG finds the colour of every paint where it was put."""
    picture = plane(width, height, bytes(value % 16 for value in noise))
    with Image.open(io.BytesIO(png(picture.size, theme, deflated(picture)))) as read:
        colours = list(read.convert("RGB").tobytes())
    assert colours == [part for paint in picture.tobytes() for part in theme[paint]]


def test_drawing_leaves_the_plane_alone() -> None:
    """A plane is the same after it was deflated."""
    picture = plane(10, 4, bytes(range(16)))
    before = picture.tobytes()
    deflated(picture)
    assert (picture.mode, picture.tobytes()) == ("L", before)
