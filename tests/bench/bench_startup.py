"""How long `drills --help` takes, against the least that any program on click takes.

Run by hand: python tests/bench/bench_startup.py. Runs are interleaved, so that a slow moment of the machine
hits both; medians are compared. Ends with 1 when help takes more than twice as long as importing click.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from statistics import median
from time import perf_counter

RUNS = 21
MOST = 2.0
CHECKOUT = Path(__file__).resolve().parents[2]
LEAST = ("-c", "import click")
HELP = ("-c", "import sys; from drills.cli.main import main; sys.exit(main(['--help']))")


def seconds(arguments: tuple[str, ...]) -> float:
    """The time of one fresh interpreter."""
    start = perf_counter()
    subprocess.run([sys.executable, *arguments], cwd=CHECKOUT, stdout=subprocess.DEVNULL, check=True)
    return perf_counter() - start


def main() -> int:
    """Measures, prints one line, and says whether the limit holds."""
    seconds(LEAST), seconds(HELP)  # the first runs fill the caches of the disk
    times = [(seconds(LEAST), seconds(HELP)) for _ in range(RUNS)]
    least, with_help = (median(column) for column in zip(*times, strict=True))
    ratio = with_help / least
    print(
        f"drills --help {with_help * 1000:.0f} ms, import click {least * 1000:.0f} ms (medians of {RUNS}): "
        f"{ratio:.2f} times, at most {MOST:g} allowed"
    )
    return 0 if ratio <= MOST else 1


if __name__ == "__main__":
    sys.exit(main())
