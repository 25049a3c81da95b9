"""Typed measurements as a kind of file: plain text, read exactly by its own words."""

from __future__ import annotations

from clothwright.errors import BadInput
from clothwright.geometry.path import join_all
from clothwright.intake.drawing import Drawing, DrawnLine, Reader
from clothwright.intake.typed.lines import text_of
from clothwright.intake.typed.reader import read_typed, says_unit
from clothwright.intake.typed.sheet import Typed
from clothwright.units import Unit

SUFFIXES = (".txt",)


def typed_in(data: bytes, name: str, unit: Unit) -> Typed:
    """Return what a file of notes holds, slips and all. Raises BadInput when it is no text."""
    return read_typed(text_of(data, name), unit)


def read_drawing(data: bytes, name: str) -> Drawing:
    """Return the measured outlines as lines, for what knows drawings only; `typed_in` is exact.

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
