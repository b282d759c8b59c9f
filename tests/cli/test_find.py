"""`drills find`: answers for programs and for people, and what it says to wrong input."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, TypeAlias

import pytest

from drills.catalogue.cache import FOLDER_VARIABLE
from drills.theory.chord import read_suffix
from drills.theory.degree import degree
from drills.theory.symbol import symbol

Run: TypeAlias = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module", autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A cache of this run's own."""
    folder = tmp_path_factory.mktemp("catalogue")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(FOLDER_VARIABLE, str(folder))
        yield folder


def answer(run: Run, *arguments: str) -> Any:
    """What `--json` prints."""
    status, out, err = run("find", *arguments, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


def test_an_answer_has_the_fields_of_the_contract(run: Run) -> None:
    """The minor-eleven voicing of weeks 6 and 7 is there, held in all keys, with its grip in C."""
    found = answer(run, "--chord", "m11", "--notes", "6", "--min-keys", "12", "--limit", "100")
    assert found["total"] == len(found["voicings"]) > 0
    first = next(each for each in found["voicings"] if each["text"] == "b3 5 1 | 11 b7 9")
    assert first["degrees"] == ["b3", "5", "1", "11", "b7", "9"]
    assert (first["chord"], first["keys"], first["rootless"], len(first["in_keys"])) == ("m11", 12, False, 12)
    assert [layer["structure"] for layer in first["layers"]] == ["minor triad", "major triad"]
    assert first["best_grip"]["frets"] == [11, 10, 10, 10, 11, 10]
    assert first["best_grip"]["key"] == "C"
    assert first["stretch_mm"] == first["best_grip"]["stretch_mm"]
    assert first["score"] == sum(first["why"].values())


def test_each_chord_is_the_name_of_its_own_degrees(run: Run) -> None:
    """Read again it has those degrees, and every tone that makes the chord asked for."""
    for each in answer(run, "--chord", "m7", "--min-keys", "12", "--limit", "300")["voicings"]:
        assert symbol(degree(word) for word in each["degrees"]).plain == each["chord"]
        assert {"b3", "b7"} <= {tone.plain for tone in read_suffix(each["chord"])} & set(each["degrees"])


def test_the_total_counts_before_the_limit(run: Run) -> None:
    """And what is listed is the best of it."""
    one = answer(run, "--chord", "13#11", "--limit", "1")
    two = answer(run, "--chord", "13#11", "--limit", "2")
    assert one["total"] == two["total"] > 2
    assert one["voicings"] == two["voicings"][:1]


def test_people_get_ten_and_programs_a_hundred(run: Run) -> None:
    """Unless a limit is given; how many more there are is told."""
    found = answer(run, "--chord", "m11")
    assert len(found["voicings"]) == 100
    assert f"and {found['total'] - 10:,} more; --limit lists more of them" in run("find", "--chord", "m11")[1]


def test_out_of_reach_counts_while_no_keys_are_asked_for(run: Run) -> None:
    """Seven notes on six strings are never held, and told all the same."""
    found = answer(run, "--chord", "m11", "--notes", "7", "--limit", "1")
    assert found["total"] > 0
    assert (found["voicings"][0]["keys"], found["voicings"][0]["best_grip"]) == (0, None)
    assert found["voicings"][0]["layers"][0]["notes"]


def test_several_values_of_one_option_are_any_of_them(run: Run) -> None:
    """Chords, layers, notes and degrees alike."""
    both = answer(run, "--chord", "m9", "--chord", "maj9", "--notes", "4")["total"]
    assert both == sum(answer(run, "--chord", each, "--notes", "4")["total"] for each in ("m9", "maj9"))


def test_a_chord_with_its_root_is_shown_in_that_key(run: Run) -> None:
    """Where it can be held there."""
    found = answer(run, "--chord", "Ebm11", "--min-keys", "12", "--limit", "3")["voicings"]
    assert [each["best_grip"]["key"] for each in found] == ["Eb"] * 3


def test_a_limit_on_the_stretch_holds_for_every_grip(run: Run) -> None:
    """And what cannot be held within it is left out."""
    found = answer(run, "--chord", "13#11", "--max-stretch-mm", "60", "--limit", "500")["voicings"]
    assert found
    assert max(each["stretch_mm"] for each in found) <= 60


def test_strings_are_those_asked_for(run: Run) -> None:
    """Each grip uses all of them and no other."""
    for each in answer(run, "--chord", "7alt", "--strings", "5-1", "--min-keys", "1")["voicings"]:
        frets = each["best_grip"]["frets"]
        assert frets[0] is None
        assert None not in frets[1:]


@pytest.mark.parametrize(("option", "is_rootless"), [("--rootless", True), ("--with-root", False)])
def test_voicings_with_and_without_their_root_are_told_apart(
    run: Run, option: str, is_rootless: bool
) -> None:
    """One or the other can be asked for."""
    found = answer(run, "--chord", "9", option)["voicings"]
    assert {each["rootless"] for each in found} == {is_rootless}
    assert {"1" in each["degrees"] for each in found} == {not is_rootless}


def test_nothing_found_is_no_fault(run: Run) -> None:
    """Total 0, exit 0, and which filter it was."""
    found = answer(run, "--chord", "maj7", "--bass", "b9")
    assert (found["total"], found["voicings"], found["emptied_by"]) == (0, [], "bass")


def test_people_read_which_filter_emptied_the_answer(run: Run) -> None:
    """With the count before it, and what would be left without it."""
    status, out, err = run("find", "--chord", "maj7", "--notes", "4", "--bass", "b9", "--min-keys", "3")
    assert (status, err) == (0, "")
    left = answer(run, "--chord", "maj7", "--notes", "4", "--min-keys", "3")["total"]
    counts = [line.split()[0] for line in out.splitlines() if line.strip()]
    assert counts == ["0", "1,477", "252", "0", str(left)]
    assert "♭9 in the bass" in out
    assert "without this last one" in out


def test_people_see_each_voicing_beside_a_small_neck(run: Run) -> None:
    """Name, layers, frets, keys and degrees on the strings, within 80 columns."""
    status, out, _ = run(
        "find", "--chord", "m11", "--notes", "6", "--min-keys", "12", "--limit", "1", "--why"
    )
    assert status == 0
    assert max(len(line) for line in out.splitlines()) <= 80
    for words in (
        "56 voicings",
        "Cm11/E♭",
        "11 10 10 10 11 10",
        "all twelve keys",
        "─■11─",
        "+36 keys",
        "and 55 more",
    ):
        assert words in out


def test_a_narrow_terminal_gets_the_neck_below(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is cut off."""
    monkeypatch.setenv("COLUMNS", "50")
    _, out, _ = run("find", "--chord", "m11", "--notes", "6", "--min-keys", "12", "--limit", "1")
    lines = out.splitlines()
    assert max(len(line) for line in lines) <= 50
    words = next(place for place, line in enumerate(lines) if "all twelve keys" in line)
    assert any("─■11─" in line for line in lines[words:])


def test_people_see_what_cannot_be_held(run: Run) -> None:
    """Without a neck, and with fewer keys where it is not all."""
    _, out, _ = run("find", "--chord", "m11", "--notes", "7", "--limit", "1")
    assert "cannot be held in any key" in out
    _, out, _ = run("find", "--chord", "m11", "--lower", "open minor triad", "--bass", "1", "--notes", "6")
    assert "1  Em11" in out
    assert "92 mm here, 1 key" in [line.strip() for line in out.splitlines()]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--chord", "maj77"), ("--chord: no chord type 'maj77'", "'maj7'")),
        (("--upper", "clsoe triad"), ("--upper: no layer is called 'clsoe triad'", "write")),
        (("--lower", "quartal stak"), ("--lower: no layer is called 'quartal stak'", "quartal stack")),
        (("--upper", "drop 2 triad"), ("--upper: no triad is drop 2", "close")),
        (("--top", "b11"), ("--top: no degree 'b11'", "degrees are")),
        (("--bass", "x"), ("--bass: 'x' is no degree", "degrees are")),
        (("--notes", "9"), ("--notes: no voicing of two layers has 9 notes", "write 4 to 7")),
        (("--strings", "5-1", "--notes", "4"), ("--strings: 5 strings for 4 notes", "name 4 strings")),
        (("--strings", "9-1"), ("--strings: there is no string 7", "1, the highest, to 6")),
        (("--min-keys", "13"), ("--min-keys:", "13")),
        (("--limit", "0"), ("--limit:", "0")),
        (("--limit", "10001"), ("--limit:", "10000")),
        (("--repeats",), ("chord types with repeated notes are too many", "name 3 chord types")),
        (("--tuning", "dropp D"), ("--tuning: no tuning named 'dropp D'", "drop D")),
        (("--max-stretch-mm", "nan"), ("--max-stretch-mm: nan is out of range", "40 to 200")),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) and value[0].startswith("--") else "",
)
def test_wrong_input_is_told_with_its_mend(
    run: Run, arguments: tuple[str, ...], words: tuple[str, ...]
) -> None:
    """Exit 2, nothing on stdout, one message with the nearest right word."""
    status, out, err = run("find", *arguments)
    assert (status, out) == (2, "")
    assert all(each in err for each in words), err


def test_a_repeated_note_can_be_asked_for(run: Run) -> None:
    """Then there are more voicings, and the best of them still repeat none."""
    without = answer(run, "--chord", "6/9", "--notes", "4")["total"]
    assert answer(run, "--chord", "6/9", "--notes", "4", "--repeats")["total"] > without
