"""Published grips, 2,069 of them, against our neck and our model of the hand.

Source: grips.json beside this file, an open data set of guitar positions, with the script that made it. The
fingerings in it are one editor's; they are asked only where our hand says no.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import pytest

from drills.neck.grip import Frets, Grip, Refusal
from drills.neck.hand import USUAL_HAND, hold
from drills.neck.instrument import Instrument
from drills.neck.search import positions
from drills.theory.text import read_voicing

GUITAR = Instrument()


@dataclass(frozen=True, slots=True)
class Published:
    """One grip of the data set."""

    key: str
    frets: Frets
    fingers: Frets
    midi: tuple[int, ...]

    @property
    def text(self) -> str:
        """The frets as guitarists write them."""
        return " ".join("x" if fret is None else str(fret) for fret in self.frets)

    @property
    def stretch_mm(self) -> float:
        """Between its outer fretted notes, on our neck."""
        fretted = [fret for fret in self.frets if fret] or [0]
        return GUITAR.positions_mm[max(fretted)] - GUITAR.positions_mm[min(fretted)]


GRIPS = [
    Published(key, tuple(frets), tuple(fingers), tuple(midi))
    for key, _, frets, fingers, midi in json.loads(
        Path(__file__).with_name("grips.json").read_text(encoding="utf-8")
    )["rows"]
]
KEYS = sorted({grip.key for grip in GRIPS})


def held(grip: Published) -> Grip | Refusal:
    """What our usual hand makes of a published grip."""
    return hold(grip.frets, GUITAR, USUAL_HAND)


def has_a_barre_beyond_our_rules(grip: Published) -> bool:
    """Whether a published finger holds strings that the design of the hand does not let one finger hold.

    That is: a lower fret or an open string on the treble side of the barre's lowest string; or a finger
    other than the index on strings that are not neighbours.
    """
    for finger in {1, 2, 3, 4} & set(grip.fingers):
        strings = [string for string, other in enumerate(grip.fingers) if other == finger]
        fret = grip.frets[strings[0]]
        assert fret is not None
        above = [other for other in grip.frets[strings[0] + 1 :] if other is not None]
        is_spread = strings[-1] - strings[0] >= len(strings)
        if len(strings) > 1 and (min(above) < fret or (finger > 1 and is_spread)):
            return True
    return False


def test_the_data_set_is_whole() -> None:
    """All 2,069 grips are here, in twelve keys."""
    assert (len(GRIPS), len(KEYS)) == (2069, 12)


@pytest.mark.parametrize("key", KEYS)
def test_frets_sound_what_the_data_set_says(key: str) -> None:
    """Each grip, read as we read frets, has the MIDI notes it was published with."""
    for grip in GRIPS:
        if grip.key == key:
            assert read_voicing(grip.text).midi == tuple(sorted(grip.midi)), grip.text


@pytest.mark.parametrize("key", KEYS)
def test_the_search_finds_every_published_place(key: str) -> None:
    """From the notes alone, where they rise with the strings, our search comes upon the published frets."""
    for grip in GRIPS:
        is_rising = all(low < high for low, high in pairwise(grip.midi))
        if grip.key == key and is_rising:
            assert grip.frets in positions(grip.midi, GUITAR), grip.text


def test_the_limits_of_the_hand_are_those_of_the_data_set() -> None:
    """Every grip stretches less than our limit; one in a hundred reaches what we call a long reach."""
    stretches = sorted(grip.stretch_mm for grip in GRIPS)
    assert stretches[-1] <= USUAL_HAND.max_stretch_mm
    assert round(stretches[len(stretches) * 99 // 100]) == USUAL_HAND.long_reach_mm


def test_our_hand_holds_nearly_all_published_grips() -> None:
    """98 of 100 are held, and none is refused for its stretch."""
    refusals = [result for result in map(held, GRIPS) if isinstance(result, Refusal)]
    assert len(refusals) <= len(GRIPS) * 2 // 100
    assert {refusal.why for refusal in refusals} == {"four fingers cannot hold it"}


def test_what_our_hand_refuses_was_published_with_a_barre_we_do_not_allow() -> None:
    """Each refused grip needs a finger on strings that the rules of the barre keep apart."""
    refused = [grip for grip in GRIPS if isinstance(held(grip), Refusal)]
    assert [grip.text for grip in refused if not has_a_barre_beyond_our_rules(grip)] == []
    assert sum(has_a_barre_beyond_our_rules(grip) for grip in GRIPS) < len(GRIPS) // 5
