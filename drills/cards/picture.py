"""From a grip to the description of its picture: markers, window, what is hidden."""

from __future__ import annotations

from drills.cards.card import LAYER_INDEX, Marker, PictureSpec
from drills.neck.grip import Frets
from drills.neck.instrument import Instrument
from drills.theory.degree import Degree
from drills.theory.naming import read_over
from drills.theory.voicing import Layer, PitchedVoicing

FEWEST_FRETS_SHOWN = 5


def picture_of(
    sounding: PitchedVoicing,
    frets: Frets,
    instrument: Instrument,
    *,
    is_left_handed: bool = False,
    hide_degrees: bool = False,
    asked: int | None = None,
) -> PictureSpec:
    """The picture of a voicing on frets that sound it.

    Args:
        sounding: the voicing; its notes are found again on the strings.
        frets: one for each string, lowest string first.
        instrument: for the strings and the end of the neck.
        is_left_handed: mirrored.
        hide_degrees: markers without text, for a question.
        asked: the note whose degree is asked for, 0 the lowest.
    """
    strings = _strings_by_note(sounding, frets, instrument)
    classes = [midi % 12 for midi in sounding.midi]
    markers = []
    for layer in sounding.voicing.layers:
        for note in range(layer.first, layer.last):
            string = strings[note]
            degree = sounding.voicing.degrees[note]
            markers.append(
                Marker(
                    string,
                    frets[string] or 0,
                    LAYER_INDEX[layer.role],
                    text="" if hide_degrees or note == asked else degree.shown,
                    is_root=degree.semitones == 0 and note != asked,
                    is_asked=note == asked,
                    is_doubled=classes.count(classes[note]) > 1,
                )
            )
    first, last = window(tuple(marker.fret for marker in markers), instrument.highest_fret)
    names = tuple(pitch.name.shown for pitch in instrument.open_pitches)
    muted = tuple(string for string, fret in enumerate(frets) if fret is None)
    return PictureSpec(names, tuple(markers), first, last, muted, is_left_handed)


def picture_of_layer(
    sounding: PitchedVoicing,
    layer: Layer,
    frets: Frets,
    instrument: Instrument,
    *,
    is_left_handed: bool = False,
) -> PictureSpec:
    """One layer alone, its notes called by what they are over its own root, without mutes.

    Args:
        sounding: the voicing that the layer belongs to.
        layer: it must have a root of its own.
        frets: of the whole voicing, one for each string, lowest string first.
        instrument: for the strings and the end of the neck.
        is_left_handed: mirrored.
    """
    strings = _strings_by_note(sounding, frets, instrument)[layer.places]
    own = own_degrees(sounding, layer)
    markers = tuple(
        Marker(
            string, frets[string] or 0, LAYER_INDEX[layer.role], degree.shown, is_root=degree.semitones == 0
        )
        for string, degree in zip(strings, own, strict=True)
    )
    first, last = window(tuple(marker.fret for marker in markers), instrument.highest_fret)
    names = tuple(pitch.name.shown for pitch in instrument.open_pitches)
    return PictureSpec(names, markers, first, last, is_left_handed=is_left_handed)


def own_degrees(sounding: PitchedVoicing, layer: Layer) -> tuple[Degree, ...]:
    """What the notes of a layer are over the layer's own root."""
    heights = sounding.voicing.heights_semitones[layer.places]
    root_height = heights[layer.name.root_place or 0]
    from_lowest = tuple(height - heights[0] for height in heights)
    return read_over(from_lowest, (heights[0] - root_height) % 12).degrees


def _strings_by_note(sounding: PitchedVoicing, frets: Frets, instrument: Instrument) -> tuple[int, ...]:
    """The string of each note, lowest note first."""
    heard = sorted(
        (instrument.open_midi[string] + fret, string) for string, fret in enumerate(frets) if fret is not None
    )
    if tuple(midi for midi, _ in heard) != sounding.midi:
        raise ValueError(f"frets {frets} do not sound {sounding.midi}")
    return tuple(string for _, string in heard)


def window(frets: tuple[int, ...], highest_fret: int) -> tuple[int, int]:
    """The first and last fret to show: at least five, the nut where it is near, past the neck only for notes.

    >>> window((4, 5, 5, 6, 5), 20), window((0, 2, 5, 2, 3, 2), 20), window((0,), 20)
    ((3, 7), (1, 5), (1, 5))
    """
    fretted = [fret for fret in frets if fret]
    lowest, highest = min(fretted, default=1), max(fretted, default=1)
    if highest <= FEWEST_FRETS_SHOWN:
        return 1, FEWEST_FRETS_SHOWN
    width = max(FEWEST_FRETS_SHOWN, highest - lowest + 1)
    first = max(1, lowest - (width - (highest - lowest + 1)) // 2)
    first = max(1, min(first, max(highest, highest_fret) - width + 1))
    return first, first + width - 1
