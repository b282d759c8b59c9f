"""The two sides of a card as HTML, and the words that stand for a picture.

Conventions: every text of a face is plain and untrusted, so it is escaped here and nowhere else. Words
about the neck count strings as guitarists do (1 = highest), unlike the data, which counts from the lowest.
"""

from __future__ import annotations

import re
from functools import lru_cache
from importlib import resources
from itertools import groupby
from operator import attrgetter
from typing import TypeAlias

from drills.cards.card import Card, Face, Marker, PictureSpec

Pair: TypeAlias = tuple[str, str]
"""The file names of one picture, on the day's ground and on the night's."""

_LAYER_NAMES = ("Lower layer", "Upper layer", "Middle layer")
"""In the order of `Marker.layer`."""

_CONTROLS = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
_SPECIAL = re.compile(_CONTROLS.pattern[:-1] + r"&<>\"'{}\[\]𝄪𝄫]")

# Braces and brackets are markup to readers of the format: {{field}}, [sound:file].
_SIGNS = {sign: f"&#{ord(sign)};" for sign in "&<>\"'{}[]"}

# Few phones have a font with these two, so they are put together from signs that every font has.
_RARE_ACCIDENTALS = {
    "𝄫": '<span class="rare" role="img" aria-label="double flat">♭♭</span>',
    "𝄪": '<span class="rare" role="img" aria-label="double sharp">&times;</span>',
}

_IN_TEXT = _SIGNS | _RARE_ACCIDENTALS
_IN_ATTRIBUTE = _SIGNS | {sign: sign for sign in _RARE_ACCIDENTALS}


def stylesheet() -> str:
    """The style of every card."""
    return _own_text("card.css") + signs_css()


@lru_cache
def signs_css() -> str:
    """The fonts of ♭ ♯ △, which cards and the quiz page share."""
    return _own_text("signs.css")


def _own_text(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


def one_line(text: str) -> str:
    """The text without control characters, each run of blanks made one space."""
    return " ".join(_CONTROLS.sub(" ", text).split())


@lru_cache(maxsize=4096)  # cards say the same few things over and over
def markup(text: str) -> str:
    """The text as HTML that shows its characters and does nothing else.

    >>> markup("F♯ & {{<b>}}")
    'F♯ &#38; &#123;&#123;&#60;b&#62;&#125;&#125;'
    """
    return _SPECIAL.sub(lambda match: _IN_TEXT.get(match[0], " "), text)


def _attribute(text: str) -> str:
    return _SPECIAL.sub(lambda match: _IN_ATTRIBUTE.get(match[0], " "), text)


def question_html(card: Card, pictures: Pair | None) -> str:
    """The front of a card, its drill named above it."""
    return _side([card.drill], card.front, pictures)


def answer_html(card: Card, pictures: Pair | None) -> str:
    """The back of a card, with a small reminder above it of what was asked."""
    head = card.front.head if card.front.head != card.back.head else ""
    return _side([text for text in (card.drill, head, card.front.ask) if text], card.back, pictures)


def describe(picture: PictureSpec) -> str:
    """Says in words what the picture shows, and nothing that it hides."""
    n_strings = len(picture.string_names)
    start = "the nut" if picture.first_fret <= 1 else f"fret {picture.first_fret}"
    sentences = [f"Neck from {start} to fret {picture.last_fret}"]
    is_layered = any(marker.layer for marker in picture.markers)
    for layer, markers in groupby(picture.markers, attrgetter("layer")):
        places = ", ".join([_place(marker, n_strings) for marker in markers])
        sentences.append(f"{_LAYER_NAMES[layer] if is_layered else 'Notes'}: {places}")
    if picture.muted:
        numbers = sorted(n_strings - string for string in picture.muted)
        strings = "string" if len(numbers) == 1 else "strings"
        sentences.append(f"Not played: {strings} {', '.join(map(str, numbers))}")
    return ". ".join(sentences) + "."


def _place(marker: Marker, n_strings: int) -> str:
    place = f"string {n_strings - marker.string} {f'fret {marker.fret}' if marker.fret else 'open'}"
    if marker.is_asked:
        return f"{place} (asked)"
    if marker.is_root or marker.is_doubled:
        signs = (marker.text, "root" * marker.is_root, "doubled" * marker.is_doubled)
        return f"{place} ({', '.join(filter(None, signs))})"
    return f"{place} ({marker.text})" if marker.text else place


def _side(above: list[str], face: Face, pictures: Pair | None) -> str:
    html = [f'<p class="above">{" · ".join(map(markup, above))}</p>']
    head = [f"<h1>{markup(face.head)}</h1>"] if face.head else []
    if face.head_note:
        head.append(f"<small>{markup(face.head_note)}</small>")
    if head:
        html += ["<header>", *head, "</header>"]
    if face.layers:
        layers = [f'<li class="{layer.role}">{_parts(layer.text)}</li>' for layer in face.layers]
        html += ["<ul>", *layers, "</ul>"]
    lines = [f'<p class="line">{_parts(line)}</p>' for line in face.lines]
    neck = [] if face.picture is None or pictures is None else _neck(face.picture, pictures)
    if face.ask:
        html += [*lines, f'<p class="ask">{markup(face.ask)}</p>', *neck]
    else:
        html += [*neck, *lines]
    return "\n".join(html)


def _neck(picture: PictureSpec, pictures: Pair) -> list[str]:
    day, night = map(_attribute, pictures)
    alt = _attribute(describe(picture))
    return [
        '<div class="neck">',
        f'<img class="day" src="{day}" alt="{alt}">',
        f'<img class="night" src="{night}" alt="{alt}">',
        "</div>",
    ]


def _parts(text: str) -> str:
    """The text as HTML that keeps what follows a middle dot on one line."""
    first, *rest = map(markup, text.split(" · "))
    return "".join([first, *[f" · <span>{part}</span>" for part in rest]])
