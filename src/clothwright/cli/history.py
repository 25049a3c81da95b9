"""clothwright history: the steps that undo and redo go along."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from clothwright.cli.saying import open_book, out, table, write_json


def history(workbook: Path, *, last: int = 20, json: bool = False) -> None:
    """Show what was done to the workbook, step by step, and where you are in it.

    Steps marked "undone" come back with `clothwright redo`. The last 500 steps are kept.

    Parameters
    ----------
    workbook
        The workbook's folder.
    last
        How many steps to show; 0 for all.
    json
        Write the steps as JSON to standard output.
    """
    book = open_book(workbook)
    shown = book.steps()
    if json:
        rows = [
            {"number": s.number, "at": s.at, "words": s.words, "kind": s.kind, "undone": s.undone}
            for s in shown
        ]
        write_json({"format": "clothwright-history/1", "steps": rows}, "-")
        return
    if not shown:
        book.look()
        out.print("Nothing was done yet that could be taken back.")
        return
    here = sum(not s.undone for s in shown) - 1
    lines = [
        (
            ">" if k == here else "undone" if s.undone else "",
            datetime.fromisoformat(s.at).astimezone().strftime("%Y-%m-%d %H:%M") if s.at else "",
            s.words,
        )
        for k, s in enumerate(shown)
    ]
    table(("", "when", "what"), lines[-last:] if last > 0 else lines)
