"""Tables kept on disk between runs, in the user's own cache folder.

A file is known by a digest of everything that its table depends on: our code of theory, neck and catalogue,
the chord type, the instrument, the hand. It holds a line of JSON, plain columns of numbers and a checksum,
and nothing that could be run. What is broken, foreign or out of date is as good as not there, and a
folder that cannot be written to is no fault.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import fields
from functools import lru_cache
from hashlib import blake2b
from importlib.resources import files
from pathlib import Path

import numpy as np

from drills.catalogue.chord_type import ChordType
from drills.catalogue.enumerate import MOST_NOTES
from drills.catalogue.rank import REASONS
from drills.catalogue.setup import Setup
from drills.catalogue.table import Columns, Table, build_tables

FOLDER_VARIABLE = "DRILLS_CACHE"
"""Names a folder of one's own; "off" keeps nothing."""

MOST_FILES = 600
"""The oldest go when there are more: a dozen hands and tunings, some megabytes each."""

_MAGIC = b"layered-voicing catalogue\n"
_SUFFIX = ".columns"
_CHECKSUM_BYTES = 32
_ROOMS = ("theory", "neck", "catalogue")
_LAYOUT = {
    "tones": ("<i1", MOST_NOTES),
    "gaps": ("<i1", MOST_NOTES - 1),
    "pair": ("<i1", 0),
    "lower": ("<i2", 0),
    "upper": ("<i2", 0),
    "keys": ("<i2", 0),
    "root": ("<i1", 0),
    "stretch_um": ("<i4", 0),
    "lowest_midi": ("<i1", 0),
    "string_set": ("<i1", 0),
    "points": ("<i1", len(REASONS)),
}
"""Each column's numbers, and how many of them a voicing has; 0 for a single one."""


def tables(kinds: Sequence[ChordType], setup: Setup, *, repeats: int = 0) -> tuple[Table, ...]:
    """The catalogues of chord types: from the cache what it has, the others built and kept."""
    folder = cache_folder()
    if folder is None:
        return build_tables(kinds, setup, repeats=repeats)
    paths = [folder / (_digest(kind, setup, repeats) + _SUFFIX) for kind in kinds]
    found = [_load(path, kind, setup) for path, kind in zip(paths, kinds, strict=True)]
    missing = [place for place, table in enumerate(found) if table is None]
    built = build_tables([kinds[place] for place in missing], setup, repeats=repeats)
    for place, table in zip(missing, built, strict=True):
        found[place] = table
        _keep(paths[place], table)
    if missing:
        _drop_oldest(folder)
    return tuple(table for table in found if table is not None)


def cache_folder() -> Path | None:
    """Where tables are kept: as the variable says, else as the platform does; None for nowhere."""
    own = os.environ.get(FOLDER_VARIABLE, "")
    if own:
        return None if own == "off" else Path(own)
    xdg = os.environ.get("XDG_CACHE_HOME", "")
    try:
        base = Path(xdg) if xdg else _platform_folder(sys.platform, Path.home())
    except RuntimeError:  # nobody's home
        return None
    return base / "layered-voicing-drills"


def _platform_folder(platform: str, home: Path) -> Path:
    if platform == "darwin":
        return home / "Library" / "Caches"
    if platform == "win32":
        return home / "AppData" / "Local"
    return home / ".cache"


@lru_cache(maxsize=1)
def code_digest() -> bytes:
    """A digest of the sources that a table depends on."""
    digest = blake2b(digest_size=16)
    for room in _ROOMS:
        sources = (each for each in files("drills").joinpath(room).iterdir() if each.name.endswith(".py"))
        for source in sorted(sources, key=lambda each: each.name):
            digest.update(source.name.encode() + b"\0" + source.read_bytes() + b"\0")
    return digest.digest()


def _digest(kind: ChordType, setup: Setup, repeats: int) -> str:
    instrument, hand = setup.instrument, setup.hand
    parts = (
        tuple(each.plain for each in kind.tones),
        tuple(sorted(sorted(maker) for maker in kind.makers)),
        kind.symbol.quality,
        (instrument.open_midi, instrument.capo, instrument.frets, instrument.scale_length_mm),
        tuple((each.name, getattr(hand, each.name)) for each in fields(hand)),
        setup.strings,
        repeats,
    )
    return blake2b(code_digest() + repr(parts).encode(), digest_size=20).hexdigest()


def _load(path: Path, kind: ChordType, setup: Setup) -> Table | None:
    try:
        data = path.read_bytes()
    except OSError:
        return None
    body, checksum = data[:-_CHECKSUM_BYTES], data[-_CHECKSUM_BYTES:]
    if not body.startswith(_MAGIC) or blake2b(body, digest_size=_CHECKSUM_BYTES).digest() != checksum:
        return None
    end = body.find(b"\n", len(_MAGIC)) + 1
    header = json.loads(body[len(_MAGIC) : end])
    if header["digest"] != path.stem:
        return None
    columns = []
    for dtype, width in _LAYOUT.values():
        count = header["voicings"] * max(width, 1)
        column = np.frombuffer(body, dtype, count, end)
        end += column.nbytes
        columns.append(column.reshape(-1, width) if width else column)
    return Table(kind, setup, Columns(*columns))


def _keep(path: Path, table: Table) -> None:
    """Writes a table to a part file and renames it; a folder that cannot be written to stays as it is."""
    header = json.dumps({"digest": path.stem, "voicings": len(table.columns)}).encode() + b"\n"
    columns = [
        np.ascontiguousarray(getattr(table.columns, name), dtype).tobytes()
        for name, (dtype, _) in _LAYOUT.items()
    ]
    body = b"".join((_MAGIC, header, *columns))
    part = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, suffix=".part", delete=False) as file:
            part = Path(file.name)
            file.write(body + blake2b(body, digest_size=_CHECKSUM_BYTES).digest())
        part.replace(path)
    except OSError:
        if part is not None:
            part.unlink(missing_ok=True)


def _drop_oldest(folder: Path) -> None:
    try:
        kept = [(path.stat().st_mtime_ns, path) for path in folder.glob(f"*{_SUFFIX}")]
        for _, path in sorted(kept)[:-MOST_FILES]:
            path.unlink(missing_ok=True)
    except OSError:  # another run is cleaning up too
        return
