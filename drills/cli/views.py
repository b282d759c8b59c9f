"""How answers look to people: headlines, layers over their notes, the neck with its caption.

Everything is made of rich `Text`, so that no text is read as markup.
"""

from __future__ import annotations

from collections.abc import Iterable

from rich.table import Table
from rich.text import Text

from drills.cards.picture import picture_of
from drills.cards.words import LONG_REACH_CAUTION, layer_form
from drills.cli.given import OnNeck
from drills.cli.output import INDENT, columns
from drills.cli.terminal_neck import neck, shape
from drills.neck.grip import Grip, Refusal
from drills.neck.instrument import Instrument
from drills.theory.chord import Chord
from drills.theory.interval import interval_name
from drills.theory.naming import Named
from drills.theory.pitch import with_signs
from drills.theory.scale import guide_tones, scales_for
from drills.theory.voicing import Layer

_LAYER_COLUMNS = 26
_MOST_READINGS = 4


def shown(words: str) -> str:
    """Plain words with the signs that print shows; a double sign is two, since few terminals have it.

    >>> shown("dorian b2"), shown("altered bb7"), shown("B𝄫")
    ('dorian ♭2', 'altered ♭♭7', 'B♭♭')
    """
    return with_signs(words).replace("𝄫", "♭♭").replace("𝄪", "♯♯")


def headline(named: Named) -> Text:
    """The chord in its shown form, and whether its root sounds."""
    line = Text(shown(named.chord_shown), style="bold")
    if named.reading.is_rootless:
        line.append("  no root", style="dim")
    return line


def layers(named: Named) -> Table:
    """Each layer with its name and its degrees over its notes, the upper one first."""
    table = Table.grid(padding=(0, 2, 0, 0))
    for layer in reversed(named.layers):
        degrees = [Text(shown(each.shown), style="bold") for each in named.reading.degrees[layer.places]]
        notes = [Text(shown(pitch.shown)) for pitch in named.sounding.pitches[layer.places]]
        words = shown(named.sounding.layer_words(layer)).ljust(_LAYER_COLUMNS)
        table.add_row(_label(layer), Text(words), *degrees)
        table.add_row(Text(), Text(layer_form(layer), style="dim"), *notes)
        if layer.first:
            table.add_row()
    return table


def layers_in_brief(named: Named, *, in_any_key: bool = False) -> Table:
    """A line for each layer, the upper one first: structure, form and degrees."""
    table = Table.grid(padding=(0, 2, 0, 0))
    for layer in reversed(named.layers):
        degrees = [Text(shown(each.shown), style="bold") for each in named.reading.degrees[layer.places]]
        structure = layer.name.structure if in_any_key else shown(named.sounding.layer_words(layer))
        words = ", ".join(filter(None, (structure, layer_form(layer))))
        table.add_row(_label(layer), Text(words), *degrees)
    return table


def _label(layer: Layer) -> Text:
    """A layer's shape and role."""
    mark, style = shape(layer.role)
    return Text.assemble((f" {mark} ", style), ("" if layer.role == "single" else f" {layer.role}", "dim"))


def other_readings(named: Named) -> Text | None:
    """The best few other names, or nothing where there is only one."""
    names = [shown(text) for _, text, _ in named.also_named]
    if not names:
        return None
    more = f"  and {len(names) - _MOST_READINGS} more" if len(names) > _MOST_READINGS else ""
    return Text.assemble(("also read as  ", "dim"), "  ".join(names[:_MOST_READINGS]), (more, "dim"))


def warnings(named: Named) -> Text | None:
    """Clashes with their mends, and notes too low to be clear, in words."""
    pitches, midi = named.sounding.pitches, named.sounding.midi
    lines = [shown(clash.words) for clash in named.reading.clashes]
    for low, high in named.low_intervals:
        notes = shown(f"{pitches[low].shown} {pitches[high].shown}")
        lines.append(f"{notes}: a {interval_name(midi[high] - midi[low])} so low may sound muddy")
    return Text("\n".join(f"! {line}" for line in lines)) if lines else None


def neck_of(on_neck: OnNeck, instrument: Instrument, *, is_left_handed: bool = False) -> Text | None:
    """The neck with a voicing on it, or nothing where the neck has no place for it."""
    if not on_neck.frets:
        return None
    spec = picture_of(on_neck.sounding, on_neck.frets, instrument, is_left_handed=is_left_handed)
    return neck(spec, width=columns() - INDENT)


def held_line(on_neck: OnNeck, named: Named) -> Text:
    """How a voicing is held, or why it cannot be; and in which octave, if not the one written."""
    octaves = (on_neck.sounding.lowest_midi - named.sounding.lowest_midi) // 12
    if isinstance(on_neck.held, Grip):
        line = grip_line(on_neck.held)
    else:
        line = Text.assemble(("cannot be held: ", "bold"), on_neck.held.why)
    if octaves:
        line.append(f"   {'an octave' if octaves == 1 else f'{octaves} octaves'} up", style="dim")
    return line


def look_further(on_neck: OnNeck) -> Text | None:
    """Where to look when a voicing cannot be held."""
    if isinstance(on_neck.held, Grip):
        return None
    return Text("`drills grip` shows what of it lies under the hand, and in which keys", style="dim")


def grip_line(grip: Grip) -> Text:
    """Frets, fingers and stretch of a grip."""
    line = Text.assemble(("frets ", "dim"), (grip.text, "bold"), ("   fingers ", "dim"), fingers_text(grip))
    if grip.stretch_mm:
        line.append(f"   {grip.stretch_mm:.0f} mm")
    return line


def fingers_text(grip: Grip) -> str:
    """The fingers as the frets are written: `– 1 2 3 4 2`."""
    return " ".join("–" if finger is None else str(finger) for finger in grip.fingers)


def caution(held: Iterable[Grip | Refusal]) -> Text | None:
    """What to mind where a grip is near the limit of the hand."""
    is_wide = any(isinstance(each, Grip) and each.is_long_reach for each in held)
    return Text(LONG_REACH_CAUTION, style="italic") if is_wide else None


def chord_headline(chord: Chord) -> Text:
    """The chord in its shown form."""
    return Text(shown(chord.shown), style="bold")


def chord_notes(chord: Chord) -> Table:
    """The full chord's degrees over its notes."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_row(*(Text(shown(degree.shown), style="bold") for degree in chord.degrees))
    table.add_row(*(Text(shown(note.shown)) for note in chord.notes))
    return table


def scales(chord: Chord) -> Table:
    """The usual parent scales, with the avoid notes of each."""
    table = Table.grid(padding=(0, 3, 0, 0))
    table.add_row(Text("scale", style="dim"), Text("notes", style="dim"), Text("avoid", style="dim"))
    for scale in scales_for(chord):
        notes = "  ".join(shown(note.shown).ljust(2) for note in scale.notes(chord.root))
        avoid = shown(" ".join(scale.avoid(guide_tones(chord)))) or "–"
        table.add_row(Text(shown(scale.name)), Text(notes), Text(avoid))
    return table
