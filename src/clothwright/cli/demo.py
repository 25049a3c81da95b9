"""clothwright demo: the whole job on pieces of our own."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.progress import watching
from clothwright.cli.saying import out, seconds_ok, table
from clothwright.workroom.cloth.pictures import photos_in
from clothwright.workroom.cutting.lay_files import lay_files
from clothwright.workroom.cutting.printing import printed_pieces, written
from clothwright.workroom.pieces.shelf import demo_anew
from clothwright.workroom.planning.facts import best_in, compare_table
from clothwright.workroom.searching.laying import keep_better, lay_by_many
from clothwright.workroom.sewing.guiding import write_guide
from clothwright.workroom.walking.report import walk_report


def demo(
    name: str = "coat-and-skirt",
    *,
    out_: Annotated[Path, Parameter(name="--out")] = Path("demo-output"),
    seconds: float = 10.0,
    only_workbook: bool = False,
    quiet: bool = False,
) -> None:
    """Make a demo workbook and do the whole job on it: check, lay, compare, print, guide.

    Parameters
    ----------
    name
        Which demo: coat-and-skirt, checked-waistcoat, remnant or three-sizes.
    out_
        Folder for everything; a demo workbook there is made anew.
    seconds
        How long to search for each plan.
    only_workbook
        Make the workbook and stop.
    quiet
        Do not show the search at work.
    """
    began = time.monotonic()
    made, title = demo_anew(out_, name)
    folder, book = made.folder, made.look().book
    out.print(f"1. The workbook: {folder / 'workbook.toml'} ({title}; demo data).")
    if only_workbook:
        return
    found = walk_report(book).lines
    out.print(f"2. The walk: {len(found) or 'no'} findings on the pieces as changed.")
    for line in found[:6]:
        out.print(f"   {line}")
    out.print(f"3. The plans, {seconds:g} s each:")
    laid = []
    for plan in book.plans:
        with watching(f"   {plan.name}", best_in(book.unit), quiet=quiet) as tell:
            one = lay_by_many(book, plan.name, seconds=seconds_ok(seconds), on_better=tell)
        laid.append(keep_better(folder, book, one))
    grid = compare_table(book, laid)
    table(grid.head, grid.rows)
    chosen = next((x for x in laid if x.plan.name == book.plan().name), laid[0])
    written(folder / "lay", lay_files(chosen, book.unit, photos_in(folder)))
    files = [
        *written(folder / "print", printed_pieces(book, paper="A4")),
        *written(folder / "print", printed_pieces(book, kinds=("pages",), paper="Letter")),
        *write_guide(
            book,
            (chosen, *(x for x in laid if x is not chosen)),
            folder / "guide",
            photos_in(folder),
        ),
    ]
    out.print(f"4. Wrote {len(files)} files in {time.monotonic() - began:.0f} s. Look at:")
    for label, file in (
        ("the guide", folder / "guide" / "guide.pdf"),
        ("the lay plan, and the print on the garment", folder / "lay"),
        ("full-size pages", folder / "print" / "pieces-a4.pdf"),
        ("one large sheet", folder / "print" / "pieces-sheet.pdf"),
        ("the workbook, to read and edit", folder / "workbook.toml"),
    ):
        out.print(f"   {label}: {file}")
