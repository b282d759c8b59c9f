"""A deck as the page sees it once it is unpacked: the form of drills/page/deck.js, written out plainly."""

from __future__ import annotations

from typing import Any

from drills.cards import pads
from drills.cards.card import Card, Deck, Face, PictureSpec, notes_line
from drills.cards.identity import short_id
from drills.cards.task import ChoiceTask, DegreePart, DegreesTask, NeckTask, NotesTask, PartsTask, Task
from drills.theory.chord import FOURTHS
from drills.theory.tables import INVERSIONS


def decoded(deck: Deck) -> dict[str, Any]:
    """The whole deck."""
    quizzes = [card.quiz for card in deck.cards]
    voicings = list(dict.fromkeys(quiz.voicing for quiz in quizzes if quiz))
    return {
        "id": deck.id,
        "title": deck.title,
        "about": list(deck.about),
        "freshPerDay": deck.fresh_per_day,
        "targetRecall": deck.target_recall,
        "instrument": {
            "names": list(deck.neck.string_names),
            "midi": list(deck.neck.open_midi),
            "frets": deck.neck.highest_fret,
            "isLeftHanded": deck.neck.is_left_handed,
        },
        "plainNames": [name.shown for name in pads.PLAIN_NAMES],
        "fourths": list(FOURTHS),
        "keyNames": [name.shown for name in pads.KEY_NAMES],
        "drills": list(dict.fromkeys(card.drill for card in deck.cards)),
        "pads": {
            "notes": [[{"text": n.shown, "pitchClass": n.pitch_class} for n in row] for row in pads.NOTES],
            "degrees": [
                {"semitones": place, "texts": [each.shown for each in row]}
                for place, row in enumerate(pads.DEGREES)
            ],
            "qualities": list(pads.QUALITY_TEXTS),
            "tensions": list(pads.TENSION_TEXTS),
            "structures": list(pads.STRUCTURES),
            "structureGroups": [
                {"text": family, "structures": list(places)} for family, places in pads.STRUCTURE_FAMILIES
            ],
            "inversions": list(INVERSIONS),
        },
        "voicings": [{"title": each.title, "detail": each.detail} for each in voicings],
        "cards": [_card(card, voicings) for card in deck.cards],
    }


def _card(card: Card, voicings: list[Any]) -> dict[str, Any]:
    quiz = card.quiz
    assert quiz is not None
    return {
        "id": short_id(card.identity),
        "drill": card.drill,
        "key": {"text": card.key, "pitchClass": quiz.key_class},
        "voicing": voicings.index(quiz.voicing),
        "isLayer": quiz.is_layer,
        "front": _face(card.front),
        "back": _face(card.back),
        "task": None if quiz.task is None else _task(quiz.task),
        "sound": {"midi": list(quiz.sound.midi), "rootMidi": quiz.sound.root_midi},
        "names": {"notes": list(quiz.names.notes), "degrees": list(quiz.names.degrees)},
    }


def _face(face: Face) -> dict[str, Any]:
    notes = [[{"name": note.name, "midi": note.midi} for note in layer] for layer in face.notes]
    told = notes_line(face.notes) if face.notes else None
    return {
        "head": face.head,
        "headNote": face.head_note,
        "ask": face.ask,
        "layers": [{"role": layer.role, "text": layer.text} for layer in face.layers],
        "lines": [{"notes": notes} if line == told else line for line in face.lines],
        "picture": None if face.picture is None else _picture(face.picture),
    }


def _picture(picture: PictureSpec) -> dict[str, Any]:
    return {
        "first": picture.first_fret,
        "last": picture.last_fret,
        "muted": list(picture.muted),
        "markers": [
            {
                "string": marker.string,
                "fret": marker.fret,
                "layer": marker.layer,
                "text": marker.text,
                "isRoot": marker.is_root,
                "isAsked": marker.is_asked,
                "isDoubled": marker.is_doubled,
            }
            for marker in picture.markers
        ],
    }


def _task(task: Task) -> dict[str, Any]:
    match task:
        case NeckTask():
            return {
                "kind": "neck",
                "by": task.by,
                "accepts": [list(frets) for frets in task.accepts],
                "strings": list(task.strings),
                "start": None if task.start is None else list(task.start),
                "fixed": list(task.fixed),
            }
        case PartsTask():
            return {
                "kind": "parts",
                "rootSaid": task.root_said,
                "readings": [
                    {
                        "root": each.root,
                        "text": each.text,
                        "quality": each.quality,
                        "needs": list(each.needs),
                        "allows": list(each.allows),
                    }
                    for each in task.readings
                ],
                "layers": [
                    {
                        "role": each.role,
                        "root": each.root,
                        "otherRoots": list(each.other_roots),
                        "structure": each.structure,
                        "inversion": each.inversion,
                        "text": each.text,
                    }
                    for each in task.layers
                ],
                "degrees": [_degree(each) for each in task.degrees],
            }
        case NotesTask():
            return {"kind": "notes", "midi": list(task.midi), "names": list(task.names)}
        case DegreesTask():
            return {"kind": "degrees", "asked": [_degree(each) for each in task.asked]}
        case ChoiceTask():
            return {"kind": "choice", "options": list(task.options), "right": task.right}


def _degree(part: DegreePart) -> dict[str, Any]:
    return {"name": part.name, "semitones": part.semitones, "text": part.text}
