"""Numbers as options take them, with faults told as every other fault is."""

from __future__ import annotations

from typing import Any

import click

from drills.errors import DrillsError


class Number(click.ParamType[int | float]):
    """A number, whole or not, from one limit to another where there are limits."""

    name = "number"

    def __init__(self, kind: type[int | float], least: int | None = None, most: int | None = None) -> None:
        self._kind, self._least, self._most = kind, least, most

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int | float:
        """Reads what was typed.

        Raises:
            DrillsError: it is no number, or lies outside the limits.
        """
        del ctx
        where = max(param.opts, key=len) if param else ""
        try:
            number = self._kind(value)
        except ValueError:
            what = f"{value!r} is no {'whole ' if self._kind is int else ''}number"
            raise DrillsError(what, where=where, mend=self._mend()) from None
        is_low = self._least is not None and number < self._least
        is_high = self._most is not None and number > self._most
        if is_low or is_high:
            raise DrillsError(f"{number} is out of range", where=where, mend=self._mend())
        return number

    def _mend(self) -> str:
        if self._least is None:
            return "write it in digits, such as 4"
        return f"write {self._least} " + ("or more" if self._most is None else f"to {self._most}")
