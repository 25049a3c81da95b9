"""clothwright choose: from wishes to the plans worth weighing."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import err, listed, open_book, out, seconds_ok, table, write_json
from clothwright.errors import BadInput
from clothwright.workroom.cloth.pictures import photos_in
from clothwright.workroom.planning.choosing import choose as weigh
from clothwright.workroom.planning.choosing import parse_wish, wishes_of
from clothwright.workroom.planning.facts import choice_table
from clothwright.workroom.searching.cores import all_cores
from clothwright.workroom.sewing.guiding import write_choices


def choose(
    workbook: Path,
    *,
    wish: tuple[str, ...] = (),
    seconds: float = 60.0,
    workers: int = 0,
    seed: int = 0,
    every: bool = False,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
) -> None:
    """Make every plan that a few wishes allow, lay them all, and show those worth weighing.

    Without --wish, what the workbook's own plans ask of the border are the wishes. Plans beaten in
    every respect (wishes granted, fit, length, match) are left out.

    Parameters
    ----------
    workbook
        The workbook's folder.
    wish
        "skirt hem = skirt front.hem, skirt back.hem on BORDER above 1 cm"; several times.
    seconds
        For all plans together.
    workers
        How many plans to lay at a time; without it as many as there are cores.
    seed
        A number that makes the search repeatable.
    every
        Show the beaten plans too.
    out_
        Folder for a page with pictures of the lays.
    json
        Write one entry a plan as JSON to this file ("-" for standard output).
    """
    book = open_book(workbook).look().book
    wishes = tuple(parse_wish(w, book) for w in wish) or wishes_of(book)
    if not wishes:
        raise BadInput(
            where="choose",
            what="there is nothing to wish for",
            expected='--wish "NAME = PIECE.EDGE, ...", or plans with edges on a border',
        )

    found = weigh(
        book,
        wishes,
        seconds=seconds_ok(seconds),
        workers=workers or all_cores(),
        seed=seed,
        told=lambda c: err.print(
            f"{c.laid.plan.name}: {c.laid.fit_words(book.unit)}", markup=False
        ),
    )
    shown = [c for c in found if every or not c.beaten_by]
    if json:
        data = [
            {**c.laid.report, "wishes": list(c.wishes), "beaten_by": c.beaten_by} for c in found
        ]
        write_json({"format": "clothwright-choices/1", "plans": data}, json)
    if json != "-":
        grid = choice_table(book, [c.laid for c in shown])
        table(grid.head, grid.rows, book.title)
        for c in found:
            if c.beaten_by:
                out.print(f"Left out: {c.laid.plan.name} (beaten by {c.beaten_by})", markup=False)
    if out_ is not None:
        listed(write_choices(book, [c.laid for c in shown], out_, photos_in(workbook)))
