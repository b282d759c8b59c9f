"""A page that holds some modules of the quiz page and nothing else, to try them in a real browser."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import drills
from drills.pack.bundle import bundle
from drills.pack.faces import signs_css

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

_FOLDER = Path(drills.__file__).parent / "page"
_STYLES = ("base", "neck", "wheel", "bars")


def open_workbench(phone: BrowserContext, entry: str, *, dark: bool = False) -> Page:
    """Opens the page.

    Args:
        phone: where.
        entry: the text of a module that imports others; what it leaves on `window.tools` can be called.
        dark: at night.
    """
    page = phone.new_page()
    theme = "dark" if dark else "light"
    page.set_content(
        f'<!doctype html><html lang="en" data-theme="{theme}"><title>workbench</title>'
        f'<meta name="viewport" content="width=device-width"><style>{_style()}</style>'
        '<main id="screen"></main><div id="announce" class="unseen-words" aria-live="polite"></div>'
    )
    page.add_script_tag(content=_script(entry))
    return page


def call(page: Page, name: str, *given: object) -> Any:
    """Calls one of the tools; arguments and result pass as JSON."""
    return page.evaluate("([name, given]) => window.tools[name](...given)", [name, given])


def painted(page: Page) -> None:
    """Waits until the page has been laid out and painted."""
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


@lru_cache(maxsize=8)
def _script(entry: str) -> str:
    return bundle("entry.js", lambda name: entry if name == "entry.js" else _text(name))


@lru_cache(maxsize=1)
def _style() -> str:
    return signs_css() + "".join(_text(f"styles/{name}.css") for name in _STYLES)


def _text(name: str) -> str:
    return (_FOLDER / name).read_text(encoding="utf-8")
