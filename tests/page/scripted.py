"""Functions written for a test upon the page's modules, run in a small JavaScript engine."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeAlias

from .engine import bundled

Call: TypeAlias = Callable[..., Any]
"""Calls one function by name; arguments and result pass as JSON."""


def scripted(page: Path, script: str) -> Call:
    """The functions that a module gathers in `known`; it imports from the page's own."""
    import quickjs

    entry = "globalThis.call = (name, given) => JSON.stringify(known[name](...JSON.parse(given)));"
    context = quickjs.Context()
    context.eval(bundled(page, f"{script}\n{entry}\n"))
    run = context.get("call")

    def call(name: str, *given: object) -> Any:
        return json.loads(run(name, json.dumps(given)))

    return call
