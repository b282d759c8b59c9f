"""The drills, one file each; a drill is found by the name of its file.

Every module has `make(subject) -> Dealt | None`: question, answer and what the answer has to be, or None
where the drill does not apply to the subject.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import TypeAlias

from drills.cards.dealt import Dealt
from drills.cards.subject import Subject

Make: TypeAlias = Callable[[Subject], Dealt | None]


@cache
def drill_names() -> tuple[str, ...]:
    """Every drill there is, by name."""
    return tuple(sorted(module.name for module in iter_modules(__path__)))


@cache
def drill(name: str) -> Make:
    """The maker of a drill's question and answer."""
    make: Make = import_module(f"{__name__}.{name}").make
    return make
