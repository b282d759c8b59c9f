"""A new file comes out whole, or there is none."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from drills.errors import DrillsError
from drills.recipe.new_file import write_new


def test_a_new_file_holds_what_it_was_given(tmp_path: Path) -> None:
    """Byte for byte."""
    write_new(tmp_path / "new.toml", b"a = 1\r\n")
    assert (tmp_path / "new.toml").read_bytes() == b"a = 1\r\n"


def test_a_name_that_is_taken_stays_taken(tmp_path: Path) -> None:
    """By a file, or by a link that leads nowhere."""
    (tmp_path / "mine.toml").write_bytes(b"mine")
    (tmp_path / "link.toml").symlink_to(tmp_path / "nowhere")
    for name in ("mine.toml", "link.toml"):
        with pytest.raises(DrillsError, match="there is a file of that name, and it stays; move it away"):
            write_new(tmp_path / name, b"ours")
    assert (tmp_path / "mine.toml").read_bytes() == b"mine"
    assert not (tmp_path / "nowhere").exists()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    """With the reason of the system, and what to do."""
    with pytest.raises(DrillsError, match=r"cannot write it \(No such file or directory\); choose a folder"):
        write_new(tmp_path / "none" / "new.toml", b"")


@pytest.mark.parametrize(
    ("fault", "raised"),
    [(OSError(28, "No space left on device"), DrillsError), (KeyboardInterrupt(), KeyboardInterrupt)],
)
def test_nothing_half_written_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: BaseException, raised: type[BaseException]
) -> None:
    """A full disk and Ctrl-C take the file away again."""

    class Failing(io.BytesIO):
        def flush(self) -> None:
            raise fault

    def opened(path: Path, *_: object, **__: object) -> io.BytesIO:
        path.touch()
        return Failing()

    monkeypatch.setattr(Path, "open", opened)
    with pytest.raises(raised):
        write_new(tmp_path / "mine.toml", b"a = 1\n")
    assert list(tmp_path.iterdir()) == []
