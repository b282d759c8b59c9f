"""The quiz page in its two shapes.

Outside checks: html.parser (standard library) reads the page as a browser would; Pillow reads the icons;
the rules of the policy are those of Content Security Policy Level 3 (W3C), the members of the manifest
those of Web Application Manifest (W3C), both from memory; what a phone asks before it installs a page
(name, start, display, icons of 192 and 512) is common practice, no source.
"""

from __future__ import annotations

import base64
import io
import json
import re
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

import pytest
from PIL import Image

from drills.draw.theme import DARK, GROUND, INK, LIGHT
from drills.errors import DrillsError
from drills.pack.faces import signs_css
from drills.pack.page import (
    Page,
    _stylesheet,
    folder_files,
    refuse_foreign_pages,
    single_file,
    write_file,
    write_folder,
)
from drills.pack.preview import Preview

PAGE = Page(
    id="week-03",
    title="Riverside evening group, week 3",
    about=("Squares are the upper layer & discs the lower.", "Stop when it hurts."),
    deck_json='{"cards":["♭7 3 | 13 9 ♯11"]}',
)
EVIL = "</title></script><script>alert(1)</script><img src=x onerror=alert(2)>\"'&amp;@about@"


class Reader(HTMLParser):
    """Tags with attributes in order, and the text inside each kind of element."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: dict[str, list[str]] = {}
        self._open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Takes note of a tag."""
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "link", "img", "input"):
            self._open.append(tag)
            self.texts.setdefault(tag, []).append("")

    def handle_endtag(self, tag: str) -> None:
        """Elements are closed in order."""
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Adds to the text of the element that is open."""
        if self._open:
            self.texts[self._open[-1]][-1] += data

    def all(self, tag: str) -> list[dict[str, str | None]]:
        """The attributes of all elements of a kind."""
        return [attributes for each, attributes in self.tags if each == tag]

    def meta(self, name: str) -> list[str | None]:
        """What the page says about itself under a name."""
        named = (each for each in self.all("meta") if name in (each.get("name"), each.get("http-equiv")))
        return [each["content"] for each in named]


def read(html: bytes) -> Reader:
    """The page, read to its end."""
    reader = Reader()
    reader.feed(html.decode("utf-8"))
    reader.close()
    return reader


def policy(reader: Reader) -> dict[str, list[str]]:
    """The page's policy by rule."""
    (text,) = reader.meta("Content-Security-Policy")
    assert text is not None
    rules = (rule.split() for rule in text.split(";"))
    return {name: sources for name, *sources in rules}


def digest(data: bytes) -> str:
    """The digest as policies and integrity attributes write it."""
    return f"sha256-{base64.b64encode(sha256(data).digest()).decode()}"


def index(page: Page) -> bytes:
    """The folder's own page."""
    return folder_files(page)["index.html"]


SHAPES = [pytest.param(single_file, id="file"), pytest.param(index, id="folder")]


@pytest.mark.parametrize("shape", SHAPES)
def test_the_policy_forbids_all_that_is_not_named(shape: Callable[[Page], bytes]) -> None:
    """Nothing inline but by digest, no eval, no address outside, no other base, no forms."""
    rules = policy(read(shape(PAGE)))
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == ["'none'"]
    sources = {source for each in rules.values() for source in each}
    assert {source for source in sources if not source.startswith("'sha256-")} <= {
        "'none'",
        "'self'",
        "data:",
    }
    assert rules["font-src"] == ["data:"]


def test_the_file_allows_its_own_script_and_style_and_no_request() -> None:
    """Each by the digest of what stands between its tags."""
    reader = read(single_file(PAGE))
    rules = policy(reader)
    script, data = reader.texts["script"]
    (style,) = reader.texts["style"]
    assert rules["script-src"] == [f"'{digest(script.encode())}'"]
    assert rules["style-src"] == [f"'{digest(style.encode())}'"]
    assert rules["connect-src"] == ["'none'"]
    assert rules["img-src"] == ["data:"]
    assert reader.all("script") == [{}, {"type": "application/json", "id": "deck"}]
    assert json.loads(data) == json.loads(PAGE.deck_json)


def test_the_folder_asks_itself_only() -> None:
    """Scripts, styles, data, icons, manifest and worker come from where the page does."""
    reader = read(index(PAGE))
    rules = policy(reader)
    for rule in ("script", "style", "img", "connect", "manifest", "worker"):
        assert rules[f"{rule}-src"] == ["'self'"]
    assert reader.texts["script"] == [""]
    assert "style" not in reader.texts
    asked = [each["src"] for each in reader.all("script")] + [each["href"] for each in reader.all("link")]
    assert set(asked) < set(folder_files(PAGE))


@pytest.mark.parametrize("shape", SHAPES)
def test_no_address_outside_is_named_anywhere(shape: Callable[[Page], bytes]) -> None:
    """What looks like one is the name of the space of drawings, which nobody fetches."""
    texts = [shape(PAGE)] + [data for name, data in folder_files(PAGE).items() if not name.endswith(".png")]
    for text in texts:
        assert set(re.findall(rb"[a-z]+://[^\s\"'`)]*", text)) <= {b"http://www.w3.org/2000/svg"}
        assert re.findall(rb"(?:src|href)=[\"']//|url\((?!data:)|@import", text) == []


@pytest.mark.parametrize("shape", SHAPES)
def test_what_the_recipe_says_is_text(shape: Callable[[Page], bytes]) -> None:
    """A title, a paragraph or a card of markup adds no element, and is shown as it was written."""
    plain = read(shape(PAGE))
    page = replace(PAGE, title=EVIL, about=(EVIL, EVIL), deck_json=json.dumps(EVIL).replace("<", "\\u003c"))
    reader = read(shape(page))
    assert [tag for tag, _ in reader.tags] == [tag for tag, _ in plain.tags]
    assert reader.texts["title"] == reader.texts["h1"] == [EVIL]
    assert reader.texts["p"][-2:] == [EVIL, EVIL]


def test_all_but_the_title_is_ascii() -> None:
    """Browsers take that in faster; signs are shown as they were written all the same."""
    page = replace(PAGE, title="Week 3 – C♯", about=("From B♭ to E♭",), deck_json='{"key": "\\u266d"}')
    html = single_file(page).decode()
    assert html.replace(page.title, "").isascii()
    assert read(html.encode()).texts["p"][-1] == "From B♭ to E♭"
    assert folder_files(page)["page.js"].isascii()


@pytest.mark.parametrize("shape", SHAPES)
def test_a_paragraph_of_several_lines_is_one(shape: Callable[[Page], bytes]) -> None:
    """As the page's other texts, it breaks where the screen ends."""
    reader = read(shape(replace(PAGE, about=("Say the root\n  before you play.",))))
    assert reader.texts["p"][-1] == "Say the root before you play."


@pytest.mark.parametrize("shape", SHAPES)
def test_everyone_can_find_their_way(shape: Callable[[Page], bytes]) -> None:
    """A language, a main part, a place for what is said aloud, and no hindrance to zooming."""
    reader = read(shape(PAGE))
    assert reader.all("html") == [{"lang": "en"}]
    assert reader.all("main") == [{"id": "screen"}]
    assert {"id": "announce", "class": "unseen-words", "aria-live": "polite"} in reader.all("div")
    (viewport,) = reader.meta("viewport")
    assert viewport is not None
    assert "width=device-width" in viewport
    assert not re.search("scalable|maximum", viewport)


@pytest.mark.parametrize("shape", SHAPES)
def test_without_scripts_the_page_says_what_to_do(shape: Callable[[Page], bytes]) -> None:
    """Previews show it: the title, what the deck is about with its caution, and where to open it."""
    reader = read(shape(PAGE))
    assert reader.texts["h1"] == [PAGE.title]
    assert reader.texts["p"][-2:] == list(PAGE.about)
    assert "browser" in " ".join(reader.texts["li"])


@pytest.mark.parametrize("shape", SHAPES)
def test_another_language_is_another_file_of_words(
    monkeypatch: pytest.MonkeyPatch, shape: Callable[[Page], bytes]
) -> None:
    """What the page says without scripts comes from there, as text; so does the tongue it is read out in."""
    preview = Preview("fr", "Pas <encore>", "Un aperçu", ("Ouvrir", "Attendre"))
    monkeypatch.setattr("drills.pack.page._words", lambda: (preview, ""))
    reader = read(shape(PAGE))
    assert reader.all("html") == [{"lang": "fr"}]
    assert json.loads(folder_files(PAGE)["manifest.webmanifest"])["lang"] == "fr"
    assert reader.texts["strong"] == ["Pas <encore>"]
    assert reader.texts["p"][0].strip() == "Un aperçu"
    assert reader.texts["li"] == ["Ouvrir", "Attendre"]


def test_the_script_does_not_carry_the_preview_too() -> None:
    """A page without scripts needs it, a page with them does not."""
    page = single_file(PAGE)
    assert page.count(b"look for a share or menu sign") == 1
    assert b"PREVIEW" not in page


@pytest.mark.parametrize("shape", SHAPES)
def test_the_grounds_around_the_page_are_its_own(shape: Callable[[Page], bytes]) -> None:
    """Day and night, as pictures have them."""
    colours = [f"#{bytes(theme[GROUND]).hex().upper()}" for theme in (LIGHT, DARK)]
    assert read(shape(PAGE)).meta("theme-color") == colours
    manifest = json.loads(folder_files(PAGE)["manifest.webmanifest"])
    assert manifest["background_color"] == manifest["theme_color"] == colours[0]
    night = re.findall(r":root:not\(\[data-theme\]\) \{ --ground: (\S+); --ink: (\S+);", _stylesheet())
    assert night == [(colours[1], f"#{bytes(DARK[INK]).hex().upper()}")]


def test_a_phone_can_install_the_folder() -> None:
    """Name, start, display, and icons that are as large as they say, one to be cut to any form."""
    files = folder_files(PAGE)
    manifest = json.loads(files["manifest.webmanifest"])
    assert manifest["name"] == PAGE.title
    assert manifest["display"] == "standalone"
    at = "https://group.example/autumn/week-03/manifest.webmanifest"
    start, scope = (urljoin(at, manifest[member]) for member in ("start_url", "scope"))
    assert start == scope == "https://group.example/autumn/week-03/"
    sizes = set()
    for each in manifest["icons"]:
        with Image.open(io.BytesIO(files[each["src"]])) as icon:
            assert (each["sizes"], each["type"]) == (f"{icon.width}x{icon.height}", "image/png")
            sizes.add((icon.width, each.get("purpose")))
    assert sizes == {(192, None), (512, None), (512, "maskable")}


def test_two_decks_on_one_site_are_two_programs() -> None:
    """A manifest's id is counted from the root of the host, so it is the deck's."""
    ids = [
        json.loads(folder_files(page)["manifest.webmanifest"])["id"]
        for page in (PAGE, replace(PAGE, id="week 4/b"))
    ]
    assert ids == ["drills-week-03", "drills-week%204%2Fb"]


def worker(page: Page) -> tuple[str, dict[str, str]]:
    """The version and the files of a folder's service worker."""
    text = folder_files(page)["service-worker.js"].decode()
    version, files = (
        re.findall(rf"^const {name} = (.+);$", text, re.MULTILINE) for name in ("VERSION", "FILES")
    )
    return json.loads(version[0]), dict(json.loads(files[0]))


def test_the_worker_keeps_every_file_by_its_digest() -> None:
    """The page is kept under the folder's address; the worker does not keep itself."""
    files = dict(folder_files(PAGE))
    del files["service-worker.js"]
    files["./"] = files.pop("index.html")
    assert worker(PAGE)[1] == {name: digest(data) for name, data in files.items()}


@pytest.mark.parametrize(
    "change", [{"title": "Week 4"}, {"about": ()}, {"deck_json": "{}"}, {"id": "week-04"}]
)
def test_any_change_is_another_version(change: dict[str, Any]) -> None:
    """And the same page is the same version."""
    assert worker(replace(PAGE, **change))[0] != worker(PAGE)[0] == worker(replace(PAGE))[0]


def test_styles_begin_with_fonts_and_base(checkout: Path) -> None:
    """Components may then build on both; every stylesheet of the page is in."""
    style = folder_files(PAGE)["page.css"].decode()
    paths = (checkout / "drills/page/styles").glob("*.css")
    sheets = {path.name: path.read_text(encoding="utf-8") for path in paths}
    assert style.startswith(signs_css() + sheets["base.css"])
    assert len(style) == len(signs_css()) + sum(map(len, sheets.values()))


@pytest.fixture
def places(tmp_path: Path) -> tuple[Path, Path]:
    """Where the two shapes go."""
    return tmp_path / "out" / "week-03.html", tmp_path / "out" / "week-03"


def write(page: Page, file: Path, folder: Path) -> None:
    """Writes both shapes."""
    refuse_foreign_pages(file, folder)
    write_file(page, file)
    write_folder(page, folder)


def contents(folder: Path) -> dict[str, bytes]:
    """All files under a folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_a_rebuild_is_the_same_to_the_byte(places: tuple[Path, Path]) -> None:
    """Both shapes are there, whole, and a second time nothing differs."""
    write(PAGE, *places)
    first = contents(places[0].parent)
    assert set(first) == {"week-03.html"} | {f"week-03/{name}" for name in folder_files(PAGE)}
    write(PAGE, *places)
    assert contents(places[0].parent) == first


def test_files_of_others_in_our_folder_stay(places: tuple[Path, Path]) -> None:
    """A newer deck replaces what is ours and leaves the rest."""
    write(PAGE, *places)
    (places[1] / "notes.txt").write_text("group.example")
    write(replace(PAGE, title="Week 4"), *places)
    assert (places[1] / "notes.txt").read_text() == "group.example"
    assert b"<h1>Week 4</h1>" in (places[1] / "index.html").read_bytes()


@pytest.mark.parametrize(
    ("name", "content"),
    [
        pytest.param("week-03.html", "<!doctype html><title>mine</title>", id="a page"),
        pytest.param("week-03.html/index.html", "", id="a folder instead of the file"),
        pytest.param("week-03", "mine", id="a file instead of the folder"),
        pytest.param("week-03/index.html", "<!doctype html><title>mine</title>", id="a site"),
        pytest.param("week-03/manifest.webmanifest", '{"name": "mine"}', id="a site with a manifest"),
        pytest.param("week-03/manifest.webmanifest", "[]", id="a damaged manifest"),
        pytest.param("week-03/manifest.webmanifest", "{", id="half a manifest"),
    ],
)
def test_what_somebody_else_wrote_stays(places: tuple[Path, Path], name: str, content: str) -> None:
    """It is refused before anything is written, and the message says where."""
    path = places[0].parent / name
    path.parent.mkdir(parents=True)
    path.write_text(content)
    with pytest.raises(DrillsError) as fault:
        write(PAGE, *places)
    assert fault.value.where == str(places[0].parent / name.partition("/")[0])
    assert fault.value.mend
    assert contents(places[0].parent) == {name: content.encode()}


def test_a_folder_left_half_written_is_known_as_ours(places: tuple[Path, Path]) -> None:
    """Whatever file the writing ended at; an empty folder is free, too."""
    file, folder = places
    folder.mkdir(parents=True)
    write(PAGE, *places)
    for name in reversed(folder_files(PAGE)):
        refuse_foreign_pages(file, folder)
        (folder / name).unlink()
    refuse_foreign_pages(file, folder)


def test_a_script_that_would_end_its_element_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """In HTML a script ends where its end is written, even within a text."""
    monkeypatch.setattr("drills.pack.page._script", lambda: 'const a = "</SCRIPT>";')
    with pytest.raises(ValueError, match="ends a script"):
        single_file(PAGE)
