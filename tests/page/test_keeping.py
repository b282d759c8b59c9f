"""When the page asks for a progress file to be saved, and what becomes of the offer of the home screen."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

import pytest

from .engine import bundled
from .scripted import scripted

NOW_MS = 1_764_000_000_000
DAY_MS = 86_400_000

IsDue: TypeAlias = Callable[..., bool]


@pytest.fixture(scope="module")
def is_due(checkout: Path) -> IsDue:
    """`isFileDue` of shell/keeping.js, in a browser tab that promises nothing unless told otherwise."""
    import quickjs

    context = quickjs.Context()
    context.eval(
        bundled(
            checkout / "drills/page",
            """
            import { isFileDue } from "./shell/keeping.js";
            globalThis.ask = (given) => {
              const { firsts, isPromised, isInstalled, standalone, ...rest } = JSON.parse(given);
              globalThis.matchMedia = () => ({ matches: isInstalled });
              const storage = isPromised === null ? undefined : { persisted: async () => isPromised };
              globalThis.navigator = { storage, standalone };
              const memories = new Map(firsts.map((first, nth) => [String(nth), { first }]));
              globalThis.said = "nothing";
              isFileDue({ memories, ...rest }).then((answer) => (said = answer));
            };
            """,
        )
    )

    def ask(firsts: list[int], last: int | None = None, **where: Any) -> bool:
        given = {
            "firsts": firsts,
            "lastExport": last,
            "now": NOW_MS,
            "isPromised": False,
            "isInstalled": False,
        }
        context.get("ask")(json.dumps(given | where))
        while context.execute_pending_job():
            pass
        answer = context.get("said")
        assert isinstance(answer, bool)
        return answer

    return ask


def test_a_file_is_due_a_week_after_the_last_one(is_due: IsDue) -> None:
    """Or, before there was one, a week after the first card; before any card there is nothing to save."""
    long_ago, six, seven = NOW_MS - 90 * DAY_MS, NOW_MS - 6 * DAY_MS, NOW_MS - 7 * DAY_MS
    assert not is_due([])
    assert not is_due([], long_ago)
    assert not is_due([six, NOW_MS])
    assert not is_due([seven + 1])
    assert is_due([six, seven, NOW_MS])
    assert is_due([long_ago], seven)
    assert not is_due([long_ago], seven + 1)
    assert not is_due([long_ago], NOW_MS)


def test_a_file_saved_by_a_clock_that_ran_ahead_does_not_count(is_due: IsDue) -> None:
    """Or nobody would be reminded until that day comes."""
    assert is_due([NOW_MS - 90 * DAY_MS], NOW_MS + 365 * DAY_MS)


def test_who_keeps_progress_otherwise_is_not_asked(is_due: IsDue) -> None:
    """A browser that has promised, the home screen; one that says nothing about it has not promised."""
    first = [NOW_MS - 90 * DAY_MS]
    assert not is_due(first, isPromised=True)
    assert not is_due(first, isInstalled=True)
    assert not is_due(first, standalone=True)  # as some phones say it
    assert is_due(first, isPromised=None)


def test_the_offer_of_the_home_screen_goes_when_it_was_taken_elsewhere(checkout: Path) -> None:
    """The browser's own menu installs the page too, and then says so."""
    call = scripted(
        checkout / "drills/page",
        """
        import { watchForInstall } from "./shell/keeping.js";
        const known = {
          offersAfter: (events) => {
            const heard = {};
            globalThis.addEventListener = (name, hear) => (heard[name] = hear);
            const offers = [];
            watchForInstall((install) => offers.push(install !== null));
            for (const name of events) heard[name]({ preventDefault() {} });
            return offers;
          },
        };
        """,
    )
    assert call("offersAfter", []) == []
    assert call("offersAfter", ["beforeinstallprompt", "appinstalled"]) == [True, False]
