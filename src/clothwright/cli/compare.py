"""clothwright compare: the plans side by side on the cloth there is."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.progress import watching
from clothwright.cli.saying import open_book, out, pictures_written, seconds_ok, table, write_json
from clothwright.workroom.cloth.pictures import lost_words, photos_in
from clothwright.workroom.planning.facts import best_in, compare_table
from clothwright.workroom.searching.laying import keep_better, lay_by_many
from clothwright.workroom.sewing.guiding import write_choices


def compare(
    workbook: Path,
    *plans: str,
    seconds: float = 10.0,
    seed: int = 0,
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    quiet: bool = False,
) -> None:
    """Lay several plans on the same cloth and show them side by side.

    Parameters
    ----------
    workbook
        The workbook's folder.
    plans
        Names of plans; without any, every plan of the workbook.
    seconds
        How long to search for each plan.
    seed
        A number that makes the search repeatable.
    json
        Write one entry a plan as JSON to this file ("-" for standard output).
    out_
        Folder for the plans side by side, each with its lay and the print on the garment drawn
        small (text with pictures, and PDF).
    quiet
        Do not show the search at work.
    """
    book = open_book(workbook).look().book
    laid = []
    for name in plans or tuple(p.name for p in book.plans) or ("",):
        with watching(name or "free", best_in(book.unit), quiet=quiet) as tell:
            one = lay_by_many(book, name, seconds=seconds_ok(seconds), seed=seed, on_better=tell)
        laid.append(keep_better(workbook, book, one))
    if json:
        write_json({"format": "clothwright-compare/1", "plans": [x.report for x in laid]}, json)
    if json != "-":
        grid = compare_table(book, laid)
        table(grid.head, grid.rows, book.title)
    if out_ is not None:
        files = write_choices(
            book, laid, out_, photos_in(workbook), table=compare_table(book, laid)
        )
        if json != "-":
            out.print(f"Wrote {len(files)} files:")
            pictures_written(files, lost_words(book, workbook))
