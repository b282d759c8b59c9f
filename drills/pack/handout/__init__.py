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
        about: of the deck; may be empty, may have several lines.
        subjects: the voicings, each in its keys, one after another.
        cards: the deck's, for the questions.
        string_names: of the open strings, lowest first, for the empty necks.
        is_left_handed: whether these are mirrored.
        out_of_reach: a line for each voicing with the keys that it cannot be held in.
        sheets: which of `SHEETS`, in their order.
        per_page: voicings a page.
        versions: of the questions, 1 or 2.
    """

    setting: Setting
    about: str
    subjects: tuple[Subject, ...]
    cards: tuple[Card, ...]
    string_names: tuple[str, ...]
    is_left_handed: bool = False
    out_of_reach: tuple[str, ...] = ()
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
    from drills.pack.handout.answers import answer_pages
    from drills.pack.handout.blank import blank_page
    from drills.pack.handout.first import beginning, listing, out_of_reach
    from drills.pack.handout.overview import overview_pages
    from drills.pack.handout.questions import question_pages
    from drills.pack.handout.version import versions_of
    from drills.pack.handout.voicings import voicing_pages

    paper = Paper(handout.setting)
    groups = [tuple(group) for _, group in groupby(handout.subjects, voicing_identity)]
    versions = versions_of(handout.cards, handout.versions) if "questions" in handout.sheets else ()
    beginning(paper, handout.about, groups)
    out_of_reach(paper, handout.out_of_reach)
    if "voicings" in handout.sheets:
        voicing_pages(paper, groups, handout.per_page)
    elif "overview" not in handout.sheets:
        listing(paper, groups)
    if "overview" in handout.sheets:
        overview_pages(paper, groups)
    for version in versions:
        question_pages(paper, version)
    if "blank" in handout.sheets:
        blank_page(paper, handout.string_names, is_left_handed=handout.is_left_handed)
    for place, version in enumerate(versions):  # last, so that they are easily kept back
        answer_pages(paper, version, is_first=place == 0)
    return paper.finish()


def _is_ours(path: Path) -> bool:
    data = path.read_bytes()
    return data.startswith(b"%PDF-") and CREATOR.encode() in data
