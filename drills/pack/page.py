"""The quiz page, put together in two shapes from the same parts.

*One file*, `NAME.html`, opens from a disk or out of a messenger. *A folder*, `NAME/`, is served by any host
of plain files; it can be installed to a home screen and opens without a network.

Conventions. Neither shape names an address outside itself, and its policy allows none: scripts and styles are
those whose digests the page lists, or those of its folder. What the recipe says is shown as text. Both bear
our mark. The same deck gives the same bytes. All but the title is ASCII, which a browser takes in several
times faster.
"""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from html import escape
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Final
from urllib.parse import quote

from drills.cards.card import Deck
from drills.pack.bundle import bundle
from drills.pack.faces import one_line, signs_css
from drills.pack.files import refuse_foreign, refuse_foreign_folder, whole_file
from drills.pack.page_deck import packed_deck
from drills.pack.preview import Preview, preview_of

MARK: Final = "layered-voicing drills"
"""Says in each page and manifest who wrote it."""

_PAGE_MARK: Final = f'<meta name="generator" content="{MARK}">'
_MARK_WITHIN_BYTES: Final = 1000
_MANIFEST: Final = "manifest.webmanifest"
_WORDS: Final = "words.js"
_GROUND: Final = "#FBF8F1"  # the page's own, by day


@dataclass(frozen=True, slots=True)
class Page:
    """A deck's quiz page before it takes a shape.

    Attributes:
        id: the deck's.
        title: one line of plain text.
        about: plain paragraphs.
        deck_json: the packed cards, written so that no `<` is in it: HTML takes it as it is.
    """

    id: str
    title: str
    about: tuple[str, ...]
    deck_json: str


def page_of(deck: Deck) -> Page:
    """The quiz page of a deck."""
    title = one_line(deck.title) or one_line(deck.id)
    return Page(deck.id, title, deck.about, packed_deck(deck))


def refuse_foreign_pages(file: Path, folder: Path) -> None:
    """Raises unless both places are free or hold what this program wrote.

    Raises:
        DrillsError: names the place, and says how to mend it.
    """
    refuse_foreign(file, _is_our_page)
    refuse_foreign_folder(folder, _is_our_folder)


def write_file(page: Page, path: Path) -> None:
    """Writes the page as one file, whole or not at all.

    Raises:
        DrillsError: when the place is taken or cannot be written.
    """
    refuse_foreign(path, _is_our_page)
    with whole_file(path) as file:
        file.write(single_file(page))


def write_folder(page: Page, folder: Path) -> None:
    """Writes the page as a folder, file by file; files of others in a folder of ours stay.

    Raises:
        DrillsError: when the place is taken or cannot be written.
    """
    refuse_foreign_folder(folder, _is_our_folder)
    for name, data in folder_files(page).items():
        with whole_file(folder / name) as file:
            file.write(data)


def single_file(page: Page) -> bytes:
    """The page with all that it needs inside; the script comes first, so that its store opens meanwhile."""
    script, style = _script(), _stylesheet()
    icon = base64.b64encode(_icons()["icon-48.png"]).decode()
    policy = _policy(script=_source(script), style=_source(style), image="data:", font="data:")
    head = f'<link rel="icon" href="data:image/png;base64,{icon}">\n<style>{style}</style>'
    deck = f'<script type="application/json" id="deck">{page.deck_json}</script>'
    return _index(page, policy, head, f"<script>{_inline(script)}</script>\n{deck}")


def folder_files(page: Page) -> dict[str, bytes]:
    """The files of the folder by name, in the order in which they are written.

    The manifest goes first: it bears the mark by which a folder that was left half-written is known as ours.
    The page and the service worker go last: they lead to the others.
    """
    files = {
        _MANIFEST: _manifest(page),
        **_icons(),
        "page.css": _stylesheet().encode(),
        "page.js": _script().encode(),
        "deck.json": page.deck_json.encode(),
        "index.html": _folder_index(page),
    }
    return files | {"service-worker.js": _service_worker(files)}


def _folder_index(page: Page) -> bytes:
    own = "'self'"
    policy = _policy(script=own, style=own, image=own, font="data:", connect=own, manifest=own, worker=own)
    head = (
        f'<link rel="manifest" href="{_MANIFEST}">\n'
        '<link rel="icon" href="icon-48.png" sizes="48x48">\n'
        '<link rel="apple-touch-icon" href="icon-cut-512.png">\n'
        '<link rel="stylesheet" href="page.css">'
    )
    return _index(page, policy, head, '<script src="page.js"></script>')


def _policy(*, script: str, style: str, image: str, font: str, connect: str = "'none'", **others: str) -> str:
    """A content security policy that allows the given sources and nothing else.

    Source: Content Security Policy Level 3 (W3C).
    """
    rules = {"default": "'none'", "script": script, "style": style, "img": image, "font": font}
    rules |= {"connect": connect, **others}
    sources = [f"{kind}-src {source}" for kind, source in rules.items()]
    return "; ".join([*sources, "base-uri 'none'", "form-action 'none'"])


def _source(text: str) -> str:
    """A text as a source of the policy."""
    return f"'{_digest(text.encode())}'"


def _digest(data: bytes) -> str:
    return f"sha256-{base64.b64encode(sha256(data).digest()).decode()}"


def _index(page: Page, policy: str, head: str, body: str) -> bytes:
    preview, _ = _words()
    parts = {"policy": policy, "title": escape(page.title), "head": head, "body": body}
    parts |= {name: _in_html(getattr(preview, name)) for name in ("language", "what", "why")}
    parts |= {"steps": _elements("li", preview.steps), "about": _elements("p", map(one_line, page.about))}
    return _filled(_part("index.html"), r"@(\w+)@", parts).encode()


def _elements(tag: str, texts: Iterable[str]) -> str:
    """The texts, an element each, line by line."""
    return "\n".join(f"<{tag}>{_in_html(text)}</{tag}>" for text in texts)


def _in_html(text: str) -> str:
    return escape(text).encode("ascii", "xmlcharrefreplace").decode()


def _manifest(page: Page) -> bytes:
    """What a phone must know to install the page. Source: Web Application Manifest (W3C)."""
    manifest = {
        "generator": MARK,
        # Counted from the host's root: decks on one site are apart.
        "id": quote(f"drills-{page.id}", safe=""),
        "name": page.title,
        "short_name": page.title,
        "lang": _words()[0].language,
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": _GROUND,
        "theme_color": _GROUND,
        "icons": [
            {"src": "icon-192.png", "sizes": "192x192", "type": "image/png"},
            {"src": "icon-512.png", "sizes": "512x512", "type": "image/png"},
            {"src": "icon-cut-512.png", "sizes": "512x512", "type": "image/png", "purpose": "maskable"},
        ],
    }
    return json.dumps(manifest, ensure_ascii=False, indent=2).encode()


def _service_worker(files: Mapping[str, bytes]) -> bytes:
    """The worker that keeps those files; a change in any of them is another version."""
    digests = {"./" if name == "index.html" else name: _digest(data) for name, data in files.items()}
    version = sha256(json.dumps(digests).encode()).hexdigest()[:16]
    parts = {"version": json.dumps(version), "files": json.dumps(list(digests.items()))}
    return _filled(_part("service-worker.js"), r'"@(\w+)@"', parts).encode()


def _filled(template: str, place: str, parts: Mapping[str, str]) -> str:
    """The template with every place filled, in one go: what is put in is not searched for places."""
    return re.sub(place, lambda found: parts[found[1]], template)


@lru_cache(maxsize=1)
def _script() -> str:
    """The page's script, in ASCII."""
    script = bundle("app.js", lambda name: _words()[1] if name == _WORDS else _part(name))
    return re.sub(r"[^\x00-\x7f]", lambda sign: json.dumps(sign[0])[1:-1], script)


@lru_cache(maxsize=1)
def _words() -> tuple[Preview, str]:
    """What the page says without scripts, and the module of all it says with them."""
    return preview_of(_part(_WORDS))


def _inline(script: str) -> str:
    """The script, if an HTML parser reads all of it as script. Source: HTML Standard (WHATWG), 4.12.1."""
    if re.search(r"<!--|</?script", script, re.IGNORECASE):
        raise ValueError("the page's script holds what ends a script in HTML")
    return script


@lru_cache(maxsize=1)
def _stylesheet() -> str:
    """The fonts of the signs, the base, then the components by name."""
    names = sorted(_styles(), key=lambda name: (name != "base.css", name))
    return signs_css() + "".join(_part(f"styles/{name}") for name in names)


def _styles() -> Iterator[str]:
    return (file.name for file in _home().joinpath("styles").iterdir() if file.name.endswith(".css"))


def _home() -> Traversable:
    return resources.files("drills") / "page"


def _part(name: str) -> str:
    """One of the page's own files as text."""
    return _home().joinpath(name).read_text(encoding="utf-8")


def _icons() -> dict[str, bytes]:
    from drills.media.icons import icons

    return icons()


def _is_our_page(path: Path) -> bool:
    with path.open("rb") as file:
        return _PAGE_MARK.encode() in file.read(_MARK_WITHIN_BYTES)


def _is_our_folder(folder: Path) -> bool:
    try:
        manifest = json.loads((folder / _MANIFEST).read_bytes())
    except (FileNotFoundError, ValueError):
        return False
    return isinstance(manifest, dict) and manifest.get("generator") == MARK
