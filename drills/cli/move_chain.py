"""A chain of moves as typed: each option becomes an action, and each action is done to every item.

An item that cannot make a move is left out and remembered; when none is left, its error is the answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, TypeAlias

from drills.catalogue.setup import Setup
from drills.catalogue.swap import swap, swap_both
from drills.errors import DrillsError
from drills.neck.crossing import cross, nearest_over
from drills.neck.hand import Hand
from drills.neck.instrument import Instrument
from drills.neck.search import Found, Place, find_at, find_in_key, roots_by_fourths
from drills.theory.chord import FOURTHS
from drills.theory.degree import read_degree
from drills.theory.layer_pattern import read_layer_pattern
from drills.theory.motion.double import double
from drills.theory.motion.mend import mend
from drills.theory.motion.moved import Moved, NotePair, check_role, in_turn, named_sounding
from drills.theory.motion.reduce import reduce
from drills.theory.motion.reshape import spread, turn
from drills.theory.motion.step import rooted_in, step, through
from drills.theory.motion.transpose import transpose
from drills.theory.naming import Named
from drills.theory.pitch import NoteName, read_note_name
from drills.theory.scale import read_scale

if TYPE_CHECKING:
    from drills.cli.given import Given

MOST_ITEMS = 2000
"""Voicings that one chain may make; two moves that go through twelve keys each make 144."""

_FEWEST_THROUGH = 6
"""Steps of the shortest scale."""

Typed: TypeAlias = tuple[str, Any]
"""An option's name and its value, as in ("to", "Eb")."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What all moves share.

    Attributes:
        instrument, hand: for what can be held.
        root_is_given: the root was typed, so that no other may be read.
        root_stays: steps leave the root where it is.
    """

    instrument: Instrument
    hand: Hand
    root_is_given: bool = False
    root_stays: bool = False

    @property
    def floor_midi(self) -> int:
        """The lowest open string."""
        return min(self.instrument.open_midi)


@dataclass(frozen=True, slots=True)
class Item:
    """A voicing on its way through the chain.

    Attributes:
        named: the voicing as it is by now.
        is_fixed: its octave was written; otherwise any octave of the neck will do.
        strings: the string set it was typed on or crossed to, which later moves keep where they can.
        options, moves, words: what was asked and done so far, briefly and told.
        changed: its notes against those that were typed.
        place: the grip that the last move chose, if it chose one.
    """

    named: Named
    is_fixed: bool
    strings: tuple[int, ...] = ()
    options: tuple[str, ...] = ()
    moves: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    changed: tuple[NotePair, ...] = ()
    place: Place | None = None

    def after(self, moved: Moved, place: Place | None = None) -> Item:
        """The item after one more move."""
        stays = moved.named is self.named
        return Item(
            moved.named,
            self.is_fixed or place is not None,
            place.grip.strings if place else self.strings,
            self.options,
            (*self.moves, moved.move),
            (*self.words, moved.words),
            in_turn(self.changed, moved.changed) if self.moves else moved.changed,
            place or (self.place if stays else None),
        )

    def found(self, bench: Bench) -> Found:
        """The grips it has, those on its own string set first, then best first."""
        sounding = self.named.sounding
        if self.is_fixed:
            found = find_at(sounding, bench.instrument, bench.hand)
        else:
            found = find_in_key(sounding.voicing, sounding.root, bench.instrument, bench.hand)
        places = sorted(found.places, key=lambda place: place.grip.strings != self.strings)
        return Found(tuple(places), found.refusal)


Action: TypeAlias = Callable[[Item], Iterable[Item]]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a chain came to.

    Attributes:
        items: the voicings.
        left_out: items that could not make a move, and why.
    """

    items: tuple[Item, ...]
    left_out: tuple[tuple[Item, DrillsError], ...] = field(default=())


def start_of(given: Given) -> Item:
    """A typed voicing as the first item of a chain."""
    frets = given.written.frets or ()
    strings = tuple(string for string, fret in enumerate(frets) if fret is not None)
    return Item(given.named, given.written.is_fixed, strings)


def run_chain(item: Item, typed: Sequence[Typed], bench: Bench) -> Outcome:
    """Makes the moves from left to right.

    Raises:
        DrillsError: a move is not understood, or no item can make it.
    """
    actions = list(_actions(typed, bench))
    _check_size(typed)
    items, left_out = [item], list[tuple[Item, DrillsError]]()
    for option, action in actions:
        reached: list[Item] = []
        missed: list[tuple[Item, DrillsError]] = []
        for each in items:
            try:
                reached += action(replace(each, options=(*each.options, option)))
            except DrillsError as fault:
                missed.append((each, DrillsError(fault.what, where=fault.where or option, mend=fault.mend)))
            if len(reached) > MOST_ITEMS:
                raise _too_many(option)
        if not reached:
            raise missed[0][1]
        items = reached
        left_out += missed
    return Outcome(tuple(items), tuple(left_out))


def _check_size(typed: Sequence[Typed]) -> None:
    """Refuses a chain whose keys and steps alone make too many voicings, before any is made."""
    count = 1
    for option, value in typed:
        if option == "through" or (option == "to" and _is_all(value)):
            count *= _FEWEST_THROUGH if option == "through" else len(FOURTHS)
        if count > MOST_ITEMS:
            raise _too_many(f"--{option}")


def _too_many(option: str) -> DrillsError:
    what = f"this makes more than {MOST_ITEMS:,} voicings"
    return DrillsError(what, where=option, mend="chain fewer moves")


def _is_all(target: str) -> bool:
    return target.strip().lower() == "all"


def _actions(typed: Sequence[Typed], bench: Bench) -> Iterator[tuple[str, Action]]:
    """Every move with the option that asks for it; two swaps side by side, of both layers, are one move."""
    if all(option == "scale" for option, _ in typed):
        raise _no_move(typed)
    scales = [value for option, value in typed if option == "scale"]
    named_so_far = 0
    rest = list(typed)
    while rest:
        option, value = rest.pop(0)
        if option == "scale":
            named_so_far += 1
        elif option in ("steps", "through"):
            scale = _scale_for(option, scales[max(0, named_so_far - 1) :])
            yield f"--{option}", _stepping(value, scale, bench)
        elif option == "swap" and rest and rest[0][0] == "swap" and _are_both_layers(value, rest[0][1]):
            yield "--swap", _swapping_both(value, rest.pop(0)[1], bench)
        else:
            yield f"--{option}", _MOVES[option](value, bench)


def _no_move(typed: Sequence[Typed]) -> DrillsError:
    if typed:
        mend = "add --steps 1, say, or --through for every step"
        return DrillsError("a scale alone moves nothing", where="--scale", mend=mend)
    mend = "add one, such as --to Eb or --mend; `drills move --help` shows them all"
    return DrillsError("no move is asked for", mend=mend)


def _scale_for(option: str, scales: Sequence[str]) -> str:
    """The scale a step goes through: the one named last before it, else the next one."""
    if not scales:
        mend = "add --scale 'F major', say"
        raise DrillsError("steps go through a scale", where=f"--{option}", mend=mend)
    return scales[0]


def _stepping(steps: int | None, scale_text: str, bench: Bench) -> Action:
    """One step, or all of them where no number is given."""
    tonic, scale = read_scale(scale_text, where="--scale")

    def action(item: Item) -> Iterator[Item]:
        is_settled = bench.root_is_given or item.moves
        named = item.named if is_settled else rooted_in(item.named, tonic, scale)
        moves = (
            through(named, tonic, scale, root_stays=bench.root_stays)
            if steps is None
            else (step(named, tonic, scale, steps, root_stays=bench.root_stays),)
        )
        return map(item.after, moves)

    return action


def _transposing(target: str, bench: Bench) -> Action:
    """To one root, or to all of them by fourths."""
    wanted = None if _is_all(target) else read_note_name(target.strip(), where="--to")

    def action(item: Item) -> Iterator[Item]:
        named = item.named
        by_fourths = roots_by_fourths(named.reading.symbol.quality, named.root.pitch_class)
        for root in (named.root, *by_fourths[1:]) if wanted is None else (wanted,):
            yield item.after(transpose(named, root, _lowest_midi_over(root, item, bench)))

    return action


def _lowest_midi_over(root: NoteName, item: Item, bench: Bench) -> int:
    """Where a voicing stands over another root: near where it was written, else at the lowest place."""
    sounding = item.named.sounding
    if root.pitch_class == item.named.root.pitch_class:
        return sounding.lowest_midi
    if item.is_fixed:
        return nearest_over(sounding, root, bench.instrument, bench.hand).lowest_midi
    return sounding.voicing.lowest_at_or_above(root, bench.floor_midi).lowest_midi


def _mending(_: object, bench: Bench) -> Action:
    del bench
    return lambda item: [item.after(mend(item.named))]


def _reducing(_: object, bench: Bench) -> Action:
    del bench
    return lambda item: map(item.after, reduce(item.named))


def _spreading(text: str, bench: Bench) -> Action:
    del bench
    role, spacing = _assigned(text, "--spread", "lower=open")
    return lambda item: [item.after(spread(item.named, role, spacing, where="--spread"))]


def _turning(text: str, bench: Bench) -> Action:
    role, inversion = _assigned(text, "--turn", "lower=first")
    floor_midi = bench.floor_midi
    return lambda item: [item.after(turn(item.named, role, inversion, floor_midi=floor_midi, where="--turn"))]


def _doubling(text: str, bench: Bench) -> Action:
    del bench
    wanted = read_degree(text.strip(), where="--double")
    return lambda item: [item.after(double(item.named, wanted, where="--double"))]


def _swapping(text: str, bench: Bench) -> Action:
    role, words = _assigned(text, "--swap", _SWAP_EXAMPLE)
    wanted = read_layer_pattern(words, where="--swap")
    setup = Setup(bench.instrument, bench.hand)

    def action(item: Item) -> Iterator[Item]:
        floor_midi = _floor_midi(item, bench)
        moves = swap(item.named, role, wanted, setup=setup, floor_midi=floor_midi, where="--swap")
        return map(item.after, moves)

    return action


def _swapping_both(first: str, second: str, bench: Bench) -> Action:
    by_role = dict(_assigned(text, "--swap", _SWAP_EXAMPLE) for text in (first, second))
    lower, upper = (read_layer_pattern(by_role[role], where="--swap") for role in ("lower", "upper"))
    setup = Setup(bench.instrument, bench.hand)

    def action(item: Item) -> Iterator[Item]:
        floor_midi = _floor_midi(item, bench)
        moves = swap_both(item.named, lower, upper, setup=setup, floor_midi=floor_midi, where="--swap")
        return map(item.after, moves)

    return action


_SWAP_EXAMPLE = "upper='close triad'"


def _are_both_layers(first: str, second: str) -> bool:
    return {text.partition("=")[0].strip().lower() for text in (first, second)} == {"lower", "upper"}


def _floor_midi(item: Item, bench: Bench) -> int:
    """The lowest string, where the octave was written; other voicings may go to another octave."""
    return min(bench.floor_midi, item.named.sounding.lowest_midi) if item.is_fixed else 0


def _assigned(text: str, where: str, example: str) -> tuple[str, str]:
    """A layer and what it shall be, out of "lower=open"."""
    role, sign, value = text.partition("=")
    if not (sign and value.strip()):
        raise DrillsError(
            f"{text!r} does not say which layer becomes what", where=where, mend=f"write {example}"
        )
    check_role(role, where=where)
    return role.strip().lower(), value.strip()


def _crossing(_: object, bench: Bench) -> Action:
    def action(item: Item) -> Iterator[Item]:
        sounding, strings = item.named.sounding, item.strings
        if len(strings) != len(sounding.midi):
            found = item.found(bench)
            if found.refusal is not None:
                what = f"{item.named.chord_plain} cannot be held: {found.refusal.why}"
                raise DrillsError(what, mend="reduce it first, or turn or close a layer")
            sounding, strings = found.places[0].sounding, found.places[0].grip.strings
        places = cross(sounding, strings, bench.instrument, bench.hand)
        if not places:
            what = f"{item.named.chord_plain} can be held on no other strings"
            raise DrillsError(what, mend="reduce it first, so that there are strings to cross to")
        for place in places:
            yield item.after(_crossed(place, bench.instrument), place)

    return action


def _crossed(place: Place, instrument: Instrument) -> Moved:
    numbers = [str(instrument.tuning.string_number(string)) for string in place.grip.strings]
    words = f"on strings {' '.join(numbers)}"
    return Moved(named_sounding(place.sounding), words, (), f"the same notes {words}")


_MOVES: dict[str, Callable[[Any, Bench], Action]] = {
    "to": _transposing,
    "mend": _mending,
    "swap": _swapping,
    "reduce": _reducing,
    "spread": _spreading,
    "turn": _turning,
    "double": _doubling,
    "cross": _crossing,
}
