"""Freezes the guitar positions of an open data set of published grips, cut down to what our tests ask.

Run by hand: `python tests/oracles/make_grips.py`. It needs npm; the tests need only the file it writes,
grips.json beside it. A row is [key, suffix, frets, fingers, midi]: frets and fingers from the lowest string
to the highest, null where a string is not played and finger 0 where it is open; midi as the data set gives
it. The data set counts frets from its own `baseFret`; here they count from the nut.
"""

from __future__ import annotations

import json
import subprocess
import tempfile
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
PACKAGE, VERSION = "@tombatossals/chords-db", "0.5.1"


def fetch() -> tuple[dict[str, Any], str]:
    """The guitar file of the data set, and its licence."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(
            ["npm", "install", "--silent", "--prefix", folder, f"{PACKAGE}@{VERSION}"],
            check=True,
        )
        root = Path(folder) / "node_modules" / PACKAGE
        data: dict[str, Any] = json.loads((root / "lib" / "guitar.json").read_text(encoding="utf-8"))
        return data, (root / "LICENSE").read_text(encoding="utf-8")


def from_nut(fret: int, base: int) -> int | None:
    """A fret counted from the nut; the data set says -1 for a string that is not played."""
    if fret < 0:
        return None
    return fret + base - 1 if fret else 0


def main() -> None:
    """Writes grips.json, one chord a line."""
    data, licence = fetch()
    lines = []
    for chords in data["chords"].values():
        for chord in chords:
            rows = []
            for position in chord["positions"]:
                frets = [from_nut(fret, position["baseFret"]) for fret in position["frets"]]
                fingers = [
                    None if fret is None else finger
                    for fret, finger in zip(frets, position["fingers"], strict=True)
                ]
                rows.append([chord["key"], chord["suffix"], frets, fingers, position["midi"]])
            lines.append(",".join(json.dumps(row, separators=(",", ":")) for row in rows))
    head = {
        "about": "guitar positions: [key, suffix, frets, fingers, midi], lowest string first",
        "made_by": "tests/oracles/make_grips.py",
        "source": f"{PACKAGE} {VERSION} (npm)",
        "tuning": data["tunings"]["standard"],
        "licence": licence.split("\n"),
    }
    body = ",\n".join(lines)
    text = json.dumps(head, indent=1).removesuffix("\n}") + f',\n "rows": [\n{body}\n ]\n}}\n'
    (HERE / "grips.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
