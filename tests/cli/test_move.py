"""`drills move`: the contract's fields, moves in the order typed, bad input, and what people see."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, TypeAlias

import pytest

from drills.cli import move_chain

Run: TypeAlias = Callable[..., tuple[int, str, str]]

SIX = "C3 G3 E4 B4 D5 F5"


def moved(run: Run, *arguments: str) -> list[dict[str, Any]]:
    """What `drills move --json` answers; stdout holds nothing else."""
    status, out, err = run("move", "--json", *arguments)
    assert (status, err) == (0, "")
    answer = json.loads(out)
    assert isinstance(answer, list)
    return answer


def chords(items: list[dict[str, Any]]) -> list[str]:
    """Their chords."""
    return [item["chord"] for item in items]


def test_a_step_has_the_contracts_fields(run: Run) -> None:
    """An object as `name` prints it, with what was done and the notes that changed."""
    (item,) = moved(run, SIX, "--scale", "C major", "--steps", "1")
    named = json.loads(run("name", "--json", "--root", "D", "D3 A3 F4 C5 E5 G5")[1])
    assert {key: item[key] for key in named} == named
    assert item["move"] == "a step up in C major"
    pairs = zip(SIX.split(), "D3 A3 F4 C5 E5 G5".split(), strict=True)
    assert item["changed"] == [list(pair) for pair in pairs]
    assert item["words"] == "C△9(add11) → Dm11: every note a step up in C major"


def test_negative_steps_go_down(run: Run) -> None:
    """A step down from C in C major is B."""
    (item,) = moved(run, SIX, "--steps", "-1", "--scale", "C major")
    assert item["notes"] == ["B2", "F3", "D4", "A4", "C5", "E5"]


@pytest.mark.parametrize(
    ("voicing", "scale", "expected"),
    [
        pytest.param(SIX, "C major", "Dm11 Em11b9 Fmaj9#11 G9(add11) Am11 Bm11b5b9 Cmaj9(add11)", id="major"),
        pytest.param("C3 E3 G3 Bb3", "C half-whole", 8, id="octatonic"),
        pytest.param("C3 E3 Bb3", "C whole-tone", 6, id="whole-tone"),
    ],
)
def test_through_is_every_step_to_the_octave(run: Run, voicing: str, scale: str, expected: str | int) -> None:
    """Seven steps; eight in octatonic, six in whole-tone scales."""
    items = moved(run, voicing, "--scale", scale, "--through")
    if isinstance(expected, int):
        assert len(items) == expected
    else:
        assert chords(items) == expected.split()
    assert items[0]["warnings"] == []


def test_avoid_notes_are_flagged_and_mended_when_asked(run: Run) -> None:
    """Through C major the natural 11s come with a warning; with --mend they are gone."""
    flagged = moved(run, SIX, "--scale", "C major", "--through")
    assert [bool(item["warnings"]) for item in flagged] == [False, True, False, True, False, True, True]
    mended = moved(run, SIX, "--scale", "C major", "--through", "--mend")
    assert all(item["warnings"] == [] for item in mended)
    assert mended[3]["move"] == "4 steps up in C major, then mended"
    assert mended[3]["changed"][-1] == ["F5", "C#6"]
    assert mended[0]["move"].endswith("then nothing to mend")


def test_modes_of_melodic_minor_are_reported_not_mended(run: Run) -> None:
    """The ♭9 over the second step stays until --mend is typed."""
    arguments = ("C3 G3 Eb4 B4 D5 A5", "--scale", "C melodic minor", "--steps", "1")
    (item,) = moved(run, *arguments)
    assert item["chord"] == "Dm13b9"
    assert item["warnings"] == [{"kind": "avoid note", "degree": "b9", "against": "1", "mend": "9"}]
    (mended,) = moved(run, *arguments, "--mend")
    assert mended["warnings"] == []


def test_the_scale_typed_last_before_a_step_counts(run: Run) -> None:
    """Two steps may go through two scales; a scale typed behind serves the step before it."""
    through_c, through_g = ("--scale", "C major", "--steps", "4"), ("--scale", "G major", "--steps", "6")
    (item,) = moved(run, "C3 E3 G3", *through_c, *through_g)
    assert item["notes"] == ["F#4", "A4", "C5"]
    (behind,) = moved(run, "C3 E3 G3", "--steps", "1", "--scale", "C major")
    assert behind["chord"] == "Dm"


def test_the_root_can_stay(run: Run) -> None:
    """Over a pedal."""
    (item,) = moved(run, "C3 E3 G3", "--scale", "C major", "--steps", "1", "--root-stays")
    assert item["root"] == "C"


def test_a_reading_from_the_scale_is_chosen(run: Run) -> None:
    """A tritone is named from D flat; stepping through C major it is read from G, unless --root says else."""
    arguments = ("F3 B3 F4", "--scale", "C major", "--steps", "1")
    assert json.loads(run("name", "--json", "F3 B3 F4")[1])["chord"] == "Db7"
    (item,) = moved(run, *arguments)
    assert (item["root"], item["notes"]) == ("A", ["G3", "C4", "G4"])
    assert "the root D♭ is not in C major" in run("move", *arguments, "--root", "Db")[2]


def test_to_all_goes_by_fourths_from_the_root(run: Run) -> None:
    """Twelve keys, the present one first, spelled as charts do."""
    items = moved(run, "--root", "Eb", "b7 3 | 13 9 #11", "--to", "all")
    assert [item["root"] for item in items] == "Eb Ab Db F# B E A D G C F Bb".split()
    assert items[0]["changed"] == []
    assert {" ".join(item["degrees"]) for item in items} == {"b7 3 13 9 #11"}
    assert min(item["midi"][0] for item in items) == 40
    assert max(item["midi"][0] for item in items) == 51


def test_written_octaves_go_to_the_nearest_playable_place(run: Run) -> None:
    """Frets have an octave: from x 4 5 5 6 5 a half step down, and up a fourth."""
    (item,) = moved(run, "--root", "Eb", "x 4 5 5 6 5", "--to", "D")
    assert item["notes"] == ["C3", "F#3", "B3", "E4", "G#4"]
    (same,) = moved(run, "--root", "Eb", "x 4 5 5 6 5", "--to", "D#")
    assert same["root"] == "D#"
    assert same["midi"] == [49, 55, 60, 65, 69]


def test_a_later_move_applies_to_every_item(run: Run) -> None:
    """Three smaller forms in twelve keys are 36 voicings, in the order of the moves."""
    items = moved(run, "--root", "C", "1 5 b3 | 11 b7 9", "--reduce", "--to", "all")
    assert len(items) == 36
    assert [item["root"] for item in items[:2]] == ["C", "F"]
    assert items[0]["move"] == "without the lowest note, then to C"
    assert items[12]["move"] == "the top four notes, then to C"


def test_moves_are_made_in_the_order_typed(run: Run) -> None:
    """Doubled and then turned is not turned and then doubled."""
    first = moved(run, "C3 E3 G3", "--double", "1", "--turn", "single=first")
    second = moved(run, "C3 E3 G3", "--turn", "single=first", "--double", "1")
    assert first[0]["notes"] == ["E3", "G3", "C4", "E4"]
    assert second[0]["notes"] == ["E3", "G3", "C4", "C5"]
    assert second[0]["changed"] == [["C3", "E3"], ["E3", "G3"], ["G3", "C4"], [None, "C5"]]


def test_an_option_typed_twice_is_done_twice(run: Run) -> None:
    """Flags and values alike."""
    (item,) = moved(run, "C3 E3 G3", "--double", "1", "--double", "3", "--mend", "--mend")
    assert item["notes"] == ["C3", "E3", "G3", "C4", "E4"]
    assert item["move"].count("nothing to mend") == 2


def test_swap_gives_all_answers_and_keeps_the_other_layer(run: Run) -> None:
    """Best first, each of the kind asked for."""
    items = moved(run, "--root", "Eb", "b7 3 | 13 9 #11", "--swap", "upper=sus4")
    assert len(items) > 1
    for item in items:
        assert item["notes"][:2] == ["Db3", "G3"]
        assert item["layers"][1]["structure"] == "sus4"
    assert len(moved(run, "--root", "Eb", "b7 3 | 13 9 #11", "--swap", "upper=sus4", "--limit", "1")) == 1


def test_two_swaps_of_both_layers_are_one_move(run: Run) -> None:
    """Stacked fifths below, then what they leave out; in either order."""
    lower, upper = ("--swap", "lower=quintal stack"), ("--swap", "upper=sus")
    items = moved(run, "--root", "C", "1 5 3 | 7 9 #11", *lower, *upper)
    assert items == moved(run, "--root", "C", "1 5 3 | 7 9 #11", *upper, *lower)
    assert items[0]["degrees"] == ["1", "5", "9", "7", "3", "#11"]
    twice = moved(run, "--root", "Eb", "b7 3 | 13 9 #11", "--swap", "upper=sus4", "--swap", "upper=triad")
    assert all(item["layers"][1]["structure"].endswith("triad") for item in twice)


def test_spread_and_turn_name_the_layer(run: Run) -> None:
    """A closed lower layer; an upper one in first inversion."""
    (item,) = moved(
        run, "--root", "G", "1 5 b3 | 11 b7 9", "--spread", "lower=close", "--turn", "upper=first"
    )
    assert [layer["spacing"] for layer in item["layers"]] == ["close", "close"]
    assert item["layers"][1]["inversion"] == "first inversion"


def test_cross_gives_grips_on_other_strings(run: Run) -> None:
    """The same notes, nearest string set first; nothing changed but the grip."""
    items = moved(run, "x x 10 9 8 x", "--cross")
    assert [item["grip"]["frets"] for item in items] == [
        [None, None, None, 5, 5, 3],
        [None, 15, 14, 12, None, None],
        [20, 19, 17, None, None, None],
    ]
    assert all(item["notes"] == ["C4", "E4", "G4"] and item["changed"] == [] for item in items)
    free = moved(run, "--root", "C", "1 3 5", "--cross")
    assert free
    turned = moved(run, "x x 10 9 8 x", "--cross", "--turn", "single=first", "--cross")
    assert turned
    assert "grip" not in moved(run, "x x 10 9 8 x", "--cross", "--turn", "single=first")[0]
    assert "grip" in moved(run, "x x 10 9 8 x", "--cross", "--mend")[0]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        pytest.param(["C3 E3 G3"], "no move is asked for\n  add one, such as --to Eb", id="no move"),
        pytest.param(
            ["C3 E3 G3", "--scale", "C major"], "--scale: a scale alone moves nothing", id="scale alone"
        ),
        pytest.param(["C3 E3 G3", "--steps", "1"], "--steps: steps go through a scale", id="no scale"),
        pytest.param(
            ["C3 E3 G3", "--through"], "--through: steps go through a scale", id="no scale to go through"
        ),
        pytest.param(
            ["C3 E3 Bb3", "--scale", "C major", "--steps", "1"],
            "--steps: B♭ is not in C major\n  C mixolydian holds C7",
            id="outside the scale",
        ),
        pytest.param(
            ["C3 E3 G3", "--scale", "C lydien", "--through"],
            "no scale named 'C lydien'\n  write a tonic",
            id="scale",
        ),
        pytest.param(["C3 E3 G3", "--to", "H"], "--to: no note named 'H'", id="no note"),
        pytest.param(
            ["C3 E3 G3 B3", "--swap", "upper"], "--swap: 'upper' does not say which layer", id="no kind"
        ),
        pytest.param(["C3 E3 G3 B3", "--swap", "top=triad"], "--swap: no layer named 'top'", id="no layer"),
        pytest.param(
            ["C3 E3 G3 B3", "--swap", "upper=quartl"], "--swap: no layer is called 'quartl'", id="structure"
        ),
        pytest.param(
            ["C3 E3 G3", "--swap", "upper=sus4"],
            "a voicing of one layer has no other to keep",
            id="one layer",
        ),
        pytest.param(
            ["--root", "C", "1 3 5 | 7 9", "--swap", "upper=semitone cluster"],
            "no semitone cluster fits as the upper layer of Cmaj9",
            id="no answer",
        ),
        pytest.param(["C3", "--reduce"], "--reduce: one note cannot be reduced", id="nothing to reduce"),
        pytest.param(
            ["C3 E3 G3", "--spread", "single=opn"],
            "--spread: no spacing named 'opn'\n  write open",
            id="spacing",
        ),
        pytest.param(
            ["C3 E3 G3", "--turn", "single=fourth"], "--turn: no inversion named 'fourth'", id="inversion"
        ),
        pytest.param(["C3 E3 G3", "--double", "H"], "--double: 'H' is no degree", id="no degree"),
        pytest.param(["C3 E3 G3", "--double", "9"], "--double: C has no 9 to double", id="degree not there"),
        pytest.param(
            ["--root", "Bb", "1 5 b3 | 11 b7 9", "--cross"],
            "--cross: Bbm11 cannot be held: it stretches",
            id="not held",
        ),
        pytest.param(
            ["--root", "E", "1 5 b3 | 11 b7 9", "--cross"],
            "--cross: Em11 can be held on no other strings",
            id="no strings",
        ),
        pytest.param(["C3 E3 G3", "--steps", "one"], "--steps", id="no number"),
        pytest.param(
            ["C3 E3 G3", "--to", "all", "--to", "all", "--to", "all", "--to", "all"],
            "--to: this makes more than 2,000 voicings",
            id="size, seen beforehand",
        ),
        pytest.param(
            ["--root", "C", "1 5 3 | 7 9", "--swap", "lower=close", "--to", "all", "--to", "all"],
            "--to: this makes more than 2,000 voicings",
            id="size, seen on the way",
        ),
        pytest.param(["Cmaj7", "--to", "D"], "'Cmaj7' is a chord symbol", id="a symbol"),
    ],
)
def test_bad_input_says_what_and_how_to_mend_it(run: Run, arguments: list[str], words: str) -> None:
    """Exit 2, one message on stderr, nothing on stdout."""
    for form in ((), ("--json",)):
        status, out, err = run("move", *arguments, *form)
        assert (status, out) == (2, "")
        assert words in err
        assert "Traceback" not in err


def test_a_typo_far_behind_is_found_before_any_move_is_made(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every value is read first."""
    monkeypatch.delattr(move_chain, "transpose")
    assert "no degree" in run("move", "C3 E3 G3", "--to", "all", "--double", "H")[2]


def test_people_see_one_voicing_in_full(run: Run) -> None:
    """Name, what was done, layers, neck and grip, within 80 columns."""
    status, out, _ = run("move", "--root", "C", "1 5 b3 | 11 b7 9", "--to", "E")
    assert status == 0
    for words in (
        "Em11",
        "Cm11 → Em11: every note down a minor sixth",
        "E minor triad",
        "● 1",
        "frets 0 2 5 2 3 2",
    ):
        assert words in out
    assert max(len(line) for line in out.splitlines()) <= 80


def test_people_see_several_as_a_list(run: Run) -> None:
    """Chord, degrees, notes and frets on a line, layers below, clashes with their mends."""
    status, out, _ = run("move", SIX, "--scale", "C major", "--through")
    assert status == 0
    lines = [line.strip() for line in out.splitlines()]
    assert "Dm11         1 5 ♭3 | ♭7 9 11     D A F | C E G   cannot be held" in lines
    assert "open D minor triad | close C major triad" in lines
    assert "! 11 rubs against 3: 11 → ♯11" in lines
    assert max(map(len, out.splitlines())) <= 80


def test_what_all_share_is_told_once(run: Run) -> None:
    """Mended first and then moved to twelve keys: one reason, above the list."""
    out = run("move", "--root", "C", "1 5 3 | 7 9 11", "--mend", "--to", "all")[1]
    assert out.count("natural 11 clashes with the third") == 1


def test_reduced_forms_tell_where_they_can_be_held(run: Run) -> None:
    """In how many keys, beside the grip."""
    out = run("move", "--root", "Bb", "1 5 b3 | 11 b7 9", "--reduce")[1]
    assert out.count("can be held in 12 of 12 keys") == 2
    assert "can be held in 2 of 12 keys" in out
    assert "x 8 11 8 9 8" in out


def test_a_long_list_says_how_much_is_not_shown(run: Run) -> None:
    """Twelve, and the option that shows the rest."""
    arguments = ("move", "--root", "C", "1 5 3 | 7 9 #11", "--swap", "upper=triad", "--to", "all")
    out = run(*arguments)[1]
    assert "more; --limit" in out
    assert out.count("|") < run(*arguments, "--limit", "30")[1].count("|")


def test_what_cannot_make_a_move_is_left_out_and_told(run: Run) -> None:
    """Through C major only some chords have a ♭3 to double."""
    arguments = ("C3 E3 G3", "--scale", "C major", "--through", "--double", "b3")
    assert chords(moved(run, *arguments)) == ["Dm", "Em", "Am", "Bdim"]
    assert "left out: F: F has no b3 to double" in run("move", *arguments)[1]


def test_a_crossed_grip_is_shown_as_it_lies(run: Run) -> None:
    """The frets in the list are those of the new strings, and a later turn stays on them."""
    out = run("move", "x x 10 9 8 x", "--cross")[1]
    assert "C   1 3 5   C E G   x x x 5 5 3" in out
    turned = run("move", "x x 10 9 8 x", "--turn", "single=first")[1]
    assert "frets x x 14 12 13 x" in turned


def test_left_handed_players_see_their_neck(run: Run) -> None:
    """The nut is on the right."""
    out = run("move", "--root", "C", "1 5 b3 | 11 b7 9", "--to", "E", "--left-handed")[1]
    assert "╢" in out
