"""Swap: another layer in place of one, the others kept.

Conventions: an answer keeps every note of the other layers, repeats none of them, lies in a usual
scale of the chord, makes the chord and has no clash. Answers that keep all of its named tensions come
alone; where there is none, third, seventh and an altered fifth are enough, and the tensions may go.
Answers are ranked by the catalogue's points; a root that comes in above the lowest note of a voicing that
left it to the bass player counts as a repeated note. Among equals a new upper layer on the third or
seventh, a more usual scale, more colour tones and less movement go first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate, pairwise, permutations
from typing import TypeAlias

from drills.catalogue.chord_type import chord_type
from drills.catalogue.setup import Setup
from drills.errors import DrillsError
from drills.theory.chord import Chord
from drills.theory.degree import Degree, degree
from drills.theory.layer import LayerName, name_layer
from drills.theory.layer_pattern import LayerPattern
from drills.theory.motion.moved import Moved, Voice, changes, layer_called, layer_words, renamed, voices_of
from drills.theory.naming import Named, chord_of
from drills.theory.pitch import HIGHEST_MIDI
from drills.theory.scale import scales_for
from drills.theory.symbol import Quality, symbol
from drills.theory.voicing import MOST_NOTES
from drills.theory.words import nearest

_ROOT = degree("1")
_GUIDES = (3, 4, 7)
_ALTERED_FIFTHS = frozenset({"b5", "#5"})
_USUAL = Setup()


@dataclass(frozen=True, slots=True)
class _Aim:
    """What an answer has to be.

    Attributes:
        scales: semitones over the root that a layer may be made of, the most usual scale first.
        makers: sets of semitones; an answer holds at least one of each.
        quality: of the chord.
        fifths: the altered fifths that the chord has; an answer has no others.
    """

    scales: tuple[tuple[int, ...], ...]
    makers: tuple[frozenset[int], ...]
    quality: Quality
    fifths: frozenset[str]

    def is_met_by(self, named: Named) -> bool:
        """Whether a voicing that holds its makers is the chord, without a clash."""
        reading = named.reading
        fifths = {each.plain for each in reading.degrees} & _ALTERED_FIFTHS
        return not reading.clashes and reading.symbol.quality == self.quality and fifths <= self.fifths


@dataclass(frozen=True, slots=True)
class _Frame:
    """A voicing with one layer taken out.

    Attributes:
        before: the voicing.
        number: of the layer that is out.
        kept: the notes that an answer has beside it.
        setup: whose grips count.
        floor_midi: the lowest note that an answer may have.
    """

    before: Named
    number: int
    kept: tuple[Voice, ...]
    setup: Setup
    floor_midi: int

    @property
    def old(self) -> tuple[Voice, ...]:
        """The notes of the layer that is out."""
        return voices_of(self.before)[self.before.layers[self.number].places]

    def over_root(self, midi: int) -> int:
        """Semitones of a note over the root, within an octave."""
        return (midi - self.before.root.pitch_class) % 12

    def lowest_midi(self, semitones: int, span_semitones: int) -> int | None:
        """Where the new layer starts: as near the old one as its neighbours allow; None for nowhere."""
        below = [voice.midi + 1 for voice in self.kept if voice.layer < self.number]
        above = [voice.midi for voice in self.kept if voice.layer > self.number]
        floor, ceiling = max(below, default=self.floor_midi), min(above, default=HIGHEST_MIDI + 1)
        first = floor + (semitones - self.over_root(floor)) % 12
        starts = range(first, ceiling - span_semitones, 12)
        was = self.old[0].midi
        return min(starts, key=lambda midi: (abs(midi - was), midi), default=None)


def swap(
    named: Named,
    role: str,
    wanted: LayerPattern,
    *,
    setup: Setup = _USUAL,
    floor_midi: int = 0,
    where: str = "",
) -> tuple[Moved, ...]:
    """Every voicing with another layer of the kind wanted in place of one, best first.

    The layer that is there already is no answer.

    Args:
        named: two layers or more.
        role: of the layer to swap.
        wanted: what to put there; as many notes as before where such layers have so many.
        setup: the instrument and the hand that answers are ranked for.
        floor_midi: the lowest note an answer may have.
        where: named in errors.

    Raises:
        DrillsError: nothing fits.

    >>> from drills.theory.naming import name_notes
    >>> from drills.theory.pitch import NoteName
    >>> from drills.theory.layer_pattern import read_layer_pattern
    >>> start = name_notes((49, 55, 60, 65, 69), (2, 3), root=NoteName(2, -1))
    >>> [each.named.sounding.voicing.text for each in swap(start, "upper", read_layer_pattern("close sus4"))]
    ['b7 3 | 9 5 13', 'b7 3 | 5 1 9']
    """
    number = layer_called(named, role, where=where)
    if len(named.layers) == 1:
        mend = "write a bar between the layers, such as '1 5 3 | 7 9'"
        raise DrillsError("a voicing of one layer has no other to keep", where=where, mend=mend)
    kept = tuple(voice for voice in voices_of(named) if voice.layer != number)
    frame = _Frame(named, number, kept, setup, floor_midi)
    aims = _aims(chord_of(named.reading, named.root))
    answers = _best_answers(frame, aims, wanted)
    if not answers:
        raise _nothing_fits(frame, aims, wanted, where)
    return tuple(_moved(frame, each) for each in answers)


def swap_both(
    named: Named,
    lower: LayerPattern,
    upper: LayerPattern,
    *,
    setup: Setup = _USUAL,
    floor_midi: int = 0,
    where: str = "",
) -> tuple[Moved, ...]:
    """Every voicing of the same chord in two other layers, best first: first the lower one, then its upper.

    Args:
        named: a voicing of two layers.
        lower: what to put below.
        upper: what to put on top.
        setup: the instrument and the hand that answers are ranked for.
        floor_midi: the lowest note an answer may have.
        where: named in errors.

    Raises:
        DrillsError: nothing fits.

    >>> from drills.theory.layer_pattern import read_layer_pattern
    >>> from drills.theory.naming import name_notes
    >>> start = name_notes((48, 55, 64, 71, 74, 78), (3, 3))
    >>> stacks, sus = read_layer_pattern("quintal stack"), read_layer_pattern("sus")
    >>> swap_both(start, stacks, sus)[0].named.sounding.voicing.text
    '1 5 9 | 7 3 #11'
    """
    if len(named.layers) != 2:
        mend = "write one bar between two layers, such as '1 5 3 | 7 9'"
        raise DrillsError(f"{len(named.layers)} layers are not two", where=where, mend=mend)
    below = _Frame(named, 0, (), setup, floor_midi)
    found = _pairs(below, lower, upper)
    if not found:
        what = f"no {lower.text} below with a {upper.text} on top makes {named.chord_plain}"
        raise DrillsError(what, where=where, mend=_other_upper(below, lower, upper))
    return tuple(_moved_both(named, after) for after in _best_first(found, below))


def _pairs(below: _Frame, lower: LayerPattern, upper: LayerPattern) -> list[tuple[_Rank, Named]]:
    """The voicings in two other layers that meet the first aim that any meets, in no order."""
    named = below.before
    found: list[tuple[_Rank, Named]] = []
    for aim in _aims(chord_of(named.reading, named.root)):
        for _, layer in () if found else _layers(below, aim, lower):
            own = _placed(below, layer)
            if own is not None:
                found += _answers(_Frame(named, 1, own, below.setup, below.floor_midi), aim, upper)
    return found


def _other_upper(below: _Frame, lower: LayerPattern, upper: LayerPattern) -> str:
    """What to ask for on top of the lower layer wanted, in place of what does not fit there."""
    answers = _best_first(_pairs(below, lower, LayerPattern()), below)
    names = dict.fromkeys(
        _spoken(each.layers[1].name) for each in answers if each.layers[1].name.family != "other"
    )
    if not names:
        return "ask for another lower layer, such as 'triad' or 'shell'"
    close = nearest(upper.text, names) or next(iter(names))
    return f"nearest that fits on top: upper={close!r}"


def _aims(chord: Chord) -> tuple[_Aim, ...]:
    """What to try for, in turn: the whole chord; then its third and seventh beside the notes that stay."""
    scales = tuple(scale.semitones for scale in scales_for(chord))
    quality = chord.symbol.quality
    if not (chord.symbol.is_chord and scales):
        return ()
    fifths = _ALTERED_FIFTHS & {each.plain for each in chord.degrees}
    whole = _Aim(scales, _makers(chord.degrees), quality, fifths)
    has_seventh = any(each.number == 7 for each in chord.degrees)
    core = {each for each in chord.degrees if each.number in _GUIDES or each.plain in _ALTERED_FIFTHS}
    core |= {each for each in chord.degrees if each.plain == "6" and not has_seventh}
    if not any(each.number == 7 or each.plain == "6" for each in core):
        return (whole,)
    core_makers = tuple(frozenset({each.semitones}) for each in core)
    return whole, _Aim(scales, core_makers, quality, fifths)


def _makers(degrees: tuple[Degree, ...]) -> tuple[frozenset[int], ...]:
    """The tones that make a chord, semitones over its root."""
    makers = chord_type(symbol(degrees).plain).makers
    return tuple(frozenset(degree(word).semitones for word in words) for words in makers)


_Rank: TypeAlias = tuple[bool, int, int, int, str]
"""Smaller is better: starts elsewhere than on third or seventh, seldom scale, few colour tones, far."""


def _best_answers(frame: _Frame, aims: tuple[_Aim, ...], wanted: LayerPattern) -> list[Named]:
    """The answers of the first aim that has any, best first."""
    for aim in aims:
        found = list(_answers(frame, aim, wanted))
        if found:
            return _best_first(found, frame)
    return []


def _best_first(found: list[tuple[_Rank, Named]], frame: _Frame) -> list[Named]:
    from drills.catalogue.worth import worths

    answers = [after for _, after in sorted(found, key=lambda answer: answer[0])]
    points = worths(answers, frame.setup, root_is_bass_players=frame.before.reading.is_rootless)
    places = sorted(range(len(answers)), key=lambda place: -points[place])
    return [answers[place] for place in places]


def _answers(frame: _Frame, aim: _Aim, wanted: LayerPattern) -> Iterator[tuple[_Rank, Named]]:
    heard = {frame.over_root(voice.midi) for voice in frame.kept}
    for scale, layer in _layers(frame, aim, wanted):
        if heard & set(layer) or not _makes(aim, heard | set(layer)):
            continue
        own = _placed(frame, layer)
        if own is None:
            continue
        after = renamed(frame.before, (*frame.kept, *own), reread=True)
        if after.sounding.midi == frame.before.sounding.midi:
            continue
        if aim.is_met_by(after):
            yield _rank(frame, after, scale), after


def _layers(frame: _Frame, aim: _Aim, wanted: LayerPattern) -> Iterator[tuple[int, tuple[int, ...]]]:
    """The layers of the kind wanted in an aim's scales: the scale's place, and semitones over the root."""
    room = MOST_NOTES - len(frame.kept)
    sizes = [size for size in wanted.sizes if size <= room]
    size = len(frame.old) if len(frame.old) in sizes else min(sizes, default=0)
    seen: set[tuple[int, ...]] = set()
    for place, scale in enumerate(aim.scales):
        for layer in permutations(scale, size):
            if layer in seen or not layer:
                continue
            seen.add(layer)
            if wanted.fits(name_layer(_gaps(layer))):
                yield place, layer


def _gaps(layer: tuple[int, ...]) -> tuple[int, ...]:
    return tuple((high - low) % 12 for low, high in pairwise(layer))


def _makes(aim: _Aim, heard: set[int]) -> bool:
    return all(heard & maker for maker in aim.makers)


def _placed(frame: _Frame, layer: tuple[int, ...]) -> tuple[Voice, ...] | None:
    """A layer's notes beside those that stay; None where they do not fit in between."""
    gaps = _gaps(layer)
    lowest = frame.lowest_midi(layer[0], sum(gaps))
    if lowest is None:
        return None
    heights = accumulate(gaps, initial=lowest)
    return tuple(Voice(_ROOT, midi, frame.number) for midi in heights)


def _rank(frame: _Frame, after: Named, scale: int) -> _Rank:
    layer = after.layers[frame.number]
    own = after.reading.degrees[layer.places]
    is_top = frame.number == len(after.layers) - 1
    starts_elsewhere = bool(is_top and own[0].number not in _GUIDES)
    colours = sum(each.number > 7 or each.plain in ("6", *_ALTERED_FIFTHS) for each in own)
    now = after.sounding.midi[layer.places]
    movement = sum(abs(new - old.midi) for new, old in zip(now, frame.old, strict=False))
    return starts_elsewhere, scale, -colours, movement, after.sounding.voicing.text


def _moved(frame: _Frame, after: Named) -> Moved:
    old, new = frame.before.layers[frame.number], after.layers[frame.number]
    words = f"{layer_words(frame.before, old)} → {layer_words(after, new)}"
    if frame.before.chord_shown != after.chord_shown:
        words += f": {frame.before.chord_shown} becomes {after.chord_shown}"
    move = f"{old.role} layer to {after.sounding.layer_words(new)}"
    return Moved(after, move, changes(frame.before, after, frame.kept), words)


def _moved_both(before: Named, after: Named) -> Moved:
    lower, upper = (layer_words(after, layer) for layer in after.layers)
    words = f"{lower} below, {upper} on top"
    if before.chord_shown != after.chord_shown:
        words += f": {before.chord_shown} becomes {after.chord_shown}"
    return Moved(after, "both layers swapped", changes(before, after, ()), words)


def _nothing_fits(frame: _Frame, aims: tuple[_Aim, ...], wanted: LayerPattern, where: str) -> DrillsError:
    role, chord = frame.before.layers[frame.number].role, frame.before.chord_plain
    what = f"no {wanted.text} fits as the {role} layer of {chord}: {_why(frame, aims, wanted)}"
    others = (each.layers[frame.number].name for each in _best_answers(frame, aims, LayerPattern()))
    names = dict.fromkeys(_spoken(name) for name in others if name.family != "other")
    if not names:
        return DrillsError(what, where=where, mend="swap the other layer instead, or take a note out of it")
    close = nearest(wanted.text, names) or next(iter(names))
    return DrillsError(what, where=where, mend=f"nearest that fits: {role}={close!r}")


def _why(frame: _Frame, aims: tuple[_Aim, ...], wanted: LayerPattern) -> str:
    """What keeps a kind of layer out, by the first of our conditions that all of them break."""
    heard = {frame.over_root(voice.midi) for voice in frame.kept}
    layers = [set(layer) for aim in aims for _, layer in _layers(frame, aim, wanted)]
    if not aims:
        return "no scale we know holds the whole chord"
    if not layers:
        return "its usual scales hold none"
    fresh = [layer for layer in layers if not heard & layer]
    if not fresh:
        return "each repeats a note of the layer that stays"
    if not any(_makes(aim, heard | layer) for aim in aims for layer in fresh):
        return "none brings the tones that make the chord"
    return "each clashes with the layer that stays, or crosses it"


def _spoken(name: LayerName) -> str:
    return f"{name.spacing} {name.structure}" if name.inversion else name.structure
