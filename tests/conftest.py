"""What every test stands on: where the checkout is, and how Hypothesis draws."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

# No deadline: a slow machine is no fault of the code. In CI every run draws the same examples, so that it is
# never red by chance; at the desk fresh ones go on looking.
settings.register_profile("desk", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "desk")


@pytest.fixture(scope="session")
def checkout() -> Path:
    """The folder that holds pyproject.toml, drills/ and decks/."""
    return Path(__file__).resolve().parents[1]
