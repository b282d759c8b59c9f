"""The program from Python: naming, finding, moving, gripping and building, one function each.

Conventions: voicings are written as on the command line (notes, degrees with a root, frets); answers are
frozen values. A fault in what was given raises DrillsError, which says what, where, and how to mend it.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from drills.build import Built
from drills.build import build as _build
from drills.catalogue.entry import Entry
from drills.catalogue.path import Way
from drills.errors import DrillsError
from drills.neck.hand import read_hand
from drills.neck.instrument import Instrument
from drills.neck.search import Place, find_at, find_in_key
from drills.neck.tuning import read_tuning
from drills.plan import Plan
from drills.plan import plan as _plan
from drills.recipe.model import Recipe
from drills.recipe.read import read_recipe
from drills.theory.chord import Chord, read_chord
from drills.theory.motion import mend as _mend
from drills.theory.motion import reduce as _reduce
from drills.theory.motion import step as _step
from drills.theory.motion import transpose as _transpose
from drills.theory.motion.moved import Moved
from drills.theory.naming import Named, name_notes
from drills.theory.pitch import read_note_name
from drills.theory.scale import read_scale
from drills.theory.text import read_voicing

__all__ = (
    "DrillsError",
    "build_deck",
    "draw_neck",
    "find_grips",
    "find_voicings",
    "mend",
    "name_voicing",
    "plan_deck",
    "read_recipe",
    "reduce",
    "smoothest_ways",
    "spell_chord",
    "step",
    "swap",
    "transpose",
)


def name_voicing(voicing: str, root: str | None = None, *, tuning: str = "standard") -> Named:
    """Names a voicing and its layers.

    >>> named = name_voicing("x 4 5 5 6 5", root="Eb")
    >>> named.chord_plain, [named.sounding.layer_words(layer) for layer in named.layers]
    ('Eb13#11', ['tritone', 'F major triad'])
    """
    root_name = None if root is None else read_note_name(root, where="root")
    written = read_voicing(voicing, root=root_name, open_midi=read_tuning(tuning).open_midi, where="voicing")
    return name_notes(
        written.midi, written.sizes, root=root_name, degrees=written.degrees, spelled=written.spelled
    )


def spell_chord(symbol: str) -> Chord:
    """Spells a chord out.

    >>> [note.plain for note in spell_chord("Bb13#11").notes]
    ['Bb', 'D', 'F', 'Ab', 'C', 'E', 'G']
    """
    return read_chord(symbol)


def find_grips(
    named: Named,
    *,
    tuning: str = "standard",
    hand: str = "usual",
    every_octave: bool = True,
    arpeggio: bool = False,
) -> tuple[Place, ...]:
    """Where a voicing lies under the hand, best first.

    Args:
        named: the voicing over its root.
        tuning: a name, or six to eight notes.
        hand: a profile, usual or small.
        every_octave: look for it in all octaves, not just where it sounds.
        arpeggio: one note after another, not held.

    >>> [place.grip.text for place in find_grips(name_voicing("1 5 b3 | 11 b7 9", root="E"))]
    ['0 2 5 2 3 2']
    """
    instrument, profile = Instrument(read_tuning(tuning)), read_hand(hand)
    if not every_octave:
        return find_at(named.sounding, instrument, profile, arpeggio=arpeggio).places
    return find_in_key(named.sounding.voicing, named.root, instrument, profile, arpeggio=arpeggio).places


def find_voicings(
    chords: Sequence[str],
    *,
    lower: Sequence[str] = (),
    upper: Sequence[str] = (),
    notes: int | None = None,
    min_keys: int = 0,
    limit: int = 10,
) -> tuple[Entry, ...]:
    """The catalogue's voicings of chord types, best first.

    >>> best, = find_voicings(["13#11"], upper=["close major triad"], min_keys=12, limit=1)
    >>> best.keys
    12
    """
    from drills.catalogue.chord_type import chord_type
    from drills.catalogue.filters import Query
    from drills.catalogue.find import find
    from drills.theory.layer_pattern import read_layer_pattern

    query = Query(
        chords=tuple(chord_type(chord) for chord in chords),
        lower=tuple(read_layer_pattern(words) for words in lower),
        upper=tuple(read_layer_pattern(words) for words in upper),
        notes=() if notes is None else (notes,),
        min_keys=min_keys,
    )
    return find(query, limit=limit).entries


def step(named: Named, scale: str, steps: int = 1) -> Moved:
    """Moves every note through a scale; the root steps along.

    >>> moved = step(name_voicing("C3 G3 E4 B4 D5 F5", root="C"), "C major")
    >>> [pitch.plain for pitch in moved.named.sounding.pitches]
    ['D3', 'A3', 'F4', 'C5', 'E5', 'G5']
    """
    tonic, read = read_scale(scale, where="scale")
    return _step.step(named, tonic, read, steps)


def transpose(named: Named, root: str) -> Moved:
    """Moves a voicing to another root, the nearest way.

    >>> transpose(name_voicing("b7 3 | 13 9 #11", root="Eb"), "F").named.chord_plain
    'F13#11'
    """
    return _transpose.transpose(named, read_note_name(root, where="root"))


def mend(named: Named) -> Moved:
    """Mends what clashes in a voicing.

    >>> mend(name_voicing("1 5 3 | 7 9 11", root="C")).words
    'F → F♯: natural 11 clashes with the third'
    """
    return _mend.mend(named)


def reduce(named: Named) -> tuple[Moved, ...]:
    """Makes a voicing smaller: without its lowest note, the top four notes, without the fifth.

    >>> [moved.move for moved in reduce(name_voicing("1 5 b3 | 11 b7 9", root="C"))][0]
    'without the lowest note'
    """
    return _reduce.reduce(named)


def swap(named: Named, role: str, layer: str, *, limit: int = 5) -> tuple[Moved, ...]:
    """Exchanges one layer for another kind and keeps the rest, best answers first.

    >>> start = name_voicing("b7 3 | 13 9 #11", root="Db")
    >>> [moved.named.sounding.voicing.text for moved in swap(start, "upper", "close sus4")]
    ['b7 3 | 9 5 13', 'b7 3 | 5 1 9']
    """
    from drills.catalogue.swap import swap as swap_layer
    from drills.theory.layer_pattern import read_layer_pattern

    return tuple(swap_layer(named, role, read_layer_pattern(layer))[:limit])


def smoothest_ways(progression: str, *, notes: int | None = None, limit: int = 3) -> tuple[Way, ...]:
    """The smoothest ways through chord symbols, over the neck.

    >>> way, = smoothest_ways("Abm7 Db7 Gbmaj7", notes=4, limit=1)
    >>> len(way.places)
    3
    """
    from drills.catalogue.progression import read_progression, ways

    return ways(read_progression(progression), notes=notes, limit=limit)


def draw_neck(
    place: Place, *, is_left_handed: bool = False, dark: bool = False, instrument: Instrument | None = None
) -> bytes:
    """Draws a grip as a PNG picture.

    >>> draw_neck(find_grips(name_voicing("b7 3 | 13 9 #11", root="Eb"))[0])[1:4]
    b'PNG'
    """
    from drills.cards.picture import picture_of
    from drills.draw.neck import render

    on = Instrument() if instrument is None else instrument
    return render(picture_of(place.sounding, place.grip.frets, on, is_left_handed=is_left_handed), dark=dark)


def plan_deck(recipe: Recipe) -> Plan:
    """What a recipe would build: the cards in order, and what cannot be reached.

    >>> len(plan_deck(read_recipe("weeks-01-02-one-layer")).deck.cards) > 50
    True
    """
    return _plan(recipe)


def build_deck(recipe: Recipe, folder: Path | str) -> Built:
    """Builds a recipe into a folder and says what was written.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     [path.suffix for path in build_deck(read_recipe("weeks-01-02-one-layer"), folder).files]
    ['.apkg', '.html', '', '.pdf', '.musicxml', '.mid']
    """
    return _build(recipe, Path(folder))
