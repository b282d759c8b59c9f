"""A MusicXML file as a tree of what is read from it, which is what begins when.

Conventions: what is drawn or said beside that (beams, lyrics, fingerings, the degrees of a symbol) is passed
over as it is met: nothing odd there stops the reading, and a file takes memory for its notes alone. Lines
count from 1. No entity is declared, so that a small file cannot swell and no other file is opened.
Source: MusicXML 4.0, score-partwise, and the data types of the elements kept (W3C Music Notation Community
Group, 2021), from memory; XML 1.0 (W3C), what is well-formed.
"""

from __future__ import annotations

from typing import Final
from xml.etree.ElementTree import Element, TreeBuilder
from xml.parsers import expat

from drills.errors import DrillsError
from drills.pack.score.unreadable import too_much, unreadable

_ROOT: Final = "score-partwise"
_KEPT: Final = frozenset(
    (
        f"{_ROOT} part measure attributes divisions time beats beat-type senza-misura staves transpose "
        "diatonic chromatic octave-change double note chord grace cue rest unpitched pitch step alter octave "
        "duration tie voice type dot staff time-modification actual-notes normal-notes normal-type "
        "normal-dot backup forward harmony root root-step root-alter kind offset"
    ).split()
)
_DEEPEST: Final = 6
"""As a step lies in a pitch, a note, a measure, a part and the score."""
_MOST_PASSED_OVER: Final = 99
"""How deep what is passed over may lie; a file of nothing but beginnings would fill the memory."""
_IN_TIME: Final = frozenset(("note", "harmony", "backup", "forward", "attributes"))

_INTEGERS: Final = {
    "octave": (0, 9),
    "diatonic": (-99, 99),
    "chromatic": (-99, 99),
    "octave-change": (-9, 9),
    "staves": (1, 99),
    "actual-notes": (1, 9999),
    "normal-notes": (1, 9999),
}
_DECIMALS: Final = {
    "divisions": (0.001, 1e6),
    "duration": (0.0, 1e9),
    "offset": (-1e9, 1e9),
    "alter": (-3.0, 3.0),
    "root-alter": (-3.0, 3.0),
}
_WORDS: Final = {
    "step": frozenset("ABCDEFG"),
    "root-step": frozenset("ABCDEFG"),
    "beat-type": frozenset("1 2 4 8 16 32 64 128".split()),
    "type": frozenset(
        "1024th 512th 256th 128th 64th 32nd 16th eighth quarter half whole breve long maxima".split()
    ),
}

_LONGEST_TEXT: Final = 40

_TOO_EARLY: Final = "it ends too early"
_UTF_8: Final = "save it in UTF-8, or export it again"
_BROKEN: Final = {
    expat.errors.XML_ERROR_NO_ELEMENTS: _TOO_EARLY,
    expat.errors.XML_ERROR_UNCLOSED_TOKEN: _TOO_EARLY,
    expat.errors.XML_ERROR_PARTIAL_CHAR: _TOO_EARLY,
    expat.errors.XML_ERROR_UNCLOSED_CDATA_SECTION: _TOO_EARLY,
    expat.errors.XML_ERROR_TAG_MISMATCH: "an element is closed that is not the last one opened",
    expat.errors.XML_ERROR_UNDEFINED_ENTITY: "it names an entity (&…;) that XML does not know",
    expat.errors.XML_ERROR_UNKNOWN_ENCODING: "it is written in an encoding that is not known here",
}


def tree(data: bytes, most_measures: int, most_notes: int) -> Element:
    """The score, its parts listed and numbered anew, and of its symbols those that have a root.

    Raises:
        DrillsError: it is no XML or no score by parts, a value in it cannot be, or it holds more than that.
    """
    score = _built(data, {"measure": most_measures, "note": most_notes})
    listed = Element("part-list")
    for number, part in enumerate(score.findall("part"), start=1):
        part.set("id", f"P{number}")
        listed.append(Element("score-part", {"id": f"P{number}"}))
    score.insert(0, listed)
    for measure in score.iter("measure"):
        for symbol in measure.findall("harmony"):
            if symbol.find("root/root-step") is None or symbol.findtext("kind") == "none":
                measure.remove(symbol)  # a numeral, or the sign for no chord
    return score


def _built(data: bytes, most: dict[str, int]) -> Element:
    made = _Tree(most)
    try:
        made.parser.Parse(data, True)
    except expat.ExpatError as fault:
        raise _broken(fault, is_begun=made.is_begun) from None
    except (LookupError, ValueError):  # what Python says of an encoding that it cannot lend to expat
        raise unreadable("MusicXML", _BROKEN[expat.errors.XML_ERROR_UNKNOWN_ENCODING], mend=_UTF_8) from None
    return made.builder.close()


class _Tree:
    """Builds the tree as expat meets its elements."""

    def __init__(self, most: dict[str, int]) -> None:
        self.builder = TreeBuilder()
        self.parser = expat.ParserCreate()
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self.parser.EntityDeclHandler = self._entity
        self.is_begun = False
        self._most, self._met = most, dict.fromkeys(most, 0)
        self._depth = self._passed_over = 0
        self._measure = self._held = ""

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        if not self.is_begun:
            self._check_root(tag)
        if self._passed_over or tag not in _KEPT or self._depth == _DEEPEST:
            self._passed_over += 1
            if self._passed_over > _MOST_PASSED_OVER:
                raise unreadable("MusicXML", "its elements lie too deep", where=self._where())
            return
        if tag == "measure":
            self._measure = attributes.get("number", "")[:12]
        self._count(tag)
        self._depth += 1
        self._held = ""
        self.builder.start(tag, attributes)

    def _end(self, tag: str) -> None:
        if self._passed_over:
            self._passed_over -= 1
            return
        text = self._held.strip()
        if not _may_be(tag, text):
            raise unreadable("MusicXML", f"its <{tag}> is {text[:20]!r}", where=self._where())
        self._depth -= 1
        self.builder.data(text)
        self.builder.end(tag)
        self._held = ""

    def _text(self, text: str) -> None:
        if not self._passed_over:
            self._held = (self._held + text).lstrip()[:_LONGEST_TEXT]

    def _entity(self, *_: object) -> None:
        mend = "export it again without entities of its own"
        raise unreadable("MusicXML", "it declares an entity", where=self._where(), mend=mend)

    def _check_root(self, tag: str) -> None:
        self.is_begun = True
        if tag == "score-timewise":
            mend = "export it as a score by parts (score-partwise)"
            raise unreadable("MusicXML", "it is a score by measures (score-timewise)", mend=mend)
        if tag != _ROOT:
            raise unreadable("MusicXML", f"it is XML, but no score: it begins with <{tag[:20]}>")

    def _count(self, tag: str) -> None:
        """Counts what takes time to read."""
        kind = "note" if tag in _IN_TIME else tag
        if kind in self._met:
            self._met[kind] += 1
            if self._met[kind] > self._most[kind]:
                raise too_much(f"more than {self._most[kind]:,} {kind}s")

    def _where(self) -> str:
        line = f"line {self.parser.CurrentLineNumber}"
        return f"measure {self._measure}, {line}" if self._measure else line


def _may_be(tag: str, text: str) -> bool:
    """Whether an element may hold that text."""
    if tag in _WORDS:
        return text in _WORDS[tag]
    if tag == "beats":
        return all(each.strip().isdecimal() and int(each) > 0 for each in text[:20].split("+"))
    number, ends = (int, _INTEGERS.get(tag)) if tag in _INTEGERS else (float, _DECIMALS.get(tag))
    if ends is None:
        return True
    try:
        return ends[0] <= number(text) <= ends[1]
    except ValueError:
        return False


def _broken(fault: expat.ExpatError, *, is_begun: bool) -> DrillsError:
    """What is wrong with a text that is not well-formed."""
    if not is_begun and fault.code != expat.errors.codes[expat.errors.XML_ERROR_UNKNOWN_ENCODING]:
        mend = "check that its name ends as its kind asks, and export it again"
        return unreadable("MusicXML", "it is no XML", mend=mend)
    words = _BROKEN.get(expat.errors.messages[fault.code], "a character that may not stand there")
    return unreadable("MusicXML", words, where=f"line {fault.lineno}")
