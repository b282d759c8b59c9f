"""Where the typeface of paper and of large pictures lies: DejaVu Sans, which matplotlib brings along.

It has every sign of the trade but the double flat and the double sharp; `printed` gives those plainer forms.
"""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

from drills.errors import DrillsError

REGULAR, BOLD = "DejaVuSans.ttf", "DejaVuSans-Bold.ttf"

_IN_PRINT = str.maketrans({"𝄫": "♭♭", "𝄪": "×"})


def typeface(name: str) -> Path:
    """The file of the regular or of the bold face, found without loading what brings it.

    Raises:
        DrillsError: it is not there.
    """
    found = find_spec("matplotlib")
    places = list(found.submodule_search_locations or ()) if found is not None else []
    for place in places:
        path = Path(place) / "mpl-data" / "fonts" / "ttf" / name
        if path.is_file():
            return path
    mend = "install the program again with pip, so that matplotlib comes along"
    raise DrillsError("the typeface is missing", where=name, mend=mend)


def printed(text: str) -> str:
    """The text as it can be set: one line, without what no type shows.

    >>> printed("D𝄫   over  G")
    'D♭♭ over G'
    """
    seen = "".join(each if each.isprintable() else " " for each in text)
    return " ".join(seen.split()).translate(_IN_PRINT)
