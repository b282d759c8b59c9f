"""A kind of layer, as a player asks for it: "[spacing] structure", where a structure may be a family.

Source: the words are those of the names that layers have.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from drills.errors import DrillsError
from drills.theory.layer import LARGEST_LAYER, LayerName, name_layer
from drills.theory.words import nearest

WIDEST_GAP_SEMITONES = 12
"""Between neighbouring notes of a layer that is asked for."""

SPACINGS = ("drop 2 and 4", "drop 2", "drop 3", "close", "open", "wide")


@dataclass(frozen=True, slots=True)
class LayerPattern:
    """Which layers are meant.

    Attributes:
        spacing: one of SPACINGS; empty for any.
        structure: a structure or a family; empty for any.
    """

    spacing: str = ""
    structure: str = ""

    def fits(self, name: LayerName) -> bool:
        """Whether a layer is meant.

        >>> read_layer_pattern("close triad").fits(name_layer((4, 3)))
        True
        """
        if self.spacing and self.spacing != name.spacing:
            return False
        return not self.structure or self.structure in _nouns(name)

    @property
    def text(self) -> str:
        """The words that mean it."""
        return f"{self.spacing} {self.structure}".strip()

    @property
    def sizes(self) -> tuple[int, ...]:
        """How many notes such layers have, fewest first."""
        return tuple(sorted({size for name, size in _known() if self.fits(name)}))


def read_layer_pattern(text: str, *, where: str = "") -> LayerPattern:
    """The layers meant by words such as "open triad", "sus4" or "stack".

    >>> read_layer_pattern("Open triads")
    LayerPattern(spacing='open', structure='triad')
    """
    words = " ".join(text.lower().split())
    spacing = next((each for each in SPACINGS if f"{words} ".startswith(f"{each} ")), "")
    structure = words.removeprefix(spacing).strip()
    known = {noun for name, _ in _known() for noun in _nouns(name)}
    if structure not in known and structure.removesuffix("s") in known:
        structure = structure.removesuffix("s")
    if not words or (structure and structure not in known):
        spaced = {f"{name.spacing} {noun}" for name, _ in _known() for noun in _nouns(name)}
        close = nearest(words, sorted(known | spaced)) or f"{spacing} major triad".strip()
        mend = f"write {close!r}, or a family: triad, stack, sus, shell, cluster"
        raise DrillsError(f"no layer is called {text!r}", where=where, mend=mend)
    pattern = LayerPattern(spacing, structure)
    if not pattern.sizes:
        spacings = sorted({name.spacing for name, _ in _known() if structure in _nouns(name)})
        raise DrillsError(
            f"no {structure} is {spacing}", where=where, mend=f"a {structure} is {' or '.join(spacings)}"
        )
    return pattern


def _nouns(name: LayerName) -> tuple[str, str]:
    return name.family, name.structure


@lru_cache(maxsize=1)
def _known() -> frozenset[tuple[LayerName, int]]:
    """Every layer without a doubled note, with its number of notes."""
    return frozenset(
        (name_layer(gaps), size)
        for size in range(1, LARGEST_LAYER + 1)
        for gaps in product(range(1, WIDEST_GAP_SEMITONES + 1), repeat=size - 1)
        if "doubled" not in name_layer(gaps).structure and name_layer(gaps).family != "other"
    )
