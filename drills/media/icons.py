"""The icons of the quiz page by file name."""

from __future__ import annotations

from functools import lru_cache


@lru_cache(maxsize=1)
def icons() -> dict[str, bytes]:
    """PNG files by name: for the home screen, for phones that cut icons to their own form, and for tabs."""
    from drills.draw.icon import icon

    return {
        "icon-192.png": icon(192),
        "icon-512.png": icon(512),
        "icon-cut-512.png": icon(512, is_maskable=True),
        "icon-48.png": icon(48),
    }
