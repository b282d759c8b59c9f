"""`drills grip`: the contract's example, keys, octaves, hands, and what people see."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, TypeAlias

import pytest

Run: TypeAlias = Callable[..., tuple[int, str, str]]

MINOR_ELEVEN = "1 5 b3 | 11 b7 9"
BY_FOURTHS_AS_MINOR = ["C", "F", "Bb", "Eb", "G#", "C#", "F#", "B", "E", "A", "D", "G"]
BY_FOURTHS_AS_DOMINANT = ["C", "F", "Bb", "Eb", "Ab", "Db", "F#", "B", "E", "A", "D", "G"]


def answered(run: Run, *arguments: str) -> dict[str, Any]:
    """What `drills grip --json` answers; stdout holds nothing else."""
    status, out, err = run("grip", "--json", *arguments)
    assert (status, err) == (0, "")
    answer = json.loads(out)
    assert isinstance(answer, dict)
    return answer


@pytest.mark.parametrize(
    "arguments",
    [[MINOR_ELEVEN, "--all-keys"], ["--root", "E", MINOR_ELEVEN, "--all-keys"]],
    ids=["any root", "root given"],
)
def test_the_minor_eleventh_is_held_in_e_alone(run: Run, arguments: list[str]) -> None:
    """The contract's example; a fact of the trade (common practice, no source)."""
    answer = answered(run, *arguments)
    assert answer["keys"] == {key: int(key == "E") for key in BY_FOURTHS_AS_MINOR}
    assert list(answer["keys"]) == BY_FOURTHS_AS_MINOR
    (grip,) = answer["grips"]
    assert grip.pop("notes") == ["E2", "B2", "G3", "A3", "D4", "F#4"]
    assert grip == {
        "key": "E",
        "frets": [0, 2, 5, 2, 3, 2],
        "fingers": [0, 1, 4, 1, 2, 1],
        "stretch_mm": 91.9,
        "frets_apart": 3,
        "long_reach": False,
    }


def test_drop_d_holds_the_minor_eleventh_in_all_keys(run: Run) -> None:
    """A fact of the trade (common practice, no source)."""
    keys = answered(run, MINOR_ELEVEN, "--all-keys", "--tuning", "drop D")["keys"]
    assert len(keys) == 12
    assert min(keys.values()) >= 1


def test_without_all_keys_the_answer_is_about_one_key(run: Run) -> None:
    """The key is the root given, by its plain name as typed; nothing is counted."""
    answer = answered(run, "--root", "A#", "b7 3 | 13 9 #11")
    assert "keys" not in answer
    assert {grip["key"] for grip in answer["grips"]} == {"A#"}


def test_the_root_is_found_when_it_is_not_given(run: Run) -> None:
    """The key is the root of the best reading."""
    assert {grip["key"] for grip in answered(run, "E B G A D F#")["grips"]} == {"E"}


def test_keys_are_spelled_as_charts_spell_them(run: Run) -> None:
    """A dominant chord stands in F sharp, not in G flat (common practice, no source)."""
    keys = answered(run, "--root", "Gb", "b7 3 | 13 9 #11", "--all-keys")["keys"]
    assert list(keys) == BY_FOURTHS_AS_DOMINANT


def test_a_key_that_cannot_be_reached_has_no_grips(run: Run) -> None:
    """Nothing found is an answer, not an error."""
    assert answered(run, "--root", "Bb", MINOR_ELEVEN) == {"chord": "Bbm11", "grips": []}


def test_written_octaves_stay_where_they_are(run: Run) -> None:
    """The grips of notes with octaves sound just these notes."""
    written = "Db3 G3 C4 F4 A4"
    grips = answered(run, "--root", "Eb", *written.split())["grips"]
    assert grips
    assert all(grip["notes"] == written.split() for grip in grips)


def test_in_all_keys_every_octave_is_tried(run: Run) -> None:
    """Written octaves name the voicing; its keys are looked for all over the neck."""
    written = answered(run, "--root", "Eb", "Db3 G3 C4 F4 A4", "--all-keys")
    assert written == answered(run, "--root", "Eb", "b7 3 13 9 #11", "--all-keys")


def test_degrees_are_tried_in_every_octave(run: Run) -> None:
    """The same shape an octave up is a grip as well."""
    lowest = {grip["notes"][0] for grip in answered(run, "--root", "Eb", "b7 3 13 9 #11")["grips"]}
    assert lowest == {"Db3", "Db4"}


def test_the_best_grip_comes_first_over_all_keys(run: Run) -> None:
    """No long reach comes before a shorter one, whatever the key."""
    grips = answered(run, "b7 3 | 13 9 #11", "--all-keys", "--crossing")["grips"]
    reaches = [grip["long_reach"] for grip in grips]
    assert reaches == sorted(reaches)
    assert len({grip["key"] for grip in grips}) == 12


def test_an_arpeggio_is_bearable_where_a_grip_is_not(run: Run) -> None:
    """From A 122 mm, and from G at the third fret no longer (common practice, no source)."""
    assert answered(run, "--root", "A", MINOR_ELEVEN)["grips"] == []
    arpeggios = answered(run, "--root", "A", MINOR_ELEVEN, "--arpeggio")["grips"]
    assert [(grip["frets"], grip["stretch_mm"]) for grip in arpeggios if grip["frets"][0] == 5] == [
        ([5, 7, 10, 7, 8, 7], 121.8)
    ]
    in_g = answered(run, "--root", "G", MINOR_ELEVEN, "--arpeggio")["grips"]
    assert all(grip["frets"][0] != 3 for grip in in_g)


def test_a_small_hand_holds_less(run: Run) -> None:
    """The profile and the limits of one's own narrow what counts as a grip."""
    usual = len(answered(run, "--root", "Eb", "b7 3 13 9 #11")["grips"])
    small = len(answered(run, "--root", "Eb", "b7 3 13 9 #11", "--hand", "small")["grips"])
    own = len(answered(run, "--root", "Eb", "b7 3 13 9 #11", "--max-stretch-mm", "50")["grips"])
    near = len(answered(run, "--root", "Eb", "b7 3 13 9 #11", "--max-frets-apart", "1")["grips"])
    assert usual > small > 0
    assert usual > own > 0
    assert usual > near > 0


def test_a_capo_moves_the_open_strings(run: Run) -> None:
    """The E shape at a capo on the first fret sounds F, and frets count from the capo."""
    (grip,) = answered(run, "--root", "F", MINOR_ELEVEN, "--capo", "1")["grips"]
    assert grip["frets"] == [0, 2, 5, 2, 3, 2]


def test_people_see_what_of_a_voicing_lies_under_the_hand(run: Run) -> None:
    """Where the whole cannot be held, the arpeggio and the upper notes are offered."""
    out = run("grip", "--root", "Bb", MINOR_ELEVEN)[1]
    assert "cannot be held: it stretches 115 mm, more than 101 mm" in out
    assert "as an arpeggio            frets 6 8 11 8 9 8 " in out
    assert "without its lowest note   frets x 8 11 8 9 8 " in out


def test_people_see_in_how_many_keys_it_can_be_held(run: Run) -> None:
    """Complete in one, without its lowest note in all twelve (common practice, no source)."""
    out = run("grip", "--all-keys", MINOR_ELEVEN)[1]
    assert "m11  in all keys" in out
    assert "E     0 2 5 2 3 2   0 1 4 1 2 1     92 mm       1   barre" in out
    assert "B♭                  it stretches 115 mm, more than 101 mm" in out
    assert "complete                   1 of 12 keys" in out
    assert "as an arpeggio            11 of 12 keys" in out
    assert "without its lowest note   12 of 12 keys" in out
    assert max(len(line) for line in out.splitlines()) <= 80


def test_a_narrow_terminal_loses_fingers_and_no_fret(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """The line for a key is whole at 50 columns."""
    monkeypatch.setenv("COLUMNS", "50")
    out = run("grip", "--all-keys", "b7 3 | 13 9 #11")[1]
    assert "B♭    x 11 12 12 13 12     37 mm       7   barre" in out
    assert "fingers" not in out
    assert max(len(line) for line in out.splitlines()) <= 50


def test_keys_share_a_string_set_where_they_can(run: Run) -> None:
    """One shape goes through all the keys."""
    out = run("grip", "--all-keys", "b7 3 | 13 9 #11")[1]
    assert "complete   12 of 12 keys" in out
    assert "cannot be held" not in out
    assert out.count(" barre") == 12


def test_a_long_reach_comes_with_a_caution(run: Run) -> None:
    """Wide stretches can hurt, so the words say what to do."""
    arguments = ["--root", "Eb", "b7 3 13 9 #11"]
    assert "A long reach: warm up first" in run("grip", *arguments)[1]
    assert "A long reach" not in run("grip", "--hand", "small", *arguments)[1]


def test_more_grips_than_a_screen_holds_are_counted(run: Run) -> None:
    """The table stops at eight, and says what it leaves out."""
    out = run("grip", "--root", "C", "1 3")[1]
    count = len(json.loads(run("grip", "--root", "C", "1 3", "--json")[1])["grips"])
    assert f"and {count - 8} more; --json lists them all" in out


def test_a_voicing_that_fits_no_way_ends_with_its_reason(run: Run) -> None:
    """Two low notes on one string cannot be made smaller."""
    status, out, _ = run("grip", "E2 F2")
    assert status == 0
    assert out.rstrip().endswith("cannot be held: the neck has no place for it, one note on each string")


def test_what_is_held_in_no_key_shows_what_would_be(run: Run) -> None:
    """Seven notes need a seventh string; six of them lie under the hand in some keys."""
    out = run("grip", "--all-keys", "1 5 b3 | 11 b7 9 13")[1]
    assert "complete                   0 of 12 keys" in out
    assert "the neck has no place for it, one note on each string" in out
    assert "frets" not in out
    shown = [line for line in out.splitlines() if line.endswith("of 12 keys")]
    assert [line.split("   ")[0].strip() for line in shown][:3] == [
        "complete",
        "as an arpeggio",
        "without its lowest note",
    ]


def test_a_word_that_is_no_voicing_is_an_error_in_all_keys_too(run: Run) -> None:
    """That degrees need no root there lets nothing else through."""
    status, out, err = run("grip", "--all-keys", "1 5 H")
    assert (status, out) == (2, "")
    assert "cannot read 'H' in a voicing" in err
