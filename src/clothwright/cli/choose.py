"""clothwright choose: from wishes to the plans worth weighing."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import (
    err,
    open_book,
    out,
    pictures_written,
    seconds_ok,
    table,
    write_json,
)
from clothwright.errors import BadInput
from clothwright.workroom.cloth.pictures import lost_words, photos_in
from clothwright.workroom.planning.choosing import choose as weigh
from clothwright.workroom.planning.facts import choice_table, choice_words
from clothwright.workroom.planning.wishing import ShownWish, shown, wished, wishes_of
from clothwright.workroom.searching.cores import all_cores
from clothwright.workroom.sewing.guiding import write_choices


def choose(
    workbook: Path,
    *,
    wish: tuple[str, ...] = (),
    wishes: bool = False,
    seconds: float = 60.0,
    workers: int = 0,
    seed: int = 0,
    every: bool = False,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
) -> None:
    """Make the plans that a few wishes allow, lay them all, and show those worth weighing.

    What can be wished for is found from the pieces and the print: `--wishes` lists it. Without
    --wish, what is usual is wished for. Plans beaten in every respect (wishes, fit, length, how the
    print meets) are left out, and it is said by which.

    Parameters
    ----------
    workbook
        The workbook's folder.
    wish
        Its name as `--wishes` lists it, what matters most first; several times. Or edges for a
        border: "skirt hem = skirt front.hem, skirt back.hem on BORDER above 1 cm".
    wishes
        Only list what can be wished for.
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
    if wishes:
        _list(shown(wishes_of(book), book), book.title)
        return
    mine = wished(book, wish)
    if not mine:
        raise BadInput(
            where="choose",
            what="there is nothing to wish for",
            expected="a cloth with a print on it, and pieces that are cut from it",
        )
    found = weigh(
        book,
        mine,
        seconds=seconds_ok(seconds),
        workers=workers or all_cores(),
        seed=seed,
        told=lambda one: err.print(f"{one.plan.name}: {one.fit_words(book.unit)}"),
    )
    best = [c for c in found if every or not c.beaten_by]
    if json:
        data = [{**c.laid.report, "wishes": c.shares, "beaten_by": c.beaten_by} for c in found]
        write_json({"format": "clothwright-choices/2", "plans": data}, json)
    if json != "-":
        _say(f"Wished for, what matters most first: {'; '.join(w.name for w in mine)}.")
        grid = choice_table(book, best)
        table(grid.head, grid.rows, book.title)
        for c in found:
            words = choice_words(c, found[0], mine, book.unit)
            _say(f"{'' if c in best else 'Left out: '}“{c.name}”. {words}")
    if out_ is not None:
        apart = {c.name: choice_words(c, found[0], mine, book.unit) for c in best}
        laid = [c.laid for c in best]
        photos, grid = photos_in(workbook), choice_table(book, best)
        files = write_choices(book, laid, out_, photos, table=grid, apart=apart)
        if json != "-":
            pictures_written(files, lost_words(book, workbook))


def _list(wishes: Sequence[ShownWish], title: str) -> None:
    """Print what can be wished for: its name, whether it is usual, what it means."""
    rows = [
        (w.name, "usual" if w.usual else "", " ".join((w.words, w.why)).strip()) for w in wishes
    ]
    table(("wish", "", "what it means"), rows, title)


def _say(words: str) -> None:
    out.print(words)
