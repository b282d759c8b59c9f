"""How the tests run the program: in this process, as if from a terminal 80 columns wide without colour."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from typing import TypeAlias

import pytest

from drills.cli.main import main

Run: TypeAlias = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="session")
def run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Run]:
    """Runs the program with arguments and gives its exit status, stdout and stderr."""

    def run_main(*arguments: str) -> tuple[int, str, str]:
        written = io.BytesIO(), io.BytesIO()
        out, err = (io.TextIOWrapper(each, encoding="ascii", newline="") for each in written)
        with redirect_stdout(out), redirect_stderr(err):
            status = main(arguments)
        err.flush()
        said, complained = (each.getvalue().decode("utf-8") for each in written)
        return status, said, complained

    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", "80")
        patch.delenv("FORCE_COLOR", raising=False)
        patch.setenv("DRILLS_CACHE", str(tmp_path_factory.mktemp("cache")))
        yield run_main
