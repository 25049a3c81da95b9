"""Lines that go from a point to another: "side from A 38 cm down, curve to B 6 mm out"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from clothwright.intake.typed.lines import LENGTH, Note, found_in
from clothwright.intake.typed.moves import check_whole, ending_with_moves

_I = re.IGNORECASE
_LED = re.compile(r"^(?P<how>straight|curve)(?: line)?(?: from)? (?P<p>[^,]+?) to ", _I)
"""How an edge runs, said first of all: "curve B to C by 3/8 in in at the middle"."""
_BEGINS = re.compile(r"(?:(?P<head>(?!from )[^,:]+?):? )?from ", _I)
_HOW = re.compile(
    r",? (?P<how>straight|curv(?:ed?|ing)|in a straight line) to "
    r"(?!the (?:up|down|left|right|in|out)\b)",
    _I,
)
_TO = re.compile(
    rf"(?P<q>[^,]+?)(?P<rest>,.*| (?:by|through|hollow|full|{LENGTH}).*)?",
    _I,
)


class Course(NamedTuple):
    """A line from p to q. head: what stands before it. moves: how q was measured from p, or ""."""

    head: str
    p: str
    moves: str
    how: str
    q: str
    rest: str


def walk_of(note: Note, known: Iterable[str]) -> Course | None:
    """Return the parts of such a line, None when it is none. known: the points so far.

    Raises BadInput when something among the moves is none.
    """
    text = _LED.sub(r"from \g<p> \g<how> to ", note.text)
    begins = _BEGINS.match(text)
    how = _HOW.search(text, begins.end()) if begins else None
    to = _TO.fullmatch(text, how.end()) if how else None
    if begins is None or how is None or to is None:
        return None
    before = text[begins.end() : how.start()].rstrip(",")
    p, moves = before, ""
    if not found_in(known, before):
        split = ending_with_moves(before, known)
        if split:
            p, moves = split[0], before[split[1].start : split[1].end]
        else:
            check_whole(note, before)
    if not p or "," in p:
        return None
    return Course(begins["head"] or "", p, moves, how["how"], to["q"], to["rest"] or "")
