"""What a card is: words, a picture to be drawn, and an identity. Data only, no bytes.

Conventions: strings are counted here from the lowest sounding string, 0, upwards; fret 0 is
the open string; all text is plain Unicode in the shown form (♭ ♯ △ ø), never markup.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Role: TypeAlias = Literal["lower", "middle", "upper", "single"]

LAYER_INDEX: dict[Role, int] = {"lower": 0, "single": 0, "upper": 1, "middle": 2}
"""Which of the three layer looks (marker shape and colour) a role wears."""


@dataclass(frozen=True, slots=True)
class Marker:
    """One note on the neck.

    Attributes:
        string: 0 is the lowest sounding string.
        fret: 0 is open.
        layer: which layer look it wears, 0 lower, 1 upper, 2 middle.
        text: the degree inside, such as "♭3"; empty when the picture hides degrees.
        is_root: the marker is ringed.
        is_asked: the marker whose degree the card asks for; it is empty and stands out.
        is_doubled: another marker of the picture sounds the same pitch class.
    """

    string: int
    fret: int
    layer: int = 0
    text: str = ""
    is_root: bool = False
    is_asked: bool = False
    is_doubled: bool = False


@dataclass(frozen=True, slots=True)
class PictureSpec:
    """A picture of a stretch of neck.

    Attributes:
        string_names: note names of the open strings, lowest string first, shown form.
        markers: the notes, in order of pitch; ribbons join neighbours of one layer.
        first_fret, last_fret: the window, both included; a first fret of 1 shows the nut.
        muted: strings marked as not played (a question may leave them bare).
        is_left_handed: mirrored, the nut on the right.
    """

    string_names: tuple[str, ...]
    markers: tuple[Marker, ...]
    first_fret: int
    last_fret: int
    muted: tuple[int, ...] = ()
    is_left_handed: bool = False


@dataclass(frozen=True, slots=True)
class LayerLine:
    """One line of words about a layer; it is shown beside that layer's marker shape."""

    role: Role
    text: str


@dataclass(frozen=True, slots=True)
class Face:
    """One side of a card.

    Attributes:
        head: the large line, such as "E♭13♯11"; may be empty.
        head_note: a quiet word beside it, such as "no root" or a nickname; may be empty.
        layers: what is said of the layers, upper first.
        ask: the question; empty on an answer.
        lines: quieter facts, one a line (notes, frets, fingers, stretch, remarks).
        picture: the neck, if one is shown.
    """

    head: str
    ask: str = ""
    head_note: str = ""
    layers: tuple[LayerLine, ...] = ()
    lines: tuple[str, ...] = ()
    picture: PictureSpec | None = None


@dataclass(frozen=True, slots=True)
class Card:
    """One drill on one voicing in one key.

    Attributes:
        identity: what the card asks, as stable text; equal identities are the same card.
        drill: the drill's name.
        key: the root or key it is asked in, shown form.
        label: plain ASCII words for media names, chord and key in them ("Eb13#11 x45565").
        front, back: the question and the answer.
    """

    identity: str
    drill: str
    key: str
    label: str
    front: Face
    back: Face
    tags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Deck:
    """What goes into one package, cards in order of first appearance.

    Attributes:
        id: stable name of the deck; never its title.
        title: shown to people.
        about: paragraphs of the description, plain text (legend and cautions included).
        fresh_per_day: how many unseen cards a day brings.
        target_recall: the share of answers that should succeed, 0 to 1.
        edition: grows when a deck that is already in use is corrected.
    """

    id: str
    title: str
    about: tuple[str, ...]
    cards: tuple[Card, ...]
    fresh_per_day: int = 5
    target_recall: float = 0.9
    edition: int = 1
