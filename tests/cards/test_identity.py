"""Identity goes by what is asked; everything else may change without a student losing the card."""

from __future__ import annotations

from base64 import urlsafe_b64encode
from dataclasses import replace

from drills.cards.deal import deal
from drills.cards.identity import identity, short_id
from drills.neck.instrument import Instrument
from drills.neck.tuning import TUNINGS

from .conftest import MakeSubject


def test_the_written_form_never_changes(subject: MakeSubject) -> None:
    """This very text is in students' hands: a changed line here is lost progress."""
    rootless = subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5")
    assert identity(rootless, "place") == "10:0.6.11.16.20 in 2+3 over 3 place on 40.45.50.55.59.64"


def test_the_short_form_never_changes() -> None:
    """A phone's journal and its progress files hold these twelve characters: a change is lost progress.

    Source: FIPS 180-4 gives SHA-256 of "abc" as ba7816bf 8f01cfea 4141 …; RFC 4648 its url-safe letters.
    """
    assert short_id("abc") == urlsafe_b64encode(bytes.fromhex("ba7816bf8f01cfea41"))[:12].decode()
    own = "10:0.6.11.16.20 in 2+3 over 3 place on 40.45.50.55.59.64"
    assert short_id(own) == "GETwWaxPE0Fp"


def test_spelling_wording_place_and_order_do_not_enter(subject: MakeSubject) -> None:
    """A♭ and G♯, another nickname, note, week, turn or grip: the same card."""
    flat = subject("5 b3 | 11 b7 9", "m11", "Ab")
    sharp = subject("5 b3 | 11 b7 9", "m11", "G#", nickname="Low", note="Softly.", week=9, turn=4)
    assert flat.root != sharp.root
    assert identity(flat, "name") == identity(sharp, "name")
    moved = replace(flat, place=replace(flat.place, grip=flat.others[0] if flat.others else flat.grip))
    assert identity(moved, "name") == identity(flat, "name")


def test_a_respelled_degree_is_the_same_card(subject: MakeSubject) -> None:
    """♯5 and ♭13 sound alike, so a corrected word keeps the card."""
    sharp = subject("3 b7 | #9 #5 1", "7#5#9", "C")
    flat = subject("3 b7 | #9 b13 1", "7#9b13", "C")
    assert identity(sharp, "place") == identity(flat, "place")


def test_voicing_root_drill_tuning_and_layers_do_enter(subject: MakeSubject) -> None:
    """Each of them alone makes another card."""
    base = subject("b7 3 | 13 9 #11", "13#11", "Eb")
    others = [
        identity(base, "name"),
        identity(subject("b7 3 | 13 9 #11", "13#11", "E"), "place"),
        identity(subject("7 3 | 13 9 #11", "maj13#11", "Eb"), "place"),
        identity(subject("b7 3 13 | 9 #11", "13#11", "Eb"), "place"),
        identity(replace(base, instrument=Instrument(TUNINGS["drop D"])), "place"),
    ]
    assert len({identity(base, "place"), *others}) == 6


def test_an_own_id_outlives_a_corrected_degree(subject: MakeSubject) -> None:
    """With an id, the notes may be corrected and the card stays."""
    wrong = subject("b7 3 | 13 9 5", "13", "Eb", id="over-two")
    right = subject("b7 3 | 13 9 #11", "13#11", "Eb", id="over-two")
    assert identity(wrong, "spell") == identity(right, "spell")


def test_a_card_carries_its_identity_and_a_readable_label(subject: MakeSubject) -> None:
    """The label has chord, key and grip in it, in plain text."""
    card = deal(subject("b7 3 | 13 9 #11", "13#11", "Eb", "x 4 5 5 6 5", week=4), "place")
    assert card is not None
    assert card.label == "Eb13#11 x-4-5-5-6-5"
    assert card.tags == ("week-4",)
    bare = deal(subject("3 5 1", None, "A", "x x x 6 5 5"), "layer")
    assert bare is not None
    assert bare.label == "A major triad in A x-x-x-6-5-5"


def test_twins_and_steps_name_both_voicings_and_both_roots(subject: MakeSubject) -> None:
    """The other voicing enters; for all other drills it does not. This text, too, is in students' hands."""
    one = subject("7 3 | 13 9 #11", "maj13#11", "C")
    other = subject("b7 3 | 13 9 #11", "13#11", "C")
    five = subject("b7 3 | 13 9", "13", "G")
    full = replace(one, twin=other, next=five)
    assert identity(full, "twin") == (
        "10:0.6.11.16.20 in 2+3 over 0 beside 11:0.5.10.15.19 in 2+3 over 0 twin on 40.45.50.55.59.64"
    )
    assert identity(full, "connect") == (
        "11:0.5.10.15.19 in 2+3 over 0 to 10:0.6.11.16 in 2+2 over 7 connect on 40.45.50.55.59.64"
    )
    assert identity(full, "place") == identity(one, "place")


def test_twins_are_one_card_whichever_comes_first(subject: MakeSubject) -> None:
    """A pair has no order; a step has one."""
    one = subject("7 3 | 13 9 #11", "maj13#11", "C")
    other = subject("b7 3 | 13 9 #11", "13#11", "C")
    assert identity(replace(one, twin=other), "twin") == identity(replace(other, twin=one), "twin")
    assert identity(replace(one, next=other), "connect") != identity(replace(other, next=one), "connect")
