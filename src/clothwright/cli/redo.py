"""clothwright redo: do again what undo took back."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out


def redo(workbook: Path, *, steps: int = 1) -> int:
    """Do again what undo took back, until something new is done.

    Leaves with 1 when there is nothing to do again.

    Parameters
    ----------
    workbook
        The workbook's folder.
    steps
        How many steps to do again.
    """
    book = open_book(workbook)
    for n in range(steps):
        done = book.redo()
        if not done.step:
            out.print("Nothing to do again." if n == 0 else "That was the last step.")
            return 1
        out.print(f"Done again: {done.step}")
    return 0
