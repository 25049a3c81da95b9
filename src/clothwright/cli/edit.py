"""clothwright edit: any one thing of the workbook set, added or taken out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import open_book, out, table
from clothwright.workroom.editing.typing import can_be_typed, edit_typed


def edit(
    workbook: Path,
    edit: str = "",
    *entries: Annotated[str, Parameter(allow_leading_hyphen=True)],
) -> None:
    """Edit any one thing: a cloth, a seam, a plan, a rule, the title, the unit, the notes.

    Each call is one step, which `clothwright undo` takes back. Without an edit, every edit is shown
    with its entries. Where an entry is a table, name what stands in it: `values.width="45 in"`;
    what is a list is said one by one: `values.pieces[]=front values.pieces[]=back`.

    Parameters
    ----------
    workbook
        The workbook's folder.
    edit
        The kind of edit.
    entries
        Its entries as NAME=VALUE.
    """
    if not edit:
        table(("edit", "what it does", "entries"), can_be_typed())
        return
    book = open_book(workbook)
    done = book.edit(edit_typed(edit, entries), base=book.read().revision)
    out.print(done.words)
