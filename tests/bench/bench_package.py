"""Measures the package against its floor and against plain genanki; exits 1 when a bound is missed.

Run it by hand: `python tests/bench/bench_package.py`.

The floor is what nobody can go below: the same rows through sqlite, the same bytes through zip with the same
compression, all in memory, every text and picture made beforehand. Plain genanki gets its texts and pictures
made beforehand too. Both write to memory where the system has a folder for that. The best of several runs
counts, the runs taken in turns, so that a busy machine slows all three.
"""

from __future__ import annotations

import io
import json
import random
import sqlite3
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from drills.cards.card import Card, Deck, Face, LayerLine, Marker, PictureSpec
from drills.pack.apkg import write_package

FLOOR_BOUND = 2.0
GENANKI_BOUND = 1.0
MEMORY_BOUND_MB = 300.0
N_CARDS = 2_000
N_CARDS_IN_MEMORY = 20_000
N_RUNS = 7
PICTURE_BYTES = 6_000
MEMORY_FOLDER = Path("/dev/shm")
DEGREES = ("♭7", "3", "1", "13", "9", "♯11")


class Blank:
    """Media of the usual size that take no time to draw."""

    def __init__(self) -> None:
        self.data = random.Random(13).randbytes(PICTURE_BYTES)

    def names(self, picture: PictureSpec, label: str) -> tuple[str, str]:
        """One pair of names for each side of each card."""
        side = "answer" if picture.markers[0].text else "question"
        return f"{label} {side} day.png", f"{label} {side} night.png"

    def render(self, _picture: PictureSpec) -> tuple[bytes, bytes]:
        """The same bytes every time."""
        return self.data, self.data


def neck(number: int, *, shows_degrees: bool) -> PictureSpec:
    """A six-note grip, different for every number."""
    markers = tuple(
        Marker(
            string,
            1 + (number >> 2 * string) % 4,
            int(string > 2),
            degree if shows_degrees else "",
            string == 2,
        )
        for string, degree in enumerate(DEGREES)
    )
    return PictureSpec(("E", "A", "D", "G", "B", "E"), markers, 1, 5)


def card(number: int) -> Card:
    """A card of the usual size with a picture of its own on each side."""
    layers = (
        LayerLine("upper", f"F major triad, close, second inversion ({number})"),
        LayerLine("lower", "seventh and third"),
    )
    facts = ("x 4 5 5 6 5", "fingers 1 2 3 4 3", "stretch 56 mm", "D♭ G | C F A")
    return Card(
        identity=f"place b7 3 13 9 #11 root 3 standard {number}",
        drill="place",
        key="E♭",
        label=f"Eb13sharp11 x45565 {number}",
        front=Face(
            "E♭13♯11",
            "Where does it lie?",
            "no root",
            layers,
            ("Strings 5 to 1",),
            neck(number, shows_degrees=False),
        ),
        back=Face("E♭13♯11", "", "no root", layers, facts, neck(number, shows_degrees=True)),
        tags=("place",),
    )


def deck(n_cards: int) -> Deck:
    """A deck of the usual kind."""
    return Deck(
        "bench", "Riverside evening group", ("Squares above, discs below.",), tuple(map(card, range(n_cards)))
    )


class Content:
    """What a finished package holds, taken apart."""

    def __init__(self, path: Path) -> None:
        with zipfile.ZipFile(path) as package:
            database, *_ = package.namelist()
            self.files = [(info, package.read(info)) for info in package.infolist()[1:]]
            with closing(sqlite3.connect(":memory:")) as connection:
                connection.deserialize(package.read(database))
                self.schema = [
                    sql for (sql,) in connection.execute("SELECT sql FROM sqlite_master WHERE sql NOT NULL")
                ]
                self.tables = {
                    table: connection.execute(f"SELECT * FROM {table}").fetchall()
                    for table in ("col", "notes", "cards")
                }
        self.names = [
            name for _, name in sorted(json.loads(self.files[0][1]).items(), key=lambda item: int(item[0]))
        ]


def write_floor(content: Content) -> None:
    """The same rows and bytes, in memory."""
    with closing(sqlite3.connect(":memory:")) as connection:
        for sql in content.schema:
            connection.execute(sql)
        for table, rows in content.tables.items():
            marks = ",".join("?" * len(rows[0]))
            connection.executemany(f"INSERT INTO {table} VALUES ({marks})", rows)
        connection.commit()
        database = connection.serialize()
    with zipfile.ZipFile(io.BytesIO(), "w") as package:
        package.writestr("database", database, zipfile.ZIP_DEFLATED)
        for info, data in content.files:
            package.writestr(info.filename, data, info.compress_type)


def write_genanki(content: Content, folder: Path) -> None:
    """The same notes and pictures as genanki's manual would have them written."""
    import genanki

    (models,) = (json.loads(row[9]) for row in content.tables["col"])
    ((_, ours),) = models.items()
    model = genanki.Model(
        1,
        ours["name"],
        fields=[{"name": field["name"]} for field in ours["flds"]],
        templates=[{key: template[key] for key in ("name", "qfmt", "afmt")} for template in ours["tmpls"]],
        css=ours["css"],
    )
    plain = genanki.Deck(2, "Riverside evening group")
    for row in content.tables["notes"]:
        plain.add_note(genanki.Note(model, row[6].split("\x1f"), guid=row[1], tags=row[5].split()))
    genanki.Package(plain, [str(folder / name) for name in content.names]).write_to_file(
        folder / "plain.apkg"
    )


def seconds(work: Callable[[], None], folder: Path) -> float:
    """How long one run takes, its package of the run before gone."""
    for package in folder.glob("*.apkg"):
        package.unlink()
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def peak_mb() -> float:
    """The peak memory of a fresh process that makes a large deck and writes it."""
    with tempfile.TemporaryDirectory() as folder:
        ran = subprocess.run(
            [sys.executable, __file__, "--peak", folder], capture_output=True, text=True, check=True
        )
    return float(ran.stdout)


def print_peak(folder: Path) -> None:
    """Runs in the fresh process."""
    import resource

    write_package(deck(N_CARDS_IN_MEMORY), folder / "large.apkg", media=Blank())
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(peak / (1 << 20 if sys.platform == "darwin" else 1 << 10))


def main() -> int:
    """Prints the ratios of one run, and whether they hold."""
    usual, media = deck(N_CARDS), Blank()
    with tempfile.TemporaryDirectory(dir=MEMORY_FOLDER if MEMORY_FOLDER.is_dir() else None) as name:
        folder = Path(name)
        ours = folder / "ours.apkg"
        write_package(usual, ours, media=media)
        content = Content(ours)
        for picture, (_, data) in zip(content.names, content.files[1:], strict=True):
            (folder / picture).write_bytes(data)

        tempfile.tempdir = name  # genanki leaves its database behind
        works = (
            lambda: write_package(usual, ours, media=media),
            lambda: write_floor(content),
            lambda: write_genanki(content, folder),
        )
        runs = [[seconds(work, folder) for work in works] for _ in range(N_RUNS)]
        tempfile.tempdir = None
    package_s, floor_s, genanki_s = map(min, zip(*runs, strict=True))
    print(f"{N_CARDS} cards, {4 * N_CARDS} pictures: {package_s:.2f} s")
    print(f"floor {floor_s:.2f} s, genanki {genanki_s:.2f} s")
    results = (
        ("package over floor", package_s / floor_s, FLOOR_BOUND),
        ("package over plain genanki", package_s / genanki_s, GENANKI_BOUND),
        (f"peak memory of {N_CARDS_IN_MEMORY} cards, MB", peak_mb(), MEMORY_BOUND_MB),
    )
    for what, value, bound in results:
        print(f"{what}: {value:.2f} (bound {bound:g}) {'holds' if value <= bound else 'MISSED'}")
    return int(any(value > bound for _, value, bound in results))


if __name__ == "__main__":
    if sys.argv[1:2] == ["--peak"]:
        print_peak(Path(sys.argv[2]))
    else:
        sys.exit(main())
