"""The handout: a deck on paper, as a PDF whose necks are lines and whose words are text.

Conventions: sheets are voicings, overview, questions (with the answer key on pages of its own) and blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from drills.cards.card import Card
from drills.cards.identity import voicing_identity
from drills.cards.subject import Subject
from drills.pack.files import refuse_foreign, whole_file
from drills.pack.handout.paper import CREATOR, Paper, Setting

SHEETS = ("voicings", "questions", "overview", "blank")

__all__ = ("SHEETS", "Handout", "check_handout", "write_handout")


@dataclass(frozen=True, slots=True)
class Handout:
    """What goes onto paper.

    Attributes:
        setting: what stands on every page.
        about: of the deck; paragraphs.
        subjects: the voicings, each in its keys, one after another.
        cards: the deck's, for the questions.
        string_names: of the open strings, lowest first, for the empty necks.
        is_left_handed: whether these are mirrored.
        sheets: which of `SHEETS`, in their order.
        per_page: voicings a page.
        versions: of the questions, 1 or 2.
    """

    setting: Setting
    about: tuple[str, ...]
    subjects: tuple[Subject, ...]
    cards: tuple[Card, ...]
    string_names: tuple[str, ...]
    is_left_handed: bool = False
    sheets: tuple[str, ...] = ("voicings", "questions", "blank")
    per_page: int = 6
    versions: int = 1


def check_handout(path: Path) -> None:
    """Raises unless the place is free or holds a handout of ours."""
    refuse_foreign(path, _is_ours)


def write_handout(handout: Handout, path: Path) -> None:
    """Writes the handout to `path`, whole or not at all.

    Raises:
        DrillsError: the place is taken or cannot be written.
    """
    check_handout(path)
    data = handout_pdf(handout)
    with whole_file(path) as file:
        file.write(data)


def handout_pdf(handout: Handout) -> bytes:
    """The bytes of the handout."""
    from drills.pack.handout.blank import blank_page
    from drills.pack.handout.first import first_page
    from drills.pack.handout.overview import overview_pages
    from drills.pack.handout.questions import answer_pages, question_pages, versions_of
    from drills.pack.handout.voicings import voicing_pages

    paper = Paper(handout.setting)
    groups = [tuple(group) for _, group in groupby(handout.subjects, voicing_identity)]
    versions = versions_of(handout.cards, handout.versions) if "questions" in handout.sheets else ()
    first_page(paper, handout.setting.title, handout.about, groups)
    if "voicings" in handout.sheets:
        voicing_pages(paper, groups, handout.per_page)
    if "overview" in handout.sheets:
        overview_pages(paper, groups)
    for version in versions:
        question_pages(paper, version)
    if "blank" in handout.sheets:
        blank_page(paper, handout.string_names, is_left_handed=handout.is_left_handed)
    for version in versions:  # last, so that they are easily kept back
        answer_pages(paper, version)
    return paper.finish()


def _is_ours(path: Path) -> bool:
    data = path.read_bytes()
    return data.startswith(b"%PDF-") and CREATOR.encode() in data
