"""The deck as an open package (.apkg): a zip of one database, a map of the media, and pictures and sounds.

Conventions. One note has one card, and both bear the same number.

*Identity.* Every number comes from SHA-256 of a stable name: of a card's identity or of the deck's id, never
of wording, order or title. Readers know a note again by its guid, so a rebuilt deck updates the card that a
student already has. They take a row's number for its time of making, in milliseconds, and renumber what
lies in the future: all numbers stand below 2**40, which is November 2004.

*Stamps.* A reader takes a note's new text only if the note's `mod` (seconds) is newer than the one it has. It
grows with the deck's edition; and over an older package of the same deck, what did not change keeps its stamp
and what changed gets one newer than any in there. No stamp comes from the clock.

*Bytes.* The same deck over the same package gives the same bytes.
"""

from __future__ import annotations

import json
import re
import sqlite3
import zipfile
import zlib
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from hashlib import blake2b, sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from drills.cards.card import Card, Deck, SoundSpec
from drills.errors import DrillsError
from drills.pack.faces import answer_html, markup, one_line, question_html, stylesheet
from drills.pack.files import refuse_foreign, whole_file
from drills.pack.gallery import Gallery, Media, Sounds

if TYPE_CHECKING:
    import genanki

Json: TypeAlias = dict[str, Any]

MARK: Final = b"layered-voicing drills"
"""Ends every package of ours, as the comment of its zip."""

# Fixed for ever: students' readers know our notes by these.
MODEL_ID: Final = 553_569_782_121
FIELDS: Final = ("Label", "Question", "Answer")
QUESTION: Final = '<main class="face" lang="en">\n{{Question}}\n</main>'
ANSWER: Final = '<main class="face" lang="en">\n{{Answer}}\n</main>'

LOOK_EDITION: Final = 2
"""Grows whenever the stylesheet or a template changes, or readers keep the old look."""

_EPOCH_S: Final = 1_767_225_600  # 2026-01-01, before any package of ours
_DAY_S: Final = 86_400
_LOWEST_NUMBER: Final = 1 << 32
_NUMBER_BOUND: Final = 1 << 40
_AS_NUMBERED: Final = 1  # new cards come by their due number, not by chance
_ALL_THAT_IS_DUE: Final = 9999  # a day; the pace is set by new cards alone, nothing due waits
_END_OF_ZIP_BYTES: Final = 22
_END_OF_ZIP: Final = b"PK\x05\x06"
_DAMAGES: Final = (
    OSError,
    EOFError,
    RuntimeError,
    AttributeError,
    LookupError,
    TypeError,
    ValueError,
    zipfile.BadZipFile,
    zlib.error,
    sqlite3.Error,
)


def write_package(
    deck: Deck,
    path: Path,
    *,
    media: Media,
    sounds: Sounds | None = None,
    progress: Callable[[int], None] | None = None,
) -> None:
    """Writes the deck to `path`, whole or not at all.

    Args:
        deck: what goes in, in order of first appearance.
        path: the package; one of ours that is there is replaced, and its stamps are taken up.
        media: draws the pictures, one by one, as they go into the package.
        sounds: plays what the cards sound; None for a silent package.
        progress: told how many cards have all their pictures and sounds in.

    Raises:
        DrillsError: when the place is taken or cannot be written, or two cards ask the same.
    """
    check_package(path)
    gallery = Gallery(media, sounds)
    stamps = _Stamps(deck.edition, _published(path, _number("deck", deck.id)))
    database = _database(deck, gallery, stamps)
    with whole_file(path) as file, zipfile.ZipFile(file, "w") as package:
        package.comment = MARK
        _add(package, _database_name(), database, zipfile.ZIP_DEFLATED)
        _add(package, "media", gallery.map_json(), zipfile.ZIP_DEFLATED)
        for index, (n_cards, data) in enumerate(gallery.files()):
            _add(package, str(index), data, zipfile.ZIP_STORED)
            if progress is not None:
                progress(n_cards)
        if progress is not None:
            progress(len(deck.cards))


def check_package(path: Path) -> None:
    """Raises unless the place is free or holds a package of ours."""
    refuse_foreign(path, _is_ours)


@dataclass(frozen=True, slots=True)
class _Published:
    """What an older package of the same deck says.

    Attributes:
        notes: stamp and digest of every note, by its guid.
        settings: the deck and its options without their stamps.
        newest_s: the newest stamp in there.
    """

    notes: dict[str, tuple[int, bytes]]
    settings: tuple[Json, Json]
    newest_s: int


class _Stamps:
    """Gives what did not change since the older package its stamp, and the rest a newer one."""

    def __init__(self, edition: int, published: _Published | None) -> None:
        self._published = published
        self._fresh_s = _EPOCH_S + edition * _DAY_S
        if published is not None:
            self._fresh_s = max(self._fresh_s, published.newest_s + 1)
        self._notes: dict[str, tuple[int, bytes]] = {}

    def of_note(self, guid: str, fields: tuple[str, ...], tags: list[str]) -> int:
        """The stamp of one note."""
        if self._published is None:
            return self._fresh_s
        digest = _digest("\x1f".join(fields), tags)
        known = self._published.notes.get(guid)
        self._notes[guid] = known if known and known[1] == digest else (self._fresh_s, digest)
        return self._notes[guid][0]

    def of_settings(self, settings: tuple[Json, Json]) -> int:
        """The stamp of the deck, once all notes have theirs; the newest there is."""
        old = self._published
        is_unchanged = old is not None and (old.notes, old.settings) == (self._notes, settings)
        return old.newest_s if old is not None and is_unchanged else self._fresh_s


def _is_ours(path: Path) -> bool:
    tail_bytes = _END_OF_ZIP_BYTES + len(MARK)
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - tail_bytes))
        tail = file.read()
    return tail.startswith(_END_OF_ZIP) and tail.endswith(MARK)


def _published(path: Path, deck_number: int) -> _Published | None:
    """Reads the package of ours that is at `path`, if it is of this deck."""
    if not path.exists():
        return None
    try:
        with zipfile.ZipFile(path) as package:
            database = package.read(_database_name())
        with closing(sqlite3.connect(":memory:")) as connection:
            connection.deserialize(database)
            return _publication(connection, str(deck_number))
    except _DAMAGES as error:
        raise DrillsError(
            "the package that is there is damaged, so what changed since cannot be told",
            where=str(path),
            mend="put a whole copy of it back, or move it away",
        ) from error


def _publication(connection: sqlite3.Connection, deck_key: str) -> _Published | None:
    all_decks, all_options = map(json.loads, connection.execute("SELECT decks, dconf FROM col").fetchone())
    if deck_key not in all_decks:
        return None
    deck = all_decks[deck_key]
    options = all_options[str(deck["conf"])]
    newest_s = deck.pop("mod")
    del options["mod"]
    rows = connection.execute("SELECT guid, mod, flds, tags FROM notes")
    notes = {guid: (mod, _digest(fields, tags.split())) for guid, mod, fields, tags in rows}
    return _Published(notes, (deck, options), newest_s)


def _database(deck: Deck, gallery: Gallery, stamps: _Stamps) -> bytes:
    """The package's database. genanki knows the format; identity, order and stamps are ours."""
    import genanki

    with closing(sqlite3.connect(":memory:")) as connection:
        cursor = connection.cursor()
        genanki.Package([]).write_to_db(cursor, 0, iter(()))
        _write_notes(cursor, deck, gallery, stamps)
        _write_settings(cursor, deck, stamps)
        connection.commit()
        return connection.serialize()


def _write_notes(cursor: sqlite3.Cursor, deck: Deck, gallery: Gallery, stamps: _Stamps) -> None:
    import genanki

    class Note(genanki.Note):  # type: ignore[misc] # it ships no types
        def _check_invalid_html_tags_in_fields(self) -> None:
            """Our own HTML needs no such guess, which takes as long as the rest of the note."""

    model = _model()
    deck_number = _number("deck", deck.id)
    numbers = _card_numbers(deck)
    in_row_order = sorted(enumerate(deck.cards), key=lambda place: numbers[place[1].identity])
    for n_cards, (position, card) in enumerate(in_row_order):
        fields, tags = _fields(card, n_cards, gallery), _tags(card)
        guid = sha256(card.identity.encode()).hexdigest()[:20]
        stamp_s = stamps.of_note(guid, fields, tags)
        note = Note(model, fields, guid=guid, tags=tags, due=position)
        note.write_to_db(cursor, stamp_s, deck_number, iter((numbers[card.identity],) * 2))


def _write_settings(cursor: sqlite3.Cursor, deck: Deck, stamps: _Stamps) -> None:
    import genanki

    number, options_number = _number("deck", deck.id), _number("options", deck.id)
    all_decks, all_options = map(json.loads, cursor.execute("SELECT decks, dconf FROM col").fetchone())
    name = _deck_name(deck)
    options = all_options["1"] | {"id": options_number, "name": name, "desiredRetention": deck.target_recall}
    options["new"] = options["new"] | {"order": _AS_NUMBERED, "perDay": deck.fresh_per_day}
    options["rev"] = options["rev"] | {"perDay": _ALL_THAT_IS_DUE}
    about = "".join(f"<p>{markup(paragraph)}</p>" for paragraph in deck.about)
    settings = genanki.Deck(number, name, about).to_json() | {"conf": options_number}
    del settings["mod"], options["mod"]

    stamp_s = stamps.of_settings((settings, options))
    all_decks[str(number)] = settings | {"mod": stamp_s}
    all_options[str(options_number)] = options | {"mod": stamp_s}
    models = {MODEL_ID: _model().to_json(_EPOCH_S + LOOK_EDITION * _DAY_S, None)}
    cursor.execute(
        "UPDATE col SET mod = ?, models = ?, decks = ?, dconf = ?",
        (stamp_s * 1000, *map(json.dumps, (models, all_decks, all_options))),
    )


def _model() -> genanki.Model:
    import genanki

    return genanki.Model(
        MODEL_ID,
        "Layered voicing drill",
        fields=[{"name": name} for name in FIELDS],
        templates=[{"name": "Drill", "qfmt": QUESTION, "afmt": ANSWER}],
        css=stylesheet(),
    )


def _fields(card: Card, n_cards: int, gallery: Gallery) -> tuple[str, str, str]:
    """The label, which readers list and sort by, and the two sides; never empty, or the card would go."""
    label = markup(one_line(f"{card.drill} · {card.label}"))
    question = question_html(card, gallery.hang(card.front, card.label, n_cards))
    answer = answer_html(card, gallery.hang(card.back, card.label, n_cards))
    asked, answered = card.asked_sound, None if card.quiz is None else SoundSpec(card.quiz.sound.midi)
    root_alone = asked is not None and asked.root_midi is None
    before = gallery.sounded(asked, f"{card.key} alone" if root_alone else card.label, n_cards)
    after = gallery.sounded(answered, card.label, n_cards)
    return label, question + _sound_tag(before), answer + _sound_tag(after)


def _sound_tag(name: str | None) -> str:
    """The format's mark for a sound that its reader plays."""
    return "" if name is None else f"\n[sound:{name}]"


def _tags(card: Card) -> list[str]:
    return [tag for tag in ("-".join(one_line(tag).split()) for tag in card.tags) if tag]


def _deck_name(deck: Deck) -> str:
    """The title; readers would make a deck within a deck of what follows a double colon."""
    return re.sub(":{2,}", ":", one_line(deck.title) or one_line(deck.id))


def _digest(fields: str, tags: list[str]) -> bytes:
    return blake2b("\x1e".join((fields, *tags)).encode(), digest_size=16).digest()


def _card_numbers(deck: Deck) -> dict[str, int]:
    """A number for every card, the same whatever the order of the cards."""
    numbers: dict[str, int] = {}
    taken: set[int] = set()
    for identity in sorted(card.identity for card in deck.cards):
        if identity in numbers:
            raise DrillsError(f"two cards ask the same: {identity}", where=deck.title, mend="leave one out")
        attempt = 0
        while (number := _number(f"card {attempt}", identity)) in taken:
            attempt += 1
        taken.add(number)
        numbers[identity] = number
    return numbers


def _number(kind: str, name: str) -> int:
    digest = sha256(f"{kind}\x1f{name}".encode()).digest()
    return _LOWEST_NUMBER + int.from_bytes(digest[:8]) % (_NUMBER_BOUND - _LOWEST_NUMBER)


def _database_name() -> str:
    """The format's name for its database: it ends in the name of the library without its first syllable."""
    import genanki

    return f"collection.{genanki.__name__.removeprefix('gen')}2"


def _add(package: zipfile.ZipFile, name: str, data: bytes, compress_type: int) -> None:
    """Adds a file whose entry tells neither the clock nor the system."""
    entry = zipfile.ZipInfo(name)
    entry.create_system = 3
    entry.external_attr = 0o644 << 16
    package.writestr(entry, data, compress_type)
