"""The package: sound to other programs, the same notes for ever, the same bytes, nothing lost.

Outside checks: `unzip -t` and `zipfile.testzip` for the archive, sqlite's own `pragma integrity_check`,
`html.parser` for what refers to pictures, plain genanki for the shape of the database.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
import subprocess
import sys
import zipfile
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from drills.cards.card import Card, Deck, Face, PictureSpec
from drills.errors import DrillsError
from drills.pack import apkg
from drills.pack.apkg import FIELDS, MARK, MODEL_ID, write_package

from .conftest import NoteRow, Opened, Sketches, card, database, look_into, riverside

DAY_S = 86_400
EPOCH_S = 1_767_225_600  # 2026-01-01T00:00:00Z

HOSTILE_TITLES = [
    pytest.param("Week 3::Lydian", "Week 3:Lydian", id="a-deck-in-a-deck"),
    pytest.param("Week 3:::::Lydian", "Week 3:Lydian", id="many-colons"),
    pytest.param("Week\x1f3\x00\nLydian\x7f\x85", "Week 3 Lydian", id="control-characters"),
    pytest.param("  \t ", "week-03", id="blank"),
    pytest.param("", "week-03", id="empty"),
    pytest.param("<script>alert(1)</script>", "<script>alert(1)</script>", id="markup"),
    pytest.param("{{Question}} {{c1::x}}", "{{Question}} {{c1:x}}", id="template"),
    pytest.param('"; DROP TABLE notes; --', '"; DROP TABLE notes; --', id="sql"),
    pytest.param("half \ud83c a sign", "half a sign", id="half-a-sign"),
    pytest.param("♭" * 5000, "♭" * 5000, id="long"),
]
HOSTILE_TEXTS = [
    pytest.param("a\x1fb\x1fc", id="field-separator"),
    pytest.param("</main><script>alert(1)</script>", id="markup"),
    pytest.param('" onerror="alert(1)', id="attribute"),
    pytest.param("{{Answer}} {{c1::x}} [sound:x.mp3]", id="template"),
    pytest.param("\x00\x08\x0b\x1b", id="control-characters"),
    pytest.param("12", id="number"),
]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the package goes."""
    return tmp_path / "week-03.apkg"


@pytest.fixture
def opened(deck: Deck, path: Path, media: Sketches) -> Opened:
    """The deck of week 3, written and looked into."""
    write_package(deck, path, media=media)
    return look_into(path)


def rebuilt(deck: Deck, path: Path) -> Opened:
    """What the package holds after the deck was written over what is there."""
    write_package(deck, path, media=Sketches())
    return look_into(path)


def corrected(deck: Deck, index: int, line: str) -> Deck:
    """The deck with another fact on one answer."""
    old = deck.cards[index]
    new = replace(old, back=replace(old.back, lines=(line,)))
    return replace(deck, cards=(*deck.cards[:index], new, *deck.cards[index + 1 :]))


def write_elsewhere(path: Path, first: str = "", **environment: str) -> subprocess.CompletedProcess[str]:
    """Writes the deck of week 3 in a process of its own, which prints our own errors."""
    code = f"""
import runpy, sys
from pathlib import Path
from drills.errors import DrillsError
from drills.pack.apkg import write_package
{first}
made = runpy.run_path(sys.argv[1])
try:
    write_package(made["riverside"](), Path(sys.argv[2]), media=made["Sketches"]())
except DrillsError as error:
    print(error)
"""
    conftest = Path(__file__).with_name("conftest.py")
    return subprocess.run(
        [sys.executable, "-c", code, str(conftest), str(path)],
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)} | environment,
        capture_output=True,
        text=True,
        check=True,
    )


def row_of(opened: Opened, card_: Card) -> NoteRow:
    """The row of a card."""
    return opened.notes[f"{card_.drill} · {card_.label}"]


class Misnamed(Sketches):
    """Media that name their pictures badly."""

    def __init__(self, names: list[str]) -> None:
        super().__init__()
        self.days = iter(names)

    def names(self, picture: PictureSpec, label: str) -> tuple[str, str]:  # noqa: ARG002
        """The next bad name."""
        return next(self.days), "night.png"


class ImageNames(HTMLParser):
    """The files that HTML refers to."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Takes what an img refers to."""
        if tag == "img":
            self.found.add(dict(attrs)["src"] or "")


# --- what other programs find ----------------------------------------------------------------


def test_the_archive_is_sound(opened: Opened, path: Path) -> None:
    """The zip's checksums are right, and it holds the database, the map and every picture once."""
    with zipfile.ZipFile(path) as package:
        assert package.testzip() is None
        names = package.namelist()
    assert len(names) == len(set(names)) == 2 + len(opened.media)


@pytest.mark.skipif(shutil.which("unzip") is None, reason="no unzip here")
@pytest.mark.usefixtures("opened")
def test_unzip_finds_the_archive_sound(path: Path) -> None:
    """A program that is not Python's agrees."""
    tested = subprocess.run(["unzip", "-t", path], capture_output=True, text=True, check=False)
    assert tested.returncode == 0, tested.stdout + tested.stderr
    assert "No errors detected" in tested.stdout


@pytest.mark.usefixtures("opened")
def test_the_database_is_sound(path: Path) -> None:
    """Sqlite finds no fault in it."""
    with database(path) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@pytest.mark.usefixtures("opened")
def test_the_database_has_the_shape_that_plain_genanki_gives_it(path: Path, tmp_path: Path) -> None:
    """Tables, columns and indexes are those of the format."""
    import genanki

    genanki.Package(genanki.Deck(1 << 33, "plain")).write_to_file(tmp_path / "plain.apkg")
    shapes = []
    for package in (path, tmp_path / "plain.apkg"):
        with zipfile.ZipFile(package) as archive:
            members = archive.namelist()[:2]
        with database(package) as connection:
            shapes.append(
                (members, connection.execute("SELECT name, sql FROM sqlite_master ORDER BY name").fetchall())
            )
    assert shapes[0] == shapes[1]


@pytest.mark.usefixtures("opened")
def test_pictures_are_stored_and_the_database_is_deflated(path: Path) -> None:
    """A PNG is not squeezed a second time."""
    with zipfile.ZipFile(path) as package:
        first, media_map, *pictures = (info.compress_type for info in package.infolist())
    assert {first, media_map} == {zipfile.ZIP_DEFLATED}
    assert set(pictures) == {zipfile.ZIP_STORED}


def test_every_card_of_the_deck_is_there_with_its_two_sides(deck: Deck, opened: Opened) -> None:
    """No note is dropped, each has one card, and the label comes first."""
    assert [field["name"] for field in opened.models[str(MODEL_ID)]["flds"]] == list(FIELDS)
    assert len(opened.notes) == len(deck.cards)
    for card_ in deck.cards:
        label, question, answer = row_of(opened, card_).fields
        assert label == f"{card_.drill} · {card_.label}"
        assert card_.front.ask in question
        assert card_.back.lines[0] in answer


def test_even_an_empty_face_makes_a_card(deck: Deck, path: Path) -> None:
    """Genanki drops a card without a question and says nothing; we give it none."""
    bare = replace(deck.cards[0], front=Face(""), back=Face(""))
    assert len(rebuilt(replace(deck, cards=(bare,)), path).notes) == 1


def test_every_picture_a_side_refers_to_is_in_the_package(deck: Deck, opened: Opened) -> None:
    """And nothing else is: no picture is missing, none is idle."""
    referred = ImageNames()
    for note in opened.notes.values():
        referred.feed(note.fields[1] + note.fields[2])
    assert referred.found == set(opened.media)
    assert len(referred.found) == 2 * (len(deck.cards) // 2 + 3)


def test_day_and_night_hold_their_own_picture(deck: Deck, opened: Opened, media: Sketches) -> None:
    """The bytes under a name are those the media gave for it."""
    for card_ in deck.cards:
        assert card_.back.picture is not None
        day, night = media.names(card_.back.picture, card_.label)
        assert opened.media[day] == f"day {card_.back.picture}".encode()
        assert opened.media[night] == f"night {card_.back.picture}".encode()


@pytest.mark.usefixtures("opened")
def test_a_picture_on_several_cards_is_drawn_once(media: Sketches) -> None:
    """Three grips are on two answers each, three more necks on questions."""
    assert len(media.drawn) == len(set(media.drawn)) == 6


def test_numbers_and_guids_are_told_apart(opened: Opened) -> None:
    """Each is there once, small enough for any reader, and no time that lies ahead."""
    rows = opened.notes.values()
    assert len({row.guid for row in rows}) == len({row.note_id for row in rows}) == len(rows)
    assert all(row.note_id == row.card_id for row in rows)
    numbers = [row.card_id for row in rows] + [opened.deck["id"], opened.deck["conf"], MODEL_ID]
    assert len(set(numbers)) == len(numbers)
    assert all(0 < number < 2**40 for number in numbers)


def test_cards_first_appear_in_the_order_of_the_deck(deck: Deck, opened: Opened) -> None:
    """The place in the deck is the card's due number, and the options say to keep to it."""
    assert [row_of(opened, card_).due for card_ in deck.cards] == list(range(len(deck.cards)))
    assert opened.options[str(opened.deck["conf"])]["new"]["order"] == 1


def test_the_deck_brings_its_own_pace(deck: Deck, opened: Opened) -> None:
    """New cards a day and target recall are the deck's; the reader's own options stay what they were."""
    options = opened.options[str(opened.deck["conf"])]
    assert options["new"]["perDay"] == deck.fresh_per_day == 7
    assert options["desiredRetention"] == deck.target_recall == 0.88
    assert opened.options["1"]["new"]["perDay"] == 20
    assert {row.deck_id for row in opened.notes.values()} == {opened.deck["id"]}


def test_the_description_is_what_the_deck_says_of_itself(opened: Opened) -> None:
    """One paragraph each, escaped."""
    assert opened.deck["desc"] == (
        "<p>Squares are the upper layer &#38; discs the lower.</p><p>Stop when it hurts.</p>"
    )


def test_tags_are_words(deck: Deck, path: Path) -> None:
    """A blank within a tag would make two of it."""
    tagged = replace(deck.cards[0], tags=("week 3", "", " \x1f ", "two hands"))
    (row,) = rebuilt(replace(deck, cards=(tagged,)), path).notes.values()
    assert row.tags.split() == ["week-3", "two-hands"]


def test_progress_counts_cards_up_to_the_last(deck: Deck, path: Path) -> None:
    """It never goes back and ends at the size of the deck."""
    seen: list[int] = []
    write_package(deck, path, media=Sketches(), progress=seen.append)
    assert seen == sorted(seen)
    assert seen[-1] == len(deck.cards)
    assert seen[0] == 0


# --- hostile texts -----------------------------------------------------------------------------


@pytest.mark.parametrize(("title", "name"), HOSTILE_TITLES)
def test_a_hostile_title_is_a_title(deck: Deck, path: Path, title: str, name: str) -> None:
    """It names one deck, changes no number and breaks no field."""
    plain = rebuilt(deck, path)
    titled = rebuilt(replace(deck, title=title), path)
    assert titled.deck["name"] == name
    assert titled.deck["id"] == plain.deck["id"]
    assert titled.notes.keys() == plain.notes.keys()


@pytest.mark.parametrize("text", HOSTILE_TEXTS)
def test_a_hostile_text_does_no_harm(deck: Deck, path: Path, text: str) -> None:
    """Wherever it stands, there are three fields, and only our own markup in them."""
    face = Face(text, ask=text, head_note=text, lines=(text,), picture=deck.cards[0].back.picture)
    hostile = replace(deck.cards[0], drill=text, key=text, label="0012", front=face, back=face, tags=(text,))
    opened = rebuilt(replace(deck, about=(text,), cards=(hostile,)), path)
    (row,) = opened.notes.values()
    assert len(row.fields) == 3
    written = "".join(row.fields) + opened.deck["desc"]
    for sign in ("<script", 'onerror="', "{{", "[sound", "\x00", "\x08", "\x1b"):
        assert sign not in written
    with database(path) as connection:
        assert connection.execute("SELECT typeof(sfld) FROM notes").fetchall() == [("text",)]


def test_two_cards_that_ask_the_same_are_refused(deck: Deck, path: Path) -> None:
    """One of them would be lost in silence."""
    with pytest.raises(DrillsError, match="two cards ask the same: place"):
        write_package(replace(deck, cards=(*deck.cards, deck.cards[0])), path, media=Sketches())
    assert not path.exists()


@pytest.mark.parametrize("name", ["a/b.png", "..\\b.png", "a#b.png", "a\x1fb.png", "50%.png", 'a"b.png', ""])
def test_a_file_name_that_some_system_refuses_is_refused(deck: Deck, path: Path, name: str) -> None:
    """Readers unpack pictures into a folder under these names."""
    with pytest.raises(ValueError, match="no file names for every system"):
        write_package(deck, path, media=Misnamed([name] * 12))


def test_two_pictures_of_one_name_are_refused(deck: Deck, path: Path) -> None:
    """Names that differ in case only are one name to some systems."""
    with pytest.raises(ValueError, match=r"two files are named 'A\.png'"):
        write_package(deck, path, media=Misnamed(["a.png", "A.png"]))


# --- the same notes for ever -------------------------------------------------------------------


def test_identity_is_what_it_always_was(deck: Deck, path: Path) -> None:
    """These figures never change, or every student loses every card."""
    asked = replace(deck.cards[0], identity="place ♭7 3 | 13 9 ♯11 over 3")
    opened = rebuilt(replace(deck, cards=(asked,)), path)
    (row,) = opened.notes.values()
    assert MODEL_ID == 553_569_782_121
    assert FIELDS == ("Label", "Question", "Answer")
    assert (row.guid, row.note_id) == ("a1eb53f273084d15f116", 1_012_185_234_961)
    assert (opened.deck["id"], opened.deck["conf"]) == (348_889_569_061, 600_667_093_964)


def test_wording_title_order_and_company_leave_identity_alone(deck: Deck, tmp_path: Path) -> None:
    """The same question is the same card, whatever it is called and wherever it stands."""
    plain = rebuilt(deck, tmp_path / "plain.apkg")
    reworded = tuple(
        replace(card_, label=card_.label, front=replace(card_.front, ask="Find it."), tags=("spring",))
        for card_ in reversed(deck.cards[1:])
    )
    other = rebuilt(replace(deck, title="Spring", cards=reworded, edition=4), tmp_path / "other.apkg")
    assert other.deck["id"] == plain.deck["id"]
    assert other.deck["conf"] == plain.deck["conf"]
    for card_ in reworded:
        old, new = row_of(plain, card_), row_of(other, card_)
        assert (old.guid, old.note_id, old.card_id, old.deck_id) == (
            new.guid,
            new.note_id,
            new.card_id,
            new.deck_id,
        )


def test_the_same_question_in_two_decks_is_one_card(deck: Deck, tmp_path: Path) -> None:
    """A deck's id makes the deck, not the note."""
    third = rebuilt(deck, tmp_path / "3.apkg")
    fourth = rebuilt(replace(deck, id="week-04"), tmp_path / "4.apkg")
    assert third.deck["id"] != fourth.deck["id"]
    assert {row.guid for row in third.notes.values()} == {row.guid for row in fourth.notes.values()}


def test_numbers_that_fall_together_are_parted(
    deck: Deck, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With room for no more numbers than cards, each still gets its own, in any order of the cards."""
    monkeypatch.setattr(apkg, "_NUMBER_BOUND", apkg._LOWEST_NUMBER + len(deck.cards))
    numbers = [
        {row.guid: row.note_id for row in rebuilt(replace(deck, cards=cards), path).notes.values()}
        for cards in (deck.cards, deck.cards[::-1])
    ]
    assert numbers[0] == numbers[1]
    assert len(set(numbers[0].values())) == len(deck.cards)


# --- corrections -------------------------------------------------------------------------------


def test_a_first_build_bears_the_stamp_of_its_edition(deck: Deck, path: Path) -> None:
    """Not that of the clock."""
    opened = rebuilt(replace(deck, edition=3), path)
    assert {row.mod for row in opened.notes.values()} == {EPOCH_S + 3 * DAY_S}
    assert opened.deck["mod"] == opened.options[str(opened.deck["conf"])]["mod"] == EPOCH_S + 3 * DAY_S


def test_a_new_look_has_a_stamp_of_its_own(deck: Deck, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A whole second, a day later with each edition of the look, whatever the deck's edition."""
    monkeypatch.setattr(apkg, "LOOK_EDITION", 4)
    stamp = rebuilt(deck, path).models[str(MODEL_ID)]["mod"]
    assert (stamp, type(stamp)) == (EPOCH_S + 4 * DAY_S, int)


def test_a_rebuild_of_the_same_deck_changes_no_byte(deck: Deck, path: Path) -> None:
    """Not even when it takes up older stamps."""
    rebuilt(deck, path)
    rebuilt(corrected(deck, 0, "A remark."), path)
    first = path.read_bytes()
    rebuilt(corrected(deck, 0, "A remark."), path)
    assert path.read_bytes() == first


def test_only_a_corrected_note_gets_a_newer_stamp(deck: Deck, path: Path) -> None:
    """Its text is new and its place in the student's memory is kept; the others are not touched."""
    before = rebuilt(deck, path)
    after = rebuilt(corrected(deck, 2, "A♭ is the root."), path)
    for index, card_ in enumerate(deck.cards):
        old, new = row_of(before, card_), row_of(after, card_)
        if index == 2:
            assert "A♭ is the root." in new.fields[2]
            assert new.mod > max(row.mod for row in before.notes.values())
            assert old._replace(mod=new.mod, fields=new.fields) == new
        else:
            assert old == new


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"tags": ("week-4",)}, id="tags"),
        pytest.param({"front": Face("Where is it?")}, id="question"),
        pytest.param({"back": riverside().cards[1].back}, id="picture"),
    ],
)
def test_any_change_a_student_can_see_is_newer(deck: Deck, path: Path, change: dict[str, object]) -> None:
    """Tags and pictures count like words."""
    before = rebuilt(deck, path)
    changed = replace(deck.cards[0], **change)  # type: ignore[arg-type]
    after = rebuilt(replace(deck, cards=(changed, *deck.cards[1:])), path)
    assert row_of(after, changed).mod > row_of(before, changed).mod


def test_every_further_correction_is_newer_still(deck: Deck, path: Path) -> None:
    """Back to the first wording is a change, too."""
    mods = [
        row_of(rebuilt(each, path), deck.cards[0]).mod
        for each in (deck, corrected(deck, 0, "One."), corrected(deck, 0, "Two."), deck)
    ]
    assert mods == sorted(set(mods))


def test_a_later_edition_is_newer_than_any_older_package(deck: Deck, path: Path, tmp_path: Path) -> None:
    """Whoever rebuilds on another machine raises the edition."""
    before = rebuilt(corrected(deck, 0, "One."), path)
    after = rebuilt(replace(corrected(deck, 0, "Two."), edition=2), tmp_path / "elsewhere.apkg")
    assert row_of(after, deck.cards[0]).mod > row_of(before, deck.cards[0]).mod


def test_cards_come_and_go_without_touching_the_rest(deck: Deck, path: Path) -> None:
    """An added card is there, a removed one is not, the others keep all but their place."""
    before = rebuilt(replace(deck, cards=deck.cards[:4]), path)
    after = rebuilt(replace(deck, cards=deck.cards[1:]), path)
    assert len(after.notes) == 5
    for card_ in deck.cards[1:4]:
        old, new = row_of(before, card_), row_of(after, card_)
        assert new == old._replace(due=old.due - 1)


def test_a_card_that_comes_back_changed_is_newer_than_it_ever_was(deck: Deck, path: Path) -> None:
    """The deck remembers its newest stamp when the note that bore it is gone."""
    rebuilt(deck, path)
    once = rebuilt(corrected(deck, 0, "One."), path)
    rebuilt(replace(deck, cards=deck.cards[1:]), path)
    again = rebuilt(corrected(deck, 0, "Two."), path)
    assert row_of(again, deck.cards[0]).mod > row_of(once, deck.cards[0]).mod


def test_another_order_changes_places_and_nothing_else(deck: Deck, path: Path) -> None:
    """Stamps stay: nothing a student has seen is different."""
    before = rebuilt(deck, path)
    after = rebuilt(replace(deck, cards=deck.cards[::-1]), path)
    for place, card_ in enumerate(deck.cards[::-1]):
        assert row_of(after, card_) == row_of(before, card_)._replace(due=place)
    assert after.deck == before.deck
    assert list(after.media) == list(before.media)


@pytest.mark.parametrize(
    "change",
    [{"title": "Spring term"}, {"about": ("Warm up.",)}, {"fresh_per_day": 3}, {"target_recall": 0.95}],
    ids=lambda change: next(iter(change)),
)
def test_a_change_of_the_deck_makes_the_deck_newer_and_no_note(
    deck: Deck, path: Path, change: dict[str, object]
) -> None:
    """Deck and options bear one stamp, the notes their own."""
    before = rebuilt(deck, path)
    after = rebuilt(replace(deck, **change), path)  # type: ignore[arg-type]
    assert after.deck["mod"] > before.deck["mod"]
    assert after.options[str(after.deck["conf"])]["mod"] == after.deck["mod"]
    assert after.notes == before.notes


def test_a_package_of_another_deck_lends_no_stamps(deck: Deck, path: Path) -> None:
    """It is ours, so it may be replaced; it says nothing about this deck."""
    rebuilt(replace(corrected(deck, 0, "One."), id="week-02", edition=9), path)
    assert {row.mod for row in rebuilt(deck, path).notes.values()} == {EPOCH_S + DAY_S}


# --- the same bytes ----------------------------------------------------------------------------


def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    """Neither the clock nor the seed of Python's hashes is in the package."""
    written = []
    for seed in ("0", "4711"):
        path = tmp_path / f"{seed}.apkg"
        write_elsewhere(path, PYTHONHASHSEED=seed)
        written.append(path.read_bytes())
    assert written[0] == written[1]


@pytest.mark.usefixtures("opened")
def test_no_entry_of_the_archive_tells_the_clock_or_the_system(path: Path) -> None:
    """The earliest date a zip can hold, plain files for everybody to read."""
    with zipfile.ZipFile(path) as package:
        entries = {
            (info.date_time, info.create_system, info.external_attr >> 16) for info in package.infolist()
        }
    assert entries == {((1980, 1, 1, 0, 0, 0), 3, 0o644)}


# --- faults ------------------------------------------------------------------------------------


@pytest.mark.parametrize("has_older", [True, False], ids=["over-an-older-one", "for-the-first-time"])
@pytest.mark.parametrize(
    ("failure", "told"),
    [
        pytest.param(KeyboardInterrupt(), KeyboardInterrupt, id="ctrl-c"),
        pytest.param(ValueError("no such colour"), ValueError, id="a-picture-that-fails"),
        pytest.param(OSError(errno.ENOSPC, "No space left on device"), DrillsError, id="disk-full"),
    ],
)
@pytest.mark.parametrize("fails_at", [0, 4])
def test_a_build_that_fails_leaves_what_was_there(
    deck: Deck,
    path: Path,
    fails_at: int,
    failure: BaseException,
    told: type[BaseException],
    *,
    has_older: bool,
) -> None:
    """The older package is whole, or there is none; no part file stays."""
    if has_older:
        write_package(deck, path, media=Sketches())
    before = {file.name: file.read_bytes() for file in path.parent.iterdir()}
    sketches = Sketches(fails_at, failure)
    with pytest.raises(told):
        write_package(corrected(deck, 0, "One."), path, media=sketches)
    assert len(sketches.drawn) == fails_at
    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == before


@pytest.mark.skipif(sys.platform != "linux", reason="needs a limit on the size of files")
def test_a_file_that_may_not_grow_is_told(deck: Deck, path: Path) -> None:
    """The system's own limit on the size of a file, in a process of its own."""
    write_package(deck, path, media=Sketches())
    before = path.read_bytes()
    ran = write_elsewhere(path, "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (4000, 4000))")
    assert "cannot write the file (File too large); free some space" in ran.stdout
    assert path.read_bytes() == before
    assert list(path.parent.iterdir()) == [path]


def not_ours(path: Path, kind: str) -> None:
    """Puts something of somebody else's at a place."""
    import genanki

    if kind == "genanki":
        genanki.Package(genanki.Deck(1 << 33, "plain")).write_to_file(path)
    elif kind == "commented":
        with zipfile.ZipFile(path, "w") as package:
            package.comment = b"Not " + MARK
    else:
        path.write_bytes({"empty": b"", "text": b"my thesis", "mark": MARK, "quoted": b"a" * 40 + MARK}[kind])


@pytest.mark.parametrize("kind", ["genanki", "commented", "empty", "text", "mark", "quoted"])
def test_a_file_of_somebody_else_stays(deck: Deck, path: Path, kind: str) -> None:
    """Whatever lacks our mark is never overwritten, and nothing is drawn in vain."""
    not_ours(path, kind)
    before = path.read_bytes()
    sketches = Sketches()
    with pytest.raises(DrillsError, match=r"week-03\.apkg: .*not written by this program.*move it away"):
        write_package(deck, path, media=sketches)
    assert path.read_bytes() == before
    assert not sketches.drawn


def test_a_package_in_our_name_that_is_damaged_stays(deck: Deck, path: Path) -> None:
    """What students have cannot be told from it, so it is not overwritten in silence."""
    write_package(deck, path, media=Sketches())
    whole = path.read_bytes()
    path.write_bytes(whole[:100] + bytes(100) + whole[200:])
    damaged = path.read_bytes()
    with pytest.raises(DrillsError, match="damaged") as caught:
        write_package(deck, path, media=Sketches())
    assert caught.value.__cause__ is not None
    assert path.read_bytes() == damaged


def test_no_temporary_file_is_left_behind(deck: Deck, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Genanki's own way of writing leaves its database in the system's folder."""
    folder = path.parent / "temporary"
    folder.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(folder))
    write_package(deck, path, media=Sketches())
    assert list(folder.iterdir()) == []


def test_the_media_map_is_json_for_any_reader(opened: Opened, path: Path) -> None:
    """Numbers from 0 without a gap, as text, each with its file."""
    with zipfile.ZipFile(path) as package:
        names = json.loads(package.read("media"))
        assert set(names) == set(package.namelist()[2:])
    assert list(names) == [str(number) for number in range(len(opened.media))]
    assert len(set(names.values())) == len(names)


def test_a_card_without_pictures_needs_no_media(deck: Deck, path: Path) -> None:
    """The map is empty then."""
    plain = replace(card("spell", "C"), back=Face("C13♯11"))
    assert rebuilt(replace(deck, cards=(plain,)), path).media == {}
