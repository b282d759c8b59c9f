"""Reduce: less of a voicing, so that it lies under more hands and in more keys.

Source: what guitarists leave out first is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from drills.errors import DrillsError
from drills.theory.motion.moved import Moved, Voice, changes, pairs_words, renamed, voices_of
from drills.theory.naming import Named

_TOP = 4
_FEWEST = 2


def reduce(named: Named) -> tuple[Moved, ...]:
    """Every smaller form: without the lowest note, the top four notes, without the fifth.

    Raises:
        DrillsError: a single note has no smaller form.

    >>> from drills.theory.naming import name_notes
    >>> m11 = name_notes((46, 53, 61, 63, 68, 72), (3, 3))
    >>> for moved in reduce(m11):
    ...     print(moved.move, "·", moved.named.sounding.voicing.text)
    without the lowest note · 5 b3 | 11 b7 9
    the top four notes · b3 | 11 b7 9
    without the fifth · 1 b3' | 11 b7 9
    """
    found: dict[tuple[int, ...], Moved] = {}
    for move, kept in _ways(voices_of(named)):
        if _FEWEST <= len(kept) < len(named.sounding.midi):
            after = renamed(named, kept)
            pairs = changes(named, after, kept)
            found.setdefault(after.sounding.midi, Moved(after, move, pairs, f"{move}: {pairs_words(pairs)}"))
    if not found:
        count = len(named.sounding.midi)
        what = f"{count} notes cannot be reduced" if count > 1 else "one note cannot be reduced"
        raise DrillsError(what, mend="reduce a voicing of three notes or more")
    return tuple(found.values())


def _ways(voices: tuple[Voice, ...]) -> Iterator[tuple[str, tuple[Voice, ...]]]:
    yield "without the lowest note", voices[1:]
    yield "the top four notes", voices[-_TOP:]
    yield "without the fifth", tuple(voice for voice in voices if voice.degree.plain != "5")
