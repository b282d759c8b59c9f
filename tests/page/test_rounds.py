"""Rounds: which keys, which beat falls where, and a round played on a phone with a faked clock."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from drills.cards.card import Deck
from drills.plan import plan
from drills.recipe.read import read_recipe

from .conftest import Call, NewPhone
from .student import deck_of, judge, opened, press

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import BrowserContext, Page

    from .conftest import Quiz

RECIPE = """
title = "Riverside evening group, a round"
keys = ["C", "F", "Bb", "Eb"]
[drills]
ask = ["place"]
[[voicing]]
chord = "13#11"
lower = "b7 3"
upper = "13 9 #11"
nickname = "Bright window, lower sill"
"""

BEAT_MS = 300
BAR_MS = 4 * BEAT_MS
"""At 200 beats a minute."""


# --- which keys, which beat ------------------------------------------------------------------------


@pytest.fixture(scope="module")
def rounds(checkout: Path) -> Call:
    """The functions of drills/page/screens/round.js; cards met before are given as a list of ids."""
    import quickjs

    harness = """
    const marked = (played, met) => markedCards(played, new Map(met.map((id) => [id, {}])));
    const known = { roundStops, roundVoicings, placeOfBeat, keysPlayed, barStart, marked };
    globalThis.call = (name, given) => JSON.stringify(known[name](...JSON.parse(given)));
    """
    context = quickjs.Context()
    context.module((checkout / "drills/page/screens/round.js").read_text(encoding="utf-8") + harness)
    run = context.get("call")

    def call(name: str, *given: object) -> Any:
        return json.loads(run(name, json.dumps(given)))

    return call


FOURTHS = [0, 5, 10, 3, 8, 1, 6, 11, 4, 9, 2, 7]
"""From C, each the fourth of the one before (common practice, no source)."""


def card(name: str, key: int, **more: Any) -> dict[str, Any]:
    """What a round reads of a card."""
    back = {"picture": {}, "layers": [{"role": "upper"}]}
    usual = {"id": name, "drill": "place", "voicing": 0, "isLayer": False, "back": back}
    return usual | {"key": {"pitchClass": key}} | more


def deck(*cards: dict[str, Any]) -> dict[str, Any]:
    """A deck with two voicings."""
    return {"cards": cards, "fourths": FOURTHS, "voicings": [{}, {}]}


def ids(cards: list[dict[str, Any]]) -> list[str]:
    """The cards by name."""
    return [each["id"] for each in cards]


def test_a_round_goes_by_fourths_through_the_keys_the_deck_has(rounds: Call) -> None:
    """Whatever the deck's order; keys the voicing is not in are left out."""
    keys = [7, 0, 3, 10, 5]
    stops = rounds("roundStops", deck(*(card(str(key), key) for key in keys)), 0)
    assert ids(stops) == ["0", "5", "10", "3", "7"]


def test_a_key_is_shown_by_its_place_where_there_is_one(rounds: Call) -> None:
    """Other drills stand in; drills whose answer is another voicing, layers and other voicings do not."""
    cards = [
        card("named", 0, drill="name"),
        card("placed", 0),
        card("split", 5, drill="split"),
        card("step", 10, drill="step"),
        card("layer", 3, drill="layer", isLayer=True),
        card("other", 8, voicing=1),
        card("bare", 1, back={"picture": None, "layers": []}),
    ]
    assert ids(rounds("roundStops", deck(*cards), 0)) == ["placed", "split"]
    assert rounds("roundVoicings", deck(*cards)) == [0, 1]
    assert rounds("roundVoicings", deck(cards[3])) == []


def test_a_voicing_of_one_layer_has_rounds_too(rounds: Call) -> None:
    """Its cards are of a layer, and that layer is the whole of it."""
    alone = {"isLayer": True, "back": {"picture": {}, "layers": [{"role": "single"}]}}
    cards = [
        card("C, spelled", 0, drill="spell", **alone),
        card("C", 0, drill="layer", **alone),
        card("F, turned", 5, drill="turn", **alone),
        card("F", 5, drill="layer", **alone),
    ]
    assert ids(rounds("roundStops", deck(*cards), 0)) == ["C", "F"]
    assert ids(rounds("marked", cards, ["C", "C, spelled", "F, turned"])) == ["C"]


def test_a_bar_is_counted_in_and_every_key_has_two(rounds: Call) -> None:
    """Four beats of count-in over the first key, then eight beats a key, then it is over."""
    places = [rounds("placeOfBeat", beat, 2) for beat in range(4 + 16 + 1)]
    assert [place["isCountIn"] for place in places] == [True] * 4 + [False] * 17
    assert [place["stop"] for place in places] == [0] * 12 + [1] * 8 + [2]
    assert [place["beatOfStop"] for place in places] == [*range(4), *range(8), *range(8), 0]
    assert [place["isOver"] for place in places] == [False] * 20 + [True]


@pytest.mark.parametrize(("beat", "keys"), [(0, 0), (4, 0), (11, 0), (12, 1), (19, 1), (20, 2)])
def test_a_key_counts_when_its_last_beat_is_over(rounds: Call, beat: int, keys: int) -> None:
    """Stopped earlier, it is not marked."""
    assert rounds("keysPlayed", beat) == keys


@pytest.mark.parametrize(("beat", "start"), [(0, 0), (3, 0), (4, 4), (10, 8), (12, 12)])
def test_a_pause_goes_on_from_the_bar_line(rounds: Call, beat: int, start: int) -> None:
    """The bar that was broken off is played again."""
    assert rounds("barStart", beat) == start


def test_the_mark_is_for_places_met_before(rounds: Call) -> None:
    """Neither for unseen cards nor for other drills that stood in."""
    played = [card("met", 0), card("unseen", 5), card("name", 10, drill="name")]
    assert ids(rounds("marked", played, ["met", "name", "elsewhere"])) == ["met"]


# --- on a phone ------------------------------------------------------------------------------------


@pytest.fixture
def quiz(tmp_path: Path, quiz_of: Callable[[Deck], Quiz]) -> Quiz:
    """One voicing in four keys."""
    recipe = tmp_path / "round.toml"
    recipe.write_text(RECIPE, encoding="utf-8")
    return quiz_of(plan(read_recipe(recipe)).deck)


@pytest.fixture
def page(quiz: Quiz, new_phone: NewPhone) -> Page:
    """A phone whose time the test moves; its sound is off, as audio keeps a clock of its own."""
    page = new_phone().new_page()
    page.clock.install()
    page.goto(quiz.file.as_uri())
    page.get_by_role("button", name="Settings").press("Enter")
    page.get_by_role("checkbox", name="Sound on").tap()
    page.get_by_role("button", name="Home").tap()
    return page


def meet(page: Page, cards: int) -> None:
    """Plays the first cards of today, so that they are not unseen."""
    page.get_by_role("button", name="Play", exact=True).tap()
    for _ in range(cards):
        page.get_by_role("button", name="Show me").tap()
        page.get_by_role("button", name="Next").tap()
    page.get_by_role("button", name="Show me").wait_for()
    page.keyboard.press("Escape")


def start(page: Page) -> None:
    """A round at 200 beats a minute, up to its first beat."""
    page.get_by_role("button", name="Rounds").press("Enter")
    tempo = page.get_by_role("spinbutton", name="Tempo")
    tempo.fill("200")
    tempo.press("Tab")
    page.clock.pause_at(page.evaluate("Date.now()") / 1000 + 2)
    page.get_by_role("button", name="Start").tap()
    page.clock.run_for(110)


def test_a_whole_round_and_its_one_mark(page: Page) -> None:
    """Count-in, four keys of two bars each, one mark for the two keys that were met."""
    meet(page, 2)
    start(page)
    page.get_by_role("main").get_by_text("Count-in").wait_for()
    seen = []
    for _ in range(4):
        page.clock.run_for(BAR_MS)
        seen.append(page.get_by_role("heading").inner_text())
        page.clock.run_for(BAR_MS)
    assert seen == ["C13♯11", "F13♯11", "B♭13♯11", "E♭13♯11"]
    page.clock.run_for(BAR_MS)
    page.get_by_role("main").get_by_text("4 keys played").wait_for()
    page.get_by_role("main").get_by_text("in 2 keys of this round").wait_for()
    page.get_by_role("radio", name="instant").tap()
    page.get_by_role("button", name="Note the mark").tap()
    page.get_by_role("main").get_by_text("Noted for 2 keys.").wait_for()
    assert reviews(page) == [3, 3, 4, 4]


def test_the_mark_of_a_round_can_be_taken_back(page: Page) -> None:
    """Then it is asked again."""
    meet(page, 1)
    start(page)
    page.clock.run_for(9 * BAR_MS)
    page.get_by_role("radio", name="missed").tap()
    page.get_by_role("button", name="Note the mark").tap()
    page.get_by_role("button", name="Take the mark back").tap()
    page.get_by_role("button", name="Note the mark").wait_for()
    assert reviews(page) == [3]


def reviews(page: Page) -> list[int]:
    """The marks that stand on this phone, by the progress file it saves; the round's end is left for it."""
    page.get_by_role("button", name="Home").tap()
    page.get_by_role("button", name="Settings").press("Enter")
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save a progress file").tap()
    text = Path(coming.value.path()).read_text(encoding="utf-8")
    rows = [row for rows in json.loads(text)["cards"].values() for row in rows]
    taken_back = {row[3] for row in rows if row[2] == 0}
    return sorted(row[2] for row in rows if row[2] and row[0] not in taken_back)


def test_a_stopped_round_marks_only_the_keys_played_to_the_end(page: Page) -> None:
    """Stopped in the second key: one key played."""
    meet(page, 2)
    start(page)
    page.clock.run_for(3 * BAR_MS + BEAT_MS)
    page.get_by_role("button", name="Stop").tap()
    page.get_by_role("main").get_by_text("1 key played").wait_for()
    page.get_by_role("main").get_by_text("in 1 key of this round").wait_for()
    page.get_by_role("button", name="Leave it unmarked").tap()
    page.get_by_role("button", name="Start").wait_for()


def test_nothing_is_marked_where_nothing_was_met(page: Page) -> None:
    """Unseen cards stay unseen, and the page says why."""
    start(page)
    page.clock.run_for(9 * BAR_MS)
    page.get_by_role("main").get_by_text("Nothing to mark").wait_for()
    assert page.get_by_role("radio").count() == 0
    page.get_by_role("button", name="Another round").wait_for()


def test_a_round_pauses_and_goes_on_from_the_bar_line(page: Page) -> None:
    """Space pauses, as the button has the focus; time that passes then does not count."""
    start(page)
    page.clock.run_for(2 * BAR_MS + 2 * BEAT_MS)
    page.keyboard.press("Space")
    page.get_by_role("button", name="Go on").wait_for()
    now = beat_shown(page)
    page.clock.run_for(20 * BAR_MS)
    assert beat_shown(page) == now
    page.keyboard.press("Space")
    page.clock.run_for(110)
    assert beat_shown(page) == 4
    page.clock.run_for(BAR_MS)
    assert page.get_by_role("heading").inner_text() == "F13♯11"


def beat_shown(page: Page) -> int:
    """Which of the eight beats is filled."""
    shown: int = page.evaluate(
        "[...document.querySelectorAll('.beats i')].findIndex((beat) => beat.matches('.now'))"
    )
    return shown


def test_a_page_that_is_hidden_pauses(page: Page) -> None:
    """A browser slows hidden pages down; the click would stumble."""
    start(page)
    page.clock.run_for(BAR_MS)
    page.evaluate(
        "void (Object.defineProperty(document, 'hidden', { get: () => true }),"
        " document.dispatchEvent(new Event('visibilitychange')))"
    )
    page.get_by_role("button", name="Go on").wait_for()


def test_the_neck_is_hidden_until_it_is_asked_for(page: Page) -> None:
    """A tap shows it for this key, and the next key hides it again; or it is shown all the time by choice."""
    start(page)
    neck = page.get_by_role("img")
    page.clock.run_for(BAR_MS)
    assert neck.count() == 0
    page.get_by_role("button", name="Show the neck").tap()
    assert neck.count() == 1
    page.clock.run_for(2 * BAR_MS)
    assert neck.count() == 0
    page.get_by_role("button", name="Stop").tap()
    page.get_by_role("button", name="Another round").tap()
    page.get_by_role("checkbox", name="Neck shown").tap()
    page.get_by_role("button", name="Start").tap()
    page.clock.run_for(BAR_MS)
    assert neck.count() == 1


def test_tempo_and_drone_are_kept(page: Page) -> None:
    """The next round begins as the last one was set."""
    page.get_by_role("button", name="Rounds").press("Enter")
    page.get_by_role("button", name="more: Tempo").tap()
    page.get_by_role("checkbox", name="Root held").tap()
    page.get_by_role("button", name="Home").tap()
    page.get_by_role("button", name="Rounds").press("Enter")
    assert page.get_by_role("spinbutton", name="Tempo").input_value() == "65"
    assert page.get_by_role("checkbox", name="Root held").is_checked()


def test_a_round_is_heard(quiz: Quiz, new_phone: NewPhone) -> None:
    """With sound on, the click and the drone reach the loudspeaker, and the beats follow the sound."""
    page = new_phone().new_page()
    page.goto(quiz.file.as_uri())
    page.evaluate("void (window.started = 0)")
    page.evaluate(
        "void (() => { for (const kind of [AudioBufferSourceNode, OscillatorNode]) {"
        " const start = kind.prototype.start;"
        " kind.prototype.start = function (...when) { started += 1; return start.apply(this, when); }; } })()"
    )
    page.get_by_role("button", name="Rounds").press("Enter")
    page.get_by_role("checkbox", name="Root held").tap()
    page.get_by_role("button", name="Start").tap()
    page.locator(".beats .now").wait_for()
    page.wait_for_timeout(1500)
    assert page.evaluate("started") >= 3
    page.keyboard.press("Space")
    page.get_by_role("button", name="Go on").wait_for()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_nothing_serious_for_those_who_listen_or_see_little(
    quiz: Quiz, new_phone: NewPhone, theme: str
) -> None:
    """axe-core finds nothing serious or critical while a round is set, played and ended."""
    page = new_phone(color_scheme=theme).new_page()
    page.goto(quiz.file.as_uri())
    found = []
    for step in ("Rounds", "Start", "Stop"):
        page.get_by_role("button", name=step).press("Enter")
        page.wait_for_timeout(300)
        found += Axe().run(page).response["violations"]
    assert [fault["id"] for fault in found if fault["impact"] in ("serious", "critical")] == []


TURNED = """
title = "Riverside evening group, turned layers"
keys = ["C"]
[drills]
ask = ["turn"]
[[voicing]]
layer = "3 5 1"
"""


def test_home_offers_a_round_only_where_one_can_be_played(
    phone: BrowserContext, quiz_of: Callable[[Deck], Quiz]
) -> None:
    """A deck of turns alone has none: once its day is done there is nothing more to press."""
    page = opened(phone, quiz_of(deck_of(TURNED)).file.as_uri())
    press(page, "Play")
    judge(page, 4)
    page.get_by_role("heading", name="Done for today").wait_for()
    press(page, "Home")
    page.get_by_role("main").get_by_text("Done for today. Let it settle.").wait_for()
    assert page.get_by_role("button", name="Play a round").count() == 0
