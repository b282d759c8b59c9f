"""Jazz-guitar chord voicings, split into layers and turned into spaced-repetition drills.

What the command line does can be done from Python with the names below; see `drills.api` for each of them,
with examples that run. Importing `drills` alone loads nothing else.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from drills.api import (
        DrillsError,
        build_deck,
        draw_neck,
        find_grips,
        find_voicings,
        mend,
        name_voicing,
        plan_deck,
        read_recipe,
        reduce,
        smoothest_ways,
        spell_chord,
        step,
        swap,
        transpose,
    )

__all__ = (
    "DrillsError",
    "build_deck",
    "draw_neck",
    "find_grips",
    "find_voicings",
    "mend",
    "name_voicing",
    "plan_deck",
    "read_recipe",
    "reduce",
    "smoothest_ways",
    "spell_chord",
    "step",
    "swap",
    "transpose",
)


def __getattr__(name: str) -> Any:
    """A public name, loaded when it is asked for."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from drills import api

    return getattr(api, name)


def __dir__() -> list[str]:
    """The public names, loaded or not."""
    return sorted({*globals(), *__all__})
