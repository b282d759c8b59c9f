"""The typeface is found where matplotlib keeps it, and has the signs that names are written with."""

from __future__ import annotations

import sys
from typing import Any

import pytest

from drills import typeface
from drills.errors import DrillsError
from drills.typeface import BOLD, REGULAR


@pytest.mark.parametrize("name", [REGULAR, BOLD])
def test_it_has_every_sign_of_the_trade(name: str) -> None:
    """Outside check: the character map of the face, as fontTools reads it."""
    from fontTools.ttLib import TTFont

    with TTFont(typeface.typeface(name)) as font:
        known = font.getBestCmap()
    assert {ord(sign) for sign in "♭♯△ø°–·…×|'/()"} <= set(known)
    assert ord("𝄫") not in known


def test_finding_it_loads_nothing() -> None:
    """Matplotlib takes a second to load."""
    loaded = "matplotlib" in sys.modules
    typeface.typeface(REGULAR)
    assert ("matplotlib" in sys.modules) == loaded


def test_a_missing_face_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """With what to do about it."""

    def nothing(_: str) -> Any:
        return None

    monkeypatch.setattr(typeface, "find_spec", nothing)
    with pytest.raises(DrillsError, match="install the program again"):
        typeface.typeface(REGULAR)
