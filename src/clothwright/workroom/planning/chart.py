"""How much cloth to buy, for every plan, width of cloth and nap: each laid, kept, written."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import ClassVar

from clothwright.errors import BadInput
from clothwright.lay.spreading import spread
from clothwright.outputs.guide_md import guide_md
from clothwright.outputs.table_csv import table_csv
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.yardage import (
    FORMAT,
    NOT_LAID,
    NOT_YET,
    Cell,
    CellTask,
    ChartSheet,
    cloth_of,
    lay_cell,
    notes_of,
    shared,
    task_of,
)
from clothwright.store.beside.kept import read_kept, sound, write_kept
from clothwright.store.beside.places import yardage_file
from clothwright.store.book.lock import held
from clothwright.store.disk import write_whole
from clothwright.words import AtLeast, AtMost
from clothwright.workbook import Workbook, replay

WIDTHS_MM = (900.0, 1150.0, 1400.0, 1500.0)
WIDTHS_IN_MM = tuple(w * 25.4 for w in (36, 45, 54, 60))
"""Usual widths of cloth (common practice), for workbooks in centimetres and in inches."""
MOST_KEPT = 5000
"""Entries kept in a workbook; the oldest go first."""
LATE_S = 60.0
"""Seconds a worker may be late with a lay before it is given up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """The entries as they are kept, each by the fingerprint of its task."""

    FORMAT: ClassVar[str] = FORMAT
    cells: Mapping[str, Cell] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """The entries in the order of the tasks. stopped: Ctrl-C came before all of them were laid."""

    cells: tuple[Cell, ...]
    stopped: bool = False


# --- what to lay --------------------------------------------------------------------------------


def tasks_of(
    book: Workbook,
    *,
    widths: Sequence[float] = (),
    plans: Sequence[str] = (),
    naps: Sequence[bool] = (False, True),
    material: str = "shell",
    seconds: float = 5.0,
    seed: int = 0,
    rounds: int | None = None,
) -> tuple[CellTask, ...]:
    """Return every lay of the chart, by plan, nap and width. Raises BadInput.

    widths: of the cloth as bought, mm; usual ones when none are given. A plan that cannot be laid
    on such a cloth is a task without a problem, and its entry says why.
    """
    widths = widths or (WIDTHS_MM if book.unit.is_metric else WIDTHS_IN_MM)
    for width in widths:
        if not 100.0 <= width <= 5000.0:
            raise BadInput(
                where="--widths",
                what=(width, " is no width of cloth"),
                expected=(AtLeast(100.0), " to ", AtMost(5000.0)),
                try_='--widths "115 cm, 150 cm"'
                if book.unit.is_metric
                else '--widths "45 in, 60 in"',
            )
    pattern = replay(book).pattern
    return tuple(
        task_of(
            CellTask(
                cell=Cell(plan=plan.name, width=width, nap=nap),
                problem=None,
                end_margin=0.0,
                shrink_along=0.0,
                seconds=seconds,
                seed=seed,
                rounds=rounds,
                unit=book.unit,
            ),
            pattern,
            book.cloths,
            plan,
            replace(
                cloth_of(book.cloths, material, plan),
                width=width,
                nap=nap,
                length=None,
                outline=None,
                flaws=(),
            ),
            gap=book.settings.gap,
        )
        for plan, nap, width in itertools.product(
            dict.fromkeys(_chosen(book, plans)), dict.fromkeys(naps), dict.fromkeys(widths)
        )
    )


def _chosen(book: Workbook, plans: Sequence[str]) -> list[Plan]:
    return [book.plan(n) for n in plans] or list(book.plans) or [book.plan()]


# --- laying -------------------------------------------------------------------------------------


def chart(
    tasks: Sequence[CellTask],
    folder: FilePath | None = None,
    *,
    workers: int = 1,
    scheduler: str = "",
    resume: bool = True,
    told: Callable[[Cell], None] | None = None,
) -> Chart:
    """Fill every entry; finished ones are kept in the workbook's folder as they come.

    resume: entries kept earlier are not laid again. workers: 0 lays in this process. An entry whose
    worker died each time says so, and is not kept. Raises BadInput.
    """
    keys = [t.key for t in tasks]
    kept = _kept(folder) if resume else {}
    cells = {
        k: replace(t.cell, need=kept[key].need, why=kept[key].why)
        for k, (t, key) in enumerate(zip(tasks, keys, strict=True))
        if key in kept
    }
    cells |= {k: t.cell for k, t in enumerate(tasks) if t.problem is None}
    todo = [k for k in range(len(tasks)) if k not in cells]

    def done(n: int, cell: Cell) -> None:
        cells[todo[n]] = cell
        if folder is not None:
            _keep(folder, keys[todo[n]], cell)
        if told is not None:
            told(cell)

    def failed(n: int, why: str) -> None:
        cells[todo[n]] = replace(tasks[todo[n]].cell, why=f"{NOT_LAID}: {why}")
        if told is not None:
            told(cells[todo[n]])

    whole = spread(
        [tasks[k] for k in todo],
        lay_cell,
        workers=workers,
        scheduler=scheduler,
        done=done,
        failed=failed,
        patience=max((t.seconds for t in tasks), default=0.0) + LATE_S,
    )
    found = [cells.get(k, replace(t.cell, why=NOT_YET)) for k, t in enumerate(tasks)]
    return Chart(cells=shared(tasks, found), stopped=not whole)


def _kept(folder: FilePath | None) -> dict[str, Cell]:
    kept = None if folder is None else sound(read_kept(yardage_file(folder), Cells))
    return dict(kept.cells) if kept else {}


def _keep(folder: FilePath, key: str, cell: Cell) -> None:
    """Add an entry to the file, as it stands there now: another chart may be at work on it."""
    with held(folder):
        kept = {**_kept(folder), key: cell}
        last = dict(list(kept.items())[-MOST_KEPT:])
        write_kept(yardage_file(folder), Cells(cells=last))


# --- to be read ---------------------------------------------------------------------------------


def chart_sheet(
    book: Workbook,
    made: Chart,
    *,
    material: str = "shell",
    plans: Sequence[str] = (),
    step: float | None = None,
) -> ChartSheet:
    """Return a chart of a material and these plans (all without names) to be read.

    step: what lengths are rounded up to, mm; None for what shops cut. Raises BadInput.
    """
    return ChartSheet(
        title=book.title,
        material=material,
        unit=book.unit,
        cells=made.cells,
        notes=notes_of(book.cloths, _chosen(book, plans), material),
        step=step,
    )


def write_chart(file: FilePath, sheet: ChartSheet) -> None:
    """Write a chart: as a page for a name ending in .md, else as a table of text (.csv).

    Raises OSError.
    """
    page = file.suffix.lower() == ".md"
    data = guide_md(sheet.document)[0].content if page else table_csv(sheet.table)
    write_whole(file, data)
