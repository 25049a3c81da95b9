"""clothwright guide: the record and instructions of this outfit."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.progress import watching
from clothwright.cli.saying import open_book, out, pictures_written, seconds_ok
from clothwright.workroom.cloth.pictures import lost_words, photos_in
from clothwright.workroom.cutting.documents import paper_of
from clothwright.workroom.planning.facts import best_in
from clothwright.workroom.searching.laying import keep_better, lay_by_many, recall
from clothwright.workroom.sewing.guiding import write_guide


def guide(
    workbook: Path,
    *,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    plan: str = "",
    seconds: float = 10.0,
    paper: str = "",
    wearer: bool = False,
    quiet: bool = False,
) -> None:
    """Write the guide: what was changed and found, what to buy and cut, how to lay it.

    Plans that were laid before are taken as they were kept; the one to cut by is laid now if need
    be.

    Parameters
    ----------
    workbook
        The workbook's folder.
    out_
        Folder for the guide; without it, "guide" inside the workbook.
    plan
        The plan to cut by; without it the chosen one.
    seconds
        How long to search, if the plan has not been laid yet.
    paper
        Paper of the PDF.
    wearer
        With the wearer's measurements, size and ease, which are left out otherwise.
    quiet
        Do not show the search at work.
    """
    opened = open_book(workbook)
    book = opened.look().book
    paper_of(book, paper)  # refused at once, not after the search
    main = recall(workbook, book, plan)
    if main is None:
        with watching("lay", best_in(book.unit), quiet=quiet) as tell:
            main = lay_by_many(book, plan, seconds=seconds_ok(seconds), on_better=tell)
        main = keep_better(workbook, book, main)
    rest = [p.name for p in book.plans if p.name != main.plan.name]
    laid = (main, *(kept for name in rest if (kept := recall(workbook, book, name)) is not None))
    files = write_guide(
        book,
        laid,
        out_ or workbook / "guide",
        photos_in(workbook),
        paper=paper,
        wearer=wearer,
        days=opened.days(),
    )
    out.print(f"Wrote {len(files)} files:")
    pictures_written(files, lost_words(book, workbook))
