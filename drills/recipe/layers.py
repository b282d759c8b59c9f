"""Layers as recipes write them: degrees, from low to high, each the nearest one above the one before."""

from __future__ import annotations

from collections.abc import Sequence

from drills.errors import DrillsError
from drills.recipe.fields import quoted
from drills.theory.degree import KNOWN, Degree, read_degree
from drills.theory.layer import LARGEST_LAYER
from drills.theory.pitch import LETTERS, NoteName
from drills.theory.text import read_voicing
from drills.theory.voicing import Voicing, checked_sizes
from drills.theory.words import nearest

_C = NoteName(0)


def read_layer(text: str) -> tuple[Degree, ...]:
    """The degrees of one layer.

    >>> [each.plain for each in read_layer("5' b3")]
    ['5', 'b3']
    """
    if "|" in text or "/" in text:
        what = f"{quoted(text)} is more than one layer"
        raise DrillsError(what, mend='write lower = "…" and upper = "…" apart')
    tokens = text.replace(",", " ").split()
    if not 1 <= len(tokens) <= LARGEST_LAYER:
        mend = f"a layer has 1 to {LARGEST_LAYER} notes"
        raise DrillsError(f"a layer of {len(tokens)} notes", mend=mend)
    return tuple(_degree(token.rstrip("'")) for token in tokens)


def _degree(text: str) -> Degree:
    try:
        return read_degree(text)
    except DrillsError as fault:
        close = nearest(text, KNOWN)
        mend = f"write {close!r}" if close else fault.mend
        if text[:1] in LETTERS:
            mend = "write degrees over the root, such as 1 5 b3"
        raise DrillsError(fault.what, mend=mend) from None


def voicing_of_layers(layers: Sequence[tuple[Degree, ...]], written: str) -> Voicing:
    """The voicing of layers that have been read, lowest first.

    Args:
        layers: their degrees.
        written: all of them as written, with the apostrophes that lift notes.
    """
    heard = read_voicing(written, root=_C)
    heights = tuple(midi - heard.midi[0] for midi in heard.midi)
    degrees = tuple(each for layer in layers for each in layer)
    return Voicing(degrees, heights, checked_sizes(tuple(len(layer) for layer in layers)))
