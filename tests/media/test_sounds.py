"""Sounds: named before they are made, made ahead in order, and refused where nobody could hear them."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from itertools import count

import pytest
import soundfile

from drills.cards.card import SoundSpec
from drills.errors import DrillsError
from drills.media.sounds import Sounds
from drills.sound.bank import Bank
from drills.sound.encode import mp3
from drills.sound.mix import played

LABEL = "Eb13#11 x-4-5-5-6-5"
SPEC = SoundSpec((49, 55, 60, 65, 69))


def test_a_name_tells_chord_and_key() -> None:
    """And ends in a hash."""
    name = Sounds(3.0).name(SPEC, LABEL)
    assert re.fullmatch(r"Eb13sharp11_x-4-5-5-6-5_[0-9a-f]{10}\.mp3", name)
    assert Sounds(3.0).name(SPEC, LABEL) == name


def test_what_sounds_otherwise_has_another_name() -> None:
    """Other notes, a root before them, another length, another tuning."""
    names = {
        Sounds(3.0).name(SPEC, LABEL),
        Sounds(3.0).name(SoundSpec(SPEC.midi[1:]), LABEL),
        Sounds(3.0).name(SoundSpec(SPEC.midi, 39), LABEL),
        Sounds(2.0).name(SPEC, LABEL),
        Sounds(3.0, 442.0).name(SPEC, LABEL),
    }
    assert len(names) == 5


def test_sounds_come_in_order() -> None:
    """As many as were asked for, each what it would be by itself."""
    specs = [SoundSpec((midi, midi + 7)) for midi in range(40, 60)]
    made = list(Sounds(1.5).render(specs))
    bank = Bank(1.5)
    assert made == [mp3(played(bank, spec.midi, 1.5)) for spec in specs]


def test_only_a_few_are_made_ahead(monkeypatch: pytest.MonkeyPatch) -> None:
    """However many there are: they may be more than fit into memory."""
    monkeypatch.setattr("os.cpu_count", lambda: 2)
    asked: list[int] = []

    def endless() -> Iterator[SoundSpec]:
        for number in count():
            asked.append(number)
            yield SoundSpec((40 + number % 30,))

    coming = Sounds(1.5).render(endless())
    assert asked == []
    next(coming)
    assert len(asked) < 12
    coming.close()  # type: ignore[attr-defined] # it is a generator


def test_length_and_tuning_are_heard() -> None:
    """Two seconds, and a root before the notes makes another sound."""
    plain, rooted = Sounds(2.0).render([SPEC, SoundSpec(SPEC.midi, 39)])
    assert plain != rooted
    assert len(soundfile.read(io.BytesIO(plain))[0]) == 2 * 22_050
    assert next(Sounds(2.0, 415.0).render([SPEC])) != plain


@pytest.mark.parametrize("spec", [SoundSpec((12, 40)), SoundSpec((40, 47), 110)])
def test_what_cannot_sound_is_refused_by_name(spec: SoundSpec) -> None:
    """It says which card, which note, and how to go on without."""
    with pytest.raises(DrillsError, match=r"Hz.*on = false in \[sound\]") as caught:
        Sounds(3.0).name(spec, LABEL)
    assert caught.value.where == LABEL
