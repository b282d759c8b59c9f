"""What a language's file says for the page that does not run."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from drills.pack.preview import Preview, preview_of

GOOD: dict[str, Any] = {
    "language": "fr",
    "what": "Pas ; ici.",
    "why": "Un aperçu.",
    "steps": ["Ouvrir."],
}


def words(preview: object, end: str = ";") -> str:
    """A module of words that begins with a preview."""
    return f"// Words.\nexport const PREVIEW = {json.dumps(preview)}{end}\n\nexport const WORDS = {{}};\n"


def test_the_preview_is_read_and_taken_out() -> None:
    """A semicolon within a text ends nothing; what is left is the module without it."""
    preview, rest = preview_of(words(GOOD))
    assert preview == Preview("fr", "Pas ; ici.", "Un aperçu.", ("Ouvrir.",))
    assert rest == "// Words.\nexport const WORDS = {};\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("export const WORDS = {};", "is not there", id="none"),
        pytest.param('export const PREVIEW = { language: "fr" };', "no plain JSON: .*line 1", id="no JSON"),
        pytest.param(words(GOOD, " "), "semicolon", id="no end"),
        pytest.param(words(list(GOOD)), "nothing else", id="a list"),
        pytest.param(words({**GOOD, "more": "x"}), "what, why, steps and nothing else", id="one more"),
        pytest.param(words({"language": "fr"}), "nothing else", id="too few"),
        pytest.param(words({**GOOD, "why": 3}), "other than texts", id="a number"),
        pytest.param(words({**GOOD, "why": ""}), "other than texts", id="an empty text"),
        pytest.param(words({**GOOD, "steps": "Ouvrir."}), "other than texts", id="steps in one text"),
        pytest.param(words({**GOOD, "steps": []}), "other than texts", id="no steps"),
        pytest.param(words({**GOOD, "steps": [None]}), "other than texts", id="a step of nothing"),
    ],
)
def test_what_the_page_could_not_show_is_an_error(text: str, said: str) -> None:
    """Which says where it is, what is wrong, and how it is written."""
    with pytest.raises(ValueError, match=rf"page/words\.js: PREVIEW .*{said}.*write export const"):
        preview_of(text)


def test_the_page_itself_holds_no_text(checkout: Path) -> None:
    """Every word of index.html that somebody reads or hears is put in."""
    page = (checkout / "drills/page/index.html").read_text(encoding="utf-8")
    body = page.partition("<body>")[2]
    shown = body.replace("<", " <").split("<")
    texts = [text.partition(">")[2].strip() for text in shown]
    assert {text for text in texts if text} == {"@title@", "@what@", "@why@", "@steps@", "@about@", "@body@"}
    assert '<html lang="@language@">' in page
