"""Typed measurements as a kind of file: plain text, read exactly by its own words."""

from __future__ import annotations

from clothwright.errors import BadInput
from clothwright.geometry.path import join_all
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing, DrawnLine, Reader
from clothwright.intake.typed.lines import text_of
from clothwright.intake.typed.pieces import (
    allowance_asked,
    check_silent,
    piece_of,
    proposed,
)
from clothwright.intake.typed.reader import read_typed, says_unit
from clothwright.intake.typed.sheet import Typed
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.words import with_lengths

SUFFIXES = (".txt",)


def typed_in(data: bytes, name: str, unit: Unit) -> Typed:
    """Return what a file of notes holds, slips and all. Raises BadInput when it is no text."""
    return read_typed(text_of(data, name), unit)


def typed_pieces(
    data: bytes, name: str, answers: Answers, unit: Unit
) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """Return the pieces of a file of notes, and notes in words: what was compared, what taken.

    Raises BadInput or Mistakes: every line that cannot be read, every diagonal that misses.
    """
    typed = typed_in(data, name, unit)
    typed.raise_slips(name)
    pieces, notes = [], []
    for k, one in enumerate(typed.pieces, start=1):
        check_silent(one, answers)
        asked = allowance_asked(one, answers)
        if asked:
            raise BadInput(
                where=f"{name}, {one.name}",
                what=asked.words,
                expected=with_lengths(
                    'a line such as "allowance 5/8 in included" or "allowance not included", '
                    'or --allowance "5/8 in", or --allowance none'
                ),
            )
        called = answers.name and (f"{answers.name} {k}" if len(typed.pieces) > 1 else answers.name)
        pieces.append(piece_of(one, answers, unit, name=called))
        words = [f"checked: {c.words}" for c in one.checks] or ["no diagonal was measured to check"]
        words += [*one.took, *(f"{q.words} (--{q.id} for another)" for q in proposed(one, answers))]
        notes += [f'"{pieces[-1].name}": {w}' for w in words]
    return tuple(pieces), tuple(notes)


def read_drawing(data: bytes, name: str) -> Drawing:
    """Return the measured outlines as lines, for what knows drawings only; `typed_pieces` is exact.

    The notes must say their unit themselves. Raises BadInput or Mistakes.
    """
    text = text_of(data, name)
    if not says_unit(text):
        raise BadInput(
            where=name,
            what="it does not say in which unit numbers alone are",
            expected="a line such as: unit cm",
        )
    typed = read_typed(text, Unit.cm)
    typed.raise_slips(name)
    lines = tuple(
        DrawnLine(path=join_all([e.path for e in one.edges]), closed=True, label=one.name)
        for one in typed.pieces
        if one.edges
    )
    return Drawing(name=name, lines=lines, scale_known=True)


READER = Reader(
    id="typed",
    title="Typed measurements",
    suffixes=SUFFIXES,
    read=read_drawing,
)
