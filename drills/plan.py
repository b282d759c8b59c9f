"""What a recipe would build: every voicing put on the neck in every key, every card dealt and ordered.

Nothing is drawn and nothing is written here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby, islice, pairwise
from typing import TypeAlias

from drills.cards.card import Deck
from drills.cards.deal import deal
from drills.cards.order import Asked, in_order
from drills.cards.riddle import without_riddles
from drills.cards.subject import Subject
from drills.cards.twins import with_twins
from drills.errors import DrillsError
from drills.neck.grip import Refusal
from drills.neck.hand import hold
from drills.neck.search import Found, Place, find_in_key, on_one_string_set, roots_by_fourths
from drills.recipe.known import OF_PROGRESSIONS
from drills.recipe.model import MOST_CARDS, ProgressionEntry, Recipe, VoicingEntry
from drills.theory.chord import Chord
from drills.theory.naming import read_over
from drills.theory.pitch import NoteName
from drills.theory.symbol import Quality, Symbol
from drills.theory.voicing import Voicing

LEGEND = (
    "On the neck: discs are the lower layer, squares the upper one; a ribbon joins the notes of a layer, the "
    "root is ringed, degrees stand in the markers. The highest string is on top."
)
CAUTION = (
    "Warm up before wide stretches. If it hurts, stop; leave a note out rather than force it, and ask a "
    "teacher or a clinician who knows hands."
)

_ALL_CLASSES = frozenset(range(12))


@dataclass(frozen=True, slots=True)
class Unreached:
    """A voicing that cannot be held in a key, and why not.

    Attributes:
        voicing: how messages call it.
        key: the root, plain form.
        why: the narrowest miss.
        instead: the smaller voicing that the deck holds in its place; empty for none.
    """

    voicing: str
    key: str
    why: str
    instead: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """What a recipe would build.

    Attributes:
        deck: the cards in order.
        voicings: voicings that have at least one card.
        unreached: what could not be reached.
    """

    deck: Deck
    voicings: int
    unreached: tuple[Unreached, ...]


def plan(recipe: Recipe) -> Plan:
    """Works out every card of a recipe without writing anything.

    Raises:
        DrillsError: the recipe would make too many cards, or none.
    """
    recipe = _with_families(recipe)
    _check_size(recipe)
    asked: dict[str, Asked] = {}
    unreached: list[Unreached] = []
    found = [_subjects(recipe, entry, turn) for turn, entry in enumerate(recipe.voicings)]
    reached = 0
    for entry, subjects in zip(recipe.voicings, _twinned(recipe, [each for each, _ in found]), strict=True):
        before = len(asked)
        for each in _deal_all(recipe, entry, subjects):
            asked.setdefault(each.card.identity, each)
        reached += len(asked) > before
    for _, missed in found:
        unreached += missed
    connected: dict[str, Asked] = {}
    for turn, progression in enumerate(recipe.progressions, start=len(recipe.voicings)):
        steps, missed = _connected(recipe, progression, turn)
        unreached += missed
        for each in steps:
            connected.setdefault(each.card.identity, each)
    reached += len(
        _voicings_joined(connected.values()) - {_notes(entry.voicing) for entry in recipe.voicings}
    )
    asked |= connected
    cards = tuple(in_order(without_riddles(asked.values()), recipe.order))
    if not cards:
        raise _nothing(recipe, unreached)
    deck = Deck(
        recipe.id,
        recipe.title,
        tuple(paragraph for paragraph in (recipe.about, LEGEND, CAUTION) if paragraph),
        cards,
        recipe.fresh_per_day,
        recipe.target_recall,
        recipe.edition,
    )
    return Plan(deck, reached, tuple(unreached))


def _with_families(recipe: Recipe) -> Recipe:
    """The recipe with the voicings of its families after its own."""
    if not recipe.families:
        return recipe
    from drills.families import voicings_of

    own = {_notes(entry.voicing) for entry in recipe.voicings}
    found = [entry for family in recipe.families for entry in voicings_of(family, recipe)]
    new = [entry for entry in found if _notes(entry.voicing) not in own]
    return replace(recipe, voicings=(*recipe.voicings, *new), families=())


def _check_size(recipe: Recipe) -> None:
    most = sum(len(_classes(recipe, entry, drill)) for entry in recipe.voicings for drill in recipe.ask)
    most += sum(
        len(_classes(recipe, entry, OF_PROGRESSIONS)) * (len(entry.chords) - 1)
        for entry in recipe.progressions
    )
    if most > MOST_CARDS:
        mend = "take fewer voicings, keys or drills, or split it into several decks"
        what = f"this would make {most:,} cards, more than {MOST_CARDS:,}"
        raise DrillsError(what, where=recipe.source, mend=mend)


def _nothing(recipe: Recipe, unreached: list[Unreached]) -> DrillsError:
    if unreached:
        first = unreached[0]
        what = f"no card can be made: {first.voicing} in {first.key} cannot be held ({first.why})"
        mend = "leave a note out, widen [hand], or try another tuning or other keys"
        return DrillsError(what, where=recipe.source, mend=mend)
    mend = "check keys, [drills] ask and [drills.keys] against each other"
    return DrillsError("no card can be made: no drill applies to any voicing", where=recipe.source, mend=mend)


def _classes(recipe: Recipe, entry: VoicingEntry | ProgressionEntry, drill: str) -> frozenset[int]:
    """The pitch classes of the roots that a drill asks a voicing in, or of the keys of a progression."""
    keys = dict(recipe.drill_keys).get(drill, recipe.keys)
    wanted = _ALL_CLASSES if keys is None else frozenset(key.pitch_class for key in keys)
    if entry.keys is not None:
        wanted &= frozenset(key.pitch_class for key in entry.keys)
    return wanted


def _roots(recipe: Recipe, entry: VoicingEntry) -> tuple[NoteName, ...]:
    """The roots a voicing is asked in by any drill."""
    wanted = frozenset[int]().union(*(_classes(recipe, entry, drill) for drill in recipe.ask))
    symbol = entry.chord.symbol if entry.chord else _reading_symbol(entry.voicing)
    return _spelled(recipe, entry.keys, symbol.quality, wanted)


def _spelled(
    recipe: Recipe, own: tuple[NoteName, ...] | None, quality: Quality, wanted: frozenset[int]
) -> tuple[NoteName, ...]:
    """Keys as the entry or else the recipe spells them, else as charts do for a quality."""
    written = [*(own or ()), *(recipe.keys or ())]
    written += [key for _, keys in recipe.drill_keys for key in keys or ()]
    by_habit = roots_by_fourths(quality)
    spelled = {root.pitch_class: root for root in by_habit}
    for key in reversed(written):
        spelled[key.pitch_class] = key
    in_turn = [key.pitch_class for key in written]
    rest = [root.pitch_class for root in by_habit]
    return tuple(spelled[each] for each in dict.fromkeys(in_turn + rest) if each in wanted)


def _reading_symbol(voicing: Voicing) -> Symbol:
    return read_over(voicing.heights_semitones, voicing.lowest_over_root_semitones, voicing.degrees).symbol


def _subjects(recipe: Recipe, entry: VoicingEntry, turn: int) -> tuple[list[Subject], list[Unreached]]:
    """A voicing on the neck in every key it is asked in, and the keys where that fails."""
    roots = _roots(recipe, entry)
    strings = _strings(entry)
    found = {root: _find(recipe, strings, entry.voicing, root) for root in roots}
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
                _called(entry), root.plain, _why(refusal), smaller.reduced if smaller is not None else ""
            )
        )
        if smaller is not None:
            subjects.append(smaller)
    return subjects, unreached


def _why(refusal: Refusal) -> str:
    """The narrowest miss, and where on the neck it was tried."""
    frets = " ".join("x" if fret is None else str(fret) for fret in refusal.frets)
    return f"{refusal.why}, at {frets}" if frets else refusal.why


def _called(entry: VoicingEntry) -> str:
    """How messages call a voicing: chord, degrees, nickname."""
    chord = entry.chord.plain[1:] if entry.chord else ""
    words = [word for word in (chord, entry.voicing.text) if word]
    return " ".join(words) + (f" ({entry.nickname})" if entry.nickname else "")


def _strings(entry: VoicingEntry) -> tuple[int, ...] | None:
    """The strings that the recipe asks for, by themselves or by a grip."""
    if entry.pinned is None:
        return entry.strings
    return tuple(string for string, fret in enumerate(entry.pinned.frets) if fret is not None)


def _find(recipe: Recipe, strings: tuple[int, ...] | None, voicing: Voicing, root: NoteName) -> Found:
    """The places of a voicing in one key, on the strings that the recipe asks for."""
    found = find_in_key(voicing, root, recipe.instrument, recipe.hand)
    if strings is None or len(strings) != len(voicing.degrees):
        return found
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


def _twinned(recipe: Recipe, found: list[list[Subject]]) -> list[tuple[Subject, ...]]:
    """The subjects of each voicing, with their twins among all of them where the recipe asks for twins."""
    if "twin" not in recipe.ask:
        return [tuple(subjects) for subjects in found]
    told = iter(with_twins([subject for subjects in found for subject in subjects]))
    return [tuple(islice(told, len(subjects))) for subjects in found]


def _deal_all(recipe: Recipe, entry: VoicingEntry, subjects: Iterable[Subject]) -> Iterator[Asked]:
    for drill_turn, drill in enumerate(recipe.ask):
        classes = _classes(recipe, entry, drill)
        for key_turn, subject in enumerate(subjects):
            if subject.root.pitch_class not in classes:
                continue
            card = deal(subject, drill)
            if card is not None:
                yield Asked(card, subject, drill_turn, key_turn)


# --- progressions --------------------------------------------------------------------------------


def _connected(recipe: Recipe, entry: ProgressionEntry, turn: int) -> tuple[list[Asked], list[Unreached]]:
    """The steps from chord to chord in every key a progression is asked in, and what stands in the way."""
    wanted = _classes(recipe, entry, OF_PROGRESSIONS)
    drill_turn = recipe.ask.index(OF_PROGRESSIONS)
    settled = _settled(recipe, entry)
    asked: list[Asked] = []
    unreached: list[Unreached] = []
    for key_turn, key in enumerate(_spelled(recipe, entry.keys, entry.quality, wanted)):
        chords = entry.over(key)
        choices = _choices(recipe, settled, chords)
        if settled != entry and not all(places for places, _ in choices):
            choices = _choices(recipe, entry, chords)
        subjects = _smoothest(recipe, entry, chords, choices, turn)
        unreached += [
            Unreached(_step_called(entry, number), chord.root.plain, why)
            for number, (chord, (places, why)) in enumerate(zip(chords, choices, strict=True))
            if not places
        ]
        steps = [
            replace(here, next=there)
            for here, there in pairwise(subjects)
            if here is not None and there is not None and here.place != there.place
        ]
        asked += [
            Asked(card, step, drill_turn, key_turn)
            for step in steps
            if (card := deal(step, OF_PROGRESSIONS)) is not None
        ]
    return asked, unreached


def _settled(recipe: Recipe, entry: ProgressionEntry) -> ProgressionEntry:
    """The progression with the catalogue's smoothest voicings in its own key, to be kept through all keys.

    Unchanged where it has voicings, or where a chord of it cannot be held in its own key.
    """
    from drills.catalogue.progression import ways
    from drills.catalogue.setup import Setup

    if entry.voicings is not None:
        return entry
    setup = Setup(recipe.instrument, recipe.hand, entry.strings)
    try:
        (way,) = ways(entry.chords, notes=entry.notes, limit=1, setup=setup)
    except DrillsError:
        return entry
    return replace(entry, voicings=tuple(place.sounding.voicing for place in way.places))


_Choices: TypeAlias = tuple[tuple[Place, ...], str]
"""Where a chord may be played, or why nowhere."""


def _choices(recipe: Recipe, entry: ProgressionEntry, chords: tuple[Chord, ...]) -> list[_Choices]:
    """For each chord the places of its voicing, or of all that the catalogue has."""
    if entry.voicings is None:
        return [_in_catalogue(recipe, entry, chord) for chord in chords]
    found = [
        _find(recipe, entry.strings, voicing, chord.root)
        for voicing, chord in zip(entry.voicings, chords, strict=True)
    ]
    return [(each.places, _why(each.refusal) if each.refusal else "") for each in found]


def _in_catalogue(recipe: Recipe, entry: ProgressionEntry, chord: Chord) -> _Choices:
    """The places of the catalogue's voicings of a chord."""
    from drills.catalogue.progression import choices

    try:
        places = choices(
            chord,
            notes=entry.notes,
            instrument=recipe.instrument,
            hand=recipe.hand,
            strings=entry.strings,
        )
    except DrillsError as fault:
        return (), fault.what
    return places, ""


def _smoothest(
    recipe: Recipe, entry: ProgressionEntry, chords: tuple[Chord, ...], choices: list[_Choices], turn: int
) -> list[Subject | None]:
    """The smoothest way through the chords; one without a place leaves a gap, and the way starts anew."""
    from drills.catalogue.path import smoothest

    subjects: list[Subject | None] = []
    for is_reached, run in groupby(choices, key=lambda choice: bool(choice[0])):
        places = [places for places, _ in run]
        if not is_reached:
            subjects += [None] * len(places)
            continue
        (way,) = smoothest(places, limit=1)
        for place in way.places:
            number = len(subjects)
            subjects.append(
                Subject(
                    place,
                    chords[number],
                    recipe.instrument,
                    recipe.is_left_handed,
                    nickname=entry.nickname,
                    note=entry.note,
                    id=f"{entry.id}-{number + 1}" if entry.id else "",
                    week=entry.week,
                    turn=turn,
                    hand=recipe.hand,
                )
            )
    return subjects


def _step_called(entry: ProgressionEntry, number: int) -> str:
    """How messages call a chord of a progression: chord, degrees, where it stands."""
    chord = entry.chords[number].symbol.plain or "maj"
    degrees = f" {entry.voicings[number].text}" if entry.voicings is not None else ""
    return f"{chord}{degrees} in {entry.where}"


def _voicings_joined(connected: Iterable[Asked]) -> set[tuple[object, ...]]:
    """The notes of all voicings that progressions go through, free of key."""
    subjects = [subject for each in connected for subject in (each.subject, each.subject.next) if subject]
    return {_notes(subject.voicing) for subject in subjects}


def _notes(voicing: Voicing) -> tuple[object, ...]:
    """What makes two voicings one: tones over the root, heights, layers."""
    return voicing.lowest_over_root_semitones, voicing.heights_semitones, voicing.sizes
