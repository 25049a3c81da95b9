"""clothwright show: what is in a workbook."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import opened, out, table
from clothwright.drawing.piece import cut_words
from clothwright.pattern.measure import net_length
from clothwright.words import show_length
from clothwright.workbook import replay
from clothwright.workroom.planning.rule_mistakes import refuse_wrong_rules


def show(workbook: Path, piece: str = "") -> None:
    """Show what a workbook holds, or every edge and named point of one piece.

    A placing rule that names what is not there is refused first, with all others of its like.

    Parameters
    ----------
    workbook
        The workbook's folder.
    piece
        The name of a piece; its edges, lengths, allowances, levels, darts and points are listed.
    """
    book = opened(workbook)
    pattern = replay(book).pattern
    refuse_wrong_rules(book, pattern)
    unit = book.unit
    if piece:
        one = pattern.piece(piece)
        rows = [
            (
                e.name,
                e.role.value,
                show_length(net_length(one, e.name), unit),
                show_length(e.allowance, unit),
                ", ".join(n.name or n.kind.value for n in e.notches),
                e.corner,
            )
            for e in one.edges
        ]
        table(("edge", "role", "sewn length", "allowance", "notches", "starts at"), rows, piece)
        out.print("levels: " + (", ".join(lv.name for lv in one.levels) or "none"))
        out.print("darts: " + (", ".join(d.name for d in one.darts) or "none"))
        out.print("points: " + ", ".join(one.points()))
        return
    out.print(f"{book.title} ({unit.plural})")
    table(
        ("piece", "cut", "edges"),
        [
            (p.name, "; ".join(cut_words(c) for c in p.cuts), ", ".join(e.name for e in p.edges))
            for p in pattern.pieces
        ],
    )
    table(
        ("cloth", "material", "width", "length"),
        [
            (
                c.name,
                c.material,
                show_length(c.width, unit),
                "to buy" if c.length is None else show_length(c.length, unit),
            )
            for c in book.cloths
        ],
    )
    table(("plan", "what for"), [(p.name, p.why) for p in book.plans])
