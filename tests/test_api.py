"""`import drills`: a small public API that loads nothing until it is used."""

from __future__ import annotations

import subprocess
import sys

import pytest

import drills
from drills import api


def test_every_public_name_is_there() -> None:
    """The package offers just what its API documents."""
    assert set(drills.__all__) == set(api.__all__)
    for name in drills.__all__:
        assert getattr(drills, name) is getattr(api, name)
        assert getattr(drills, name).__doc__
    assert set(drills.__all__) <= set(dir(drills))


def test_other_names_are_refused() -> None:
    """A wrong name is an AttributeError, as anywhere in Python."""
    with pytest.raises(AttributeError, match="no attribute 'shuffle'"):
        _ = drills.shuffle


def test_importing_the_package_loads_nothing_of_it() -> None:
    """The modules come when a name is used."""
    code = "import sys, drills; print([name for name in sys.modules if name.startswith('drills.')])"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
