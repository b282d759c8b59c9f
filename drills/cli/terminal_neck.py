"""The neck in text: strings as lines, frets as posts, a layer's shape and the degree where a note lies.

Conventions: the highest string is on top and the nut on the left, on the right for left-handed players;
open strings and mutes have a column of their own beside the nut. Shapes tell the layers apart without
colour; with colour, a marker is a chip whose own background makes it readable on light and dark terminals.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

from drills.cards.card import LAYER_INDEX, Marker, PictureSpec
from drills.theory.voicing import Role

if TYPE_CHECKING:
    from rich.text import Text

SHAPES = ("●", "■", "◆")
"""One for each layer look: lower, upper, middle."""

STYLES = ("bold #ffffff on #0072B2", "bold #1A1400 on #E69F00", "bold #1A1400 on #DE5B78")
_QUIET, _STRONG = "dim", "bold"

_WIDEST_FRET, _NARROWEST_FRET = 7, 5
_NAME, _OPEN = 3, 6
_MARGIN = _NAME + _OPEN + 2
"""Columns beside the frets: string names, open strings and mutes, nut and the strings' further run."""

_Part: TypeAlias = tuple[str, str]
"""Text and its style; parts are laid from the nut outwards, so that a mirrored neck lays them backwards."""


def shape(role: Role) -> _Part:
    """The shape that stands for a layer, and its style."""
    layer = LAYER_INDEX[role]
    return SHAPES[layer], STYLES[layer]


def neck(spec: PictureSpec, *, width: int = 80) -> Text:
    """A neck of at most `width` columns.

    A stretch of neck that is too long for them loses the frets on which no note lies.
    """
    from rich.text import Text

    frets = list(range(spec.first_fret, spec.last_fret + 1))
    if len(frets) * (_NARROWEST_FRET + 1) > width - _MARGIN:
        frets = sorted({marker.fret for marker in spec.markers if marker.fret}) or frets[:1]
    room = min(_WIDEST_FRET, (width - _MARGIN) // max(len(frets), 1) - 1)
    room = max(room, _NARROWEST_FRET)
    highest = len(spec.string_names) - 1
    rows = [_string_row(spec, string, frets, room) for string in range(highest, -1, -1)]
    rows.append(_number_row(spec, frets, room))
    picture = Text(no_wrap=True, overflow="ignore")
    for number, row in enumerate(rows):
        if number:
            picture.append("\n")
        line = Text.assemble(*(reversed(row) if spec.is_left_handed else row))
        line.rstrip()
        picture.append_text(line)
    return picture


def _string_row(spec: PictureSpec, string: int, frets: list[int], room: int) -> list[_Part]:
    """One string with its notes."""
    notes = {marker.fret: marker for marker in spec.markers if marker.string == string}
    level = 0 if string == len(spec.string_names) - 1 else 2 if string == 0 else 1
    nut = ("╖╢╜" if spec.is_left_handed else "╓╟╙")[level]
    wire = "┬┼┴"[level]
    row = [_name(spec, string), *_beside_nut(spec, string, notes.get(0))]
    row.append((nut if frets[0] == 1 else wire, _QUIET))
    for fret, after in pairwise([*frets, frets[-1] + 1]):
        row += _fret_cell(notes.get(fret), room)
        row.append((wire if after == fret + 1 else f"{wire}╌{wire}", _QUIET))
    row.append(("─", _QUIET))
    return row


def _name(spec: PictureSpec, string: int) -> _Part:
    """A string's name at the outer end of its row."""
    name = spec.string_names[string]
    return (name.ljust(_NAME) if spec.is_left_handed else name.rjust(_NAME)), ""


def _beside_nut(spec: PictureSpec, string: int, marker: Marker | None) -> list[_Part]:
    """What stands between a string's name and the nut: an open note, a cross, or nothing."""
    text, style = ("×" if string in spec.muted else ""), ""
    if marker is not None:
        text, style = _marker_text(marker), STYLES[marker.layer]
    outer = (_OPEN - len(text)) // 2
    return [(" " * outer, ""), (text, style), (" " * (_OPEN - outer - len(text)), "")]


def _fret_cell(marker: Marker | None, room: int) -> list[_Part]:
    """A string between two frets."""
    if marker is None:
        return [("─" * room, _QUIET)]
    text = _marker_text(marker)
    outer = (room - len(text)) // 2
    return [("─" * outer, _QUIET), (text, STYLES[marker.layer]), ("─" * (room - outer - len(text)), _QUIET)]


def _marker_text(marker: Marker) -> str:
    """Shape and degree; a double sign is written as two, since few terminals have it."""
    degree = marker.text.replace("𝄫", "♭♭").replace("𝄪", "♯♯")
    return SHAPES[marker.layer] + degree.rjust(2)


def _number_row(spec: PictureSpec, frets: list[int], room: int) -> list[_Part]:
    """The fret numbers, those in use strong."""
    used = {marker.fret for marker in spec.markers}
    row: list[_Part] = [(" " * (_NAME + _OPEN + 1), "")]
    for fret, after in pairwise([*frets, frets[-1] + 1]):
        number = str(fret)
        outer = (room - len(number)) // 2
        right = room - outer - len(number)
        row += [(" " * outer, ""), (number, _STRONG if fret in used else _QUIET), (" " * right, "")]
        row.append((" " if after == fret + 1 else "   ", ""))
    row.append((" ", ""))
    return row
