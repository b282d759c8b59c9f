"""What the quiz page says where no script runs, and in which language it speaks.

These texts have to stand in the page itself, and yet belong to the one file that a language is:
`page/words.js` begins with them as plain JSON. This module reads it and takes it out, so that the script does
not carry the same a second time.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from typing import Final

_OPENING: Final = "export const PREVIEW = "


@dataclass(frozen=True, slots=True)
class Preview:
    """The texts of a page that does not run, as words.js names them.

    Attributes:
        language: of everything in words.js, a tag of BCP 47 such as `en`.
        what: that this is a quiz and does not run.
        why: where that happens.
        steps: what to do about it, the likeliest first.
    """

    language: str
    what: str
    why: str
    steps: tuple[str, ...]


def preview_of(words: str) -> tuple[Preview, str]:
    """The preview that words.js holds, and the rest of that module.

    Raises:
        ValueError: there is none, it is no plain JSON, or its texts are not the ones that the page shows;
            says so, and how it is written.
    """
    before, opening, after = words.partition(_OPENING)
    if not opening:
        raise _fault("is not there")
    try:
        found, end = json.JSONDecoder().raw_decode(after)
    except ValueError as fault:
        raise _fault(f"is no plain JSON: {fault}") from fault
    if after[end : end + 1] != ";":
        raise _fault("does not end with a semicolon")
    return _checked(found), before + after[end + 1 :].lstrip("\n")


def _checked(found: object) -> Preview:
    names = [field.name for field in fields(Preview)]
    if not isinstance(found, dict) or sorted(found) != sorted(names):
        raise _fault(f"does not hold {', '.join(names)} and nothing else")
    steps = found.pop("steps")
    texts = [*found.values(), *steps] if isinstance(steps, list) and steps else [None]
    if not all(isinstance(text, str) and text for text in texts):
        raise _fault("holds something other than texts; steps is a list of them")
    return Preview(**found, steps=tuple(steps))


def _fault(what: str) -> ValueError:
    return ValueError(f"page/words.js: PREVIEW {what}; write {_OPENING}{{…}}; with JSON between the signs")
