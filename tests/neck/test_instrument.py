"""A tuning on a neck."""

from __future__ import annotations

import pytest

from drills.errors import DrillsError
from drills.neck.instrument import Instrument, fret_position_mm
from drills.neck.tuning import TUNINGS


def test_a_usual_instrument_needs_no_arguments() -> None:
    """Six strings, twenty frets, 648 mm."""
    guitar = Instrument()
    assert guitar.open_midi == (40, 45, 50, 55, 59, 64)
    assert guitar.highest_fret == 20
    assert len(guitar.positions_mm) == 21
    assert guitar.positions_mm[0] == 0
    assert guitar.open_pitches == guitar.tuning.open_pitches


@pytest.mark.parametrize(("fret", "mm"), [(0, 0.0), (12, 324.0), (24, 486.0)])
def test_a_fret_halves_the_string_every_octave(fret: int, mm: float) -> None:
    """Fret n stands at L(1 - 2^(-n/12)) (equal temperament)."""
    assert fret_position_mm(fret) == pytest.approx(mm)
    assert fret_position_mm(fret, 324) == pytest.approx(mm / 2)


def test_a_capo_moves_the_open_strings_and_the_first_fret() -> None:
    """Frets are counted from it, and they lie closer together than at the nut."""
    guitar = Instrument(capo=3, frets=22)
    assert guitar.open_midi == (43, 48, 53, 58, 62, 67)
    assert [pitch.plain for pitch in guitar.open_pitches] == ["G2", "C3", "F3", "Bb3", "D4", "G4"]
    assert guitar.highest_fret == 19
    assert guitar.positions_mm[0] == fret_position_mm(3)
    assert guitar.positions_mm[guitar.highest_fret] == fret_position_mm(22)


@pytest.mark.parametrize(
    ("capo", "names"),
    [(1, "F Bb Eb Ab C F"), (2, "F# B E A C# F#"), (4, "G# C# F# B D# G#"), (6, "Bb Eb Ab Db F Bb")],
)
def test_open_strings_over_a_capo_are_called_as_guitarists_call_them(capo: int, names: str) -> None:
    """Sharps or flats, never both on one neck: common practice, no source."""
    assert " ".join(pitch.name.plain for pitch in Instrument(capo=capo).open_pitches) == names


@pytest.mark.parametrize(
    ("options", "fault"),
    [
        ({"frets": 11}, "frets: 11 frets; a neck has 12 to 24 frets"),
        ({"frets": 25}, "frets: 25 frets"),
        ({"capo": -1}, "capo: a capo at fret -1; put it between 0 and 14"),
        ({"capo": 7, "frets": 12}, "capo: a capo at fret 7; put it between 0 and 6"),
        ({"scale_length_mm": 25.5}, "scale_length_mm: a scale length of 25.5 mm; write millimetres"),
        ({"scale_length_mm": float("nan")}, "scale_length_mm: a scale length of nan mm"),
    ],
    ids=str,
)
def test_a_neck_that_nobody_builds_is_refused(options: dict[str, float], fault: str) -> None:
    """With the measure and its bounds."""
    with pytest.raises(DrillsError) as caught:
        Instrument(**options)  # type: ignore[arg-type]
    assert str(caught.value).startswith(fault)


def test_instruments_are_values() -> None:
    """Equal by what was given, whatever is worked out from it."""
    assert Instrument() == Instrument(TUNINGS["standard"])
    assert len({Instrument(), Instrument(frets=20), Instrument(frets=22)}) == 2
