"""Names of voicings: chord, root, other readings."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.theory.chord import FOURTHS, habit_root, read_chord
from drills.theory.naming import Named, chord_of, name_notes, readings
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.text import read_voicing
from drills.theory.voicing import DEFAULT_SIZES


def named(text: str, root: str = "") -> Named:
    """A voicing in any form, named as the command line names it."""
    given_root = read_note_name(root) if root else None
    found = read_voicing(text, root=given_root)
    return name_notes(found.midi, found.sizes, root=given_root, degrees=found.degrees, spelled=found.spelled)


def unaided(degrees: str) -> Named:
    """Degrees over C, named from what sounds alone."""
    found = read_voicing(degrees, root=NoteName(0))
    return name_notes(found.midi, found.sizes)


# What a guitar teacher calls these (common practice, no source).
GRIPS = """
x32010 C
x02210 Am
xx0232 D
022100 E
320003 G
133211 F
x24442 B
xx0231 Dm
022000 Em
x00232 D/A
332010 C/G
032010 C/E
200232 D/F#
x20003 G/B
xx0003 G/D
1x023x Dm/F
002220 A/E
xx0233 Dsus4
xx0230 Dsus2
x02230 Asus4
x02200 Asus2
x32030 C(add9)
7x7787 G(add9)/B
x32000 Cmaj7
xx3210 Fmaj7
xx0222 Dmaj7
x02010 Am7
xx0211 Dm7
x20202 Bm7
320001 G7
xx0212 D7
x02020 A7
3x222x A7/G
x02000 A9(no3)
x35453 Cmaj7
x35353 C7
x35343 Cm7
x3434x Cm7b5
x3424x Cdim7
x3454x Cdim
xx2323 Edim7
3x343x G7
3x333x Gm7
3x233x Gm6
3x344x G7#5
x3233x C9
x3234x C7#9
x7678x E7#9
x76788 E7#9b13
x78888 C7#9/E
x3243x Cmaj9
x32233 C6/9
x3334x Cm11
x5555x D9sus4
x57577 D13
1x1231 F13
x42002 C#m11b5
xx5566 Gm11
0 0 0 0 0 3 Em11
x x 9 9 8 8 Cmaj7/B
577655 A
"""
# Degrees over C from low to high, and the name without being told the root (common practice, no source).
DROPS = """
1 5 7 3    | Cmaj7
3 7 1 5    | Cmaj7/E
5 1 3 7    | Cmaj7/G
7 3 5 1    | Cmaj7/B
1 5 b7 3   | C7
3 b7 1 5   | C7/E
5 1 3 b7   | C7/G
b7 3 5 1   | C7/Bb
1 5 b7 b3  | Cm7
b3 b7 1 5  | Eb6
5 1 b3 b7  | Cm7/G
b7 b3 5 1  | Cm7/Bb
1 b5 b7 b3 | Cm7b5
b3 b7 1 b5 | Ebm6
b5 1 b3 b7 | Cm7b5/Gb
b7 b3 b5 1 | Cm7b5/Bb
1 5 7 b3   | Cm(maj7)
b3 7 1 5   | Cm(maj7)/Eb
5 1 b3 7   | Cm(maj7)/G
7 b3 5 1   | Cm(maj7)/B
1 5 6 3    | C6
3 6 1 5    | Am7/E
1 #5 b7 3  | C7#5
#5 1 3 b7  | C7#5/G#
1 #5 7 3   | Cmaj7#5
1 b5 b7 3  | C7b5
1 5 b7 4   | C7sus4
5 1 4 b7   | Gm11
1 5 9 3    | C(add9)
3 9 1 5    | C(add9)/E
5 1 9 3    | C(add9)/G
9 5 1 3    | D9sus4
1 3 b7     | C7
1 b7 3     | C7
1 7 3      | Cmaj7
1 b7 b3    | Cm7
1 7 b3     | Cm(maj7)
1 3 6      | Am/C
1 5 b7     | C7(no3)
1 5 7      | Cmaj7(no3)
1 5 9 7    | Cmaj9(no3)
1 b7 3 13  | C13
1 b7 3 #9  | C7#9
1 3 b7 b9  | C7b9
1 b3 6 9   | Cm6/9
1 b7 b9 4  | C7sus4b9
1 b7 9 4 13 | C13sus4
1 b3 b5 7  | Cdim(maj7)
1 #9 3 5   | C(add#9)
1 3 5 b7 9 11 | C9(add11)
1 5 3 11 b7 9 | C9(add11)
1 5 7 9 3 1 | Cmaj9
1 b3 5 b7 b9 | Cm7b9
1 b13 b7 b3 5 | Abmaj9/C
1 b3 5 b7 b13 | Cm7b13
3 b7       | C7
b7 3 13    | C13
5 1        | C5/G
6 1        | Am
3 1        | C/E
1          | C(1)
1 b9       | C(1,b9)
"""
GRIP_ROWS = [line.rsplit(" ", 1) for line in GRIPS.strip().splitlines()]
DROP_ROWS = [[word.strip() for word in line.split("|")] for line in DROPS.strip().splitlines()]


@pytest.mark.parametrize(("frets", "chord"), GRIP_ROWS, ids=[row[0] for row in GRIP_ROWS])
def test_a_grip_is_called_what_a_teacher_calls_it(frets: str, chord: str) -> None:
    """Open grips, barre grips, shells and colours."""
    assert named(frets).chord_plain == chord


@pytest.mark.parametrize(("degrees", "chord"), DROP_ROWS, ids=[row[0] for row in DROP_ROWS])
def test_notes_alone_are_called_what_a_teacher_calls_them(degrees: str, chord: str) -> None:
    """Drop 2 shapes in all inversions, shells, slash chords."""
    assert unaided(degrees).chord_plain == chord


# The same over a root that is given: degrees, root, plain name, shown name (common practice, no source).
OVER_ROOT = """
1 5 b3 | 11 b7 9     ; Bb ; Bbm11       ; B♭m11
7 3 | 13 9 #11       ; C  ; Cmaj13#11   ; C△13♯11
b7 3 | 13 9 #11      ; Eb ; Eb13#11     ; E♭13♯11
b7 b3 | 13 9 11      ; C  ; Cm13        ; Cm13
3 b7 | #9 b13 1      ; C  ; C7#9b13/E   ; C7♯9♭13/E
b7 9 5 | 1 11 13     ; C  ; C13sus4/Bb  ; C13sus4/B♭
b3 b7 | 9 5 1        ; D  ; Dm9/F       ; Dm9/F
b7 3 | b13 b9 #11    ; G  ; G7b9#11b13  ; G7♭9♯11♭13
3 6 | 9 5 1          ; C  ; C6/9/E      ; C6/9/E
b3 b7 | 9 b5 1       ; D  ; Dm9b5/F     ; Dø9/F
b3 6 | 9 5 1         ; C  ; Cm6/9/Eb    ; Cm6/9/E♭
b3 5 b7 9            ; D  ; Dm9         ; Dm9
3 13 b7 9            ; G  ; G13         ; G13
b7 3 b13 b9 #9 #11   ; C  ; C7alt       ; C7alt
3 5 b7 1             ; B  ; B7/D#       ; B7/D♯
b7 1 3 5             ; Db ; Db7/Cb      ; D♭7/C♭
b3 5 1               ; Ab ; Abm/Cb      ; A♭m/C♭
7 1 3 5              ; F# ; F#maj7/F    ; F♯△7/F
1 b9                 ; C  ; C(1,b9)     ; C(1,♭9)
b9 1                 ; C  ; C(1,b9)     ; C(1,♭9)
"""
OVER_ROWS = [[word.strip() for word in line.split(";")] for line in OVER_ROOT.strip().splitlines()]


@pytest.mark.parametrize(
    ("degrees", "root", "plain", "shown"), OVER_ROWS, ids=[f"{row[0]} over {row[1]}" for row in OVER_ROWS]
)
def test_a_given_root_stands(degrees: str, root: str, plain: str, shown: str) -> None:
    """The name over it, with a slash where the root sounds above the bass."""
    found = named(degrees, root)
    assert (found.chord_plain, found.chord_shown) == (plain, shown)
    assert found.root == read_note_name(root)
    assert found.bass.pitch_class == found.sounding.midi[0] % 12


def test_the_projects_own_example() -> None:
    """B♭m11 in two layers, from notes, from degrees and from frets."""
    for found in (named("Bb2 F3 Db4 | Eb4 Ab4 C5"), named("6 8 11 8 9 8"), named("1 5 b3 11 b7 9", "Bb")):
        assert (found.chord_plain, found.root.plain, found.bass.plain) == ("Bbm11", "Bb", "Bb")
        assert [each.plain for each in found.reading.degrees] == "1 5 b3 11 b7 9".split()
        assert not found.reading.is_rootless
        assert not found.reading.clashes
        lower, upper = found.layers
        assert (lower.name.structure, lower.name.inversion, lower.name.spacing) == (
            "minor triad",
            "root position",
            "open",
        )
        assert (upper.name.structure, upper.name.inversion, upper.name.spacing) == (
            "major triad",
            "second inversion",
            "close",
        )
        roots = [found.sounding.layer_root(layer) for layer in found.layers]
        assert roots == [read_note_name("Bb"), read_note_name("Ab")]
        assert [pitch.plain for pitch in found.sounding.pitches] == "Bb2 F3 Db4 Eb4 Ab4 C5".split()
        assert ("Dbmaj13/Bb", "D♭△13/B♭", read_note_name("Db")) in found.also_named


@pytest.mark.parametrize(
    ("notes", "chord"),
    [
        ("Ab3 Cb4 Eb4", "Abm"),
        ("G#3 B3 D#4", "G#m"),
        ("Ab3 B3 Eb4", "G#m"),
        ("D#3 F#3 A#3 C#4", "D#m7"),
        ("Eb3 Gb3 Bb3 Db4", "Ebm7"),
        ("C#3 E#3 G#3", "C#"),
        ("Db3 F3 Ab3", "Db"),
        ("C3 E3 G#3", "Caug"),
        ("C3 E3 Ab3", "Abaug/C"),
        ("B#2 E3 G#3", "Eaug/C"),
        ("G3 B3 D#4", "Gaug"),
        ("C3 D3 E3 G#3", "E7#5/C"),
    ],
)
def test_typed_spelling_decides_where_it_can(notes: str, chord: str) -> None:
    """A root stays as typed when the other notes agree with it; letters decide over an augmented triad."""
    assert named(notes).chord_plain == chord


def test_other_readings_are_told() -> None:
    """All of them, or those that were chosen; never the one that names."""
    c6 = unaided("1 3 5 6")
    assert c6.chord_plain == "C6"
    assert c6.also_named[0] == ("Am7/C", "Am7/C", read_note_name("A"))
    assert [each.lowest_over_root_semitones for each in c6.also].count(0) == 0
    chosen = Named(c6.sounding, c6.reading, c6.also[:1])
    assert chosen.also_named == c6.also_named[:1]


def test_low_intervals_are_told_as_places() -> None:
    """Of the two notes in the voicing."""
    assert named("C2 E2 C4").low_intervals == ((0, 1),)
    assert named("C3 E3 C4").low_intervals == ()


def test_a_reading_makes_a_chord_of_what_sounds() -> None:
    """Each degree once, in the order of a symbol."""
    found = unaided("1 5 b3 1")
    assert chord_of(found.reading, found.root).plain == "Cm"
    assert [each.plain for each in chord_of(found.reading, found.root).degrees] == ["1", "b3", "5"]


midi_sets = st.sets(st.integers(24, 96), min_size=1, max_size=7).map(lambda notes: tuple(sorted(notes)))


@given(midi_sets)
def test_no_notes_go_unnamed(midi: tuple[int, ...]) -> None:
    """A chord text that reads again over the same root and holds every note."""
    found = name_notes(midi, DEFAULT_SIZES[len(midi)])
    for text in (found.chord_plain, found.chord_shown):
        chord = read_chord(text)
        assert chord.root.pitch_class == found.root.pitch_class
        sounding = {(chord.root.pitch_class + each.semitones) % 12 for each in chord.degrees}
        assert {note % 12 for note in midi} <= sounding
    assert [pitch.midi for pitch in found.sounding.pitches] == list(midi)
    for plain, shown, root in found.also_named:
        assert read_chord(plain).root == read_chord(shown).root == root


@given(midi_sets, st.integers(-12, 12))
def test_a_name_goes_with_its_notes(midi: tuple[int, ...], shift: int) -> None:
    """Moved notes have the same symbol, layers and readings over moved roots."""
    here = name_notes(midi, DEFAULT_SIZES[len(midi)])
    there = name_notes(tuple(note + shift for note in midi), DEFAULT_SIZES[len(midi)])
    assert there.reading == here.reading
    assert there.layers == here.layers
    assert (there.root.pitch_class - here.root.pitch_class - shift) % 12 == 0
    assert there.also == here.also


@given(midi_sets, st.sampled_from(FOURTHS))
def test_any_root_can_be_given(midi: tuple[int, ...], pitch_class: int) -> None:
    """The degrees over it sound the notes, and the best readings are told beside."""
    root = habit_root(pitch_class, "major")
    found = name_notes(midi, DEFAULT_SIZES[len(midi)], root=root)
    assert [each.over(root).pitch_class for each in found.reading.degrees] == [note % 12 for note in midi]
    told = {each.lowest_over_root_semitones for each in found.also}
    ranked = {each.lowest_over_root_semitones for each in readings(found.sounding.voicing.heights_semitones)}
    assert told == ranked - {found.reading.lowest_over_root_semitones}
