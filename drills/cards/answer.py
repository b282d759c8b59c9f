"""The answer that most drills share, the whole voicing with its neck; and that neck by itself."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from drills.cards import words
from drills.cards.card import Face, PictureSpec
from drills.cards.picture import picture_of
from drills.cards.subject import Subject


def whole_answer(subject: Subject, *first_lines: str) -> Face:
    """Name, nickname, layers, degrees, notes, frets, fingers and the neck.

    Args:
        subject: what was asked about.
        first_lines: what answers this drill's own question, said before the rest.
    """
    whole = _whole(subject)
    return replace(whole, lines=(*first_lines, *whole.lines)) if first_lines else whole


@lru_cache(maxsize=64)  # the drills ask about one voicing in its twelve keys in turn
def _whole(subject: Subject) -> Face:
    return Face(
        words.chord_head(subject),
        head_note=words.answer_note(subject),
        layers=words.answered_lines(subject),
        lines=words.answer_facts(subject),
        picture=neck_of(subject),
        notes=words.spelled(subject.sounding),
    )


@lru_cache(maxsize=64)
def neck_of(subject: Subject) -> PictureSpec:
    """The neck with the whole voicing and its degrees, as answers show it and moves start from it."""
    return picture_of(
        subject.sounding, subject.grip.frets, subject.instrument, is_left_handed=subject.is_left_handed
    )
