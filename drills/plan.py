"""What a recipe would build: every voicing put on the neck in every key, every card dealt and ordered.

Nothing is drawn and nothing is written here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from drills.cards.card import Deck
from drills.cards.deal import deal
from drills.cards.order import Asked, in_order
from drills.cards.riddle import without_riddles
from drills.cards.subject import Subject
from drills.errors import DrillsError
from drills.neck.grip import Refusal
from drills.neck.hand import hold
from drills.neck.search import Found, Place, find_in_key, on_one_string_set, roots_by_fourths
from drills.recipe.model import MOST_CARDS, Recipe, VoicingEntry
from drills.theory.chord import Chord
from drills.theory.naming import read_over
from drills.theory.pitch import NoteName
from drills.theory.symbol import Symbol
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
    _check_size(recipe)
    asked: dict[str, Asked] = {}
    unreached: list[Unreached] = []
    reached = 0
    for turn, entry in enumerate(recipe.voicings):
        before = len(asked)
        subjects, missed = _subjects(recipe, entry, turn)
        unreached += missed
        for each in _deal_all(recipe, entry, subjects):
            asked.setdefault(each.card.identity, each)
        reached += len(asked) > before
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


def _check_size(recipe: Recipe) -> None:
    most = sum(len(_classes(recipe, entry, drill)) for entry in recipe.voicings for drill in recipe.ask)
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


def _classes(recipe: Recipe, entry: VoicingEntry, drill: str) -> frozenset[int]:
    """The pitch classes of the roots that a drill asks a voicing in."""
    keys = dict(recipe.drill_keys).get(drill, recipe.keys)
    wanted = _ALL_CLASSES if keys is None else frozenset(key.pitch_class for key in keys)
    if entry.keys is not None:
        wanted &= frozenset(key.pitch_class for key in entry.keys)
    return wanted


def _roots(recipe: Recipe, entry: VoicingEntry) -> tuple[NoteName, ...]:
    """The roots a voicing is asked in by any drill, as the recipe spells them, else as charts do."""
    wanted = frozenset[int]().union(*(_classes(recipe, entry, drill) for drill in recipe.ask))
    written = [*(entry.keys or ()), *(recipe.keys or ())]
    written += [key for _, keys in recipe.drill_keys for key in keys or ()]
    symbol = entry.chord.symbol if entry.chord else _reading_symbol(entry.voicing)
    spelled = {root.pitch_class: root for root in roots_by_fourths(symbol.quality)}
    for key in reversed(written):
        spelled[key.pitch_class] = key
    in_turn = [key.pitch_class for key in written]
    rest = [root.pitch_class for root in roots_by_fourths(symbol.quality)]
    return tuple(spelled[each] for each in dict.fromkeys(in_turn + rest) if each in wanted)


def _reading_symbol(voicing: Voicing) -> Symbol:
    return read_over(voicing.heights_semitones, voicing.lowest_over_root_semitones, voicing.degrees).symbol


def _subjects(recipe: Recipe, entry: VoicingEntry, turn: int) -> tuple[list[Subject], list[Unreached]]:
    """A voicing on the neck in every key it is asked in, and the keys where that fails."""
    roots = _roots(recipe, entry)
    found = {root: _find(recipe, entry, entry.voicing, root) for root in roots}
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


def _find(recipe: Recipe, entry: VoicingEntry, voicing: Voicing, root: NoteName) -> Found:
    """The places of a voicing in one key, on the strings that the recipe asks for."""
    found = find_in_key(voicing, root, recipe.instrument, recipe.hand)
    strings = entry.strings
    if entry.pinned is not None:
        strings = tuple(string for string, fret in enumerate(entry.pinned.frets) if fret is not None)
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
    refusals = []
    for octave in (0, 12):
        frets: list[int | None] = [None] * len(instrument.open_midi)
        for string, midi in zip(strings, sounding.midi, strict=True):
            frets[string] = midi + octave - instrument.open_midi[string]
        if all(fret is None or 0 <= fret <= instrument.highest_fret for fret in frets):
            result = hold(tuple(frets), instrument, recipe.hand)
            if isinstance(result, Refusal):
                refusals.append(result)
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


def _deal_all(recipe: Recipe, entry: VoicingEntry, subjects: list[Subject]) -> Iterator[Asked]:
    for drill_turn, drill in enumerate(recipe.ask):
        classes = _classes(recipe, entry, drill)
        for key_turn, subject in enumerate(subjects):
            if subject.root.pitch_class not in classes:
                continue
            card = deal(subject, drill)
            if card is not None:
                yield Asked(card, subject, drill_turn, key_turn)
