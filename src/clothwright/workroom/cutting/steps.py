"""The laying list: each piece in the order it is laid down, where it lies in her unit."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.lay.order import laying_list
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workroom.searching.laying import Laid

NO_LINE_MM = 1.0
"""A grain line shorter than this is none: the middle of the piece is measured instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidStep:
    """One piece to lay down.

    tail, head: where the ends of its grain line come to lie, from the cut end and from the lower
    selvedge, in words; both the middle of the piece where it has no grain line (`lined` is False).
    """

    number: int
    shape: str
    piece: str
    copy: int
    cloth: str
    turned_over: bool
    lined: bool
    tail: tuple[str, str]
    head: tuple[str, str]

    @property
    def words(self) -> str:
        """Where it lies, in sentences."""
        over = "Turned over. " if self.turned_over else ""
        tail, head = (f"{along} along, {up} up" for along, up in (self.tail, self.head))
        where = f"Grain line from {tail}, to {head}." if self.lined else f"Its middle at {tail}."
        return over + where


def laid_steps(laid: Laid, unit: Unit) -> tuple[LaidStep, ...]:
    """Return the pieces of a lay in laying order, cloth by cloth, lengths in `unit`."""
    return tuple(
        LaidStep(
            number=s.number,
            shape=s.shape,
            piece=s.piece,
            copy=s.copy,
            cloth=s.cloth,
            turned_over=s.turned_over,
            lined=(s.head - s.tail).norm >= NO_LINE_MM,
            tail=(show_length(s.tail.x, unit), show_length(s.tail.y, unit)),
            head=(show_length(s.head.x, unit), show_length(s.head.y, unit)),
        )
        for s in laying_list(laid.compiled, laid.lay)
    )
