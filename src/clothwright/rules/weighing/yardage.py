"""The yardage chart: its entries, what is laid for each, which lay serves which; in words.

Every entry is one lay on cloth of open length: a cloth of the material (margins, print, shrinkage)
at another width. A remnant's outline, flaws and pins belong to the cloth in hand and do not count.
What to buy is the length used and the margin at the cut end, before washing.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright import __version__
from clothwright.cloth.cloth import Cloth, after_washing
from clothwright.cloth.cloth import to_buy as before_washing
from clothwright.errors import BadInput, Mistakes
from clothwright.lay.judge import judge
from clothwright.lay.problem import LayProblem, names_of
from clothwright.lay.solve import solve
from clothwright.lay.spreading import InterruptedWorkError, stop_asked
from clothwright.pattern.pattern import Pattern
from clothwright.picture.document import Document, Points, Table
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.words import say, show_length, to_buy, to_buy_mm, told

FORMAT = "clothwright-chart/1"
"""Name and version of the chart as data."""
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

    def label(self, unit: Unit) -> str:
        """Return which entry it is, in words, the width in `unit`."""
        nap = "with nap" if self.nap else "without nap"
        return f"{self.plan}, {show_length(self.width, unit)}, {nap}"

    def words(self, unit: Unit) -> str:
        """Say which entry it is and what it needs, or why it has no length."""
        need = self.why if self.need is None else show_length(self.need, unit)
        return f"{self.label(unit)}: {need}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CellTask:
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


def cloth_of(cloths: Sequence[Cloth], material: str, plan: Plan) -> Cloth:
    """Return the cloth of a material the chart is made for. Raises BadInput.

    Of several, the one with a border that the plan asks for; else the first.
    """
    mine = [c for c in cloths if c.material == material]
    if not mine:
        known = ", ".join(sorted({c.material for c in cloths}))
        raise BadInput(
            where="--material",
            what=f'no cloth is of the material "{material}"',
            expected=f"one of {known}" if known else "a workbook with a cloth",
        )
    asked = {r.border for r in plan.rules if isinstance(r, OnBorder)}
    return next((c for c in mine if any(b.name in asked for b in c.print.borders)), mine[0])


def task_of(
    bare: CellTask,
    pattern: Pattern,
    cloths: Sequence[Cloth],
    plan: Plan,
    cloth: Cloth,
    *,
    gap: float,
) -> CellTask:
    """Return the task with its lay problem: the shapes that are cut from this cloth, no others.

    cloths: of the workbook, for the other materials. gap: mm between cutting lines. cloth: as it
    is bought. bare: the task without its problem.
    """
    others = tuple(c for c in cloths if c.material != cloth.material)
    free = replace(plan, rules=tuple(r for r in plan.rules if not isinstance(r, Pin)))
    try:
        whole = compile_lay(pattern, (cloth, *others), free, gap=gap).problem
    except (BadInput, Mistakes) as error:
        first = error.mistakes[0] if isinstance(error, Mistakes) else error
        return replace(bare, cell=replace(bare.cell, why=told(first, bare.unit)))
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
    return replace(
        problem,
        regions=tuple(r for r in problem.regions if r.name == cloth),
        shapes=shapes,
        rules=tuple(r for r in problem.rules if ids.issuperset(names_of(r))),
    )


def lay_cell(task: CellTask) -> Cell:
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
    return replace(task.cell, need=before_washing(used, task.shrink_along))


def shared(tasks: Sequence[CellTask], cells: Sequence[Cell]) -> tuple[Cell, ...]:
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


def serves(task: CellTask, other: CellTask) -> bool:
    """Tell whether every lay of one task is a lay of the other too: no more rules, no less room."""
    if task is other or task.cell.plan != other.cell.plan or task.cell.size != other.cell.size:
        return False
    a, b = task.problem, other.problem
    if a is None or b is None or task.cell.width > other.cell.width:
        return False
    room = replace(a.regions[0], width=b.regions[0].width)
    same = room == b.regions[0] and a.shapes == b.shapes and a.gap == b.gap
    return same and all(rule in a.rules for rule in b.rules)


# --- in words -----------------------------------------------------------------------------------


def bought_words(cell: Cell, unit: Unit, step: float | None = None) -> str:
    """Say an entry: what to buy, that there is no lay, or that none was looked for.

    step: what it is rounded up to, mm; None for what shops cut.
    """
    if cell.need is None:
        return NOT_LAID if cell.why.startswith(NOT_LAID) else "does not go"
    return to_buy(cell.need, unit, step)


def chart_table(cells: Sequence[Cell], unit: Unit, step: float | None = None) -> Table:
    """Return the chart: a row for every plan, size and nap, a column for every width.

    step: what lengths are rounded up to, mm; None for what shops cut.
    """
    widths = sorted({c.width for c in cells})
    rows = []
    for plan, size, nap in dict.fromkeys((c.plan, c.size, c.nap) for c in cells):
        row = [plan, size, "with nap" if nap else "without nap"]
        mine = {c.width: c for c in cells if (c.plan, c.size, c.nap) == (plan, size, nap)}
        row += [bought_words(mine[w], unit, step) if w in mine else "" for w in widths]
        rows.append(tuple(row))
    return Table(
        head=("plan", "size", "nap", *(show_length(w, unit) for w in widths)),
        rows=tuple(rows),
        caption="Cloth to buy, before washing",
        figures=tuple(range(3, 3 + len(widths))),
    )


def reasons(cells: Sequence[Cell], unit: Unit) -> tuple[str, ...]:
    """Say for every entry without a figure why it has none; entries not laid yet are left out."""
    return tuple(f"{c.label(unit)}: {c.why}" for c in cells if c.need is None and c.why != NOT_YET)


def notes_of(
    cloths: Sequence[Cloth], plans: Sequence[Plan], material: str = "shell"
) -> tuple[str, ...]:
    """Return what a maker should know about a chart of this material, in sentences."""
    used = tuple(dict.fromkeys(cloth_of(cloths, material, p) for p in plans))
    out = []
    for cloth in used:
        if cloth.print.up_deg is not None:
            out.append(f"{cloth.name} has a one-way design: without nap is laid one way as well.")
        if cloth.outline is not None or cloth.flaws:
            out.append(f"The outline and the flaws of {cloth.name} are left out: it is bought new.")
        if cloth.print.repeat_across or cloth.print.figures:
            out.append(f"Every width of {cloth.name} is taken to have the same design and repeat.")
    if any(isinstance(r, Pin) for p in plans for r in p.rules):
        out.append("Pins belong to the cloth in hand and are left out.")
    return tuple(out)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartSheet:
    """A chart to be read: of which workbook and material, its entries, what to know about it.

    step: what lengths are rounded up to, mm; None for what shops cut.
    """

    title: str
    material: str
    unit: Unit
    cells: tuple[Cell, ...]
    notes: tuple[str, ...] = ()
    step: float | None = None

    @property
    def table(self) -> Table:
        """The entries: a row for every plan, size and nap, a column for every width."""
        return chart_table(self.cells, self.unit, self.step)

    @property
    def said(self) -> tuple[str, ...]:
        """Why entries are missing, and what to know, in sentences."""
        return (*reasons(self.cells, self.unit), *self.notes)

    @property
    def data(self) -> dict[str, object]:
        """The chart as plain data; lengths in mm. need_mm is exact, buy_mm what shops cut."""
        return {
            "format": FORMAT,
            "title": self.title,
            "material": self.material,
            "cells": [
                {
                    "plan": c.plan,
                    "size": c.size,
                    "width_mm": c.width,
                    "nap": c.nap,
                    "need_mm": c.need and round(c.need, 2),
                    "buy_mm": c.need and round(to_buy_mm(c.need, self.unit, self.step), 2),
                    "why": c.why,
                    "like": c.like and {"width_mm": c.like[0], "nap": c.like[1]},
                }
                for c in self.cells
            ],
        }

    @property
    def document(self) -> Document:
        """The chart as a page: the table, why entries are missing, what to know."""
        return Document(
            title=f"{self.title}: cloth to buy",
            subtitle=f"{self.material}; every entry is a lay of its own, rounded up to what "
            "shops cut",
            blocks=(self.table, Points(items=self.said)) if self.said else (self.table,),
        )
