"""Modules become one script. Outside check: a JavaScript engine runs it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from drills.pack.bundle import bundle

APP = """
import { double as twice, name } from "./sums/double.js";
import {
  name as other,
  Counter,
} from "./counter.js";

// What follows looks like imports and is none.
const texts = ["import { a } from 'b';", `export ${twice(2)} // no`, /import "x"/.source];
const app = { import: 1, export: 2 };
globalThis.said = JSON.stringify([
  twice(21), name, other, new Counter().next(), texts, app.import + app.export, this === undefined,
]);
"""
COUNTER = """
import { double } from "./sums/double.js";
export const name = "counter";
export class Counter {
  next() { return double(1) / 2 / 1; } // 1
}
"""
DOUBLE = """
const name$ = "hidden";
export const name = "double";
export function double(number) { return add(number, number); }
export async function later() { await 0; }
const add = (a, b) => a + b;
"""
MODULES = {"app.js": APP, "counter.js": COUNTER, "sums/double.js": DOUBLE}
SAID = [42, "double", "counter", 1, ["import { a } from 'b';", "export 4 // no", 'import "x"'], 3, True]


def run(script: str) -> Any:
    """Runs a script and gives what it says."""
    import quickjs

    context = quickjs.Context()
    context.eval(script)
    return json.loads(context.eval("said"))


def bundled(modules: dict[str, str]) -> str:
    """The script of modules given by name."""

    def read(name: str) -> str:
        if name not in modules:
            raise FileNotFoundError(name)
        return modules[name]

    return bundle("app.js", read)


def test_the_script_does_what_the_modules_do() -> None:
    """Names that two modules share stay apart, renamed imports and classes arrive."""
    assert run(bundled(MODULES)) == SAID


def test_the_order_of_modules_is_that_of_their_need_and_each_is_there_once() -> None:
    """What is imported comes first; the same modules give the same script."""
    script = bundled(MODULES)
    places = [script.index(f"const {name} = ") for name in ("$sums$double", "$counter", "$app")]
    assert places == sorted(places)
    assert script.count("function double(") == 1
    assert bundled(dict(reversed(MODULES.items()))) == script


def test_nothing_leaks_out_of_the_script() -> None:
    """It leaves no name behind, but what a module sets on purpose."""
    import quickjs

    context = quickjs.Context()
    before = set(json.loads(context.eval("JSON.stringify(Object.getOwnPropertyNames(globalThis))")))
    context.eval(bundled(MODULES))
    after = set(json.loads(context.eval("JSON.stringify(Object.getOwnPropertyNames(globalThis))")))
    assert after - before == {"said"}
    assert context.eval("typeof $app") == "undefined"


def test_comments_stay_behind_and_lines_stay() -> None:
    """The script can be read, and says nothing that is not needed."""
    script = bundled(MODULES)
    assert "looks like imports" not in script
    assert "\n  " not in script
    assert len(script.splitlines()) > 15


@pytest.mark.parametrize(
    "line",
    [
        'import words from "./x.js";',
        'import * as words from "./x.js";',
        'import "./x.js";',
        'import { a } from "./x.js"',
        "import { a } from './x.js';",
        'import { a } from "x.js";',
        'import { a } from "https://example.org/x.js";',
        "export default 1;",
        "export { a };",
        'export * from "./x.js";',
        "export let a = 1;",
        "export const { a } = {};",
        "export function* a() {}",
        "const a = import('./x.js');",
        'f(() => import("./x.js"));',
        "const a = import.meta.url;",
        "await 1;",
    ],
)
def test_other_forms_are_refused_with_file_and_line(line: str) -> None:
    """What is not read here is no silent hole in the page."""
    with pytest.raises(ValueError, match=r"^app\.js:3: not a form of \S+ that is read here$"):
        bundled({"app.js": f"// one\n\n{line}\n", "x.js": "export const a = 1;"})


@pytest.mark.parametrize(
    ("modules", "words"),
    [
        pytest.param(
            {"app.js": '\nimport { a } from "./gone.js";'},
            r"^app\.js:2: there is no gone\.js$",
            id="no module",
        ),
        pytest.param(
            {"app.js": 'import { b } from "./x.js";', "x.js": "export const a = 1;"},
            r"^app\.js:1: x\.js exports no b$",
            id="no such name",
        ),
        pytest.param(
            {
                "app.js": 'import { a } from "./x.js";',
                "x.js": '\n\nimport { b } from "./y.js";\nexport const a = 1;',
                "y.js": 'import { a } from "./x.js";\nexport const b = 1;',
            },
            r"^y\.js:1: modules lean on each other: app\.js → x\.js → y\.js → x\.js$",
            id="circle",
        ),
        pytest.param(
            {"app.js": 'import { a } from "../x.js";'}, r"^app\.js:1: \.\./x\.js is outside", id="outside"
        ),
        pytest.param(
            {"app.js": "let a = 1;\nlet b = `;"}, r"^app\.js:2: a text without its end$", id="no end"
        ),
    ],
)
def test_what_cannot_be_put_together_is_an_error(modules: dict[str, str], words: str) -> None:
    """It names the file and the line."""
    with pytest.raises(ValueError, match=words):
        bundled(modules)


def test_the_pages_own_modules_can_be_read_by_an_engine(checkout: Path) -> None:
    """The whole script of the page is sound."""
    import quickjs

    script = bundle("app.js", lambda name: (checkout / "drills/page" / name).read_text(encoding="utf-8"))
    quickjs.Context().eval(f"(() => {{ {script} }})")
