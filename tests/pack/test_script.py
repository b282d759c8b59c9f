"""Scripts in tokens. The engine in test_bundle.py is the outside check on them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.pack.script import ScriptError, plain, tokens

PIECES = [
    "a",
    "return ",
    "x.y",
    "12",
    " ",
    "\n",
    "\n\n   ",
    "// c `${\n",
    '/* d\n" */',
    '"//"',
    "'/*'",
    r'"\""',
    "`t // ${u} `",
    "`a${`b${ {c: 1}.c }`}d`",
    "(1)",
    "[2]",
    "{3}",
    ";",
    "a = /[/\"`]\\/'/g",
    "1 / 2",
]
"""Each may stand beside any other, a semicolon between."""


def kinds(script: str) -> list[tuple[str, str]]:
    """Kind and text of every token that is no gap."""
    return [(token.kind, token.text) for token in tokens(script) if token.kind != "gap"]


@given(st.lists(st.sampled_from(PIECES)).map(";".join))
def test_all_tokens_together_are_the_script(script: str) -> None:
    """Nothing is lost, and each says where it stands."""
    found = list(tokens(script))
    assert "".join(token.text for token in found) == script
    assert all(script.startswith(token.text, token.start) for token in found)


@pytest.mark.parametrize(
    ("script", "expected"),
    [
        pytest.param('"a // b"', [("text", '"a // b"')], id="no comment in a text"),
        pytest.param(r"'it\'s'", [("text", r"'it\'s'")], id="a quote in a text"),
        pytest.param("`a // ${b} c`", [("text", "`a // ${"), ("word", "b"), ("text", "} c`")], id="template"),
        pytest.param(
            "`${`${{}}`}`",
            [("text", "`${"), ("text", "`${"), ("sign", "{"), ("sign", "}"), ("text", "}`"), ("text", "}`")],
            id="a template in a template",
        ),
        pytest.param(r"`\${ $5 \``", [("text", r"`\${ $5 \``")], id="a dollar is no hole"),
        pytest.param(
            "return /'/g", [("word", "return"), ("pattern", "/'/g")], id="a pattern after a keyword"
        ),
        pytest.param(
            r"(/[/]\/'/)", [("sign", "("), ("pattern", r"/[/]\/'/"), ("sign", ")")], id="slashes in it"
        ),
        pytest.param(
            "a / b / c",
            [("word", "a"), ("sign", "/"), ("word", "b"), ("sign", "/"), ("word", "c")],
            id="two divisions are no pattern",
        ),
        pytest.param("it.return / 2", [("word", "it.return"), ("sign", "/"), ("word", "2")], id="a member"),
    ],
)
def test_what_a_slash_and_a_quote_mean(script: str, expected: list[tuple[str, str]]) -> None:
    """Comment, text, template, pattern and division are told apart."""
    assert kinds(script) == expected


def test_depth_counts_open_brackets() -> None:
    """Those of templates too; a bracket itself stands outside."""
    depths = [(token.text, token.depth) for token in tokens("a({b: `${c}`})d")]
    assert depths == [
        *(("a", 0), ("(", 0), ("{", 1), ("b", 2), (":", 2), (" ", 2), ("`${", 2), ("c", 3)),
        *(("}`", 2), ("}", 1), (")", 0), ("d", 0)),
    ]


@pytest.mark.parametrize(
    ("script", "words", "start"),
    [
        ('a\n"b', "a text without its end", 2),
        ("`a ${b", "nothing closes", 0),
        ("`a ${b} c", "a text without its end", 6),
        ("(1]", "closes nothing", 2),
        ("1)", "closes nothing", 1),
        ("a = /* b", "a pattern or comment without its end", 4),
    ],
)
def test_what_has_no_end_is_an_error(script: str, words: str, start: int) -> None:
    """It says where."""
    with pytest.raises(ScriptError, match=words) as fault:
        list(tokens(script))
    assert fault.value.start == start


def test_comments_and_indents_go_and_lines_stay() -> None:
    """Line ends end statements in this language, so each that stands between two tokens is kept."""
    script = """
      // first
      let a = 1 // one
      /* over
         two lines */ let b = `
        // kept
      `;

      a /* between */ = b;
    """
    assert (
        "".join(map(plain, tokens(script))).strip()
        == "let a = 1\nlet b = `\n        // kept\n      `;\na = b;"
    )
