"""Facts of the trade, and the weekly programme of the Riverside evening group: chord, degrees and grip agree.

Source: DESIGN of the project, worked out by hand there; common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from drills.neck.grip import Grip, Refusal
from drills.neck.hand import USUAL_HAND, hold, reach_in_turn
from drills.neck.instrument import Instrument
from drills.neck.search import find_at, find_in_key, roots_by_fourths
from drills.neck.tuning import TUNINGS
from drills.theory.chord import read_chord
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import read_voicing
from drills.theory.voicing import Voicing

GUITAR = Instrument()
DROP_D = Instrument(TUNINGS["drop D"])
SEVEN_STRINGS = Instrument(TUNINGS["seven strings"])
MINOR_ELEVEN = "1 5 b3 | 11 b7 9"
MINOR_ROOTS = roots_by_fourths("minor")


def named(text: str, root: NoteName) -> Named:
    """Degrees over a root."""
    written = read_voicing(text, root=root)
    return name_notes(written.midi, written.sizes, root=root, degrees=written.degrees)


def voicing_of(text: str) -> Voicing:
    """The same, free of key."""
    return named(text, NoteName(0)).sounding.voicing


def keys_held(text: str, instrument: Instrument = GUITAR) -> list[str]:
    """The keys in which a voicing can be held."""
    voicing = voicing_of(text)
    return [root.plain for root in MINOR_ROOTS if find_in_key(voicing, root, instrument).places]


# --- the minor-eleven voicing in two layers --------------------------------------------------------


def test_complete_it_is_held_in_e_only() -> None:
    """One open string under a barre, 91.9 mm wide."""
    assert keys_held(MINOR_ELEVEN) == ["E"]
    (place,) = find_in_key(voicing_of(MINOR_ELEVEN), read_note_name("E")).places
    assert place.grip.frets == (0, 2, 5, 2, 3, 2)
    assert place.grip.fingers == (0, 1, 4, 1, 2, 1)
    assert round(place.grip.stretch_mm, 1) == 91.9


@pytest.mark.parametrize("root", MINOR_ROOTS, ids=lambda root: root.plain)
def test_in_drop_d_it_is_one_barre_in_every_key(root: NoteName) -> None:
    """The same shape everywhere: the barre is the index, or the nut."""
    places = find_in_key(voicing_of(MINOR_ELEVEN), root, DROP_D).places
    assert places
    for place in places:
        lowest = place.grip.frets[0]
        assert lowest is not None
        assert place.grip.frets == tuple(lowest + offset for offset in (0, 0, 3, 0, 1, 0))
        assert place.grip.barres == (1 if lowest else 0)


def test_without_its_lowest_note_it_is_held_in_every_key() -> None:
    """So is its top alone."""
    for text in ("5 b3 | 11 b7 9", "b3 11 | b7 9", "11 b7 9"):
        assert len(keys_held(text)) == 12


def test_the_arpeggio_in_low_position_is_bearable_from_a() -> None:
    """122 mm on the fifth fret, 137 mm on the third."""
    in_a = reach_in_turn((5, 7, 10, 7, 8, 7), GUITAR, USUAL_HAND)
    in_g = reach_in_turn((3, 5, 8, 5, 6, 5), GUITAR, USUAL_HAND)
    assert isinstance(in_a, Grip)
    assert isinstance(in_g, Refusal)
    assert (round(in_a.stretch_mm), round(in_g.stretch_mm)) == (122, 137)
    assert name_notes(read_voicing("5 7 10 7 8 7").midi, (3, 3)).chord_plain == "Am11"
    assert name_notes(read_voicing("3 5 8 5 6 5").midi, (3, 3)).chord_plain == "Gm11"


# --- the programme ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Row:
    """A voicing of the programme in one key."""

    chord: str
    degrees: str
    frets: str

    def __str__(self) -> str:
        """For the test's id."""
        return f"{self.chord}: {self.degrees}"


ROWS = [
    Row(*(word.strip() for word in line.split(";")))
    for line in """
Cmaj13#11   ; 7 3 | 13 9 #11    ; x 2 2 2 3 2
C13#11      ; b7 3 | 13 9 #11   ; x 1 2 2 3 2
Eb13#11     ; b7 3 | 13 9 #11   ; x 4 5 5 6 5
Cm13        ; b7 b3 | 13 9 11   ; x 1 1 2 3 1
C7#9b13     ; 3 b7 | #9 b13 1   ; x 7 8 8 9 8
Cmaj13      ; 1 3 13 | 9 5 7    ; 8 7 7 7 8 7
Cm11        ; b3 5 1 | 11 b7 9  ; 11 10 10 10 11 10
Cmaj13#11   ; 5 7 3 | 13 9 #11  ; 3 2 2 2 3 2
C13sus4     ; b7 9 5 | 1 11 13  ; 6 5 5 5 6 5
Cm11        ; 5 b3 | 11 b7 9    ; x 10 13 10 11 10
Cm11        ; b3 11 | b7 9      ; x x 13 10 11 10
Em11        ; 1 5 b3 | 11 b7 9  ; 0 2 5 2 3 2
Dm9         ; b3 b7 | 9 5 1     ; x 8 10 9 10 10
G7b9#11b13  ; b7 3 | b13 b9 #11 ; x 8 9 8 9 9
C6/9        ; 3 6 | 9 5 1       ; x 7 7 7 8 8
Dm9b5       ; b3 b7 | 9 b5 1    ; x 8 10 9 9 10
Cm6/9       ; b3 6 | 9 5 1      ; x 6 7 7 8 8
""".strip().splitlines()
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_chord_degrees_and_grip_of_the_programme_agree(row: Row) -> None:
    """The degrees make the chord, the frets sound the degrees, and the hand holds the frets."""
    chord = read_chord(row.chord)
    over_root = named(row.degrees, chord.root)
    assert over_root.reading.symbol == chord.symbol
    assert over_root.sounding.voicing.text == row.degrees
    written = read_voicing(row.frets)
    assert written.frets is not None
    on_frets = name_notes(written.midi, over_root.sounding.voicing.sizes, root=chord.root)
    assert on_frets.sounding.voicing.heights_semitones == over_root.sounding.voicing.heights_semitones
    assert on_frets.reading.symbol == chord.symbol
    grip = hold(written.frets, GUITAR, USUAL_HAND)
    assert isinstance(grip, Grip)
    assert grip in [place.grip for place in find_in_key(over_root.sounding.voicing, chord.root).places]


HELD_IN_ALL_KEYS = {row.degrees for row in ROWS} - {MINOR_ELEVEN}


@pytest.mark.parametrize("degrees", sorted(HELD_IN_ALL_KEYS))
def test_what_the_programme_asks_in_twelve_keys_is_held_there(degrees: str) -> None:
    """Each on the strings of its grip, within the reach of the hand."""
    frets = read_voicing(next(row.frets for row in ROWS if row.degrees == degrees)).frets
    assert frets is not None
    strings = tuple(string for string, fret in enumerate(frets) if fret is not None)
    voicing = voicing_of(degrees)
    for root in MINOR_ROOTS:
        assert strings in {place.grip.strings for place in find_in_key(voicing, root).places}, root.plain


def test_one_shape_has_four_basses() -> None:
    """The four grips of weeks 6 and 7 are one shape moved along the neck."""
    shapes = {"8 7 7 7 8 7", "11 10 10 10 11 10", "3 2 2 2 3 2", "6 5 5 5 6 5"}
    assert shapes <= {row.frets for row in ROWS}
    for frets in shapes:
        first, *_ = (int(word) for word in frets.split())
        assert [int(word) - first for word in frets.split()] == [0, -1, -1, -1, 0, -1]


@pytest.mark.parametrize(
    ("degrees", "structure", "inversion", "spacing"),
    [
        ("1 3 5", "major triad", "root position", "close"),
        ("3 5 1", "major triad", "first inversion", "close"),
        ("5 1 3", "major triad", "second inversion", "close"),
        ("1 b3 5", "minor triad", "root position", "close"),
        ("b3 5 1", "minor triad", "first inversion", "close"),
        ("5 1 b3", "minor triad", "second inversion", "close"),
        ("1 11 b7", "quartal stack", "root position", "close"),
    ],
)
def test_single_layers_lie_on_the_upper_three_strings(
    degrees: str, structure: str, inversion: str, spacing: str
) -> None:
    """In all twelve keys, as the first weeks ask."""
    voicing = voicing_of(degrees)
    (layer,) = voicing.layers
    assert (layer.name.structure, layer.name.inversion, layer.name.spacing) == (structure, inversion, spacing)
    for root in MINOR_ROOTS:
        assert (3, 4, 5) in {place.grip.strings for place in find_in_key(voicing, root).places}


@pytest.mark.parametrize("root", ["F", "F#", "G", "Ab", "A", "Bb"])
@pytest.mark.parametrize(
    ("chord", "degrees"),
    [("maj13#11", "1 7 3 | 13 9 #11"), ("13", "1 b7 3 | 13 9 5"), ("m13", "1 b7 b3 | 13 9 11")],
)
def test_on_seven_strings_the_root_lies_underneath(chord: str, degrees: str, root: str) -> None:
    """From F to B♭, with the root on the low B string."""
    over_root = named(degrees, read_note_name(root))
    assert over_root.chord_plain == root + chord
    found = find_in_key(over_root.sounding.voicing, over_root.root, SEVEN_STRINGS)
    assert 0 in found.places[0].grip.strings
    lowest = found.places[0].grip.frets[0]
    assert lowest is not None
    assert 6 <= lowest <= 11


def test_the_card_of_the_design_is_true() -> None:
    """E♭13♯11 without its root on `x 4 5 5 6 5`: 56 mm, F major triad over third and seventh."""
    written = read_voicing("x 4 5 | 5 6 5")
    found = name_notes(written.midi, written.sizes, root=read_note_name("Eb"))
    assert (found.chord_shown, found.reading.is_rootless) == ("E♭13♯11", True)
    lower, upper = found.layers
    assert found.sounding.layer_words(upper) == "F major triad"
    assert (upper.name.spacing, upper.name.inversion) == ("close", "second inversion")
    assert [name.plain for name in found.sounding.names] == ["Db", "G", "C", "F", "A"]
    assert [each.plain for each in found.reading.degrees[lower.places]] == ["b7", "3"]
    grips = {place.grip.text: place.grip for place in find_at(found.sounding).places}
    assert round(grips["x 4 5 5 6 5"].stretch_mm) == 56
