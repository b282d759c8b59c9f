"""Twins: grips that differ on one string by a fret or two, the same root before any other."""

from __future__ import annotations

from dataclasses import replace

from drills.cards.twins import with_twins

from .conftest import MakeSubject


def test_twins_find_each_other(subject: MakeSubject) -> None:
    """Each is the other's."""
    bright = subject("7 3 | 13 9 #11", "maj13#11", "C", "x 2 2 2 3 2")
    lower = subject("b7 3 | 13 9 #11", "13#11", "C", "x 1 2 2 3 2")
    one, other = with_twins([bright, lower])
    assert (one.twin, other.twin) == (lower, bright)


def test_the_same_root_comes_before_a_nearer_grip(subject: MakeSubject) -> None:
    """Two frets over one root are more easily confused than one fret over two."""
    one = subject("b7 3 | 13 9 #11", "13#11", "C", "x 1 2 2 3 2")
    other_root = subject("3 b7 | #9 5 1", "7#9", "F#", "x 1 2 2 2 2")
    same_root = subject("b7 3 | 13 9 5", "13", "C", "x 1 2 2 3 3")
    first, *_ = with_twins([one, other_root, same_root])
    assert first.twin == same_root
    first, _ = with_twins([one, other_root])
    assert first.twin == other_root


def test_strings_and_distance_must_fit(subject: MakeSubject) -> None:
    """Three frets on one string, a fret on two, or another string set are no twins."""
    one = subject("b7 3 | 13 9 #11", "13#11", "C", "x 1 2 2 3 2")
    strangers = [
        subject("7 3 | 13 b9 #11", "maj13#11", "C", "x 2 2 2 2 2"),
        subject("b7 3 | 13 9", "13", "C", "x 1 2 2 3 x"),
        subject("b7 3 | 13 9 #11", "13#11", "C#", "x 2 3 3 4 3"),
        replace(one, place=replace(one.place, grip=replace(one.grip, frets=(None, 1, 2, 2, 3, 5)))),
    ]
    first, *_ = with_twins([one, *strangers])
    assert first.twin is None


def test_the_same_grip_is_no_twin(subject: MakeSubject) -> None:
    """One shape over two roots differs in no note."""
    one = subject("b7 3 | 13 9 #11", "13#11", "C", "x 1 2 2 3 2")
    same = subject("3 b7 | #9 b13 1", "7#9b13", "F#", "x 1 2 2 3 2")
    assert [each.twin for each in with_twins([one, same])] == [None, None]
