"""A voicing goes up its scale step by step, and says where no hand follows.

Outside check: the triads on the degrees of C major, as every harmony book lists them (common practice, no
source).
"""

from __future__ import annotations

from drills.cards.through import stepped_through

from .conftest import MakeSubject


def test_a_triad_goes_through_the_triads_of_its_scale(subject: MakeSubject) -> None:
    """Six steps below the octave, each called by its own name, a bare layer by its structure."""
    stepped = stepped_through(subject("1 3 5", None, "C"))
    assert stepped is not None
    assert stepped.scale == "C major"
    heads = [head.split(",")[0] for head, _ in stepped.steps]
    wanted = ("D minor", "E minor", "F major", "G major", "A minor", "B diminished")
    assert heads == [f"{name} triad" for name in wanted]


def test_a_seventh_chord_goes_through_those_of_its_scale(subject: MakeSubject) -> None:
    """Two, three, four, five, six and seven of C lydian, which is G major from its fourth degree."""
    stepped = stepped_through(subject("7 3 | 13 9 #11", "maj13#11", "C"))
    assert stepped is not None
    assert stepped.scale == "C lydian, that is G major"
    roots = [head[:2].rstrip("mø△67°9(1") for head, _ in stepped.steps]
    assert roots == ["D", "E", "F♯", "G", "A", "B"]


def test_steps_rise_and_lie_where_a_hand_holds_them(subject: MakeSubject) -> None:
    """What is held sounds its step, note for note above the one before it."""
    first = subject("b7 3 | 13 9 #11", "13#11", "C")
    stepped = stepped_through(first)
    assert stepped is not None
    before = first.sounding.midi
    for _, each in stepped.steps:
        if each is None:
            continue
        heard = sorted(
            open_midi + fret
            for open_midi, fret in zip(each.instrument.open_midi, each.grip.frets, strict=True)
            if fret is not None
        )
        assert tuple(heard) == each.sounding.midi
        assert all(new > old for old, new in zip(before, each.sounding.midi, strict=True))
        before = each.sounding.midi


def test_what_no_hand_holds_is_told(subject: MakeSubject) -> None:
    """Its name stays, so that it can be played in turn."""
    stepped = stepped_through(subject("7 3 | 13 9 #11", "maj13#11", "C", "x 2 2 2 3 2"))
    assert stepped is not None
    assert [head for head, each in stepped.steps if each is None] == ["G△13(add11)"]


def test_a_voicing_outside_of_every_usual_scale_has_no_steps(subject: MakeSubject) -> None:
    """Nothing is made up for it."""
    assert stepped_through(subject("7 3 b9", None, "C")) is None
