"""How the tests of moves write a voicing."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import pytest

from drills.theory.naming import Named, name_notes
from drills.theory.pitch import read_note_name
from drills.theory.text import read_voicing

Read: TypeAlias = Callable[..., Named]


@pytest.fixture(scope="session")
def read() -> Read:
    """Reads and names a voicing, over a root where one is given."""

    def read_named(text: str, root: str = "") -> Named:
        over = read_note_name(root) if root else None
        written = read_voicing(text, root=over)
        return name_notes(
            written.midi, written.sizes, root=over, degrees=written.degrees, spelled=written.spelled
        )

    return read_named
