"""Which screen is shown, and where the phone's back gesture leads, with a history made for the test."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

import pytest

from .scripted import Call, scripted

Walk: TypeAlias = Callable[..., list[dict[str, Any]]]


@pytest.fixture
def call(checkout: Path) -> Call:
    """Walks through three screens; tells after each step what stands there."""
    return scripted(
        checkout / "drills/page",
        """
        import { makeRoutes } from "./shell/route.js";

        /** As the HTML standard has it, but that steps are taken at once. */
        const makeHistory = (told, isForbidden) => {
          let entries = [{ state: "another page" }, { state: null }];
          let at = 1;
          const write = (to, state) => {
            if (isForbidden) throw new Error("not here");
            entries = [...entries.slice(0, to), { state }];
            at = to;
          };
          return {
            get state() { return entries[at].state; },
            get at() { return at; },
            pushState: (state) => write(at + 1, state),
            replaceState: (state) => write(at, state),
            go(steps) {
              at += steps;
              told.isOutside = at === 0;
              if (!told.isOutside) told.popstate({ state: entries[at].state });
            },
          };
        };

        const walk = (steps, isForbidden = false) => {
          const told = { isOutside: false, done: [] };
          const note = (what) => told.done.push(what);
          globalThis.addEventListener = (name, hear) => (told[name] = hear);
          globalThis.history = makeHistory(told, isForbidden);
          globalThis.document = {};
          globalThis.scrollTo = (x, y) => note(`scrolled to ${x}, ${y}`);
          const screen = (name) => () => ({
            title: name,
            element: { querySelector: () => ({ focus: () => note(`focus on ${name}`) }) },
            leave: () => note(`${name} left`),
          });
          const screens = Object.fromEntries(["home", "play", "done"].map((name) => [name, screen(name)]));
          const made = [];
          for (const [name, make] of Object.entries(screens)) {
            screens[name] = (app, ...args) => {
              made.push([name, ...args]);
              return make();
            };
          }
          const place = { replaceChildren: (...given) => (told.count = given.length) };
          const routes = makeRoutes({ deck: { title: "Deck" } }, screens, place);
          return steps.map(([how, ...given]) => {
            told.done = [];
            if (how === "history") history.go(...given);
            else routes[how](...given);
            return {
              shown: routes.shown(),
              made: made.at(-1),
              title: document.title,
              at: history.at,
              isOutside: told.isOutside,
              scroll: history.scrollRestoration,
              done: told.done,
            };
          });
        };
        const known = { walk };
        """,
    )


@pytest.fixture
def walk(call: Call) -> Walk:
    """What stands there after each step."""
    return lambda *steps, is_forbidden=False: call("walk", [list(step) for step in steps], is_forbidden)


def test_a_new_screen_begins_at_its_top_and_is_read_out(walk: Walk) -> None:
    """After the one before was left; the first one comes quietly, one drawn again stays where it was."""
    home, play, again = walk(["go", "home"], ["go", "play", "today", 2], ["redraw"])
    assert (home["done"], home["title"], home["scroll"]) == ([], "Deck", "manual")
    assert play["done"] == ["home left", "scrolled to 0, 0", "focus on play"]
    assert (play["title"], play["made"]) == ("play · Deck", ["play", "today", 2])
    assert (again["done"], again["made"]) == (["play left"], ["play", "today", 2])


def test_back_leads_the_way_that_people_came(walk: Walk) -> None:
    """In the end home, and from there out of the page; forward leads nowhere that is still known."""
    steps = walk(
        ["go", "home"],
        ["go", "play", 1],
        ["go", "done", 2],
        ["history", -1],
        ["history", 1],
        ["history", -1],
    )
    assert [step["shown"] for step in steps] == ["home", "play", "done", "play", "play", "home"]
    assert [step["at"] for step in steps] == [1, 2, 3, 2, 2, 1]
    assert steps[3]["made"] == ["play", 1]
    (*_, outside) = walk(["go", "home"], ["go", "play"], ["history", -1], ["history", -1])
    assert outside["isOutside"]


def test_a_screen_on_the_way_is_gone_back_to(walk: Walk) -> None:
    """Not put on top of it: one step back from home leaves the page, however much was seen."""
    steps = walk(
        ["go", "home"], ["go", "play"], ["go", "done"], ["go", "home"], ["go", "play", 3], ["history", -1]
    )
    assert [(step["shown"], step["at"]) for step in steps[3:]] == [("home", 1), ("play", 2), ("home", 1)]
    assert steps[3]["done"] == ["done left", "scrolled to 0, 0", "focus on home"]
    assert steps[4]["made"] == ["play", 3]
    assert walk(["go", "home"], ["go", "home"])[1]["at"] == 1


def test_a_screen_takes_anothers_place(walk: Walk) -> None:
    """Back leads where it would have led from there."""
    steps = walk(["go", "home"], ["go", "play"], ["swap", "done", 7], ["history", -1])
    assert [(step["shown"], step["at"]) for step in steps[2:]] == [("done", 2), ("home", 1)]
    assert steps[2]["made"] == ["done", 7]
    home = walk(["go", "home"], ["go", "play"], ["swap", "done"], ["go", "home"])[-1]
    assert (home["shown"], home["at"]) == ("home", 1)


def test_a_history_that_may_not_be_written_is_left_alone(walk: Walk) -> None:
    """As in some viewers of a file: every screen comes, and no step back leaves the page by itself."""
    steps = walk(["go", "home"], ["go", "play"], ["go", "done"], ["go", "home"], is_forbidden=True)
    assert [step["shown"] for step in steps] == ["home", "play", "done", "home"]
    assert not any(step["isOutside"] for step in steps)
    assert {step["at"] for step in steps} == {1}
