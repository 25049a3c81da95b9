"""clothwright chart: how much cloth to buy, for every plan, width and nap."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from clothwright.cli.saying import err, lines, open_book, out, seconds_ok, table, write_json
from clothwright.errors import BadInput
from clothwright.units import Unit, parse_length
from clothwright.words import step_of
from clothwright.workroom.planning.chart import chart as make
from clothwright.workroom.planning.chart import chart_sheet, tasks_of, write_chart
from clothwright.workroom.searching.cores import all_cores

STOPPED = 130


def chart(
    workbook: Path,
    *,
    widths: str = "",
    plan: tuple[str, ...] = (),
    nap: Literal["both", "with", "without"] = "both",
    material: str = "shell",
    step: str = "",
    seconds: float = 5.0,
    workers: int | None = None,
    scheduler: str = "",
    seed: int = 0,
    resume: bool = True,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
) -> int:
    """Make the yardage chart: what to buy of a material for each plan, width and nap.

    Every entry is a lay of its own. Finished entries are kept; an interrupted chart goes on where
    it stopped, and Ctrl-C shows what there is.

    Parameters
    ----------
    workbook
        The workbook's folder.
    widths
        Widths of cloth with commas: "90 cm, 115 cm, 140 cm, 150 cm"; without any, the usual ones.
    plan
        Only these plans (may be given several times); without any, all.
    nap
        with, without, or both.
    material
        The material to buy.
    step
        Round up to this: "10 cm", "1/4 yd"; without it to 5 cm or 1/8 yd.
    seconds
        How long to search for each entry.
    workers
        Processes on this machine, one core each; without it one for every core.
    scheduler
        Address of a running scheduler of several machines (extra "cluster"; trusted network only).
    seed
        A number that makes the search repeatable.
    resume
        Take finished entries from the workbook; --no-resume lays every one again.
    out_
        A file for the chart, ending in .csv or .md.
    json
        Write the entries as JSON to this file ("-" for standard output).
    """
    book = open_book(workbook).look().book
    unit = book.unit
    steps = step_of(unit, parse_length(step, unit=unit, where="--step") if step else None)
    workers = all_cores() if workers is None else workers
    _check(workers, out_)
    tasks = tasks_of(
        book,
        widths=_lengths(widths, unit),
        plans=plan,
        naps={"both": (False, True), "with": (True,), "without": (False,)}[nap],
        material=material,
        seconds=seconds_ok(seconds),
        seed=seed,
    )
    count = itertools.count(1)
    made = make(
        tasks,
        workbook,
        workers=workers,
        scheduler=scheduler,
        resume=resume,
        told=lambda cell: err.print(f"[{next(count)}] {cell.words(unit)}"),
    )
    sheet = chart_sheet(book, made, material=material, plans=plan, step=steps)
    if json:
        write_json(sheet.data, json)
    if json != "-":
        grid = sheet.table
        table(grid.head, grid.rows, f"{book.title}: {grid.caption} ({material})")
        lines(sheet.said)
    if out_ is not None:
        write_chart(out_, sheet)
        (err if json == "-" else out).print(f"Wrote {out_}")
    if made.stopped:
        err.print(f"Stopped. Finished entries are kept in {workbook}.")
        return STOPPED
    return 0


def _check(workers: int, file: Path | None) -> None:
    if workers < 1:
        raise BadInput(where="--workers", what=f"{workers} is no number of workers", try_="2")
    if file is not None and file.suffix.lower() not in (".csv", ".md"):
        raise BadInput(
            where="--out", what=f'"{file}" is no chart', expected="a file ending in .csv or .md"
        )


def _lengths(text: str, unit: Unit) -> list[float]:
    return [parse_length(w, unit=unit, where="--widths") for w in text.split(",") if w.strip()]
