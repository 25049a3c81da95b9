"""clothwright chart: how much cloth to buy, for every plan, width and nap."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from clothwright.cli.saying import err, opened, out, seconds_ok, table, write_json
from clothwright.errors import BadInput
from clothwright.outputs.table_csv import table_csv
from clothwright.units import parse_length, show_length
from clothwright.workroom.chart import WIDTHS_MM, Cell, chart_table, tasks_of
from clothwright.workroom.chart import chart as make
from clothwright.workroom.laying import write_whole


def chart(
    workbook: Path,
    *,
    widths: str = "",
    plan: tuple[str, ...] = (),
    nap: Literal["both", "with", "without"] = "both",
    material: str = "shell",
    seconds: float = 5.0,
    workers: int = 1,
    scheduler: str = "",
    seed: int = 0,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
) -> None:
    """Make the yardage chart: what to buy of a material, for plans, widths, with and without nap.

    Every entry is a lay of its own. Finished entries are kept; an interrupted chart goes on where
    it stopped.

    Parameters
    ----------
    workbook
        The workbook's folder.
    widths
        Widths of cloth with commas: "90 cm, 115 cm, 140 cm, 150 cm".
    plan
        Only these plans (may be given several times); without any, all.
    nap
        with, without, or both.
    material
        The material to buy.
    seconds
        How long to search for each entry.
    workers
        Processes on this machine, one core each.
    scheduler
        Address of a running scheduler of several machines (extra "cluster"; trusted network only).
    seed
        A number that makes the search repeatable.
    out_
        A file for the chart, ending in .csv.
    json
        Write the entries as JSON to this file ("-" for standard output).
    """
    book = opened(workbook)
    wide = [
        parse_length(w, unit=book.unit, where="--widths") for w in widths.split(",") if w.strip()
    ]
    if out_ is not None and out_.suffix.lower() != ".csv":
        raise BadInput(
            where="--out", what=f'"{out_}" is no chart', expected="a file ending in .csv"
        )
    tasks = tasks_of(
        book,
        widths=wide or WIDTHS_MM,
        plans=plan,
        naps={"both": (False, True), "with": (True,), "without": (False,)}[nap],
        material=material,
        seconds=seconds_ok(seconds),
        seed=seed,
    )

    def told(cell: Cell) -> None:
        words = cell.why if cell.need is None else show_length(cell.need, book.unit)
        nap_words = "with nap" if cell.nap else "without nap"
        label = f"{cell.plan}, {show_length(cell.width, book.unit)}, {nap_words}"
        err.print(f"{label}: {words}", markup=False)

    cells = make(tasks, workbook, workers=workers, scheduler=scheduler, told=told)
    grid = chart_table(cells, book.unit)
    if json:
        write_json({"format": "clothwright-chart/1", "cells": [asdict(c) for c in cells]}, json)
    if json != "-":
        table(grid.head, grid.rows, book.title)
    if out_ is not None:
        write_whole(out_, table_csv(grid))
        out.print(f"Wrote {out_}", markup=False)
