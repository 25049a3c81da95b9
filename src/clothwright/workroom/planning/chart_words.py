"""The yardage chart in words: what shops cut, the table, the reasons, the page, plain data."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.outputs.guide_md import guide_md
from clothwright.outputs.table_csv import table_csv
from clothwright.picture.document import Document, Points, Table
from clothwright.rules.pin import Pin
from clothwright.store.disk import write_whole
from clothwright.units import Unit
from clothwright.words import shop_step_mm, show_length, to_buy, to_buy_mm
from clothwright.workbook import Workbook
from clothwright.workroom.planning.chart import NOT_LAID, NOT_YET, Cell, Cells, cloth_of


def step_of(unit: Unit, asked: float | None = None) -> float:
    """Return the step lengths are bought in, mm: 5 cm or 1/8 yd, or as asked. Raises BadInput.

    asked: mm; whole centimetres or whole eighths of a yard, because that is how they are shown.
    """
    least = 10.0 if unit.is_metric else shop_step_mm(unit)
    if asked is None:
        return shop_step_mm(unit)
    count = round(asked / least)
    if count < 1 or count > 1000 or abs(count * least - asked) > 1e-6:
        raise BadInput(
            where="--step",
            what=f"{show_length(asked, unit)} is no step that shops cut in",
            expected="whole centimetres" if unit.is_metric else "eighths of a yard",
            try_='--step "10 cm"' if unit.is_metric else '--step "1/4 yd"',
        )
    return asked


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
    return tuple(
        f"{c.plan}, {show_length(c.width, unit)}, {'with' if c.nap else 'without'} nap: {c.why}"
        for c in cells
        if c.need is None and c.why != NOT_YET
    )


def notes_of(book: Workbook, material: str = "shell", plans: Sequence[str] = ()) -> tuple[str, ...]:
    """Return what a maker should know about a chart of this material, in sentences."""
    chosen = [book.plan(n) for n in plans] or list(book.plans) or [book.plan()]
    used = tuple(dict.fromkeys(cloth_of(book, material, p) for p in chosen))
    out = []
    for cloth in used:
        if cloth.print.one_way:
            out.append(f"{cloth.name} has a one-way design: without nap is laid one way as well.")
        if cloth.outline is not None or cloth.flaws:
            out.append(f"The outline and the flaws of {cloth.name} are left out: it is bought new.")
        if cloth.print.repeat_across or cloth.print.figures:
            out.append(f"Every width of {cloth.name} is taken to have the same design and repeat.")
    if any(isinstance(r, Pin) for p in chosen for r in p.rules):
        out.append("Pins belong to the cloth in hand and are left out.")
    return tuple(out)


def chart_data(
    book: Workbook, material: str, cells: Sequence[Cell], step: float | None = None
) -> dict[str, object]:
    """Return the chart as plain data; lengths in mm. need_mm is exact, buy_mm what shops cut."""
    return {
        "format": Cells.FORMAT,
        "title": book.title,
        "material": material,
        "cells": [
            {
                "plan": c.plan,
                "size": c.size,
                "width_mm": c.width,
                "nap": c.nap,
                "need_mm": c.need and round(c.need, 2),
                "buy_mm": c.need and round(to_buy_mm(c.need, book.unit, step), 2),
                "why": c.why,
                "like": c.like and {"width_mm": c.like[0], "nap": c.like[1]},
            }
            for c in cells
        ],
    }


def chart_document(
    book: Workbook,
    material: str,
    cells: Sequence[Cell],
    notes: Sequence[str] = (),
    step: float | None = None,
) -> Document:
    """Return the chart as a page: the table, why entries are missing, what to know.

    step: what lengths are rounded up to, mm; None for what shops cut.
    """
    said = (*reasons(cells, book.unit), *notes)
    table = chart_table(cells, book.unit, step)
    return Document(
        title=f"{book.title}: cloth to buy",
        subtitle=f"{material}; every entry is a lay of its own, rounded up to what shops cut",
        blocks=(table, Points(items=said)) if said else (table,),
    )


def write_chart(
    file: FilePath,
    book: Workbook,
    material: str,
    cells: Sequence[Cell],
    *,
    notes: Sequence[str] = (),
    step: float | None = None,
) -> None:
    """Write the chart: as a page for a name ending in .md, else as a table of text (.csv).

    step: what lengths are rounded up to, mm. Raises BadInput, OSError.
    """
    if file.suffix.lower() == ".md":
        data = guide_md(chart_document(book, material, cells, notes, step))[0].content
    else:
        data = table_csv(chart_table(cells, book.unit, step))
    write_whole(file, data)
