"""Measures the writing of notation against music21's own; exits 1 on a miss.

Run it by hand: `python tests/bench/bench_score.py`.

The score: four voicings in twelve keys, staff and tablature. The floor is music21 alone: the same notes,
staves and measures built and exported the way it does by itself. Ours adds chord symbols, grips, strings,
frets and the tuning, and works out accidentals itself. Both take turns, and the best of several runs
counts.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.pack.score import Sheet, write_midi, write_musicxml
from drills.plan import plan
from drills.recipe.read import read_recipe

RECIPE = "weeks-03-05-third-and-seventh-below"
BOUND = 1.3
N_RUNS = 3


def plain_score(sheet: Sheet) -> bytes:
    """The same score without what only we add."""
    from music21 import chord, clef, key, layout, meter, stream
    from music21.musicxml.m21ToXml import GeneralObjectExporter

    from drills.theory.signature import fitting_signature

    staff: Any = stream.PartStaff()
    tablature: Any = stream.PartStaff()
    for number, subject in enumerate((each for group in sheet.groups for each in group), start=1):
        upper: Any = stream.Measure(number=number)
        lower: Any = stream.Measure(number=number)
        if number == 1:
            upper.append([clef.Treble8vbClef(), meter.TimeSignature("2/4")])
            lower.append(clef.TabClef())
        upper.keySignature = key.KeySignature(fitting_signature((*subject.sounding.names, subject.root)))
        names = [pitch.plain.replace("b", "-") for pitch in subject.sounding.pitches]
        for layer in subject.layers:
            voice: Any = stream.Voice()
            voice.append(chord.Chord(names[layer.places], quarterLength=2))
            upper.insert(0, voice)
        lower.append(chord.Chord(names, quarterLength=2))
        staff.append(upper)
        tablature.append(lower)
    score: Any = stream.Score([staff, tablature])
    score.insert(0, layout.StaffGroup([staff, tablature]))
    return GeneralObjectExporter(score).parse()


def seconds(task: Callable[[], object]) -> float:
    """How long a task takes."""
    start = time.perf_counter()
    task()
    return time.perf_counter() - start


def main() -> int:
    """Prints the ratio of one run, and whether it holds."""
    recipe = read_recipe(RECIPE)
    sheet = Sheet(recipe.title, plan(recipe).subjects, recipe.instrument)
    with tempfile.TemporaryDirectory() as name:
        path = Path(name)
        write_musicxml(sheet, path / "warm.musicxml")
        runs = []
        for _ in range(N_RUNS):
            ours = seconds(lambda: write_musicxml(sheet, path / "a.musicxml"))
            floor = seconds(lambda: plain_score(sheet))
            midi = seconds(lambda: write_midi(sheet, path / "a.mid"))
            runs.append((ours, floor, midi))
    ours, floor, midi = map(min, zip(*runs, strict=True))
    ratio = ours / floor
    print(
        f"{len(sheet.subjects)} voicings: MusicXML {ours:.2f} s, music21 alone {floor:.2f} s, "
        f"MIDI {midi:.2f} s"
    )
    print(f"MusicXML over music21: {ratio:.2f} (bound {BOUND:g}) {'holds' if ratio <= BOUND else 'MISSED'}")
    return int(ratio > BOUND)


if __name__ == "__main__":
    sys.exit(main())
