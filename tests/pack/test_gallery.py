"""The gallery and what of it is heard: which side of a card sounds what, each sound as one file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest

from drills.cards.card import Card, Deck, Quiz, SoundSpec, ToneNames, VoicingWords
from drills.media.pictures import Pictures
from drills.media.sounds import Sounds
from drills.pack.apkg import write_package
from drills.pack.gallery import Gallery

from .conftest import Opened, Sketches, card, look_into, riverside

TAG = re.compile(r"\[sound:([^\]]+)\]")


@dataclass
class Hums:
    """Sounds that remember what they were asked for."""

    played: list[SoundSpec] = field(default_factory=list)

    def name(self, sound: SoundSpec, label: str) -> str:
        """A name of label and notes."""
        return f"{label.replace('#', 'sharp')}_{sound.root_midi}_{'-'.join(map(str, sound.midi))}.mp3"

    def render(self, sounds: Iterable[SoundSpec]) -> Iterator[bytes]:
        """Bytes that tell the sound."""
        for sound in sounds:
            self.played.append(sound)
            yield f"{sound}".encode()


def sounding(made: Card, *midi: int, root_midi: int | None = None) -> Card:
    """A card that sounds."""
    names = ToneNames(("C",) * 12, ("1",) * 12)
    quiz = Quiz(None, SoundSpec(midi, root_midi), names, 0, VoicingWords("", ""), is_layer=False)
    return replace(made, quiz=quiz)


def packed(path: Path, *cards: Card) -> Opened:
    """A package of some cards."""
    write_package(replace(riverside(), cards=cards), path, media=Sketches(), sounds=Hums())
    return look_into(path)


def heard(opened: Opened, label: str) -> tuple[list[str], list[str]]:
    """The files that the two sides of a card sound."""
    fields = opened.notes[label].fields
    return TAG.findall(fields[1]), TAG.findall(fields[2])


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the package goes."""
    return tmp_path / "week-03.apkg"


def test_every_answer_sounds(path: Path) -> None:
    """Its tag stands last in the answer, and its file is in the package."""
    opened = packed(path, sounding(card("place", "G", 4), 53, 59, 64))
    asked, answered = heard(opened, "place · G13#11")
    assert (asked, answered) == ([], ["G13sharp11_None_53-59-64.mp3"])
    assert opened.notes["place · G13#11"].fields[2].endswith(f"\n[sound:{answered[0]}]")
    assert opened.media[answered[0]] == str(SoundSpec((53, 59, 64))).encode()


def test_what_sounds_the_same_is_one_file(path: Path) -> None:
    """Whichever drills ask it; another height is another file."""
    opened = packed(
        path,
        sounding(card("place", "G", 4), 53, 59, 64),
        sounding(card("spot", "G", 4), 53, 59, 64),
        sounding(card("spell", "G", 4), 65, 71, 76),
    )
    assert heard(opened, "place · G13#11") == heard(opened, "spot · G13#11")
    assert len([name for name in opened.media if name.endswith(".mp3")]) == 2


def test_beside_a_neck_the_root_is_heard_alone(path: Path) -> None:
    """The card shows what is played; the same root is one file for all its cards."""
    again = replace(card("spot", "G", 5), identity="another", label="G7 again")
    opened = packed(
        path,
        sounding(card("spot", "G", 4), 53, 59, 64, root_midi=43),
        sounding(again, 54, 60, root_midi=43),
    )
    asked, answered = heard(opened, "spot · G13#11")
    assert asked == ["G alone_None_43.mp3"]
    assert answered == ["G13sharp11_None_53-59-64.mp3"]
    assert heard(opened, "spot · G7 again")[0] == asked


def test_without_a_neck_the_question_is_all_sound(path: Path) -> None:
    """The root and the voicing after it; the answer has the voicing alone."""
    asked, answered = heard(
        packed(path, sounding(card("place", "G", 4), 53, 59, root_midi=43)), "place · G13#11"
    )
    assert asked == ["G13sharp11_43_53-59.mp3"]
    assert answered == ["G13sharp11_None_53-59.mp3"]


def test_a_card_may_be_silent(path: Path, deck: Deck) -> None:
    """One without a sound, or a package without sounds."""
    opened = packed(path, *deck.cards)
    assert not any(name.endswith(".mp3") for name in opened.media)
    path.unlink()
    one = sounding(card("place", "G", 4), 53, 59, root_midi=43)
    write_package(replace(deck, cards=(one,)), path, media=Sketches())
    assert heard(look_into(path), "place · G13#11") == ([], [])


def test_a_new_sound_updates_the_note_it_had(path: Path) -> None:
    """Sound added to a deck in use keeps every card and gives it a newer stamp."""
    silent = card("place", "G", 4)
    before = packed(path, silent).notes["place · G13#11"]
    after = packed(path, sounding(silent, 53, 59)).notes["place · G13#11"]
    assert (after.guid, after.note_id, after.card_id) == (before.guid, before.note_id, before.card_id)
    assert after.mod > before.mod


@pytest.mark.parametrize("name", ["a]b.mp3", "a[b.mp3", "a/b.mp3", ""])
def test_a_name_that_would_break_its_tag_is_refused(name: str) -> None:
    """It would end the tag too early, or lead out of the folder."""

    class Named(Hums):
        def name(self, _sound: SoundSpec, _label: str) -> str:
            return name

    with pytest.raises(ValueError, match="no file names for every system"):
        Gallery(Sketches(), Named()).sounded(SoundSpec((60,)), "C", 0)


def test_two_sounds_of_one_name_are_refused() -> None:
    """One would overwrite the other."""

    class Named(Hums):
        def name(self, _sound: SoundSpec, _label: str) -> str:
            return "same.mp3"

    gallery = Gallery(Sketches(), Named())
    gallery.sounded(SoundSpec((60,)), "C", 0)
    with pytest.raises(ValueError, match=r"two files are named 'same\.mp3'"):
        gallery.sounded(SoundSpec((61,)), "C", 0)


def test_a_real_package_is_the_same_bytes_each_time(tmp_path: Path) -> None:
    """Plucked and encoded on threads, written in order."""
    cards = (
        sounding(card("place", "G", 4), 53, 59, 64),
        sounding(card("spot", "G", 4), 53, 59, 64, root_midi=43),
        sounding(card("place", "E♭", 0), 49, 55, 60),
    )
    written = []
    for name in ("one", "two"):
        path = tmp_path / name / "week-03.apkg"
        write_package(replace(riverside(), cards=cards), path, media=Pictures(), sounds=Sounds(1.5))
        written.append(path.read_bytes())
    assert written[0] == written[1]
