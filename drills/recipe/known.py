"""The words that a recipe may use: its tables, their keys, and the drills."""

from __future__ import annotations

USUAL_DRILLS = ("place", "name", "split", "join", "spell", "spot", "layer")
"""The drills that are asked unless the recipe says otherwise."""

OF_PROGRESSIONS = "connect"
"""The drill that every progression is asked in."""

DRILLS = (*USUAL_DRILLS, "step", "mend", OF_PROGRESSIONS, "cross", "turn", "top", "twin", "hear")
"""The drills that can be asked for."""

TOP_KEYS = (
    *("id", "title", "about", "edition", "keys", "order", "instrument", "hand"),
    *("voicing", "family", "progression", "drills", "pace", "sound", "handout"),
)
INSTRUMENT_KEYS = tuple("tuning capo frets scale_length_mm left_handed".split())
HAND_RANGES = {
    "max_stretch_mm": (40, 200),
    "max_neighbour_mm": (20, 150),
    "max_two_apart_mm": (30, 180),
    "long_reach_mm": (20, 200),
    "max_arpeggio_mm": (40, 300),
}
"""Measures of a hand, with their limits."""
HAND_KEYS = ("profile", "max_frets_apart", *HAND_RANGES, "offers_reduced")
VOICING_KEYS = tuple("chord lower middle upper layer nickname id strings frets key keys week note".split())
PROGRESSION_KEYS = tuple("chords key voicings notes strings nickname id week note keys".split())
FAMILY_KEYS = tuple(
    "chord lower upper notes top bass rootless min_keys max_stretch_mm strings at_most keys week note".split()
)
DRILLS_KEYS = ("ask", "keys")
PACE_KEYS = ("fresh_per_day", "target_recall")
SOUND_KEYS = ("on", "seconds", "a4_hz")
HANDOUT_KEYS = ("on", "paper", "per_page", "sheets", "versions", "date")
PAPERS = ("A4", "letter")
SHEETS = ("voicings", "overview", "questions", "blank")
PER_PAGE = (2, 4, 6, 8, 12)

HOME = {
    **dict.fromkeys(VOICING_KEYS, "it belongs in a [[voicing]]"),
    **dict.fromkeys(INSTRUMENT_KEYS, "it belongs in [instrument]"),
    **dict.fromkeys(HAND_KEYS, "it belongs in [hand]"),
    **dict.fromkeys(PACE_KEYS, "it belongs in [pace]"),
    **dict.fromkeys(SOUND_KEYS, "it belongs in [sound]"),
    **dict.fromkeys(HANDOUT_KEYS[1:], "it belongs in [handout]"),
    "ask": "it belongs in [drills]",
    **dict.fromkeys(TOP_KEYS, "it belongs at the top of the file, above the first [table]"),
}
"""Where a key is at home, for one that stands in the wrong table."""
