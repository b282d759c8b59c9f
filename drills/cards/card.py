"""What a card is: words, a picture to be drawn, and an identity. Data only, no bytes.

Conventions: strings are counted here from the lowest sounding string, 0, upwards; fret 0 is
the open string; all text is plain Unicode in the shown form (♭ ♯ △ ø), never markup.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from drills.cards.task import Task

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
class SpelledNote:
    """A sounding note as the card calls it, shown form."""

    name: str
    midi: int


SpelledLayers: TypeAlias = tuple[tuple[SpelledNote, ...], ...]
"""The notes of each layer, low to high."""


def notes_line(layers: SpelledLayers) -> str:
    """The notes without octaves, layers apart: "D♭ G | C F A"."""
    return " | ".join(" ".join(note.name for note in layer) for layer in layers)


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
        notes: the notes that one of the lines tells, that line being their `notes_line`; empty if none does.
    """

    head: str
    ask: str = ""
    head_note: str = ""
    layers: tuple[LayerLine, ...] = ()
    lines: tuple[str, ...] = ()
    picture: PictureSpec | None = None
    notes: SpelledLayers = field(default=(), compare=False)


@dataclass(frozen=True, slots=True)
class SoundSpec:
    """What an answer sounds.

    Attributes:
        midi: the notes, low to high.
        root_midi: a root to be heard before them; None where the question plays none.
    """

    midi: tuple[int, ...]
    root_midi: int | None = None


@dataclass(frozen=True, slots=True)
class ToneNames:
    """What each of the twelve notes is called beside an answer, by pitch class, C first; shown form."""

    notes: tuple[str, ...]
    degrees: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class VoicingWords:
    """How progress calls a voicing: its nickname or kind of chord, and chord and degrees in full."""

    title: str
    detail: str


@dataclass(frozen=True, slots=True)
class Quiz:
    """What a page needs beside the faces, to put the question itself and to tell what was right.

    Attributes:
        task: what the answer has to be; None where the student is the only judge.
        sound: what the answer sounds.
        names: what to call any note that was given instead.
        key_class: pitch class of the key it is asked in.
        voicing: what it is about.
        is_layer: it asks about one layer by itself.
    """

    task: Task | None
    sound: SoundSpec
    names: ToneNames
    key_class: int
    voicing: VoicingWords
    is_layer: bool


@dataclass(frozen=True, slots=True)
class Card:
    """One drill on one voicing in one key.

    Attributes:
        identity: what the card asks, as stable text; equal identities are the same card.
        drill: the drill's name.
        key: the root or key it is asked in, shown form.
        label: plain ASCII words for media names, chord and key in them ("Eb13#11 x45565").
        front, back: the question and the answer.
        quiz: what the quiz page needs; None for a card that goes into packages only.
    """

    identity: str
    drill: str
    key: str
    label: str
    front: Face
    back: Face
    tags: tuple[str, ...] = ()
    quiz: Quiz | None = None

    @property
    def asked_sound(self) -> SoundSpec | None:
        """What the question sounds: its root where it wants that heard, else nothing.

        The root is heard alone beside a neck; the voicing follows where the ear has nothing else to go by.
        """
        if self.quiz is None or self.quiz.sound.root_midi is None:
            return None
        return self.quiz.sound if self.front.picture is None else SoundSpec((self.quiz.sound.root_midi,))


@dataclass(frozen=True, slots=True)
class DeckNeck:
    """The instrument that a deck is asked on.

    Attributes:
        string_names: of the open strings, lowest first, shown form.
        open_midi: what the open strings sound, capo and all.
        highest_fret: counted from the capo.
        is_left_handed: how pictures are drawn.
    """

    string_names: tuple[str, ...] = ("E", "A", "D", "G", "B", "E")
    open_midi: tuple[int, ...] = (40, 45, 50, 55, 59, 64)
    highest_fret: int = 20
    is_left_handed: bool = False


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
        neck: the instrument; six strings in standard tuning unless said.
    """

    id: str
    title: str
    about: tuple[str, ...]
    cards: tuple[Card, ...]
    fresh_per_day: int = 5
    target_recall: float = 0.9
    edition: int = 1
    neck: DeckNeck = DeckNeck()
