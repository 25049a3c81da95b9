"""What a workbook holds in rows of words, and one piece of it."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.drawing.piece import cut_words
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workbook import Workbook, replay
from clothwright.workroom.pieces.table import PieceView, piece_view
from clothwright.workroom.planning.rule_mistakes import refuse_wrong_rules

Rows = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    """What a workbook holds. unit: the one she thinks in, which lengths are shown in.

    pieces: name, how to cut it, its edges. cloths: name, material, width, length. plans: name and
    what it is for.
    """

    title: str
    unit: str
    pieces: Rows
    cloths: Rows
    plans: Rows


def overview(book: Workbook) -> Overview:
    """Return what a workbook holds, its pieces as changed. Raises BadInput, Mistakes: its rules."""
    pattern = replay(book).pattern
    refuse_wrong_rules(book, pattern)
    return Overview(
        title=book.title,
        unit=book.unit.plural,
        pieces=tuple(
            (p.name, "; ".join(map(cut_words, p.cuts)), ", ".join(e.name for e in p.edges))
            for p in pattern.pieces
        ),
        cloths=tuple(
            (c.name, c.material, show_length(c.width, book.unit), _length(c.length, book.unit))
            for c in book.cloths
        ),
        plans=tuple((p.name, p.why) for p in book.plans),
    )


def _length(mm: float | None, unit: Unit) -> str:
    return "to buy" if mm is None else show_length(mm, unit)


def piece_said(book: Workbook, name: str) -> PieceView:
    """Return what a piece has, as changed. Raises BadInput, Mistakes: its name, wrong rules."""
    pattern = replay(book).pattern
    refuse_wrong_rules(book, pattern)
    return piece_view(pattern, name, book.unit)
