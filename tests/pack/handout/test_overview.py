"""An overview shows a voicing in all its keys and up its scale."""

from __future__ import annotations

from dataclasses import replace

from drills.cards.through import stepped_through
from drills.pack.handout import handout_pdf

from .conftest import HandoutOf, Opened


def pages(opened: Opened, data: bytes) -> list[str]:
    """The text of each page, on one line."""
    return [" ".join(page.get_textpage().get_text_range().split()) for page in opened(data)]


def test_a_voicing_in_twelve_keys_has_a_page(handout_of: HandoutOf, opened: Opened) -> None:
    """Every grip and every step that a hand holds stand on it; the others are told by name."""
    handout = replace(handout_of("weeks-03-05-third-and-seventh-below"), sheets=("overview",))
    told = pages(opened, handout_pdf(handout))
    first, page = handout.subjects[0], told[1]
    assert len(told) == 1 + len({each.turn for each in handout.subjects})
    assert all(subject.grip.text in page for subject in handout.subjects[:12])
    steps = stepped_through(first)
    assert steps is not None
    for head, subject in steps.steps:
        assert head in page
        assert subject is None or subject.grip.text in page
    missing = ", ".join(head for head, subject in steps.steps if subject is None)
    assert missing
    assert f"to be played in turn: {missing}" in page


def test_what_does_not_fit_goes_on_behind(handout_of: HandoutOf, opened: Opened) -> None:
    """More keys of seven strings than a page of letter paper holds; none is lost."""
    handout = replace(handout_of("seven-strings", "letter"), sheets=("overview",))
    many = tuple(each for subject in handout.subjects[:6] for each in (subject,) * 4)
    told = pages(opened, handout_pdf(replace(handout, subjects=many)))
    assert any("continued" in page for page in told)
    assert sum(page.count(handout.subjects[0].grip.text) for page in told) >= 4
