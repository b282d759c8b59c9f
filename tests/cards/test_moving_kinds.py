"""The drills about moves: from a grip that is shown to the one a player goes to, with the reason in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drills.cards.card import Face, LayerLine
from drills.cards.kinds import drill
from drills.cards.subject import Subject
from drills.neck.hand import Hand
from drills.neck.instrument import Instrument
from drills.neck.search import find_in_key

from .conftest import MakeSubject


@pytest.fixture(scope="module")
def rootless(subject: MakeSubject) -> Subject:
    """The rootless 13♯11 over E♭ on strings 5 to 1."""
    return subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", nickname="Triad over two")


def faces(name: str, of: Subject) -> tuple[Face, Face]:
    """Question and answer of a drill that applies."""
    made = drill(name)(of)
    assert made is not None
    return made.front, made.back


def shown(face: Face) -> list[tuple[int, int, str]]:
    """The markers of a face as (string, fret, text)."""
    assert face.picture is not None
    return [(marker.string, marker.fret, marker.text) for marker in face.picture.markers]


def frets(face: Face) -> str:
    """The frets that an answer gives."""
    line = next(line for line in face.lines if line.startswith("frets "))
    return line.removeprefix("frets ").split(" · ")[0]


@pytest.mark.parametrize("name", ["step", "cross", "turn"])
def test_the_question_shows_the_grip_with_its_degrees(rootless: Subject, name: str) -> None:
    """Before the move the neck shows where the hand is, after it where it goes."""
    front, back = faces(name, rootless)
    assert shown(front) == [(1, 4, "♭7"), (2, 5, "3"), (3, 5, "13"), (4, 6, "9"), (5, 5, "♯11")]
    assert (front.head, front.head_note) == ("E♭13♯11", "no root")
    assert back.picture != front.picture


# --- step ----------------------------------------------------------------------------------------


def test_step_goes_through_melodic_minor_and_keeps_its_eleven(rootless: Subject) -> None:
    """Lydian dominant is named with its parent; in modes of melodic minor an 11 is told and kept."""
    front, back = faces("step", rootless)
    assert front.lines == ("E♭ lydian dominant, that is B♭ melodic minor",)
    assert front.ask == "One step up, the root moving along: what does it become? Mend, keep or skip it?"
    assert back.head == "F9♭13(add11)"
    assert back.lines[0] == "D♭ → E♭ · G → A · C → D♭ · F → G · A → B♭"
    assert back.lines[1] == "keep the 11: this scale is one colour, and no note of it is avoided"
    assert frets(back) == "x 6 7 6 8 6"
    assert [line.text for line in back.layers] == [
        "G diminished triad, close, second inversion · ♭13 9 11",
        "♭7 3 · tritone",
    ]


@pytest.mark.parametrize(
    ("degrees", "suffix", "key", "head", "scale", "advice"),
    [
        pytest.param(
            "7 3 | 13 9 #11",
            "maj13#11",
            "C",
            "D13(add11)",
            "C lydian, that is G major",
            "mend: G → G♯: natural 11 clashes with the third",
            id="mend-the-natural-11",
        ),
        pytest.param(
            "b3 b7 | 9 5 1",
            "m9",
            "D",
            "Em7♭9",
            "D dorian, that is C major",
            "mend: F → F♯: ♭9 belongs to dominants",
            id="mend-the-flat-9",
        ),
        pytest.param(
            "b3 6 | 9 5 1",
            "m6/9",
            "C",
            "Dm(add♭9)(add♭13)",
            "C dorian, that is B♭ major",
            "skip it, or only pass through: ♭13 and ♭9 both rub",
            id="skip-two-clashes",
        ),
        pytest.param(
            "11 b7 9",
            "m11",
            "C",
            "D7sus4♭9",
            "C dorian, that is B♭ major",
            "keep the ♭9: it is a colour of this chord",
            id="keep-a-colour",
        ),
        pytest.param(
            "7 3 | 5 1",
            "maj7",
            "F",
            "Gm7",
            "F major",
            "",
            id="nothing-to-avoid",
        ),
        pytest.param(
            "b7 3 | 13 9",
            "13",
            "C",
            "Dm9♭13",
            "C mixolydian, that is F major",
            "keep the ♭13: the chord tone a half step below it does not sound",
            id="keep-over-a-silent-fifth",
        ),
    ],
)
def test_step_says_what_an_avoid_note_needs_and_why(
    subject: MakeSubject, degrees: str, suffix: str, key: str, head: str, scale: str, advice: str
) -> None:
    """Mend, keep or skip; where nothing is avoided, nothing is asked."""
    front, back = faces("step", subject(degrees, suffix, key))
    assert (back.head, front.lines) == (head, (scale,))
    assert front.ask.endswith("skip it?") == bool(advice)
    assert (back.lines[1] == advice) == bool(advice)


def test_step_names_a_bare_layer_by_itself(subject: MakeSubject) -> None:
    """The triads of a key, one after the other."""
    front, back = faces("step", subject("1 3 5", None, "A"))
    assert front.lines == ("A major",)
    assert (back.head, back.lines[0]) == ("B minor triad", "A → B · C♯ → D · E → F♯")


def test_step_has_no_avoid_note_in_a_symmetrical_scale(subject: MakeSubject) -> None:
    """Half-whole steps are one colour, and have no modes to name."""
    front, back = faces("step", subject("3 b7 | b9 5", "7b9", "C"))
    assert front.lines == ("C half-whole",)
    assert "mend" not in front.ask
    assert back.lines[0] == "E → G♭ · B♭ → C · D♭ → E♭ · G → A"


def test_step_says_the_notes_where_no_hand_holds_them(subject: MakeSubject) -> None:
    """The next voicing is named, layered and given in degrees; there is no grip to show."""
    _, back = faces("step", subject("1 3 13 | 9 5 7", "maj13", "C", "8 7 7 7 8 7"))
    assert back.picture is None
    assert back.head == "Dm13"
    assert [line.text for line in back.layers] == [
        "A minor triad, close, second inversion",
        "B diminished triad, close, first inversion",
    ]
    assert back.lines[1:] == (
        "1 ♭3 13 | 9 5 ♭7",
        "the hand cannot hold it here: play its notes in turn",
    )


def test_step_calls_a_bare_layer_out_of_reach_by_its_own_name(subject: MakeSubject) -> None:
    """A hand that holds one step need not hold the next."""
    still = Hand("usual", max_stretch_mm=1.0)
    _, back = faces("step", subject("1 3 5", None, "A", "x x x 2 2 0", hand=still))
    assert (back.head, back.picture) == ("B minor triad", None)


def test_step_needs_a_scale_that_holds_the_voicing(subject: MakeSubject) -> None:
    """No scale of ours has both ninths of a dominant beside its natural one."""
    assert drill("step")(subject("b7 3 | b9 9", "7", "C")) is None


# --- mend ----------------------------------------------------------------------------------------


def test_mend_spoils_the_sharp_eleven_first(rootless: Subject) -> None:
    """A natural 11 with a major third: A♭ goes to A, the third stays."""
    front, back = faces("mend", rootless)
    assert front.head == "E♭13(add11)"
    assert front.lines == ("a natural 11 with a major third",)
    assert front.ask == "Which note must change, and to what? Keep the third."
    assert shown(front)[-1] == (5, 4, "11")
    assert back.lines[0] == "A♭ → A: natural 11 clashes with the third"
    assert back.head == "E♭13♯11"
    assert frets(back) == "x 4 5 5 6 5"


def test_mend_spoils_the_ninth_of_what_is_no_dominant(subject: MakeSubject) -> None:
    """A ♭9 belongs to dominants; over a minor chord it goes up again."""
    front, back = faces("mend", subject("b3 b7 | 9 5 1", "m9", "D", "x 8 10 9 10 10"))
    assert (front.head, front.lines) == ("Dm7♭9", ("a ♭9, and the chord is no dominant",))
    assert back.lines[0] == "E♭ → E: ♭9 belongs to dominants"


def test_mend_says_notes_that_the_neck_has_no_place_for(subject: MakeSubject) -> None:
    """The ninth on an open string cannot go lower, so the slip is told in notes."""
    front, _ = faces("mend", subject("3 6 | 9 5 1", "6/9", "C", "0 0 0 0 1 x"))
    assert front.picture is None
    assert front.lines == ("a ♭9, and the chord is no dominant", "E A D♭ G C")


@pytest.mark.parametrize(
    ("degrees", "suffix", "fault", "ask", "answer"),
    [
        (
            "1 3 | 7 11",
            "maj7",
            "a natural 11 with a major third",
            "Which note must change, and to what? Keep the third.",
            "F → F♯: natural 11 clashes with the third",
        ),
        (
            "1 b7 | #9 3",
            "7#9",
            "a ♯9 below the major third",
            "Which notes must change, and how?",
            "D♯ an octave up: ♯9 belongs above the third",
        ),
        (
            "3 7 | 5 1",
            "maj7",
            "the root high above the major seventh",
            "Which note must change, and to what? Keep the seventh.",
            "C → A: the root rubs a minor ninth above the seventh",
        ),
        (
            "1 b7 | 5 b13",
            "7b13",
            "♭13 and fifth together",
            "Which note must go? Keep the ♭13.",
            "G left out: the fifth clashes with ♭13",
        ),
        (
            "1 b3 | 9 b9",
            "m9",
            "a ♭9, and the chord is no dominant",
            "Which note must change, and to what?",
            "D♭ → D: ♭9 belongs to dominants",
        ),
        (
            "#11 3 | 7 5",
            "maj7#11",
            "a ♯11 below the fifth",
            "Which notes must change, and how?",
            "F♯ and G change places: ♯11 belongs above the fifth",
        ),
    ],
)
def test_mend_asks_what_a_clash_needs(
    subject: MakeSubject, degrees: str, suffix: str, fault: str, ask: str, answer: str
) -> None:
    """The fault is told; the answer is the mend of the table with its reason."""
    front, back = faces("mend", subject(degrees, suffix, "C"))
    assert (front.lines, front.ask) == ((fault,), ask)
    assert front.picture is not None
    assert back.lines[0] == answer
    assert back.picture != front.picture


def test_mend_needs_a_hand_that_holds_the_mended_voicing(subject: MakeSubject) -> None:
    """What cannot be played is not asked for."""
    still = Hand("usual", max_stretch_mm=1.0)
    assert drill("mend")(subject("3 7 | 5 1", "maj7", "C", hand=still)) is None


@pytest.mark.parametrize(
    ("degrees", "suffix"),
    [
        pytest.param("3 5 1", None, id="a-bare-layer"),
        pytest.param("b7 3 | 13 1", "13", id="no-note-to-spoil"),
        pytest.param("b7 3 | 13 9", "13", id="the-ninth-of-a-dominant"),
        pytest.param("1 3 | 7 b9 11", "maj7", id="two-clashes-at-once"),
    ],
)
def test_mend_needs_one_clash_or_room_for_the_classic_slip(
    subject: MakeSubject, degrees: str, suffix: str | None
) -> None:
    """Otherwise there is no such card."""
    assert drill("mend")(subject(degrees, suffix, "C")) is None


# --- cross and turn ------------------------------------------------------------------------------


def test_cross_asks_for_the_same_notes_one_string_set_on(rootless: Subject) -> None:
    """The string set is said, so that one grip answers."""
    front, back = faces("cross", rootless)
    assert front.lines == ("here on strings 5 to 1",)
    assert front.ask == "Where do the very same notes lie on strings 6 to 2?"
    assert frets(back) == "9 10 10 10 10 x"
    assert back.lines[:2] == ("the same notes on strings 6 to 2", "D♭ G | C F A")


def test_turn_goes_to_the_next_inversion_on_the_same_strings(subject: MakeSubject) -> None:
    """Every note goes up to the next one of the chord."""
    front, back = faces("turn", subject("3 5 1", None, "C", "x x x 9 8 8"))
    assert front.ask == "Where does the next inversion lie, on the same strings?"
    assert back.lines[0] == "E → G · G → C · C → E"
    assert back.layers == (LayerLine("single", "close, second inversion · 5 1 3"),)
    assert frets(back) == "x x x 12 13 12"


@pytest.mark.parametrize("name", ["cross", "turn"])
def test_six_notes_on_six_strings_have_nowhere_to_go(subject: MakeSubject, name: str) -> None:
    """There is no other string set, and no hand for the next inversion."""
    assert drill(name)(subject("1 3 13 | 9 5 7", "maj13", "C")) is None


# --- top -----------------------------------------------------------------------------------------


def test_top_says_of_the_layers_what_makes_the_answer_the_only_one(rootless: Subject) -> None:
    """The melody note stands alone on the neck; layers are told without their roots."""
    front, back = faces("top", rootless)
    assert front.layers == (
        LayerLine("upper", "major triad, close, second inversion"),
        LayerLine("lower", "tritone, from the ♭7 up"),
    )
    assert front.ask == "The melody is A, the ♯11. What lies under it?"
    assert shown(front) == [(5, 5, "♯11")]
    assert front.picture is not None
    assert front.picture.muted == ()
    assert frets(back) == "x 4 5 5 6 5"


def test_a_melody_on_the_root_is_called_so(subject: MakeSubject) -> None:
    """Nobody says "the 1"."""
    front, _ = faces("top", subject("3 5 1", None, "C", "x x x 9 8 8"))
    assert front.ask == "The melody is C, the root. What lies under it?"


@pytest.mark.parametrize(("degrees", "text"), [("3 5 1", "close"), ("1 5 3", "open")])
def test_top_leaves_the_inversion_of_a_bare_triad_to_its_melody(
    subject: MakeSubject, degrees: str, text: str
) -> None:
    """Spacing and highest note decide it."""
    front, _ = faces("top", subject(degrees, None, "F"))
    assert front.layers == (LayerLine("single", text),)


def test_top_tells_a_bare_layer_of_four_notes_in_full(subject: MakeSubject) -> None:
    """Four notes can be spread in many ways under one melody."""
    drop_two = subject("1 5 | 7 3", None, "C")
    voicing = replace(drop_two.voicing, sizes=(4,))
    whole = replace(drop_two.place, sounding=replace(drop_two.sounding, voicing=voicing))
    front, _ = faces("top", replace(drop_two, place=whole))
    assert front.layers == (LayerLine("single", "drop 2, root position"),)


def test_top_says_where_a_pair_starts(subject: MakeSubject) -> None:
    """Two notes have no inversion, so their lower one is told."""
    front, _ = faces("top", subject("b3 b7 | 9 5", "m9", "D"))
    assert [line.text for line in front.layers] == [
        "perfect fourth, from the 9 up",
        "perfect fifth, from the ♭3 up",
    ]


def test_two_notes_are_too_few_for_top(subject: MakeSubject) -> None:
    """There is hardly anything under the melody."""
    assert drill("top")(subject("3 5", "maj", "C")) is None


# --- twin and connect ----------------------------------------------------------------------------


def test_twin_tells_the_note_and_the_chord_it_makes(subject: MakeSubject) -> None:
    """One grip is shown, the other given in frets; the seventh makes the difference."""
    bright = subject("7 3 | 13 9 #11", "maj13#11", "C", "x 2 2 2 3 2")
    lower = subject("b7 3 | 13 9 #11", "13#11", "C", "x 1 2 2 3 2")
    front, back = faces("twin", replace(bright, twin=lower))
    assert (front.head, front.lines) == ("C△13♯11", ("its twin: frets x 1 2 2 3 2, over C",))
    assert front.ask == "Which note differs, and what does it make?"
    assert (back.head, back.lines[0]) == ("C13♯11", "B → B♭: the 7 becomes the ♭7")


def test_twin_over_another_root_says_both_degrees(subject: MakeSubject) -> None:
    """Nothing but the root tells what a note is."""
    one = subject("b7 3 | 13 9 #11", "13#11", "C", "x 1 2 2 3 2")
    other = subject("3 b7 | #9 5 1", "7#9", "F#", "x 1 2 2 2 2")
    _, back = faces("twin", replace(one, twin=other))
    assert back.lines[0] == "D → C♯: the 9 of C, the 5 of F♯"


def test_without_a_twin_or_a_next_chord_there_is_no_such_card(rootless: Subject) -> None:
    """Both are set by the plan."""
    assert drill("twin")(rootless) is None
    assert drill("connect")(rootless) is None


def home(subject: MakeSubject, roots: str, grips: tuple[str, str, str]) -> tuple[Subject, Subject, Subject]:
    """Two, five and one over their roots."""
    two, five, one = roots.split()
    return (
        subject("b3 b7 | 9 5 1", "m9", two, grips[0]),
        subject("b7 3 | b13 b9 #11", "7b9#11b13", five, grips[1]),
        subject("3 6 | 9 5 1", "6/9", one, grips[2], note="Home."),
    )


def chord(of: Subject) -> str:
    """The chord as cards write it."""
    assert of.chord is not None
    return of.chord.shown


@pytest.mark.parametrize(
    ("roots", "grips", "first", "second"),
    [
        pytest.param(
            "D G C",
            ("x 8 10 9 10 10", "x 8 9 8 9 9", "x 7 7 7 8 8"),
            "F stays · C → B · E → E♭ · A → A♭ · D → C♯",
            "F → E · B → A · E♭ → D · A♭ → G · C♯ → C",
            id="C",
        ),
        pytest.param(
            "Ab Db Gb",
            ("x 2 4 3 4 4", "x 2 3 2 3 3", "x 1 1 1 2 2"),
            "C♭ stays · G♭ → F · B♭ → B𝄫 · E♭ → E𝄫 · A♭ → G",
            "C♭ → B♭ · F → E♭ · B𝄫 → A♭ · E𝄫 → D♭ · G → G♭",
            id="Gb",
        ),
    ],
)
def test_connect_goes_home_by_half_steps(
    subject: MakeSubject, roots: str, grips: tuple[str, str, str], first: str, second: str
) -> None:
    """The next chord is named with its layers, the grip before it shown; each voice is told."""
    two, five, one = home(subject, roots, grips)
    front, back = faces("connect", replace(two, next=five))
    assert front.head == back.head == chord(five)
    assert front.ask == f"From this {chord(two)}, where is the nearest {chord(five)}?"
    assert front.head_note == "no root"
    assert front.lines == ("strings 5 to 1",)
    assert [line.text for line in front.layers][1] == "♭7 and 3"
    assert [text for *_, text in shown(front)] == ["♭3", "♭7", "9", "5", "1"]
    assert (back.lines[0], frets(back)) == (first, grips[1])
    _, back = faces("connect", replace(five, next=one))
    assert (back.lines[0], frets(back), back.lines[-1]) == (second, grips[2], "Home.")


def test_connect_tells_voices_that_come_go_or_change_their_name(subject: MakeSubject) -> None:
    """Voices are matched from the top."""
    four = subject("b7 3 | 13 9", "13", "C")
    five = subject("3 b7 | #9 b13 1", "7#9b13", "F#", "x 1 2 2 3 2")
    _, back = faces("connect", replace(four, next=five))
    assert back.lines[0].split(" · ")[0] == "A♯ added"
    _, back = faces("connect", replace(five, next=four))
    assert back.lines[0].split(" · ")[0] == "A♯ left out"
    same = subject("b7 3 | 13 9 #11", "13#11", "C", "x 1 2 2 3 2")
    _, back = faces("connect", replace(five, next=same))
    assert back.lines[0] == "A♯ stays as B♭ · E stays · G𝄪 stays as A · D stays · F♯ stays"


# --- whatever is played --------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["step", "mend", "cross", "turn", "top"])
def test_left_handed_pictures_stay_left_handed(rootless: Subject, name: str) -> None:
    """Before and after."""
    front, back = faces(name, replace(rootless, is_left_handed=True))
    assert front.picture is not None
    assert back.picture is not None
    assert front.picture.is_left_handed
    assert back.picture.is_left_handed


@pytest.mark.parametrize("name", ["step", "turn", "cross"])
def test_what_a_recipe_says_of_a_voicing_is_not_said_of_its_relative(rootless: Subject, name: str) -> None:
    """Nickname and remark belong to the voicing they were written for."""
    _, back = faces(name, replace(rootless, note="Softly."))
    assert "Triad over two" not in back.head_note
    assert "Softly." not in back.lines


def test_the_neck_ends_the_turning(rootless: Subject) -> None:
    """Where the next inversion would lie beyond the last fret, there is no card."""
    sixteen = next(
        place
        for place in find_in_key(rootless.voicing, rootless.root).places
        if place.grip.text == "x 16 17 17 18 17"
    )
    high = replace(rootless, place=sixteen)
    assert drill("turn")(high) is not None
    assert drill("turn")(replace(high, instrument=Instrument(frets=19))) is None
