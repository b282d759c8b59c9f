"""On which line of a recipe a key stands."""

from __future__ import annotations

import pytest

from drills.recipe.lines import Path, line_of

TEXT = '''\
# a remark
title = "one" # [not a table]
about = """
keys = "not a key"
[[voicing]]
"""
keys = [
    "C", # ] not the end
    "F",
]

hand.profile = "small"

[[voicing]]
lower = '[[voicing]]'
[drills]
"ask" = ["place"]
keys.place = ["C"]
[[voicing]]
upper = "\\"]" # "
lower = {a = 1, b = "}"}
middle = """four quotes """"
layer = "1"

[a.b]
c = 1
[[d.e]]
f = 1
[d.e.g]
h = 1
[[d.e]]
f = 2
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        pytest.param(("title",), 2, id="key"),
        pytest.param(("about",), 3, id="text-of-several-lines"),
        pytest.param(("keys",), 7, id="list-of-several-lines"),
        pytest.param(("hand",), 12, id="dotted-key"),
        pytest.param(("hand", "profile"), 12, id="end-of-a-dotted-key"),
        pytest.param(("voicing",), 14, id="first-of-the-tables"),
        pytest.param(("voicing", 0), 14, id="table"),
        pytest.param(("voicing", 0, "lower"), 15, id="key-in-a-table"),
        pytest.param(("voicing", 0, "upper"), 14, id="missing-key-is-told-by-its-table"),
        pytest.param(("drills", "ask"), 17, id="quoted-key"),
        pytest.param(("drills", "keys", "place"), 18, id="dotted-key-in-a-table"),
        pytest.param(("voicing", 1), 19, id="second-table"),
        pytest.param(("voicing", 1, "upper"), 20, id="escaped-quote"),
        pytest.param(("voicing", 1, "lower"), 21, id="inline-table"),
        pytest.param(("voicing", 1, "layer"), 23, id="quote-at-the-end-of-a-text"),
        pytest.param(("a", "b", "c"), 26, id="table-in-a-table"),
        pytest.param(("d", "e", 0, "f"), 28, id="tables-in-a-table"),
        pytest.param(("d", "e", 0, "g", "h"), 30, id="table-in-the-last-of-tables"),
        pytest.param(("d", "e", 1, "f"), 32, id="second-of-tables-in-a-table"),
        pytest.param(("nothing",), None, id="missing-key-at-the-top"),
    ],
)
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["unix", "windows"])
def test_a_key_is_found_on_its_line(path: Path, line: int | None, end: str) -> None:
    """Texts, lists and remarks that look like keys mislead nobody."""
    assert line_of(TEXT.replace("\n", end), path) == line
