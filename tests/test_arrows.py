"""The arrows of the house: who may import whom. Each rule is shown to catch what it forbids."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

CORE = ("theory", "neck", "catalogue", "cards", "recipe")
HEAVY = {"PIL", "fpdf", "genanki", "matplotlib", "music21", "numpy", "rich", "segno", "soundfile"}

PLANTS = [
    # id of the contract, {file: what is planted there}
    pytest.param("layers", {"theory/planted.py": "import drills.neck"}, id="theory-sees-neck"),
    pytest.param("layers", {"cards/planted.py": "import drills.draw"}, id="cards-see-draw"),
    pytest.param("layers", {"recipe/planted.py": "import drills.draw"}, id="recipe-sees-draw"),
    pytest.param("layers", {"media/planted.py": "import drills.pack"}, id="media-see-pack"),
    pytest.param("layers", {"build.py": "import drills.cli"}, id="build-sees-cli"),
    pytest.param("layers", {"attic.py": "import drills.errors"}, id="a-room-without-a-place"),
    pytest.param(
        "no-cycles",
        {"neck/east.py": "import drills.neck.west", "neck/west.py": "import drills.neck.east"},
        id="two-modules-lean-on-each-other",
    ),
    pytest.param("packing", {"pack/planted.py": "import drills.recipe"}, id="pack-sees-recipe"),
    pytest.param("packing", {"pack/planted.py": "import drills.draw"}, id="pack-sees-draw"),
    pytest.param("packing", {"pack/planted.py": "import drills.plan"}, id="pack-sees-plan"),
    pytest.param("planning", {"plan/keys.py": "import drills.draw.neck"}, id="plan-sees-draw"),
    pytest.param("layers", {"plan/keys.py": "import drills.media"}, id="plan-sees-media"),
    pytest.param("door-of-the-command-line", {"media/planted.py": "import click"}, id="media-know-click"),
    pytest.param("door-of-the-command-line", {"build.py": "import rich"}, id="build-knows-rich"),
    pytest.param("door-of-the-command-line", {"cli/main.py": "import segno"}, id="other-commands-know-segno"),
    pytest.param("door-of-pictures", {"media/planted.py": "from PIL import Image"}, id="media-know-Pillow"),
    pytest.param("door-of-the-package-format", {"pack/page.py": "import genanki"}, id="page-knows-genanki"),
    pytest.param("door-of-notation", {"theory/planted.py": "import music21"}, id="theory-knows-music21"),
    pytest.param("door-of-paper", {"build.py": "import fpdf"}, id="build-knows-fpdf2"),
    pytest.param("door-of-sound", {"draw/planted.py": "import numpy"}, id="draw-knows-numpy"),
]


@pytest.fixture
def house(checkout: Path, tmp_path: Path) -> Path:
    """A copy of the package and its contracts, to plant things in."""
    shutil.copytree(checkout / "drills", tmp_path / "drills", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(checkout / "pyproject.toml", tmp_path)
    return tmp_path


def broken_contracts(house: Path) -> set[str]:
    """The names of the contracts that a house breaks."""
    lint = subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-logo", "--no-cache"],
        cwd=house,
        capture_output=True,
        text=True,
        check=False,
    )
    broken = set(re.findall(r"^(.+) BROKEN", lint.stdout, re.MULTILINE))
    assert " KEPT" in lint.stdout, lint.stdout + lint.stderr
    assert lint.returncode == (1 if broken else 0)
    return broken


def contract_names(checkout: Path) -> dict[str, str]:
    """The name under which the linter reports a contract, by the contract's id."""
    project = tomllib.loads((checkout / "pyproject.toml").read_text(encoding="utf-8"))
    return {contract["id"]: contract["name"] for contract in project["tool"]["importlinter"]["contracts"]}


def plant(house: Path, files: dict[str, str]) -> None:
    """Writes lines at the end of modules, making those that do not exist."""
    for name, line in files.items():
        with (house / "drills" / name).open("a", encoding="utf-8") as file:
            file.write(f"\n{line}\n")


def parsed(files: Iterable[Path]) -> Iterator[tuple[Path, ast.AST]]:
    """Every node of every file, beside its file."""
    for path in files:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            yield path, node


def foreign_imports(house: Path) -> set[str]:
    """Libraries beyond the standard one that the core imports."""
    core = (path for room in CORE for path in (house / "drills" / room).rglob("*.py"))
    names = set()
    for _, node in parsed([house / "drills" / "errors.py", *core]):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.partition(".")[0])
    return names - sys.stdlib_module_names - {"drills"}


def files_naming_the_shelf(house: Path) -> set[str]:
    """Modules that hold the name of the recipe folder, or a path through it, as text."""
    return {
        path.relative_to(house).as_posix()
        for path, node in parsed((house / "drills").rglob("*.py"))
        if isinstance(node, ast.Constant) and re.fullmatch(r"(?:.*/)?decks(?:/\S*)?", str(node.value))
    }


def test_the_house_as_it_stands_breaks_no_contract(house: Path) -> None:
    """No module imports what it must not."""
    assert broken_contracts(house) == set()


@pytest.mark.parametrize(("contract_id", "files"), PLANTS)
def test_a_contract_catches_what_it_forbids(house: Path, contract_id: str, files: dict[str, str]) -> None:
    """A planted import breaks its contract."""
    plant(house, files)
    assert contract_names(house)[contract_id] in broken_contracts(house)


def test_every_contract_has_a_plant(checkout: Path) -> None:
    """No contract goes untried."""
    assert set(contract_names(checkout)) == {param.values[0] for param in PLANTS}


def test_the_core_knows_no_library_but_the_standard_one(house: Path) -> None:
    """Theory, neck, cards and recipe run on the standard library alone; the catalogue has numpy as well."""
    assert foreign_imports(house) == {"numpy"}
    shutil.rmtree(house / "drills" / "catalogue")
    assert foreign_imports(house) == set()


def test_a_library_planted_in_the_core_is_seen(house: Path) -> None:
    """An import inside a function counts too."""
    plant(house, {"theory/planted.py": "def f() -> None:\n    import soundfile.nothing"})
    assert foreign_imports(house) == {"numpy", "soundfile"}


def test_only_the_shelf_knows_where_the_recipes_lie(house: Path) -> None:
    """One module names the folder of recipes; the others ask it."""
    assert files_naming_the_shelf(house) == {"drills/recipe/shelf.py"}


def test_a_second_module_naming_the_folder_is_seen(house: Path) -> None:
    """A path into the folder counts as naming it."""
    plant(house, {"media/planted.py": 'HERE = "../decks/week.toml"'})
    assert "drills/media/planted.py" in files_naming_the_shelf(house)


@pytest.mark.parametrize("module", ["drills", "drills.cli.main"])
def test_importing_is_light(module: str) -> None:
    """Heavy libraries are loaded by what uses them, not by the first import."""
    code = f"import sys, {module}; print(*{HEAVY!r} & sys.modules.keys())"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert loaded.stdout.split() == []
