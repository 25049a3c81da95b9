"""The yardage chart: how much cloth to buy, for every plan, width of cloth and nap.

Every entry is one lay on cloth of open length: the workbook's own cloth of the material (margins,
print, shrinkage) at another width. A remnant's outline, flaws and pins belong to the cloth in hand
and do not count. What to buy is the length used and the margin at the cut end, before washing.
"""

from __future__ import annotations

import hashlib
import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import ClassVar

from clothwright import __version__
from clothwright.cloth.cloth import Cloth, after_washing, to_buy
from clothwright.errors import BadInput
from clothwright.lay.judge import judge
from clothwright.lay.model import names_of
from clothwright.lay.problem import LayProblem
from clothwright.lay.solve import solve
from clothwright.pattern.pattern import Pattern
from clothwright.rules.compile import compile_lay
from clothwright.rules.on_border import OnBorder
from clothwright.rules.pin import Pin
from clothwright.rules.plan import Plan
from clothwright.store.beside.kept import read_kept, sound, write_kept
from clothwright.store.beside.places import yardage_file
from clothwright.units import Unit
from clothwright.words import (
    AtLeast,
    AtMost,
    say,
    told,
)
from clothwright.workbook import Workbook, replay
from clothwright.workroom.searching.spreading import InterruptedWorkError, spread, stop_asked

WIDTHS_MM = (900.0, 1150.0, 1400.0, 1500.0)
WIDTHS_IN_MM = tuple(w * 25.4 for w in (36, 45, 54, 60))
"""Usual widths of cloth (common practice), for workbooks in centimetres and in inches."""
MOST_KEPT = 5000
"""Entries kept in a workbook; the oldest go first."""
LATE_S = 60.0
"""Seconds a worker may be late with a lay before it is given up."""
SIZE = "as changed"
"""The one size a pattern has now."""
NOT_LAID = "not laid"
NOT_YET = "not laid yet"
"""How the reason begins when there was no search, as against a search that found no lay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One entry of the chart.

    width: of the cloth as bought, mm. need: length to buy, mm before washing, or None; `why` then
    says why. like: width and nap of the entry whose lay serves here too, when the search found none
    as short for this one.
    """

    plan: str
    size: str = SIZE
    width: float
    nap: bool
    need: float | None = None
    why: str = ""
    like: tuple[float, bool] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """The entries as they are kept, each by the fingerprint of its task."""

    FORMAT: ClassVar[str] = "clothwright-chart/1"
    cells: Mapping[str, Cell] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One lay of the chart; everything a worker needs travels with it.

    cell: the entry to fill. problem: None when the plan cannot be laid at all (cell.why says why).
    end_margin: mm lost at the cut end. rounds: ends the search by rounds (docs of `solve`).
    unit: the workbook's, for the reasons.
    """

    cell: Cell
    problem: LayProblem | None
    end_margin: float
    shrink_along: float
    seconds: float
    seed: int
    rounds: int | None = None
    unit: Unit = Unit.cm

    @property
    def key(self) -> str:
        """Return a fingerprint: a kept entry counts only for the very same lay and search."""
        said = (self.problem, self.end_margin, self.shrink_along)
        search = (self.seconds, self.seed, self.rounds, __version__)
        return hashlib.sha256(repr((said, search)).encode()).hexdigest()[:20]


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
) -> tuple[Task, ...]:
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
    chosen = [book.plan(n) for n in plans] or list(book.plans) or [book.plan()]
    return tuple(
        _task(
            book,
            pattern,
            plan,
            replace(_open(cloth_of(book, material, plan)), width=width, nap=nap),
            Task(
                cell=Cell(plan=plan.name, width=width, nap=nap),
                problem=None,
                end_margin=0.0,
                shrink_along=0.0,
                seconds=seconds,
                seed=seed,
                rounds=rounds,
                unit=book.unit,
            ),
        )
        for plan, nap, width in itertools.product(
            dict.fromkeys(chosen), dict.fromkeys(naps), dict.fromkeys(widths)
        )
    )


def cloth_of(book: Workbook, material: str, plan: Plan) -> Cloth:
    """Return the cloth of a material the chart is made for. Raises BadInput.

    Of several, the one with a border that the plan asks for; else the first.
    """
    mine = [c for c in book.cloths if c.material == material]
    if not mine:
        known = ", ".join(sorted({c.material for c in book.cloths}))
        raise BadInput(
            where="--material",
            what=f'no cloth is of the material "{material}"',
            expected=f"one of {known}" if known else "a workbook with a cloth",
        )
    asked = {r.border for r in plan.rules if isinstance(r, OnBorder)}
    return next((c for c in mine if any(b.name in asked for b in c.print.borders)), mine[0])


def _open(cloth: Cloth) -> Cloth:
    return replace(cloth, length=None, outline=None, flaws=())


def _task(book: Workbook, pattern: Pattern, plan: Plan, cloth: Cloth, bare: Task) -> Task:
    """Return the task with its lay problem: the shapes that are cut from this cloth, no others."""
    others = tuple(c for c in book.cloths if c.material != cloth.material)
    free = replace(plan, rules=tuple(r for r in plan.rules if not isinstance(r, Pin)))
    try:
        whole = compile_lay(pattern, (cloth, *others), free, gap=book.settings.gap).problem
    except BadInput as error:
        return replace(bare, cell=replace(bare.cell, why=told(error, bare.unit)))
    problem = _only(whole, cloth.name)
    if not problem.shapes:
        why = f"this plan cuts nothing from {cloth.material}"
        return replace(bare, cell=replace(bare.cell, why=why))
    return replace(
        bare,
        problem=problem,
        end_margin=after_washing(cloth).margin_end,
        shrink_along=cloth.shrink_along,
    )


def _only(problem: LayProblem, cloth: str) -> LayProblem:
    """The part of a problem that lies on one cloth; rules that tie it to another one are gone."""
    shapes = tuple(replace(s, regions=(cloth,)) for s in problem.shapes if cloth in s.regions)
    ids = {s.id for s in shapes}
    return LayProblem(
        regions=tuple(r for r in problem.regions if r.name == cloth),
        shapes=shapes,
        rules=tuple(r for r in problem.rules if ids.issuperset(names_of(r))),
        gap=problem.gap,
    )


# --- laying -------------------------------------------------------------------------------------


def lay_cell(task: Task) -> Cell:
    """Lay one entry and return it filled (runs in a worker). Raises InterruptedWorkError."""
    problem = task.problem
    if problem is None:
        return task.cell
    lay = solve(
        problem,
        seconds=task.seconds,
        seed=task.seed,
        rounds=task.rounds,
        should_stop=stop_asked,
    )
    if lay.stopped == "interrupted":
        raise InterruptedWorkError
    if lay.unplaced:
        reasons = dict.fromkeys(
            f"{name}: {say(why, task.unit)}" for name, why in lay.unplaced.items()
        )
        return replace(task.cell, why="; ".join(reasons))
    faults = judge(problem, lay)
    if faults:
        return replace(task.cell, why="the judge found fault: " + faults[0].code)
    used = lay.used[problem.regions[0].name] + task.end_margin
    return replace(task.cell, need=to_buy(used, task.shrink_along))


def chart(
    tasks: Sequence[Task],
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


def shared(tasks: Sequence[Task], cells: Sequence[Cell]) -> tuple[Cell, ...]:
    """Return the entries, each as short as any that is at least as hard to lay.

    What lies on cloth with nap lies without; what lies on narrow cloth lies on wide, where no rule
    depends on the width (a border on the upper selvedge does).
    """
    out = []
    for task, cell in zip(tasks, cells, strict=True):
        best = cell
        for other, there in zip(tasks, cells, strict=True):
            if there.need is None or cell.why == NOT_YET or not serves(other, task):
                continue
            if best.need is None or there.need < best.need - 1e-6:
                like = (there.width, there.nap)
                best = replace(cell, need=there.need, why="", like=like)
        out.append(best)
    return tuple(out)


def serves(task: Task, other: Task) -> bool:
    """Tell whether every lay of one task is a lay of the other too: no more rules, no less room."""
    if task is other or task.cell.plan != other.cell.plan or task.cell.size != other.cell.size:
        return False
    a, b = task.problem, other.problem
    if a is None or b is None or task.cell.width > other.cell.width:
        return False
    room = replace(a.regions[0], width=b.regions[0].width)
    same = room == b.regions[0] and a.shapes == b.shapes and a.gap == b.gap
    return same and all(rule in a.rules for rule in b.rules)


def _kept(folder: FilePath | None) -> dict[str, Cell]:
    kept = None if folder is None else sound(read_kept(yardage_file(folder), Cells))
    return dict(kept.cells) if kept else {}


def _keep(folder: FilePath, key: str, cell: Cell) -> None:
    """Add an entry to the file, as it stands there now: another chart may be at work on it."""
    kept = {**_kept(folder), key: cell}
    last = dict(list(kept.items())[-MOST_KEPT:])
    write_kept(yardage_file(folder), Cells(cells=last))
