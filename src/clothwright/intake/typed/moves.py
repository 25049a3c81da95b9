"""Moves: "38 cm down, 4,5 cm right", taken one after the other, so that none is lost."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from clothwright.intake.typed.lines import LENGTH, Note, found_in

WAYS: Mapping[str, tuple[str, ...]] = {
    "up": ("up", "upwards", "upward", "higher"),
    "down": ("down", "downwards", "downward", "lower"),
    "left": ("left", "leftwards"),
    "right": ("right", "rightwards"),
    "in": ("in", "inwards", "inward"),
    "out": ("out", "outwards", "outward"),
}
_WAY_OF = {w: k for k, words in WAYS.items() for w in words}
_I = re.IGNORECASE
_WAY = (
    r"(?:(?:straight |square )?(?:to the |towards the )?(?:" + "|".join(sorted(_WAY_OF)) + r")\b)"
)
_ENDS = r"(?=$|[ ,])"
_MOVE = re.compile(
    rf"(?:(?P<a>{LENGTH}) (?P<way>{_WAY})|(?P<way2>{_WAY}) (?P<b>{LENGTH})){_ENDS}", _I
)
_THEN = re.compile(r",? (?:and then |and |then )?", _I)
_WORD = re.compile(r"(?:^| )(?=\S)")


class Move(NamedTuple):
    """One length and the way it was measured. inch: "in" alone stood after it, maybe inches."""

    amount: str
    way: str
    inch: bool


class MoveRow(NamedTuple):
    """Moves that stand one after the other in a text, from its letter start to its letter end."""

    moves: tuple[Move, ...]
    start: int
    end: int


def run_at(text: str, start: int = 0) -> MoveRow:
    """Return the moves from a letter of a text on; a run without moves when there are none.

    Each is as long as it can be and is taken once for all, so that the work grows only with the
    length of the text.
    """
    moves: list[Move] = []
    at = end = start
    while m := _MOVE.match(text, at):
        way = (m["way"] or m["way2"]).split()[-1].lower()
        moves.append(Move(m["a"] or m["b"], _WAY_OF[way], way == "in" and bool(m["way"])))
        end = m.end()
        then = _THEN.match(text, end)
        if then is None:
            break
        at = then.end()
    return MoveRow(tuple(moves), start, end)


def only_moves(text: str) -> MoveRow | None:
    """Return the moves a text is made of; None when there is anything else in it."""
    run = run_at(text)
    return run if run.moves and run.end == len(text) else None


def ending_with_moves(text: str, known: Iterable[str] = ()) -> tuple[str, MoveRow] | None:
    """Split "A 38 cm down, 4 cm in" into what stands before its moves, and these.

    A known name before them goes before all else. None when the text does not end with moves, or
    when something else stands among them.
    """
    found: tuple[str, MoveRow] | None = None
    for m in _WORD.finditer(text):
        run = run_at(text, m.end()) if m.end() else None
        if run is None or not run.moves:
            continue
        split = (text[: m.start()].rstrip(","), run)
        if run.end == len(text) and found_in(known, split[0]):
            return split
        found = found or split
    return found if found and found[1].end == len(text) else None


def check_whole(note: Note, text: str) -> None:
    """Refuse a text in which moves stand and something after them that is none. Raises BadInput."""
    for m in _WORD.finditer(text):
        run = run_at(text, m.end())
        rest = text[run.end :].strip(" ,")
        if run.moves and rest:
            raise note.fault(
                f'"{rest[:40]}" after "{text[run.start : run.end][:60]}" is no further move',
                "a length and a way for each move, a comma between two",
                "38 cm down, 4,5 cm right",
            )
        if run.moves:
            return


def moves_before_from(text: str) -> tuple[MoveRow, str] | None:
    """Split "38 cm down and 4 cm in from A" into its moves and "A"; None when it is not that."""
    run = run_at(text)
    m = re.compile(r" (?:from|of) (.+)", _I).fullmatch(text, run.end) if run.moves else None
    return (run, m[1]) if m else None
