"""The wheel, built and used as a stranger would: in an environment of its own, far from the checkout."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import sysconfig
import venv
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow


def run(*command: str | Path, cwd: Path) -> str:
    """Runs a command without the checkout in reach and returns what it prints."""
    done = subprocess.run(
        [str(word) for word in command],
        cwd=cwd,
        env={"PATH": os.defpath, "PYTHONUTF8": "1", "HOME": str(cwd)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(checkout: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the checkout with the build tools at hand."""
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "-o", folder, checkout, cwd=folder)
    (path,) = folder.glob("*.whl")
    return path


@dataclass(frozen=True, slots=True)
class Stranger:
    """Someone who has the wheel and a folder, and nothing else of ours."""

    bin: Path
    site: Path
    folder: Path

    def drills(self, *arguments: str) -> str:
        """Runs the installed program in the folder."""
        return run(self.bin / "drills", *arguments, cwd=self.folder)


@pytest.fixture(scope="module")
def stranger(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Stranger:
    """The wheel in a fresh environment that borrows the dependencies, but not the package, of this one.

    A path file names our site-packages. Python does not follow path files found there in turn, so an
    editable install of the checkout stays out of reach.
    """
    root = tmp_path_factory.mktemp("stranger")
    folder = root / "folder"
    folder.mkdir()
    venv.create(root / "env", with_pip=False)
    scheme = {"base": str(root / "env"), "platbase": str(root / "env")}
    site = Path(sysconfig.get_path("purelib", "venv", scheme))
    binaries = Path(sysconfig.get_path("scripts", "venv", scheme))
    python = binaries / "python"
    pip = (sys.executable, "-m", "pip", "--python", python)
    run(*pip, "install", "--no-deps", "--no-index", wheel, cwd=root)
    (site / "borrowed.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return Stranger(binaries, site, folder)


def files_under(root: Path, shipped_as: str) -> dict[str, bytes]:
    """Every file under a folder that belongs in a wheel, by its name there."""
    return {
        f"{shipped_as}/{path.relative_to(root).as_posix()}": path.read_bytes()
        for path in root.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }


def test_the_wheel_is_the_package_and_the_shelf_and_nothing_else(wheel: Path, checkout: Path) -> None:
    """Every source, page, licence and recipe is inside, byte for byte; tests are not."""
    with zipfile.ZipFile(wheel) as archive:
        shipped = {name: archive.read(name) for name in archive.namelist() if ".dist-info/" not in name}
    expected = files_under(checkout / "drills", "drills") | files_under(checkout / "decks", "drills/decks")
    assert sorted(shipped) == sorted(expected)
    assert shipped == expected
    assert {"drills/py.typed", "drills/LICENSE"} < shipped.keys()
    assert any(re.fullmatch(r"drills/decks/[^/]+\.toml", name) for name in shipped)


def test_the_installed_package_is_the_one_that_runs(stranger: Stranger) -> None:
    """Neither the checkout nor an editable install is what gets tested here."""
    where = run(stranger.bin / "python", "-c", "import drills; print(drills.__file__)", cwd=stranger.folder)
    assert Path(where.strip()).parent == stranger.site / "drills"


def test_the_version_is_the_one_of_the_wheel(stranger: Stranger, wheel: Path) -> None:
    """`drills --version` says what the wheel's file name says."""
    assert wheel.name.split("-")[1] in stranger.drills("--version").split()


def test_the_shelf_lists_every_recipe(stranger: Stranger, checkout: Path) -> None:
    """What lies in the recipe folder of the checkout can be named by someone who has the wheel only."""
    listed = stranger.drills("shelf")
    missing = [path.stem for path in (checkout / "decks").glob("*.toml") if path.stem not in listed]
    assert missing == []


def test_the_main_job_runs_from_the_wheel(stranger: Stranger, checkout: Path) -> None:
    """A shelf recipe becomes a package with cards in it, from a folder that holds nothing else."""
    name = min(path.stem for path in (checkout / "decks").glob("*.toml"))
    summary = json.loads(stranger.drills("build", name, "-o", "out", "--json"))
    assert summary["cards"] > 0
    package = stranger.folder / "out" / f"{name}.apkg"
    written = {(stranger.folder / file).resolve() for file in summary["files"]}
    assert written == {path.resolve() for path in (stranger.folder / "out").iterdir()}
    assert package.resolve() in written
    assert zipfile.ZipFile(package).testzip() is None
    page, folder = package.with_suffix(".html"), package.with_suffix("")
    assert 'id="deck">{' in page.read_text(encoding="utf-8")
    assert {"index.html", "page.js", "deck.json", "service-worker.js"} < {
        path.name for path in folder.iterdir()
    }
