"""Files that come out whole or not at all, and never over a file of somebody else."""

from __future__ import annotations

import errno
import os
import re
import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from pathlib import Path
from typing import BinaryIO

from drills.errors import DrillsError

_NO_ROOM = "free some space there, or choose another folder"
_NO_ENTRY = "choose a folder that you may write to"
_IN_THE_WAY = "a file stands in the way: move it away, or choose another folder"
_MENDS = {
    errno.ENOSPC: _NO_ROOM,
    errno.EDQUOT: _NO_ROOM,
    errno.EFBIG: _NO_ROOM,
    errno.EACCES: _NO_ENTRY,
    errno.EPERM: _NO_ENTRY,
    errno.EROFS: _NO_ENTRY,
    errno.EEXIST: _IN_THE_WAY,
    errno.ENOTDIR: _IN_THE_WAY,
    errno.EIO: "choose another folder",
    errno.ENAMETOOLONG: "choose a shorter name",
}
_PART_NAME = re.compile(r"\.[0-9a-f]{12}\.part")


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
        raise _refusal(error, path, act="read the file") from error
    if not ours:
        raise _taken(path, "file")


def refuse_foreign_folder(folder: Path, is_ours: Callable[[Path], bool]) -> None:
    """Raises unless the place is free or holds an empty folder or one that this program wrote.

    Part files that were left behind, as by a loss of power, count for nothing.

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
        is_empty = all(_PART_NAME.fullmatch(each.name) for each in folder.iterdir())
        ours = is_empty or is_ours(folder)
    except OSError as error:
        raise _refusal(error, folder, act="read the folder") from error
    if not ours:
        raise _taken(folder, "folder")


def _taken(path: Path, kind: str) -> DrillsError:
    return DrillsError(
        f"the {kind} that is there was not written by this program, so it stays",
        where=str(path),
        mend="move it away, or choose another folder",
    )


class _Batch:
    """Part files that wait for each other, and the folders that were made for them, outermost first."""

    def __init__(self) -> None:
        self.parts: list[tuple[Path, Path]] = []
        self.folders: list[Path] = []

    def make_folder(self, folder: Path) -> None:
        """Makes a folder and those on the way to it."""
        try:
            self.folders += [each for each in (*reversed(folder.parents), folder) if not each.exists()]
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise _refusal(error, folder, act="make the folder") from error

    def take_places(self) -> None:
        """Renames every part that has not gone over yet."""
        for part, target in self.parts:
            if part.exists():
                try:
                    part.replace(target)
                except OSError as error:
                    raise _refusal(error, target) from error

    def drop(self) -> None:
        """Removes what has not gone over, and the folders that nothing is in."""
        for part, _ in self.parts:
            with suppress(OSError):
                part.unlink()
        for folder in reversed(self.folders):
            with suppress(OSError):
                folder.rmdir()


_BATCH: ContextVar[_Batch | None] = ContextVar("_BATCH", default=None)


@contextmanager
def together() -> Iterator[_Batch]:
    """Holds back every `whole_file` inside until the block ends well; then all go to their places.

    On any fault, Ctrl-C included, the part files go, with the folders made for them, and whatever was there
    stays. A folder is filled and never exchanged, so that a server which stands in it goes on serving. Only
    where the system refuses to replace one of the files are those before it new and the others old.

    Raises:
        DrillsError: when a file cannot be replaced; the fault of the system is its cause.
    """
    if (outer := _BATCH.get()) is not None:
        yield outer
        return
    batch = _Batch()
    token = _BATCH.set(batch)
    try:
        yield batch
        try:
            batch.take_places()
        except KeyboardInterrupt:  # too late: stopped here, old and new files would lie side by side
            batch.take_places()
            raise
    except BaseException:
        batch.drop()
        raise
    finally:
        _BATCH.reset(token)


@contextmanager
def whole_file(path: Path) -> Iterator[BinaryIO]:
    """Opens a part file beside `path` and renames it to `path` when the block ends well.

    Inside a block of `together` it is renamed at the end of that one. On any fault, Ctrl-C included, the part
    file goes and whatever was at `path` stays. A link is followed, so that it still points where it did.
    Folders on the way are made.

    Raises:
        DrillsError: when the file cannot be written; the fault of the system is its cause.
    """
    target = Path(os.path.realpath(path))
    part = target.with_name(f".{secrets.token_hex(6)}.part")
    with together() as batch:
        batch.make_folder(target.parent)
        try:
            with part.open("xb") as file:
                yield file
            batch.parts.append((part, target))
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
    return str(error.filename) == str(part)


def _refusal(error: OSError, path: Path, act: str = "write the file") -> DrillsError:
    mend = _MENDS.get(error.errno or 0, "choose another folder")
    return DrillsError(f"cannot {act} ({error.strerror or error})", where=str(path), mend=mend)
