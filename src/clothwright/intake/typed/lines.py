"""The typed notes as lines, the lengths and names in them, and what is said of a line not read."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.errors import BadInput, did_you_mean
from clothwright.units import Unit, parse_length
from clothwright.units.amounts import spelled
from clothwright.units.unit import UNIT_OF_WORD
from clothwright.words import show_length, with_lengths

MOST_LETTERS = 100_000
MOST_LINES = 1_500
LONGEST_LINE = 400
LONGEST_NAME = 40
WIDEST_MM = 150.0
"""mm: an allowance wider than this is a slip (our own figure; deep hems are 5 to 10 cm)."""

_NUMBER = r"[+-]?(?:\d+(?:[.,]\d+)?(?:(?: and | |-)\d+ ?/ ?\d+)?(?: ?/ ?\d+)?|[.,]\d+)"
_UNITS = "|".join(
    re.escape(w) + ("" if w in "\"'" else r"\b\.?")
    for w in sorted(UNIT_OF_WORD, key=len, reverse=True)
)
_ONE = rf"{_NUMBER}(?: ?(?:{_UNITS}))?"
LENGTH = rf"(?:{_ONE}(?: {_NUMBER} ?(?:{_UNITS}))*)"
"""Pattern of a length as it stands in a sentence."""
_COMMA = re.compile(r"\s*(?:,(?=\s)|,$|;)\s*")
_NAME = re.compile(r"[^\W\d_][\w '~*()/-]*")
_REMARK = re.compile(r"(?:^|(?<=\s))#(?=\s|$).*|^\s*#.*")
RESERVED = frozenset(
    ("in", "out", "up", "down", "left", "right", "to", "from", "and", "then", "is", "at", "by")
) | {"straight", "curve", "curved", "through", "on", "the", "start", "above", "below"}
"""Words that name nothing, since a line could then be read two ways."""


class Note(NamedTuple):
    """One line of the notes. number: in the text, from 1. text: without remark, spelled plainly.

    said: the line as it is shown, where the text is only a part of what it says.
    """

    number: int
    text: str
    said: str = ""

    @property
    def where(self) -> str:
        """The line as a message names it."""
        text = self.said or self.text
        short = text if len(text) <= 90 else text[:87] + "..."
        return f"line {self.number} ({short})"

    def fault(self, what: str, expected: str = "", try_: str = "") -> BadInput:
        """Return what is wrong with this line, in words."""
        return BadInput(where=self.where, what=what, expected=with_lengths(expected), try_=try_)


class Unknown(BadInput):
    """A name that nothing has been given. kind, name: what was meant, and as which it was said."""

    kind = ""
    name = ""


class LineSlip(NamedTuple):
    """Something that cannot be read or does not agree, and the line it stands in (0: no line)."""

    line: int
    error: BadInput


class TypedLength(NamedTuple):
    """A length that was measured. text: as typed. key: which one it is (line, place in it)."""

    text: str
    mm: float
    key: tuple[int, int]


@dataclass(slots=True)
class LineReading:
    """One line while it is read: its unit, and the points known by now.

    count: number of the length met last; with the line's number it is the key of a measure.
    """

    note: Note
    unit: Unit
    known: Mapping[str, object]
    count: int = 0

    def point(self, name: str) -> str:
        """Return a point known by now. Raises BadInput."""
        return known_name(self.note, self.known, name)

    def measure(self, text: str) -> TypedLength:
        """Return the next measured length of the line. Raises BadInput."""
        mm = length_in(self.note, text, self.unit, least=0.0)
        self.count += 1
        return TypedLength(text, mm, (self.note.number, self.count))


Lengths = Callable[[TypedLength], float]
"""What a measure counts as: what was typed, or something else while a slip is looked for."""


def as_typed(measure: TypedLength) -> float:
    """Return a measure as it was typed, mm."""
    return measure.mm


def text_of(data: bytes, name: str) -> str:
    """Return a file's text. Raises BadInput when it is none, or far too long."""
    if b"\0" in data and data[:2] not in (b"\xff\xfe", b"\xfe\xff"):
        raise BadInput(
            where=name, what="it is not plain text", expected="measurements typed line by line"
        )
    try:
        text = data.decode("utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    if len(text) > MOST_LETTERS or text.count("\n") > MOST_LINES:
        raise BadInput(
            where=name,
            what="it is too long for a piece's measurements",
            expected=f"at most {MOST_LINES} lines",
        )
    return text


def notes_of(text: str) -> Iterator[Note]:
    """Yield the lines that say something. A line ending with a comma goes on in the next one."""
    held, number = "", 0
    for n, line in enumerate(text.splitlines(), start=1):
        odd = "".join(c if c.isprintable() or c == "\t" else " " for c in line)
        bare = spelled(_REMARK.sub("", odd[: 4 * LONGEST_LINE]))
        if not bare:
            continue
        number = number if held else n
        held = f"{held} {bare}" if held else bare
        if held.endswith(",") and len(held) < LONGEST_LINE:
            continue
        yield Note(number, held.rstrip(",;. "))
        held = ""
    if held:
        yield Note(number, held.rstrip(",;. "))


def clauses(text: str) -> list[str]:
    """Return the parts of a line between its commas; the comma in a number is none."""
    return [c for c in (part.strip() for part in _COMMA.split(text)) if c]


def folded(name: str) -> str:
    """Return a name as it is looked up: small letters, single spaces."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


def found_in(known: Iterable[str], name: str) -> str:
    """Return the known name that is meant, "" when there is none. "The" before it is nothing."""
    plain = folded(name.strip().strip('"'))
    names = {folded(k): k for k in known}
    return names.get(plain) or names.get(plain.removeprefix("the ").removeprefix("point "), "")


def known_name(note: Note, known: Mapping[str, object], name: str, kind: str = "point") -> str:
    """Return the name of something said before. Raises Unknown with the nearest one."""
    found = found_in(known, name)
    if found:
        return found
    shown = ", ".join(list(known)[:12]) or f"a {kind} said before"
    error = Unknown(
        where=note.where,
        what=f'no {kind} is called "{name.strip()[:40]}" here or above.{did_you_mean(name, known)}',
        expected=f"one of {shown}",
    )
    error.kind, error.name = kind, name
    raise error


def new_name(note: Note, name: str, known: Iterable[str], kind: str) -> str:
    """Return a name that is given here. Raises BadInput when it cannot be one or is taken."""
    tidy = " ".join(name.strip().strip("\"':").split())
    if not _NAME.fullmatch(tidy) or len(tidy) > LONGEST_NAME:
        raise note.fault(
            f'"{tidy[:40]}" cannot be the name of a {kind}' if tidy else f"the {kind} has no name",
            "a letter, or a few plain words such as side hem",
            tidy.replace("#", "") if _NAME.fullmatch(tidy.replace("#", "")) else "",
        )
    if folded(tidy) in RESERVED:
        raise note.fault(f'"{tidy}" is a word of these notes, and cannot name a {kind}')
    if found_in(known, tidy):
        raise note.fault(f'a {kind} "{tidy}" has been given already', f"another {kind}'s name")
    return tidy


def length_in(note: Note, text: str, unit: Unit, *, least: float | None = None) -> float:
    """Return a length in mm. Raises BadInput that names the line."""
    try:
        return parse_length(text, unit=unit, least_mm=least)
    except BadInput as error:
        raise error.at(note.where) from None


def width_in(note: Note, text: str, unit: Unit) -> float:
    """Return the width of an allowance in mm. Raises BadInput when no seam or hem is so wide."""
    mm = length_in(note, text, unit, least=0.0)
    if mm > WIDEST_MM:
        raise note.fault(
            f"an allowance of {show_length(mm, unit)} is wider than any seam or hem",
            f"at most {show_length(WIDEST_MM, unit)}",
            "another unit, or a facing or deep hem as part of the piece",
        )
    return mm


def not_inches(note: Note, amount: str) -> None:
    """Refuse "4 in" where both inches and inwards may be meant. Raises BadInput."""
    if re.fullmatch(_NUMBER, amount):
        raise note.fault(
            f'"{amount} in" may be {amount} inches, or {amount} of another unit inwards',
            "a unit and a way",
            f'"{amount} in inwards" or "{amount} cm in"',
        )


def closest_word(text: str, words: Iterable[str], names: Iterable[str] = ()) -> str:
    """Return a question with the word that a strange word may have been; or ""."""
    known = {folded(w) for w in words}
    own = {part for n in names for part in folded(n).split()} | set(UNIT_OF_WORD)
    for word in re.findall(r"[^\W\d_]{3,}", text):
        if folded(word) not in known | own:
            hint = did_you_mean(word, known)
            if hint:
                return f' "{word}" is not a word of these notes.{hint}'
    return ""
