"""Asks five libraries which pitch classes they read from chord symbols of the trade, and freezes the answers.

Run by hand: `python tests/oracles/make_chord_symbols.py`. It needs Node and npm, and the `test` extra; the
tests need only the file it writes, chord_symbols.json beside it. A reading is a rising list of pitch classes
(C = 0), or null where the library does not read the symbol. Bass notes are chord tones here, so that a slash
never adds a pitch class.

Two libraries are asked in their own spelling: music21 writes a flat root as `B-`, and mir_eval reads the
labels of Harte et al. (ISMIR 2005), which stand beside the qualities below where that notation has a short
name for them; what we would have to spell out note by note is not asked.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import tempfile
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).parent
NPM = {"tonal": "6.4.3", "chord-symbol": "4.0.0"}
PYPI = ("pychord", "mir_eval", "music21")

ROOTS = ("C", "F", "Bb", "Eb", "Ab", "Db", "F#", "B", "E", "A", "D", "G", "Gb", "C#", "G#")

QUALITIES = {
    # as the trade writes it: as Harte's labels write it, or None
    "": "maj",
    "m": "min",
    "-": "min",
    "dim": "dim",
    "aug": "aug",
    "+": "aug",
    "sus4": "sus4",
    "sus2": "sus2",
    "6": "maj6",
    "m6": "min6",
    "6/9": "maj6(9)",
    "69": "maj6(9)",
    "m6/9": "min6(9)",
    "m69": "min6(9)",
    "add9": "maj(9)",
    "(add9)": "maj(9)",
    "madd9": "min(9)",
    "m(add9)": "min(9)",
    "maj7": "maj7",
    "M7": "maj7",
    "ma7": "maj7",
    "^7": "maj7",
    "Δ7": "maj7",
    "Δ": "maj7",
    "maj9": "maj9",
    "maj13": "maj13",
    "maj7#11": "maj7(#11)",
    "maj7(#11)": "maj7(#11)",
    "maj9#11": "maj9(#11)",
    "maj9(#11)": "maj9(#11)",
    "maj13#11": None,
    "maj7b5": None,
    "maj7#5": None,
    "maj7(#5)": None,
    "maj7sus4": None,
    "7": "7",
    "9": "9",
    "11": "11",
    "13": "13",
    "7b5": None,
    "7(b5)": None,
    "7#5": None,
    "7+": None,
    "aug7": None,
    "+7": None,
    "9b5": None,
    "9#5": None,
    "7b9": "7(b9)",
    "7(b9)": "7(b9)",
    "7#9": "7(#9)",
    "7(#9)": "7(#9)",
    "7#11": "7(#11)",
    "7(#11)": "7(#11)",
    "7b13": "7(b13)",
    "7(b13)": "7(b13)",
    "9#11": "9(#11)",
    "9(#11)": "9(#11)",
    "9b13": "9(b13)",
    "13b9": "7(b9,13)",
    "13(b9)": "7(b9,13)",
    "13#9": "7(#9,13)",
    "13#11": None,
    "13(#11)": None,
    "13b5": None,
    "7b9#11": "7(b9,#11)",
    "7b9b13": "7(b9,b13)",
    "7(b9,b13)": "7(b9,b13)",
    "7#9b13": "7(#9,b13)",
    "7#9#11": "7(#9,#11)",
    "7b9#9": "7(b9,#9)",
    "7b5b9": None,
    "7b5#9": None,
    "7#5b9": None,
    "7#5#9": None,
    "7alt": None,
    "alt": None,
    "7sus4": "sus4(b7)",
    "7sus": "sus4(b7)",
    "7sus2": "sus2(b7)",
    "9sus4": "sus4(b7,9)",
    "9sus": "sus4(b7,9)",
    "13sus4": "sus4(b7,9,13)",
    "13sus": "sus4(b7,9,13)",
    "7sus4b9": "sus4(b7,b9)",
    "7b9sus4": "sus4(b7,b9)",
    "13b9sus4": "sus4(b7,b9,13)",
    "m7": "min7",
    "-7": "min7",
    "mi7": "min7",
    "min7": "min7",
    "m9": "min9",
    "min9": "min9",
    "m11": "min11",
    "-11": "min11",
    "m13": "min13",
    "m7b13": "min7(b13)",
    "m7b9": "min7(b9)",
    "m7#5": None,
    "m7b5": "hdim7",
    "m7(b5)": "hdim7",
    "min7b5": "hdim7",
    "ø": "hdim7",
    "ø7": "hdim7",
    "m9b5": "hdim7(9)",
    "m11b5": "hdim7(9,11)",
    "dim7": "dim7",
    "o7": "dim7",
    "°7": "dim7",
    "mmaj7": "minmaj7",
    "mMaj7": "minmaj7",
    "m(maj7)": "minmaj7",
    "mM7": "minmaj7",
    "mmaj9": "minmaj7(9)",
    "m9(maj7)": "minmaj7(9)",
    "7(no3)": None,
    "7(no5)": None,
}

SLASHED = {"C/E": None, "Fmaj7/C": None, "Bbm7/Ab": None, "Eb7/G": None, "Ab6/C": None, "D9/F#": None}


def symbols() -> dict[str, str | None]:
    """Every symbol asked, with its Harte label; the roots go round so that each quality meets another one."""
    asked: dict[str, str | None] = {}
    for place, (quality, harte) in enumerate(QUALITIES.items()):
        root = ROOTS[place % len(ROOTS)]
        asked[root + quality] = harte and f"{root}:{harte}"
    return asked | SLASHED


def from_npm(asked: list[str]) -> dict[str, list[list[int] | None]]:
    """Readings of the libraries that need Node, installed into a folder that is thrown away."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(HERE / "read_chord_symbols.mjs", folder)
        packages = [f"{name}@{number}" for name, number in NPM.items()]
        subprocess.run(["npm", "install", "--silent", "--prefix", folder, *packages], check=True)
        node = subprocess.run(
            ["node", "read_chord_symbols.mjs"],
            cwd=folder,
            input=json.dumps(asked),
            capture_output=True,
            text=True,
            check=True,
        )
    readings: dict[str, list[list[int] | None]] = json.loads(node.stdout)
    return readings


def by_pychord(symbol: str) -> set[int]:
    """Pitch classes by pychord."""
    from pychord import Chord

    return {int(step) for step in Chord(symbol).components(visible=False)}


def by_music21(symbol: str) -> set[int]:
    """Pitch classes by music21, with `m` for a minor sign and `-` for the flats of root and bass."""
    from music21.harmony import ChordSymbol

    minor = re.sub(r"^([A-G][b#]?)-", r"\1m", symbol)
    return set(ChordSymbol(re.sub(r"(^|/)([A-G])b", r"\1\2-", minor)).pitchClasses)


def by_mir_eval(label: str) -> set[int]:
    """Pitch classes by mir_eval, which drops every 9, 11 and 13 unless told to keep them."""
    from mir_eval.chord import encode

    root, degrees, _ = encode(label, reduce_extended_chords=True)
    return {(root + step) % 12 for step, sounds in enumerate(degrees) if sounds}


def main() -> None:
    """Writes chord_symbols.json, one symbol a line."""
    asked = symbols()
    npm = from_npm(list(asked))
    rows = []
    for place, (symbol, harte) in enumerate(asked.items()):
        readings = {name: npm[name][place] for name in NPM}
        for name, reader, text in (
            ("pychord", by_pychord, symbol),
            ("mir_eval", by_mir_eval, harte),
            ("music21", by_music21, symbol),
        ):
            try:
                readings[name] = sorted(step % 12 for step in reader(text)) if text else None
            except Exception:  # noqa: BLE001 - each library has its own way to say that it cannot read
                readings[name] = None
        rows.append({"symbol": symbol, "harte": harte, "readings": readings})
    head = {
        "about": "pitch classes read from chord symbols by libraries that are not ours; null: not read",
        "made_by": "tests/oracles/make_chord_symbols.py",
        "libraries": NPM | {name: version(name) for name in PYPI},
    }
    lines = ",\n".join("  " + json.dumps(row, ensure_ascii=False) for row in rows)
    text = json.dumps(head, indent=1).removesuffix("\n}") + f',\n "rows": [\n{lines}\n ]\n}}\n'
    (HERE / "chord_symbols.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
