"""Every drill says as data what is right: the task that the quiz page puts and checks."""

from __future__ import annotations

import pytest

from drills.cards.dealt import Dealt
from drills.cards.kinds import drill
from drills.cards.pads import QUALITY_TEXTS, STRUCTURES, TENSION_TEXTS
from drills.cards.subject import Subject
from drills.cards.task import (
    ChordReading,
    DegreePart,
    DegreesTask,
    LayerParts,
    NeckTask,
    NotesTask,
    PartsTask,
)
from drills.neck.grip import Frets

from .conftest import MakeSubject


@pytest.fixture(scope="module")
def rootless(subject: MakeSubject) -> Subject:
    """The rootless 13♯11 over E♭ on strings 5 to 1."""
    return subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", nickname="Triad over two")


def dealt(name: str, of: Subject) -> Dealt:
    """What a drill that applies makes of a subject."""
    made = drill(name)(of)
    assert made is not None
    return made


def frets(text: str) -> Frets:
    """Frets as guitarists write them."""
    return tuple(None if each == "x" else int(each) for each in text.split())


def said(reading: ChordReading) -> tuple[str, str, list[str], list[str]]:
    """A reading in words: text, quality, what it needs, what it allows."""
    needs, allows = ([TENSION_TEXTS[place] for place in places] for places in (reading.needs, reading.allows))
    return reading.text, QUALITY_TEXTS[reading.quality], needs, allows


def readings(task: object) -> list[tuple[str, str, list[str], list[str]]]:
    """The readings of a task in words."""
    assert isinstance(task, PartsTask)
    return [said(each) for each in task.readings]


# --- on the neck ---------------------------------------------------------------------------------


def test_place_takes_any_grip_of_the_voicing_on_the_strings_it_says(subject: MakeSubject) -> None:
    """Its own grip first, then those an octave away."""
    high = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 16 17 17 18 17").grip
    low = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", others=(high,))
    assert dealt("place", low).task == NeckTask(
        "frets", (frets("x 4 5 5 6 5"), frets("x 16 17 17 18 17")), (1, 2, 3, 4, 5)
    )


def test_layer_takes_that_layer_alone(rootless: Subject) -> None:
    """The three highest strings and no other."""
    assert dealt("layer", rootless).task == NeckTask("frets", (frets("x x x 5 6 5"),), (3, 4, 5))


def test_cross_takes_the_same_notes_on_the_other_strings(subject: MakeSubject) -> None:
    """The string set that the question says; frets of the answer."""
    made = dealt("cross", subject("3 | 13 9 #11", "13#11", "Eb", "x x 5 5 6 5"))
    assert made.task == NeckTask("frets", (frets("x 10 10 10 10 x"),), (1, 2, 3, 4))
    assert made.sound.midi == (55, 60, 65, 69)


def test_turn_takes_the_next_inversion_wherever_it_sounds(subject: MakeSubject) -> None:
    """By pitch; the strings are said."""
    made = dealt("turn", subject("1 3 5", None, "A", "x x x 2 2 0"))
    assert made.task == NeckTask("pitches", (made_frets := frets("x x x 6 5 5"),), (3, 4, 5))
    assert made_frets in made.task.accepts


def test_step_takes_the_next_voicing_on_any_strings(rootless: Subject) -> None:
    """By pitch, no strings said; the notes are called from the new root."""
    made = dealt("step", rootless)
    assert made.task == NeckTask("pitches", (frets("x 6 7 6 8 6"),))
    assert made.answer.root.plain == "F"
    assert made.names.degrees[5] == "1"


def test_a_step_that_no_hand_holds_is_left_to_the_student(subject: MakeSubject) -> None:
    """Without a grip there is nothing to check, though it still sounds and has names."""
    made = dealt("step", subject("1 3 13 | 9 5 7", "maj13", "C", "8 7 7 7 8 7"))
    assert made.task is None
    assert made.sound.midi == (50, 53, 59, 64, 69, 72)
    assert made.names.degrees[2] == "1"


def test_mend_starts_from_the_faulty_notes(rootless: Subject) -> None:
    """What is drawn on the question lies on the neck and may be moved; what sounds mended is right."""
    made = dealt("mend", rootless)
    assert made.task == NeckTask("pitches", (frets("x 4 5 5 6 5"),), start=frets("x 4 5 5 6 4"))


def test_mend_starts_from_an_empty_neck_where_the_fault_has_no_place(subject: MakeSubject) -> None:
    """A note below the open string is told in words, and those notes are kept apart from the other lines."""
    made = dealt("mend", subject("3 6 | 9 5 1", "6/9", "C", "0 0 0 0 1 x"))
    assert isinstance(made.task, NeckTask)
    assert made.task.start is None
    assert made.front.picture is None
    assert [(note.name, note.midi) for note in made.front.notes[0]] == [
        *(("E", 40), ("A", 45), ("D♭", 49), ("G", 55), ("C", 60)),
    ]


def test_connect_takes_the_nearest_grip_of_the_next_chord(subject: MakeSubject) -> None:
    """The question says its strings."""
    after = subject("b7 3 | 13 9 #11", "13#11", "Ab", "x 9 10 10 11 10")
    made = dealt("connect", subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", next=after))
    assert made.task == NeckTask("frets", (frets("x 9 10 10 11 10"),), (1, 2, 3, 4, 5))
    assert made.answer.root.plain == "Ab"


def test_top_starts_from_the_melody_and_keeps_it(rootless: Subject) -> None:
    """The highest note lies there and stays."""
    assert dealt("top", rootless).task == NeckTask(
        "frets", (frets("x 4 5 5 6 5"),), (1, 2, 3, 4, 5), start=frets("x x x x x 5"), fixed=(5,)
    )


# --- in words ------------------------------------------------------------------------------------


def test_name_takes_every_reading_and_the_layers(rootless: Subject) -> None:
    """Its own name first; what answers list as heard as well counts too; then the layers that have names."""
    made = dealt("name", rootless)
    told = readings(made.task)
    assert told[0] == ("E♭13♯11", "7", ["♯11", "13"], ["9"])
    assert ("E♭13♭5", "7", ["♭5", "13"], ["9"]) in told
    assert ("A7♯9♭13/C♯", "7", ["♯9", "♭13"], []) in told
    assert ("A7♯9♭13/C♯", "7alt", [], ["♯9", "♯5", "♭13"]) in told
    assert isinstance(made.task, PartsTask)
    assert made.task.root_said == 3
    (layer,) = made.task.layers
    text = "F major triad, close, second inversion"
    assert layer == LayerParts("upper", 5, (), STRUCTURES.index("major triad"), 2, text)


def test_name_of_a_bare_layer_asks_for_no_chord(subject: MakeSubject) -> None:
    """Which layer, which inversion."""
    task = dealt("name", subject("3 5 1", None, "A", "x x x 6 5 5")).task
    text = "A major triad, close, first inversion"
    layer = LayerParts("single", 9, (), STRUCTURES.index("major triad"), 1, text)
    assert task == PartsTask(9, layers=(layer,))


def test_name_of_two_bare_notes_asks_for_their_degrees(subject: MakeSubject) -> None:
    """An interval has no structure to choose."""
    task = dealt("name", subject("b7 3", None, "C", "x 1 2 x x x")).task
    assert task == DegreesTask((DegreePart("B♭", 10, "♭7"), DegreePart("E", 4, "3")))


def test_a_layer_that_stands_on_its_lowest_note_is_asked_without_inversion(subject: MakeSubject) -> None:
    """A quartal stack has none; of an augmented triad any note may be the root."""
    stack = dealt("name", subject("1 11 b7", None, "D")).task
    assert isinstance(stack, PartsTask)
    assert (stack.layers[0].root, stack.layers[0].inversion) == (2, None)
    even = dealt("name", subject("1 3 #5", None, "C")).task
    assert isinstance(even, PartsTask)
    assert (even.layers[0].root, even.layers[0].other_roots, even.layers[0].inversion) == (0, (4, 8), None)


def test_join_takes_the_chord_and_the_upper_degrees(rootless: Subject) -> None:
    """Over the root that is said, so other roots do not count."""
    task = dealt("join", rootless).task
    assert isinstance(task, PartsTask)
    assert {each.root for each in task.readings} == {3}
    assert task.readings[0].text == "E♭13♯11"
    upper = (DegreePart("C", 9, "13"), DegreePart("F", 2, "9"), DegreePart("A", 6, "♯11"))
    assert (task.degrees, task.layers) == (upper, ())


def test_split_takes_a_layer_by_its_name_and_a_pair_by_its_degrees(subject: MakeSubject) -> None:
    """In C the upper layer is asked, in F the lower one."""
    upper = dealt("split", subject("b7 3 | 13 9 #11", "13#11", "C")).task
    text = "D major triad, close, second inversion"
    layer = LayerParts("upper", 2, (), STRUCTURES.index("major triad"), 2, text)
    assert upper == PartsTask(0, layers=(layer,))
    lower = dealt("split", subject("b7 3 | 13 9 #11", "13#11", "F")).task
    assert lower == DegreesTask((DegreePart("E♭", 10, "♭7"), DegreePart("A", 4, "3")))


def test_twin_takes_the_names_of_the_twin(rootless: Subject, subject: MakeSubject) -> None:
    """The question says the twin's root."""
    twin = subject("7 3 | 13 9 #11", "maj13#11", "Eb", "x 5 5 5 6 5", twin=rootless)
    assert readings(dealt("twin", twin).task)[0] == ("E♭13♯11", "7", ["♯11", "13"], ["9"])


def test_a_bare_twin_is_named_by_its_layer(subject: MakeSubject) -> None:
    """A layer without a chord has no chord to name."""
    minor = subject("1 b3 5", None, "A", "x x 7 5 5 x")
    task = dealt("twin", subject("1 3 5", None, "A", "x x 7 6 5 x", twin=minor)).task
    assert isinstance(task, PartsTask)
    assert (task.readings, task.layers[0].text) == ((), "A minor triad, close, root position")


def test_spell_takes_the_notes_low_to_high(rootless: Subject) -> None:
    """As they sound, and as the voicing calls them."""
    assert dealt("spell", rootless).task == NotesTask((49, 55, 60, 65, 69), ("D♭", "G", "C", "F", "A"))


def test_spot_takes_the_degree_of_the_empty_marker(rootless: Subject) -> None:
    """One degree, by what it sounds over the root."""
    made = dealt("spot", rootless)
    assert made.front.picture is not None
    (asked,) = [place for place, marker in enumerate(made.front.picture.markers) if marker.is_asked]
    degree, name = rootless.voicing.degrees[asked], rootless.sounding.names[asked]
    assert made.task == DegreesTask((DegreePart(name.shown, degree.semitones, degree.shown),))
