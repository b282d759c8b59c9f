"""A recipe written from voicings, such as those of a file of notation.

Conventions: a voicing that comes in several keys is one `[[voicing]]`; the keys it was found in stand beside
it as a comment, since a deck asks it in all of them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from pathlib import Path

from drills.errors import DrillsError
from drills.recipe.new_file import write_new
from drills.recipe.read import MOST_TITLE, parse_recipe
from drills.recipe.shelf import SUFFIX
from drills.theory.naming import Named
from drills.theory.voicing import Voicing

FEWEST_NOTES = 3
_MORE_STRINGS = {7: "seven strings", 8: "eight strings"}


def recipe_text(title: str, voicings: Sequence[Named]) -> str:
    """The text of a recipe that drills the voicings in all keys, each once.

    Args:
        title: of the deck.
        voicings: named; those of fewer than three notes have no layers to drill and are left out.

    Raises:
        DrillsError: none of them can be drilled.
    """
    found: dict[Voicing, tuple[str, list[str]]] = {}
    for named in voicings:
        if len(named.sounding.voicing.degrees) < FEWEST_NOTES:
            continue
        symbol = named.reading.symbol
        _, roots = found.setdefault(named.sounding.voicing, (symbol.plain if symbol.is_chord else "", []))
        if named.root.plain not in roots:
            roots.append(named.root.plain)
    if not found:
        mend = f"choose a file with chords of {FEWEST_NOTES} notes or more"
        raise DrillsError("no voicing that could be drilled", mend=mend)
    head = f'title = {_string(_one_line(title))}\nkeys = "all"\n{_instrument(found)}'
    text = "\n".join([head, *(_entry(voicing, *rest) for voicing, rest in found.items())])
    parse_recipe(text, source=title, default_id="written")  # what is written can be read
    return text


def _instrument(voicings: Iterable[Voicing]) -> str:
    """A tuning with as many strings as the largest voicing has notes, where six are too few."""
    tuning = _MORE_STRINGS.get(max(len(voicing.degrees) for voicing in voicings))
    return f'\n[instrument]\ntuning = "{tuning}"\n' if tuning else ""


def write_recipe(path: Path, text: str) -> None:
    """Writes the text to a new file.

    Raises:
        DrillsError: the name is no recipe's, is taken, or cannot be written to.
    """
    if not path.name.endswith(SUFFIX) or path.name == SUFFIX:
        raise DrillsError(
            f"{path.name!r} is no name of a recipe", where=str(path), mend=f"end it in {SUFFIX}"
        )
    write_new(path, text.encode())


def _entry(voicing: Voicing, chord: str, roots: Iterable[str]) -> str:
    """One `[[voicing]]`; a major triad alone has no symbol to write."""
    lines = ["[[voicing]]"]
    if chord and len(voicing.layers) > 1:
        lines.append(f"chord = {_string(chord)}")
    layers = zip(voicing.layers, voicing.text.split(" | "), strict=True)
    names = {"single": "layer"}
    lines += [f"{names.get(layer.role, layer.role)} = {_string(degrees)}" for layer, degrees in layers]
    lines.append(f"# found over {' '.join(roots)}")
    return "\n".join(lines) + "\n"


def _one_line(title: str) -> str:
    """A title as recipes allow it: one line of what can be seen."""
    seen = " ".join("".join(each if each.isprintable() else " " for each in title).split())
    return seen[:MOST_TITLE].strip() or "Voicings read in"


def _string(text: str) -> str:
    """A TOML basic string: its escapes are those of JSON, one line whatever the text."""
    return json.dumps(text, ensure_ascii=False)
