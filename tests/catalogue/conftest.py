"""No test of the catalogue reads or writes the user's own cache."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from drills.catalogue.cache import FOLDER_VARIABLE


@pytest.fixture(scope="session", autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A cache of this run's own, shared by its tests."""
    folder = tmp_path_factory.mktemp("catalogue")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(FOLDER_VARIABLE, str(folder))
        yield folder
