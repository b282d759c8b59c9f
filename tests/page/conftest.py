"""The page's own modules, run inside pytest by a small JavaScript engine."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

import pytest

Call: TypeAlias = Callable[..., Any]
"""Calls one function by name; arguments and result pass as JSON."""


@pytest.fixture(scope="session")
def schedule(checkout: Path) -> Call:
    """The functions of drills/page/schedule.js, and `play`, which marks whole histories with it."""
    import quickjs

    # Frozen memories: a module runs in strict mode, where writing to one throws.
    harness = """
    const play = (paces, histories) => histories.map((history) => {
      let memory = UNSEEN;
      return history.map(([mark, when, pace]) =>
        (memory = Object.freeze(review(memory, mark, when, paces[pace]))));
    });
    const recalls = (rows) => rows.map((row) => recall(...row));
    const refusal = (...given) => {
      try { review(UNSEEN, ...given); return null; } catch (error) { return String(error); }
    };
    const constants = () => ({ MARKS, UNSEEN, PACE });
    const known = { constants, play, recalls, refusal, review, spread };
    globalThis.call = (name, given) => JSON.stringify(known[name](...JSON.parse(given)));
    """
    context = quickjs.Context()
    context.module((checkout / "drills/page/schedule.js").read_text(encoding="utf-8") + harness)
    run = context.get("call")

    def call(name: str, *given: object) -> Any:
        return json.loads(run(name, json.dumps(given)))

    return call
