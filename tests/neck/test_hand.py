"""What four fingers can hold, checked against every way to put them down."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.errors import DrillsError
from drills.neck.grip import Frets, Grip, Refusal
from drills.neck.hand import HANDS, SMALL_HAND, USUAL_HAND, Hand, hold, reach_in_turn, read_hand
from drills.neck.instrument import Instrument

GUITAR = Instrument()


def frets_of(text: str) -> Frets:
    """Frets as guitarists write them."""
    return tuple(None if word == "x" else int(word) for word in text.split())


def held(text: str, hand: Hand = USUAL_HAND, instrument: Instrument = GUITAR) -> Grip:
    """A grip that must be possible."""
    grip = hold(frets_of(text), instrument, hand)
    assert isinstance(grip, Grip), grip
    return grip


def refused(text: str, hand: Hand = USUAL_HAND, instrument: Instrument = GUITAR) -> Refusal:
    """Frets that must not be possible."""
    refusal = hold(frets_of(text), instrument, hand)
    assert isinstance(refusal, Refusal), refusal
    return refusal


# --- the rules of the hand, said once more in another way (common practice, no source) -------------


@dataclass(frozen=True, slots=True)
class Down:
    """One finger on one string."""

    string: int
    fret: int
    finger: int


def are_apart(down: list[Down], instrument: Instrument, hand: Hand) -> bool:
    """No two fingers are further apart than they reach."""
    limits = {0: 0.0, 1: hand.max_neighbour_mm, 2: hand.max_two_apart_mm, 3: hand.max_stretch_mm}
    at_mm = instrument.positions_mm
    return all(
        at_mm[high.fret] - at_mm[low.fret] <= limits[high.finger - low.finger]
        for low in down
        for high in down
        if high.finger >= low.finger and high.fret >= low.fret
    )


def do_not_cross(down: list[Down]) -> bool:
    """Fingers rise with the frets, and on one fret from the bass side to the treble side."""
    return all(
        low.finger < high.finger if low.fret < high.fret else low.finger <= high.finger
        for low in down
        for high in down
        if (low.fret, low.string) < (high.fret, high.string)
    )


def barres_hold(down: list[Down], frets: Frets) -> bool:
    """Nothing lower sounds on the treble side of a barre; only the index skips strings under it."""
    for finger in {each.finger for each in down}:
        held = [each for each in down if each.finger == finger]
        beyond = [fret for fret in frets[held[0].string + 1 :] if fret is not None]
        is_spread = held[-1].string - held[0].string >= len(held)
        if len(held) > 1 and (min(beyond) < held[0].fret or (finger > 1 and is_spread)):
            return False
    return True


def is_allowed(frets: Frets, fingers: Frets, instrument: Instrument, hand: Hand) -> bool:
    """Whether a fingering keeps all rules."""
    placed = enumerate(zip(frets, fingers, strict=True))
    down = [Down(string, fret, finger) for string, (fret, finger) in placed if fret and finger]
    if not down:
        return True
    lowest = min(each.fret for each in down)
    apart = max(each.fret for each in down) - lowest
    return (
        next(each.finger for each in down if each.fret == lowest) == 1
        and apart <= hand.max_frets_apart + (lowest + instrument.capo >= 9)
        and instrument.positions_mm[lowest + apart] - instrument.positions_mm[lowest] <= hand.max_stretch_mm
        and do_not_cross(down)
        and barres_hold(down, frets)
        and are_apart(down, instrument, hand)
    )


def fingerings(frets: Frets, instrument: Instrument, hand: Hand) -> list[Frets]:
    """Every choice of fingers that keeps all rules."""
    choices = [(None,) if fret is None else (0,) if fret == 0 else (1, 2, 3, 4) for fret in frets]
    return [each for each in product(*choices) if is_allowed(frets, each, instrument, hand)]


def trouble(frets: Frets, fingers: Frets) -> tuple[int, int]:
    """How far fingers are from where they fall, a barre for two, over silence for three; and the barres."""
    down = {finger: fret for fret, finger in zip(frets, fingers, strict=True) if fret and finger}
    lowest = min(down.values(), default=0)
    barres = sum(fingers.count(finger) > 1 for finger in down)
    strain = sum(abs(finger - min(4, 1 + fret - lowest)) for finger, fret in down.items())
    silent = 0
    for finger in down:
        strings = [string for string, each in enumerate(fingers) if each == finger]
        silent += None in frets[strings[0] : strings[-1]]
    return strain + 2 * barres + silent, barres


near = st.tuples(
    st.integers(1, 13),
    st.lists(st.none() | st.just(0) | st.integers(1, 5) | st.integers(1, 3), min_size=6, max_size=6),
)
instruments = st.sampled_from([GUITAR, Instrument(capo=4, frets=22), Instrument(scale_length_mm=600)])
hands = st.sampled_from(list(HANDS.values()))


@given(near, instruments, hands)
def test_the_hand_holds_just_what_some_fingering_allows(
    drawn: tuple[int, list[int | None]], instrument: Instrument, hand: Hand
) -> None:
    """A grip is found where one of all choices of fingers keeps all rules, and the least troublesome one."""
    first, offsets = drawn
    frets = tuple(offset + first - 1 if offset else offset for offset in offsets)
    result = hold(frets, instrument, hand)
    possible = fingerings(frets, instrument, hand)
    assert isinstance(result, Grip) == bool(possible)
    if isinstance(result, Grip):
        assert result.fingers in possible
        least = min(trouble(frets, fingers) for fingers in possible)
        assert trouble(frets, result.fingers) == least
        assert result.barres == least[1]


# --- grips that every guitarist knows --------------------------------------------------------------


@pytest.mark.parametrize(
    ("frets", "fingers"),
    [
        ("0 2 5 2 3 2", "0 1 4 1 2 1"),
        ("x 4 5 5 6 5", "x 1 2 2 4 3"),
        ("1 3 3 2 1 1", "1 3 4 2 1 1"),
        ("0 2 2 1 0 0", "0 2 3 1 0 0"),
        ("x 3 2 0 1 0", "x 3 2 0 1 0"),
        ("x 1 1 1 1 x", "x 1 1 1 1 x"),
        ("0 0 0 0 0 0", "0 0 0 0 0 0"),
        ("x x x x x x", "x x x x x x"),
        ("8 7 7 7 8 7", "2 1 1 1 3 1"),
        ("1 x 2 2 1 x", "1 x 3 4 2 x"),
        ("1 x 1 2 3 x", "1 x 2 3 4 x"),
        ("3 x 3 3 3 x", "1 x 1 1 1 x"),
        ("5 7 7 5 5 5", "1 3 4 1 1 1"),
        ("x 3 5 5 x x", "x 1 3 4 x x"),
        ("x 3 1 3 3 3", "x 2 1 3 3 3"),
    ],
)
def test_a_grip_has_its_fingers(frets: str, fingers: str) -> None:
    """As teachers write them (common practice, no source)."""
    assert held(frets).fingers == frets_of(fingers)


def test_a_grip_knows_its_measures() -> None:
    """The minor eleven in E: 91.9 mm, three frets, one barre (DESIGN of the project)."""
    grip = held("0 2 5 2 3 2")
    assert round(grip.stretch_mm, 1) == 91.9
    assert (grip.frets_apart, grip.barres, grip.is_long_reach) == (3, 1, False)
    assert held("1 1 4 1 2 1").is_long_reach
    nothing = held("0 0 0 0 0 0")
    assert (nothing.stretch_mm, nothing.frets_apart, nothing.barres) == (0.0, 0, 0)


@pytest.mark.parametrize(
    ("frets", "why"),
    [
        ("3 5 8 5 6 5", "it stretches 137 mm, more than 101 mm"),
        ("14 x x x x 20", "it spans 6 frets, more than 5"),
        ("8 10 12 x x x", ""),
        ("8 x x x 13 x", "it stretches 102 mm, more than 101 mm"),
        ("10 12 15 12 13 12", "four fingers cannot hold it"),
        ("5 7 5 0 7 5", "four fingers cannot hold it"),
        ("x x x x x 21", "fret 21 lies beyond the neck's 20"),
    ],
)
def test_a_refusal_says_why(frets: str, why: str) -> None:
    """Stretch, frets, fingers, or the end of the neck."""
    if why:
        refusal = refused(frets)
        assert refusal.why == why
        assert refusal.frets == frets_of(frets)
    else:
        held(frets)


def test_a_stretch_just_over_the_limit_is_told_with_a_decimal() -> None:
    """So that no message says that 92 mm are more than 92 mm."""
    assert refused("0 2 5 2 3 2", replace(USUAL_HAND, max_stretch_mm=91.8)).why == (
        "it stretches 91.9 mm, more than 91.8 mm"
    )


def test_one_more_fret_is_allowed_up_the_neck() -> None:
    """From the ninth fret, counted from the nut, capo or not."""
    wide = replace(USUAL_HAND, max_stretch_mm=200, max_neighbour_mm=200, max_two_apart_mm=200)
    assert refused("8 x x x x 13", wide).why == "it spans 5 frets, more than 4"
    held("9 x x x x 14", wide)
    held("5 x x x x 10", wide, Instrument(capo=4))
    assert isinstance(hold(frets_of("4 x x x x 9"), Instrument(capo=4), wide), Refusal)


def test_a_small_hand_spans_a_fret_less() -> None:
    """Three frets, and four from the ninth, where the millimetres would allow more."""
    assert refused("8 x x x 12 x", SMALL_HAND).why == "it spans 4 frets, more than 3"
    held("8 x x x 12 x")
    held("9 x x x 13 x", SMALL_HAND)


def test_each_pair_of_fingers_has_its_limit() -> None:
    """Neighbours reach less far than fingers further apart."""
    stretch_mm = GUITAR.positions_mm[4] - GUITAR.positions_mm[1]
    assert held("1 4 x x x x").fingers[:2] == (1, 4)
    stiff = replace(USUAL_HAND, max_two_apart_mm=stretch_mm - 1, max_neighbour_mm=stretch_mm - 1)
    assert held("1 4 x x x x", stiff).fingers[:2] == (1, 4)
    assert held("1 4 x 4 x x").fingers[:4] == (1, 3, None, 4)
    assert refused("1 4 x 4 x x", stiff).why == "four fingers cannot hold it"


@pytest.mark.parametrize(
    ("frets", "fingers"),
    [
        ("3 5 8 5 6 5", None),
        ("5 7 10 7 8 7", "1 2 4 2 3 2"),
        ("0 2 5 2 3 2", "0 1 4 1 2 1"),
        ("x 12 x x x 14", "x 1 x x x 3"),
        ("0 0 x 0 x 0", "0 0 x 0 x 0"),
    ],
)
def test_an_arpeggio_is_limited_by_its_stretch_alone(frets: str, fingers: str | None) -> None:
    """125 mm between its outer notes; each note has the finger that lies nearest."""
    result = reach_in_turn(frets_of(frets), GUITAR, USUAL_HAND)
    if fingers is None:
        assert isinstance(result, Refusal)
        assert result.why == "the arpeggio stretches 137 mm, more than 125 mm"
    else:
        assert isinstance(result, Grip)
        assert result.fingers == frets_of(fingers)
        assert result.barres == 0


def test_an_arpeggio_ends_with_the_neck() -> None:
    """No fret lies beyond it."""
    result = reach_in_turn(frets_of("x x x x x 21"), GUITAR, USUAL_HAND)
    assert isinstance(result, Refusal)
    assert result.why == "fret 21 lies beyond the neck's 20"


def test_the_same_stretch_gets_smaller_up_the_neck() -> None:
    """A shape moved up fret by fret (common practice, no source)."""
    stretches = []
    for shift in range(12):
        grip = reach_in_turn(
            tuple(fret + shift for fret in (3, 5, 8, 5, 6, 5)),
            GUITAR,
            replace(USUAL_HAND, max_arpeggio_mm=999),
        )
        assert isinstance(grip, Grip)
        stretches.append(grip.stretch_mm)
    assert all(high < low for low, high in pairwise(stretches))


def test_a_hand_is_known_by_name() -> None:
    """The small one reaches less in every way and is offered the reduced voicing."""
    assert read_hand("usual") == Hand()
    small = read_hand("small")
    assert small is SMALL_HAND
    assert small.offers_reduced
    for limit in (
        "max_stretch_mm",
        "max_neighbour_mm",
        "max_two_apart_mm",
        "long_reach_mm",
        "max_arpeggio_mm",
    ):
        assert getattr(small, limit) < getattr(USUAL_HAND, limit)
    with pytest.raises(DrillsError, match="hand: no hand named 'smal'; write 'small'"):
        read_hand("smal", where="hand")
    with pytest.raises(DrillsError, match="no hand named 'qq'; write 'usual' or 'small'"):
        read_hand("qq")
