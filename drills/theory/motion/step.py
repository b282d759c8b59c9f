"""Step: every note of a voicing moves the same number of steps through a parent scale.

Conventions: steps go up, negative ones down; the root steps along unless it is told to stay. What a
note is over the stepped root comes from its place in the scale, so that notes keep the scale's
letters; where a scale has eight notes or six, or a flat fourth for a third, from the pitches. A root that
charts do not write, such as the F♭ of a minor chord in E♭ altered, is spelled as they do.
Source: definition; how charts spell roots is common practice, no source.
"""

from __future__ import annotations

from drills.errors import DrillsError
from drills.theory.chord import chart_name, habit_root
from drills.theory.degree import KNOWN, Degree, degree
from drills.theory.motion.moved import Moved, Voice, changes, check_range, voices_of
from drills.theory.naming import Named, chord_of, name_notes, read_over
from drills.theory.pitch import NATURAL_SEMITONES, NoteName, plain_sign
from drills.theory.scale import Scale, scales_for

_COMMON_NAMES = {"ionian": "major"}
_SELDOM_MINOR_ROOTS = frozenset({"Cb", "Fb"})


def scale_words(tonic: NoteName, scale: Scale) -> str:
    """A scale by the name most players use: "B♭ major"."""
    name = _COMMON_NAMES.get(scale.name, scale.name)
    return f"{tonic.shown} {name.replace('#', '♯').replace(' b', ' ♭').replace('bb', '♭♭')}"


def step(named: Named, tonic: NoteName, scale: Scale, steps: int, *, root_stays: bool = False) -> Moved:
    """The voicing a number of scale steps higher, each note by itself.

    Args:
        named: every note of it, and its root, must lie in the scale.
        tonic: of the scale.
        scale: the parent scale.
        steps: negative ones go down.
        root_stays: keep the root where it is, as over a pedal.

    Raises:
        DrillsError: a note lies outside the scale.

    >>> from drills.theory.naming import name_notes
    >>> from drills.theory.scale import read_scale
    >>> start = name_notes((48, 55, 64, 71, 74, 77), (3, 3), root=NoteName(0))
    >>> moved = step(start, *read_scale("C major"), 1)
    >>> moved.named.chord_plain, [pitch.plain for pitch in moved.named.sounding.pitches]
    ('Dm11', ['D3', 'A3', 'F4', 'C5', 'E5', 'G5'])
    """
    _check_inside(named, tonic, scale)
    places = {(tonic.pitch_class + each) % 12: place for place, each in enumerate(scale.semitones)}
    count = len(scale.steps)
    indices = [places[midi % 12] for midi in named.sounding.midi]
    midi = tuple(
        note + _rise_semitones(scale, index, steps)
        for note, index in zip(named.sounding.midi, indices, strict=True)
    )
    check_range(midi)
    root_index = places[named.root.pitch_class]
    if not root_stays:
        root_index = (root_index + steps) % count
    root = scale.notes(tonic)[root_index]
    degrees = _degrees_in_scale(scale, root_index, [(index + steps) % count for index in indices])
    heights = tuple(note - midi[0] for note in midi)
    reading = read_over(heights, (midi[0] - root.pitch_class) % 12, degrees)
    quality = reading.symbol.quality
    if abs(root.alter_semitones) > 1 or count != 7:
        root = chart_name(root, quality)
    elif quality == "minor" and root.plain in _SELDOM_MINOR_ROOTS:
        root = habit_root(root.pitch_class, quality)
    after = name_notes(midi, named.sounding.voicing.sizes, root=root, degrees=degrees)
    way = f"{_count(steps)} {'up' if steps >= 0 else 'down'} in {scale_words(tonic, scale)}"
    move = f"{way}, root staying" if root_stays else way
    moved_voices = [
        Voice(each.degree, note, each.layer, each.place)
        for each, note in zip(voices_of(named), midi, strict=True)
    ]
    words = f"{named.chord_shown} → {after.chord_shown}: every note {way}"
    return Moved(after, move, changes(named, after, moved_voices), words)


def through(named: Named, tonic: NoteName, scale: Scale, *, root_stays: bool = False) -> tuple[Moved, ...]:
    """The voicing on every step up to the octave: seven of them, eight or six where the scale has so many.

    >>> from drills.theory.naming import name_notes
    >>> from drills.theory.scale import read_scale
    >>> sevenths = through(name_notes((48, 52, 55, 59), (4,)), *read_scale("C major"))
    >>> [moved.named.chord_plain for moved in sevenths]
    ['Dm7', 'Em7', 'Fmaj7', 'G7', 'Am7', 'Bm7b5', 'Cmaj7']
    """
    every = range(1, len(scale.steps) + 1)
    return tuple(step(named, tonic, scale, steps, root_stays=root_stays) for steps in every)


def rooted_in(named: Named, tonic: NoteName, scale: Scale) -> Named:
    """The same notes read over the best root that lies in the scale; unchanged where none does."""
    inside = {(tonic.pitch_class + each) % 12 for each in scale.semitones}
    if named.root.pitch_class in inside:
        return named
    by_class = {note.pitch_class: note for note in scale.notes(tonic)}
    for _, _, root in named.also_named:
        if root.pitch_class in inside:
            sounding = named.sounding
            return name_notes(sounding.midi, sounding.voicing.sizes, root=by_class[root.pitch_class])
    return named


def _check_inside(named: Named, tonic: NoteName, scale: Scale) -> None:
    inside = {(tonic.pitch_class + each) % 12 for each in scale.semitones}
    called = scale_words(tonic, scale)
    outside = dict.fromkeys(
        pitch.name.shown for pitch in named.sounding.pitches if pitch.midi % 12 not in inside
    )
    if outside:
        verb = "is" if len(outside) == 1 else "are"
        raise DrillsError(f"{' '.join(outside)} {verb} not in {called}", mend=_scale_that_holds(named))
    if named.root.pitch_class not in inside:
        mend = "give a root from the scale, or a scale that holds the root"
        raise DrillsError(f"the root {named.root.shown} is not in {called}", mend=mend)


def _scale_that_holds(named: Named) -> str:
    needed = {(midi - named.root.pitch_class) % 12 for midi in named.sounding.midi}
    for scale in scales_for(chord_of(named.reading, named.root)):
        if needed <= set(scale.semitones):
            name = _COMMON_NAMES.get(scale.name, scale.name)
            return f"{named.root.plain} {name} holds {named.chord_shown}"
    return f"none of our scales holds {named.chord_shown}; leave a note out or mend it first"


def _rise_semitones(scale: Scale, index: int, steps: int) -> int:
    octaves, place = divmod(index + steps, len(scale.steps))
    return 12 * octaves + scale.semitones[place] - scale.semitones[index]


_TENSIONS = {2: 9, 4: 11, 6: 13}


def _degrees_in_scale(scale: Scale, root_index: int, indices: list[int]) -> tuple[Degree, ...] | None:
    """What notes are over a root by their places in the scale; None where only the pitches can tell."""
    if len(scale.steps) != 7:
        return None
    words = []
    for index in indices:
        semitones = (scale.semitones[index] - scale.semitones[root_index]) % 12
        number = (index - root_index) % 7 + 1
        sign = plain_sign(semitones - NATURAL_SEMITONES[number - 1])
        words.append(f"{sign}{_TENSIONS.get(number, number)}")
    if not {"3", "b3"} & set(words):
        words = ["4" if word == "11" else word for word in words]
    if not {"7", "b7"} & set(words):
        words = ["6" if word == "13" else word for word in words]
    if not set(words) <= set(KNOWN):
        return None
    return tuple(degree(word) for word in words)


def _count(steps: int) -> str:
    return "a step" if abs(steps) == 1 else f"{abs(steps)} steps"
