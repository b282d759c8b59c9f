"""A plane of paint numbers as a PNG file.

Written here and not by the image library, because the plane is deflated once for both themes and the palette
is the only other part. Source: Portable Network Graphics Specification (W3C), indexed colour at four bits.
"""

from __future__ import annotations

import struct
import zlib

from PIL import Image, ImageChops

from drills.draw.theme import Theme

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_INDEXED_COLOUR = 3
_BITS = 4
_FILTER_UP = 2


def deflated(plane: Image.Image) -> bytes:
    """The image data of a plane of paint numbers, which both themes share.

    Every row is written as its difference from the row above: in a picture made of upright and level lines
    almost all of that is 0. Runs of one value are then all there is to find, and looking for nothing else
    (`Z_RLE`) is quicker than the usual search and gives smaller files. Short blocks (`memLevel`) let the code
    follow the change from notes to numbers.
    """
    width, height = plane.size
    row_bytes = (width * _BITS + 7) // 8
    packed = plane.convert("P").tobytes("raw", f"P;{_BITS}")
    rows = Image.frombytes("L", (row_bytes, height), packed)
    above = ImageChops.offset(rows, 0, 1)
    above.paste(0, (0, 0, row_bytes, 1))
    lines = Image.new("L", (row_bytes + 1, height), _FILTER_UP)
    lines.paste(ImageChops.subtract_modulo(rows, above), (1, 0))
    squeeze = zlib.compressobj(memLevel=6, strategy=zlib.Z_RLE)
    return squeeze.compress(lines.tobytes()) + squeeze.flush()


def png(size: tuple[int, int], theme: Theme, data: bytes) -> bytes:
    """The file: image data of that size, shown in the colours of the theme."""
    header = struct.pack(">IIBBBBB", *size, _BITS, _INDEXED_COLOUR, 0, 0, 0)
    palette = bytes(part for colour in theme.colours for part in colour)
    return b"".join(
        (
            _SIGNATURE,
            _chunk(b"IHDR", header),
            _chunk(b"PLTE", palette),
            _chunk(b"IDAT", data),
            _chunk(b"IEND", b""),
        )
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    """Length, kind, data and check sum."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
