"""clothwright undo: take back the last step."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out


def undo(workbook: Path, *, steps: int = 1) -> int:
    """Take back the last step, also one of days ago.

    Every command that writes into the workbook makes a step, and so does an edit of its files by
    hand. Pieces, comments and wording come back to the letter; kept lays and ticks are left alone.
    Leaves with 1 when there is nothing to take back.

    Parameters
    ----------
    workbook
        The workbook's folder.
    steps
        How many steps to take back.
    """
    book = open_book(workbook)
    for n in range(steps):
        done = book.undo()
        if not done.step:
            out.print("Nothing to take back." if n == 0 else "That was the first step.")
            return 1
        out.print(f"Taken back: {done.step}")
    out.print("Do it again with: clothwright redo")
    return 0
