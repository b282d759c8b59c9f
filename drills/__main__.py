"""Lets `python -m drills` do what the command `drills` does."""

from __future__ import annotations

import sys

from drills.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
