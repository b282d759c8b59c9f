"""A recipe written to a file of its own, whole or not at all, and never over a file that is there."""

from __future__ import annotations

from pathlib import Path
from typing import BinaryIO

from drills.errors import DrillsError


def write_new(path: Path, content: bytes) -> None:
    """Writes a file where there is none.

    Raises:
        DrillsError: the name is taken, even by a link that leads nowhere, or cannot be written to.
    """
    try:
        with path.open("xb") as file:
            _write(file, content, path)
    except FileExistsError:
        raise DrillsError(
            "there is a file of that name, and it stays",
            where=str(path),
            mend="move it away, or choose another name or folder",
        ) from None
    except OSError as fault:
        what = f"cannot write it ({fault.strerror or fault})"
        mend = "choose a folder that is there, has room and can be written to"
        raise DrillsError(what, where=str(path), mend=mend) from fault


def _write(file: BinaryIO, content: bytes, path: Path) -> None:
    """Writes all of it, or takes the file away again: on a full disk, on Ctrl-C."""
    try:
        file.write(content)
        file.flush()
    except BaseException:
        path.unlink(missing_ok=True)
        raise
