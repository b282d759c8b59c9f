"""Some of the page's modules, bundled as a page is: in a small JavaScript engine, or on a bare page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from drills.pack.bundle import bundle


def bundled(page: Path, entry: str) -> str:
    """One script of an entry that imports from `page`, the folder of the modules."""

    def read(name: str) -> str:
        return entry if name == "entry.js" else (page / name).read_text(encoding="utf-8")

    return bundle("entry.js", read)


class Functions:
    """Functions of a module by name: `Functions(page, "checks/check.js", "check").call("check", …)`.

    Arguments and results pass as JSON.
    """

    def __init__(self, page: Path, module: str, *names: str) -> None:
        import quickjs

        known = ", ".join(names)
        entry = f"""
        import {{ {known} }} from "./{module}";
        const known = {{ {known} }};
        globalThis.call = (name, given) => JSON.stringify(known[name](...JSON.parse(given)));
        """
        context = quickjs.Context()
        context.eval(bundled(page, entry))
        self._run = context.get("call")

    def call(self, name: str, *given: object) -> Any:
        """The result of one function."""
        return json.loads(self._run(name, json.dumps(given)))


def bare_page(page: Path, entry: str) -> str:
    """A page with the styles of the quiz page, an empty #screen, and an entry as its script."""
    styles = sorted((page / "styles").glob("*.css"), key=lambda path: (path.name != "base.css", path.name))
    signs = page.parent / "pack" / "signs.css"
    style = "".join(path.read_text(encoding="utf-8") for path in (signs, *styles))
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>bare</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<style>{style}</style></head><body><main id="screen"></main>'
        '<div id="announce" class="unseen-words" aria-live="polite"></div>'
        f"<script>{bundled(page, entry)}</script></body></html>"
    )
