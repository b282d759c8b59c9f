"""Transpose: the same voicing over another root.

Source: definition.
"""

from __future__ import annotations

from drills.theory.interval import interval_name
from drills.theory.motion.moved import Moved, check_range, named_sounding
from drills.theory.naming import Named
from drills.theory.pitch import NoteName


def nearest_lowest_midi(named: Named, root: NoteName) -> int:
    """The lowest note of the voicing over another root where it moves least, the lower place on a tie."""
    up = (root.pitch_class - named.root.pitch_class) % 12
    return named.sounding.lowest_midi + (up if up < 6 else up - 12)


def transpose(named: Named, root: NoteName, lowest_midi: int | None = None) -> Moved:
    """The voicing over another root.

    Args:
        named: what to transpose.
        root: the new root, spelled as wanted.
        lowest_midi: its lowest note; the nearest place unless given.

    >>> from drills.theory.naming import name_notes
    >>> m11 = name_notes((46, 53, 61, 63, 68, 72), (3, 3))
    >>> moved = transpose(m11, NoteName(2))
    >>> moved.named.chord_plain, moved.named.sounding.pitches[0].plain, moved.words
    ('Em11', 'E2', 'B♭m11 → Em11: every note down a tritone')
    """
    if lowest_midi is None:
        lowest_midi = nearest_lowest_midi(named, root)
    sounding = named.sounding.voicing.over(root, lowest_midi)
    check_range(sounding.midi)
    after = named_sounding(sounding)
    rise = lowest_midi - named.sounding.lowest_midi
    how = f"every note {'up' if rise > 0 else 'down'} {_an(interval_name(abs(rise)))}"
    words = f"{named.chord_shown} → {after.chord_shown}: {how}" if rise else "where it was"
    pairs = zip(named.sounding.pitches, sounding.pitches, strict=True) if rise else ()
    return Moved(after, f"to {root.shown}", tuple(pairs), words)


def _an(interval: str) -> str:
    if interval[0].isdigit() or interval.startswith(("two", "three")):
        return interval
    return f"{'an' if interval[0] in 'aeiou' else 'a'} {interval}"
