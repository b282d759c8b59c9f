"""Files that come out whole or not at all, and never over a file of somebody else."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from drills.errors import DrillsError

_NO_ROOM = "free some space there, or choose another folder"
_NO_ENTRY = "choose a folder that you may write to"
_MENDS = {
    errno.ENOSPC: _NO_ROOM,
    errno.EDQUOT: _NO_ROOM,
    errno.EFBIG: _NO_ROOM,
    errno.EACCES: _NO_ENTRY,
    errno.EPERM: _NO_ENTRY,
    errno.EROFS: _NO_ENTRY,
    errno.EIO: "choose another folder",
    errno.ENAMETOOLONG: "choose a shorter name",
}


def refuse_foreign(path: Path, is_ours: Callable[[Path], bool]) -> None:
    """Raises unless the place is free or holds a file that this program wrote.

    Args:
        path: where a file is to go.
        is_ours: tells whether the file that is there carries our mark.

    Raises:
        DrillsError: when a folder, a file of somebody else or an unreadable file is there.
    """
    try:
        if not path.exists():
            return
        if path.is_dir():
            raise DrillsError("a folder is where the file should go", where=str(path), mend="move it away")
        ours = is_ours(path)
    except OSError as error:
        raise _refusal(error, path, act="read") from error
    if not ours:
        raise _taken(path, "file")


def refuse_foreign_folder(folder: Path, is_ours: Callable[[Path], bool]) -> None:
    """Raises unless the place is free or holds an empty folder or one that this program wrote.

    Args:
        folder: where several files are to go.
        is_ours: tells whether the folder that is there carries our mark.

    Raises:
        DrillsError: when a file, a folder of somebody else or an unreadable folder is there.
    """
    try:
        if not folder.exists():
            return
        if not folder.is_dir():
            raise DrillsError("a file is where the folder should go", where=str(folder), mend="move it away")
        ours = not any(folder.iterdir()) or is_ours(folder)
    except OSError as error:
        raise _refusal(error, folder, act="read") from error
    if not ours:
        raise _taken(folder, "folder")


def _taken(path: Path, kind: str) -> DrillsError:
    return DrillsError(
        f"the {kind} that is there was not written by this program, so it stays",
        where=str(path),
        mend="move it away, or choose another folder",
    )


@contextmanager
def whole_file(path: Path) -> Iterator[BinaryIO]:
    """Opens a part file beside `path` and renames it to `path` when the block ends well.

    On any fault, Ctrl-C included, the part file goes and whatever was at `path` stays. A link is
    followed, so that it still points where it did. Folders on the way are made.

    Raises:
        DrillsError: when the file cannot be written; the fault of the system is its cause.
    """
    target = Path(os.path.realpath(path))
    part = target.with_name(f".{secrets.token_hex(6)}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with part.open("xb") as file:
            yield file
        part.replace(target)
    except BaseException as error:
        with suppress(OSError):
            part.unlink()
        if isinstance(error, OSError) and _comes_from(part, error):
            raise _refusal(error, path) from error
        raise


def _comes_from(part: Path, error: OSError) -> bool:
    """Tells a fault in writing from a fault of another file, which whoever writes has met with."""
    if error.filename is None:
        return error.errno in _MENDS
    return str(error.filename) in map(str, (part, *part.parents))


def _refusal(error: OSError, path: Path, act: str = "write") -> DrillsError:
    mend = _MENDS.get(error.errno or 0, "choose another folder")
    return DrillsError(f"cannot {act} the file ({error.strerror or error})", where=str(path), mend=mend)
