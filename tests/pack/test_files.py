"""Whole files or none, and never over a file of somebody else."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.pack.files import refuse_foreign, refuse_foreign_folder, together, whole_file

FAULTS = [
    pytest.param(RuntimeError("no ink"), id="any-error"),
    pytest.param(KeyboardInterrupt(), id="ctrl-c"),
    pytest.param(SystemExit(3), id="exit"),
]
DISK_FAULTS = [
    pytest.param(errno.ENOSPC, "free some space", id="disk-full"),
    pytest.param(errno.EDQUOT, "free some space", id="quota-used-up"),
    pytest.param(errno.EFBIG, "free some space", id="file-too-large"),
    pytest.param(errno.EROFS, "may write to", id="read-only-disk"),
    pytest.param(errno.EPERM, "may write to", id="locked-file"),
    pytest.param(errno.ENAMETOOLONG, "shorter name", id="long-name"),
    pytest.param(errno.EIO, "another folder", id="broken-disk"),
]


def write_half_of(path: Path, fault: BaseException) -> None:
    """Fails in the middle of a file."""
    with whole_file(path) as file:
        file.write(b"half")
        raise fault


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A place with an older file of ours."""
    path = tmp_path / "deck.apkg"
    path.write_bytes(b"old")
    return path


def test_the_new_file_takes_the_place_of_the_old_one(place: Path) -> None:
    """Nothing but the new file is there afterwards."""
    with whole_file(place) as file:
        file.write(b"new")
        assert place.read_bytes() == b"old"
    assert place.read_bytes() == b"new"
    assert list(place.parent.iterdir()) == [place]


def test_folders_on_the_way_are_made(tmp_path: Path) -> None:
    """A path into a folder that is not there yet is fine."""
    path = tmp_path / "autumn" / "week" / "deck.apkg"
    with whole_file(path) as file:
        file.write(b"new")
    assert path.read_bytes() == b"new"


@pytest.mark.skipif(os.name != "posix", reason="other systems have other permissions")
def test_a_new_file_has_the_usual_permissions(tmp_path: Path) -> None:
    """A package can be read by whoever could read any other file made here."""
    usual = tmp_path / "usual"
    usual.touch()
    with whole_file(tmp_path / "deck.apkg"):
        pass
    assert stat.S_IMODE((tmp_path / "deck.apkg").stat().st_mode) == stat.S_IMODE(usual.stat().st_mode)


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_leaves_the_old_file_and_no_part(place: Path, fault: BaseException) -> None:
    """Whatever goes wrong, Ctrl-C included, it passes on, and the folder is as it was."""
    with pytest.raises(type(fault)) as caught:
        write_half_of(place, fault)
    assert caught.value is fault
    assert place.read_bytes() == b"old"
    assert list(place.parent.iterdir()) == [place]


@pytest.mark.parametrize(("number", "mend"), DISK_FAULTS)
def test_a_fault_of_the_disk_says_how_to_mend_it(place: Path, number: int, mend: str) -> None:
    """The system's fault becomes what, where and mend, and stays as the cause."""
    fault = OSError(number, os.strerror(number))
    with pytest.raises(DrillsError, match=mend) as caught, whole_file(place):
        raise fault
    assert os.strerror(number) in caught.value.what
    assert caught.value.where == str(place)
    assert caught.value.__cause__ is fault
    assert place.read_bytes() == b"old"
    assert list(place.parent.iterdir()) == [place]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no disk that is always full")
def test_a_disk_that_is_really_full_is_told(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the system itself raises when the buffer goes out is understood."""
    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", lambda _path, _mode: open("/dev/full", "wb"))  # noqa: PTH123, SIM115
        with pytest.raises(DrillsError, match="free some space"), whole_file(place) as file:
            file.write(b"new")
    assert place.read_bytes() == b"old"


def test_a_fault_of_another_file_is_not_taken_for_ours(place: Path) -> None:
    """A picture that cannot be read is no fault of the package."""
    with pytest.raises(FileNotFoundError, match=r"font\.ttf"), whole_file(place):
        Path("font.ttf").read_bytes()
    with pytest.raises(OSError, match="no such picture"), whole_file(place):
        raise OSError("no such picture")
    assert list(place.parent.iterdir()) == [place]


def test_a_part_file_that_cannot_be_made_is_told(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As in a folder that may only be read."""

    def refuse(part: Path, _mode: str) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(part))

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", refuse)
        with pytest.raises(DrillsError, match=r"deck\.apkg: cannot write the file.*may write to"):
            whole_file(place).__enter__()
    assert place.read_bytes() == b"old"


def test_a_file_in_the_way_of_a_folder_is_told(place: Path) -> None:
    """A path through a file cannot be written."""
    for path in (place / "deck.apkg", place / "autumn" / "deck.apkg"):
        with pytest.raises(DrillsError, match=r"cannot make the folder.*in the way"), whole_file(path):
            pass
    assert place.read_bytes() == b"old"


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="nothing is forbidden to this user")
def test_a_folder_that_may_not_be_written_is_told(place: Path) -> None:
    """The message says which folder to choose instead."""
    place.parent.chmod(0o500)
    try:
        with pytest.raises(DrillsError, match="may write to"), whole_file(place):
            pass
        with pytest.raises(DrillsError, match="may write to"), whole_file(place.with_name("a") / "b.apkg"):
            pass
    finally:
        place.parent.chmod(0o700)
    assert place.read_bytes() == b"old"


@pytest.mark.skipif(os.name != "posix", reason="links need a permission elsewhere")
def test_a_link_still_points_where_it_did(place: Path, tmp_path: Path) -> None:
    """The file behind a link is replaced, not the link."""
    link = tmp_path / "link.apkg"
    link.symlink_to(place)
    with whole_file(link) as file:
        file.write(b"new")
    assert link.is_symlink()
    assert place.read_bytes() == b"new"


def write_all(*paths: Path) -> None:
    """Writes a new file to each place."""
    for path in paths:
        with whole_file(path) as file:
            file.write(b"new")


def test_files_written_together_go_over_together(place: Path) -> None:
    """Until all are whole the old ones stand; nothing else is there afterwards."""
    other = place.with_name("page") / "index.html"
    with together():
        write_all(place, other)
        assert place.read_bytes() == b"old"
        assert not other.exists()
    assert (place.read_bytes(), other.read_bytes()) == (b"new", b"new")
    assert sorted(place.parent.rglob("*")) == sorted([place, other, other.parent])
    with whole_file(place) as file:
        file.write(b"newest")
    assert place.read_bytes() == b"newest"


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize("is_inside", [True, False], ids=["within a file", "after a file"])
def test_a_fault_among_files_written_together_leaves_all_as_it_was(
    place: Path, fault: BaseException, is_inside: bool
) -> None:
    """The old file stays; no part and no folder that was made for one is left, an older empty one is."""
    (empty := place.with_name("empty")).mkdir()

    def write_and_fail() -> None:
        with together():
            write_all(place, empty / "deck.apkg", place.with_name("page") / "icons" / "icon.png")
            if is_inside:
                write_half_of(place.with_name("page") / "index.html", fault)
            raise fault

    with pytest.raises(type(fault)) as caught:
        write_and_fail()
    assert caught.value is fault
    assert place.read_bytes() == b"old"
    assert sorted(place.parent.rglob("*")) == sorted([place, empty])


def test_a_file_that_failed_is_no_part_of_the_others(place: Path) -> None:
    """Who goes on without it gets the others, and it stays as it was."""
    with together():
        write_all(other := place.with_name("other.apkg"))
        with pytest.raises(RuntimeError):
            write_half_of(place, RuntimeError())
    assert (place.read_bytes(), other.read_bytes()) == (b"old", b"new")
    assert sorted(place.parent.iterdir()) == sorted([place, other])


def test_ctrl_c_comes_too_late_while_files_go_over(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Once the first is in its place the others follow; the program stops after that."""
    paths = [place.with_name(f"{number}.apkg") for number in range(3)]
    replace_file = Path.replace

    def interrupted(part: Path, target: Path) -> Path:
        replace_file(part, target)
        if target == paths[1]:
            raise KeyboardInterrupt
        return target

    monkeypatch.setattr(Path, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt), together():
        write_all(*paths)
    assert sorted(place.parent.iterdir()) == [*paths, place]


def test_a_file_that_cannot_be_replaced_is_told(place: Path) -> None:
    """Somebody made a folder there meanwhile: it stays, and no part is left."""
    (taken := place.with_name("taken.apkg")).mkdir()
    (taken / "mine").touch()
    with pytest.raises(DrillsError, match="cannot write the file") as caught, together():
        write_all(place, taken)
    assert caught.value.where == str(taken)
    assert sorted(place.parent.rglob("*")) == sorted([place, taken, taken / "mine"])


def test_a_free_place_and_a_file_of_ours_are_fine(place: Path) -> None:
    """Nothing is raised, and only what is there is asked about."""
    asked: list[Path] = []

    def is_ours(path: Path) -> bool:
        asked.append(path)
        return True

    refuse_foreign(place, is_ours)
    refuse_foreign(place.with_name("free.apkg"), is_ours)
    assert asked == [place]


def test_a_file_of_somebody_else_is_refused(place: Path) -> None:
    """The message says what to do with it."""
    with pytest.raises(DrillsError, match=r"not written by this program.*move it away") as caught:
        refuse_foreign(place, lambda _path: False)
    assert caught.value.where == str(place)


def test_a_folder_is_refused(tmp_path: Path) -> None:
    """A folder is nobody's package."""
    with pytest.raises(DrillsError, match="a folder is where"):
        refuse_foreign(tmp_path, lambda _path: True)


def test_a_file_that_cannot_be_read_is_refused(place: Path) -> None:
    """Who cannot look whether it is ours does not overwrite it."""

    def is_ours(path: Path) -> bool:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    with pytest.raises(DrillsError, match="cannot read the file"):
        refuse_foreign(place, is_ours)


def test_a_free_place_and_an_empty_folder_are_free(tmp_path: Path) -> None:
    """Nobody is asked whose they are."""
    refuse_foreign_folder(tmp_path / "new", lambda _: False)
    refuse_foreign_folder(tmp_path, lambda _: False)


def test_what_a_loss_of_power_left_takes_no_place(tmp_path: Path) -> None:
    """A folder with nothing but part files of ours is free; anybody else's part is somebody else's."""
    (tmp_path / ".0123456789ab.part").touch()
    refuse_foreign_folder(tmp_path, lambda _: False)
    (tmp_path / "film.0123456789ab.part").touch()
    with pytest.raises(DrillsError, match="not written by this program"):
        refuse_foreign_folder(tmp_path, lambda _: False)


def test_a_folder_of_ours_may_be_written_to(place: Path) -> None:
    """The mark decides."""
    refuse_foreign_folder(place.parent, lambda folder: folder == place.parent)
    with pytest.raises(DrillsError, match="the folder that is there was not written by this program"):
        refuse_foreign_folder(place.parent, lambda _: False)


def test_a_file_is_no_folder(place: Path) -> None:
    """It stays."""
    with pytest.raises(DrillsError, match="a file is where the folder should go"):
        refuse_foreign_folder(place, lambda _: True)


def test_a_folder_that_cannot_be_read_is_said(place: Path) -> None:
    """The fault of the system becomes ours."""

    def fail(_: Path) -> bool:
        raise PermissionError(errno.EACCES, "Permission denied")

    with pytest.raises(DrillsError, match="cannot read the folder"):
        refuse_foreign_folder(place.parent, fail)
