"""How to read the necks: each sign that this handout uses, drawn, with its word."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

from drills.cards.answer import neck_of
from drills.cards.card import Marker
from drills.cards.subject import Subject
from drills.pack.handout.marker import draw_marker
from drills.pack.handout.paper import Paper
from drills.pack.handout.pen import QUIET

_Sign: TypeAlias = tuple[Marker, str]

_SIZE: Final = 8.5
_LINE_MM: Final = 7.0
_RADIUS_MM: Final = 2.2
_TOLD: Final = (
    "The highest string is on top; a ribbon joins the notes of a layer, degrees stand in the markers"
)
_MIRRORED: Final = "; necks are mirrored for left-handed players"
_CAPO: Final = "; frets are counted from the capo, at fret {}"
_LAYERS: Final = ("lower layer", "upper layer", "middle layer")


def legend(paper: Paper, subjects: Sequence[Subject]) -> None:
    """Writes it where the paper is; signs flow from left to right."""
    x = paper.left_mm
    for marker, words in _signs(subjects):
        width = 2 * _RADIUS_MM + 2 + paper.text_width(words, size=_SIZE)
        if x + width > paper.left_mm + paper.column_mm:
            x, paper.y = paper.left_mm, paper.y + _LINE_MM
        draw_marker(paper, marker, x + _RADIUS_MM, paper.y - 1.1, _RADIUS_MM)
        paper.text(x + 2 * _RADIUS_MM + 2, paper.y, words, size=_SIZE)
        x += width + 6
    paper.y += _LINE_MM
    capo = subjects[0].instrument.capo
    mirrored, from_capo = _MIRRORED * subjects[0].is_left_handed, _CAPO.format(capo) if capo else ""
    told = f"{_TOLD}{mirrored}{from_capo}."
    paper.y = paper.paragraph(paper.left_mm, paper.y, told, size=_SIZE, colour=QUIET, within=paper.column_mm)


def _signs(subjects: Sequence[Subject]) -> Iterator[_Sign]:
    """What the necks of the subjects show."""
    markers = [marker for subject in subjects for marker in neck_of(subject).markers]
    used = {marker.layer for marker in markers}
    for layer in (1, 2, 0):
        if layer in used:
            words = "the layer" if used == {0} else _LAYERS[layer]
            yield Marker(0, 1, layer, "3"), words
    if any(marker.is_root for marker in markers):
        yield Marker(0, 1, 0, "1", is_root=True), "root"
    if any(marker.is_doubled for marker in markers):
        yield Marker(0, 1, 0, "5", is_doubled=True), "a note that comes twice"
