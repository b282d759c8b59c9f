"""From a voicing of a recipe to subjects: where it lies in every key, and where that fails."""

from __future__ import annotations

from dataclasses import replace

from drills.cards.subject import Subject
from drills.neck.grip import Refusal
from drills.neck.hand import hold
from drills.neck.search import Found, Place, find_in_key, on_one_string_set
from drills.plan.keys import roots as roots_asked
from drills.plan.unreached import Unreached, why_not
from drills.recipe.model import Recipe, VoicingEntry
from drills.recipe.pin import strings_for_notes
from drills.theory.chord import Chord
from drills.theory.pitch import NoteName
from drills.theory.voicing import Voicing


def subjects_of(recipe: Recipe, entry: VoicingEntry, turn: int) -> tuple[list[Subject], list[Unreached]]:
    """A voicing on the neck in every key it is asked in, and the keys where that fails."""
    roots = roots_asked(recipe, entry)
    strings = _strings(entry)
    found = {root: find_on(recipe, strings, entry.voicing, root) for root in roots}
    chosen = _chosen(entry, found)
    subjects: list[Subject] = []
    unreached: list[Unreached] = []
    for root in roots:
        if root in chosen:
            subjects.append(_subject(recipe, entry, turn, chosen[root], found[root]))
            continue
        refusal = found[root].refusal or Refusal("not on these strings", 0.0)
        smaller = _reduced(recipe, entry, turn, root) if recipe.hand.offers_reduced else None
        unreached.append(
            Unreached(
                called(entry), root.plain, why_not(refusal), smaller.reduced if smaller is not None else ""
            )
        )
        if smaller is not None:
            subjects.append(smaller)
    return subjects, unreached


def called(entry: VoicingEntry) -> str:
    """How messages call a voicing: chord, degrees, nickname."""
    chord = entry.chord.plain[1:] if entry.chord else ""
    words = [word for word in (chord, entry.voicing.text) if word]
    return " ".join(words) + (f" ({entry.nickname})" if entry.nickname else "")


def _strings(entry: VoicingEntry) -> tuple[int, ...] | None:
    """The strings that the recipe asks for, by themselves or by a grip."""
    if entry.pinned is None:
        return entry.strings
    return tuple(string for string, fret in enumerate(entry.pinned.frets) if fret is not None)


def find_on(recipe: Recipe, strings: tuple[int, ...] | None, voicing: Voicing, root: NoteName) -> Found:
    """The places of a voicing in one key, on the strings that the recipe asks for."""
    found = find_in_key(voicing, root, recipe.instrument, recipe.hand)
    if strings is None:
        return found
    if len(strings) != len(voicing.degrees):
        return Found((), Refusal(strings_for_notes(len(strings), len(voicing.degrees)), 0.0))
    kept = tuple(place for place in found.places if place.grip.strings == strings)
    if kept or not found.places:
        return Found(kept, found.refusal)
    return Found((), _refusal_on(strings, voicing, root, recipe))


def _refusal_on(strings: tuple[int, ...], voicing: Voicing, root: NoteName, recipe: Recipe) -> Refusal:
    """Why a voicing that lies elsewhere does not lie on the strings asked for."""
    instrument = recipe.instrument
    sounding = voicing.lowest_at_or_above(root, instrument.open_midi[strings[0]])
    tried = []
    for octave in (0, 12):
        frets: list[int | None] = [None] * len(instrument.open_midi)
        for string, midi in zip(strings, sounding.midi, strict=True):
            frets[string] = midi + octave - instrument.open_midi[string]
        if all(fret is None or 0 <= fret <= instrument.highest_fret for fret in frets):
            tried.append(hold(tuple(frets), instrument, recipe.hand))
    refusals = [each for each in tried if isinstance(each, Refusal)]
    why = Refusal("these strings have no place for it", 0.0)
    return min(refusals, key=lambda refusal: refusal.stretch_mm, default=why)


def _chosen(entry: VoicingEntry, found: dict[NoteName, Found]) -> dict[NoteName, Place]:
    """One place for each key; a grip that the recipe gives stands in its own key."""
    chosen = on_one_string_set(found)
    if entry.pinned is None:
        return chosen
    for root, each in found.items():
        for place in each.places:
            if root.pitch_class == entry.pinned.key.pitch_class and place.grip.frets == entry.pinned.frets:
                chosen[root] = place
    return chosen


def _subject(recipe: Recipe, entry: VoicingEntry, turn: int, place: Place, found: Found) -> Subject:
    others = tuple(
        other.grip
        for other in found.places
        if other.grip.strings == place.grip.strings and other.grip.frets != place.grip.frets
    )
    return Subject(
        place,
        None if entry.chord is None else Chord(place.sounding.root, entry.chord.degrees),
        recipe.instrument,
        recipe.is_left_handed,
        others,
        entry.nickname,
        entry.note,
        entry.id,
        week=entry.week,
        turn=turn,
        hand=recipe.hand,
    )


def _reduced(recipe: Recipe, entry: VoicingEntry, turn: int, root: NoteName) -> Subject | None:
    """The voicing made smaller until it fits: without its lowest note, then its top four notes."""
    whole = entry.voicing
    count = len(whole.degrees)
    for kept, words in ((count - 1, "without its lowest note"), (4, "its top four notes")):
        if not 3 <= kept < count:
            continue
        voicing = whole.top(kept)
        found = find_in_key(voicing, root, recipe.instrument, recipe.hand)
        if found.places:
            subject = _subject(recipe, entry, turn, found.places[0], found)
            return replace(subject, reduced=words, id=f"{entry.id}-top-{kept}" if entry.id else "")
    return None


def notes_of(voicing: Voicing) -> tuple[object, ...]:
    """What makes two voicings one: tones over the root, heights, layers."""
    return voicing.lowest_over_root_semitones, voicing.heights_semitones, voicing.sizes
