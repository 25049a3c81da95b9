"""The yardage chart: how much cloth to buy, for every plan, width and nap."""

from __future__ import annotations

import hashlib
import itertools
import json
import math
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path as FilePath

from clothwright.cloth.cloth import to_buy
from clothwright.cloth.plan import Plan
from clothwright.errors import BadInput
from clothwright.picture.document import Table
from clothwright.units import Unit, show_length
from clothwright.workbook import Workbook, replay
from clothwright.workroom.laying import lay_plan, write_whole
from clothwright.workroom.spreading import spread

WIDTHS_MM = (900.0, 1150.0, 1400.0, 1500.0)
CHART_FILE = "chart.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One entry: what to buy (mm, before washing), or why there is nothing to say."""

    plan: str
    width: float
    nap: bool
    need: float | None
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One lay of the chart. Everything a worker needs travels with it."""

    book: Workbook
    plan: Plan
    width: float
    nap: bool
    material: str
    seconds: float
    seed: int

    @property
    def key(self) -> str:
        """Return a fingerprint: a kept cell counts only for the very same task."""
        said = repr(
            (
                replay(self.book).pattern,
                self.book.cloths,
                self.plan,
                self.width,
                self.nap,
                self.material,
                self.seconds,
                self.seed,
                self.book.settings.gap,
            )
        )
        return hashlib.sha256(said.encode()).hexdigest()[:20]


def tasks_of(
    book: Workbook,
    *,
    widths: Sequence[float] = WIDTHS_MM,
    plans: Sequence[str] = (),
    naps: Sequence[bool] = (False, True),
    material: str = "shell",
    seconds: float = 5.0,
    seed: int = 0,
) -> tuple[Task, ...]:
    """Return every lay of the chart. Raises BadInput."""
    if not any(c.material == material for c in book.cloths):
        known = ", ".join(sorted({c.material for c in book.cloths}))
        raise BadInput(
            where="--material",
            what=f'no cloth is of the material "{material}"',
            expected=f"one of {known}" if known else "a workbook with a cloth",
        )
    for width in widths:
        if not 100.0 <= width <= 5000.0:
            raise BadInput(
                where="--widths",
                what=f"{width:g} mm is no width of cloth",
                expected="10 cm to 5 m",
            )
    chosen = [book.plan(n) for n in plans] or list(book.plans) or [book.plan()]
    return tuple(
        Task(book=book, plan=p, width=w, nap=n, material=material, seconds=seconds, seed=seed)
        for p, w, n in itertools.product(chosen, widths, naps)
    )


def lay_cell(task: Task) -> Cell:
    """Lay one cell: the workbook's cloth of the material, as wide as asked, of open length."""
    kept = next(c for c in task.book.cloths if c.material == task.material)
    cloth = replace(kept, width=task.width, length=None, outline=None, flaws=(), nap=task.nap)
    book = replace(task.book, cloths=(cloth,), plans=(task.plan,), chosen_plan="")
    base = Cell(plan=task.plan.name, width=task.width, nap=task.nap, need=None)
    try:
        laid = lay_plan(book, task.plan.name, seconds=task.seconds, seed=task.seed)
    except BadInput as error:
        return replace(base, why=str(error))
    if laid.lay.unplaced:
        return replace(base, why="; ".join(dict.fromkeys(laid.lay.unplaced.values())))
    if laid.faults:
        return replace(base, why="the judge found fault: " + laid.faults[0].code)
    return replace(base, need=to_buy(laid.lay.used[cloth.name], cloth.shrink_along))


def chart(
    tasks: Sequence[Task],
    folder: FilePath | None = None,
    *,
    workers: int = 1,
    scheduler: str = "",
    told: Callable[[Cell], None] | None = None,
) -> tuple[Cell, ...]:
    """Return a cell for every task, in order; finished cells are kept in the workbook's folder.

    A chart that was interrupted goes on where it stopped. Raises BadInput, CannotDo.
    """
    keys = [t.key for t in tasks]
    kept = _kept(folder)
    cells: dict[int, Cell] = {k: kept[key] for k, key in enumerate(keys) if key in kept}
    todo = [k for k in range(len(tasks)) if k not in cells]

    def done(n: int, cell: Cell) -> None:
        k = todo[n]
        cells[k] = cell
        kept[keys[k]] = cell
        if folder is not None:
            data = {key: asdict(c) for key, c in kept.items()}
            write_whole(folder / CHART_FILE, json.dumps(data, indent=1).encode())
        if told is not None:
            told(cell)

    spread([tasks[k] for k in todo], lay_cell, workers=workers, scheduler=scheduler, done=done)
    return tuple(cells[k] for k in range(len(tasks)))


def _kept(folder: FilePath | None) -> dict[str, Cell]:
    if folder is None:
        return {}
    try:
        data = json.loads((folder / CHART_FILE).read_text(encoding="utf-8"))
        return {key: Cell(**value) for key, value in data.items()}
    except (OSError, ValueError, TypeError):
        return {}


def bought_length(need: float, unit: Unit) -> float:
    """Return a need rounded up to what shops cut: 1/8 yd, or 5 cm.

    >>> bought_length(1000.0, Unit.cm), round(bought_length(1000.0, Unit.inch) / 914.4, 3)
    (1000.0, 1.125)
    """
    step = 50.0 if unit.is_metric else 914.4 / 8
    return math.ceil(need / step - 1e-6) * step


def chart_table(cells: Sequence[Cell], unit: Unit) -> Table:
    """Return the chart: a row for every plan and nap, a column for every width."""
    widths = list(dict.fromkeys(c.width for c in cells))
    shown = Unit.m if unit.is_metric else Unit.yard
    rows = []
    for plan, nap in dict.fromkeys((c.plan, c.nap) for c in cells):
        row = [plan, "with nap" if nap else "without nap"]
        for width in widths:
            cell = next(c for c in cells if (c.plan, c.nap, c.width) == (plan, nap, width))
            row.append(
                show_length(bought_length(cell.need, unit), shown)
                if cell.need is not None
                else "does not go"
            )
        rows.append(tuple(row))
    head = ("plan", "", *(show_length(w, unit) for w in widths))
    return Table(
        head=head,
        rows=tuple(rows),
        caption="Cloth to buy",
        figures=tuple(range(2, 2 + len(widths))),
    )
