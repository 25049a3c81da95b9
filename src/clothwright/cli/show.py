"""clothwright show: what is in a workbook."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out, table
from clothwright.workroom.pieces.overview import overview, piece_said


def show(workbook: Path, piece: str = "") -> None:
    """Show what a workbook holds, or every edge and named point of one piece.

    What was noticed about its folder, such as a file that was damaged and set aside, is said first.
    A placing rule that names what is not there is refused first, with all others of its like.

    Parameters
    ----------
    workbook
        The workbook's folder.
    piece
        The name of a piece; its edges, lengths, allowances, levels, darts and points are listed.
    """
    opened = open_book(workbook)
    for notice in opened.notices():
        out.print(f"{notice.said}\n  `{notice.lies}`")
    book = opened.look().book
    if piece:
        one = piece_said(book, piece)
        head = ("edge", "role", "sewn length", "allowance", "notches", "starts at")
        rows = [(e.name, e.role, e.length, e.allowance, e.notches, e.corner) for e in one.edges]
        table(head, rows, piece)
        for label, names in (("levels", one.levels), ("darts", one.darts)):
            out.print(f"{label}: {names or 'none'}")
        out.print("points: " + ", ".join(one.points))
        return
    found = overview(book)
    out.print(f"{found.title} ({found.unit})")
    table(("piece", "cut", "edges"), found.pieces)
    table(("cloth", "material", "width", "length"), found.cloths)
    table(("plan", "what for"), found.plans)
