"""clothwright ways-to-fit: what could be given up so that a plan fits."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import err, open_book, out, seconds_ok, write_json
from clothwright.units import parse_length
from clothwright.words import show_length, within
from clothwright.workroom.changing.forms import MENU
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.planning.tried import ways_to_fit as find_ways
from clothwright.workroom.planning.ways_kept import keep_ways, way_edit, ways_report
from clothwright.workroom.planning.ways_shown import ShownWays, ways_shown
from clothwright.workroom.searching.laying import recall_or_lay


def ways_to_fit(
    workbook: Path,
    *,
    plan: str = "",
    seconds: float = 30.0,
    seed: int = 0,
    least_hem: str = "",
    apply: int | None = None,
    json: Annotated[str, Parameter(allow_leading_hyphen=True)] = "",
    quiet: bool = False,
) -> int:
    """Find what would make a plan fit that does not: each way is laid, with what it costs.

    Tried are: no room between cutting lines, shallower hems, facings cut from another cloth, a
    seam across or down the middle of a piece, each rule left out in turn, bands across the grain;
    and, when none is enough alone, several together. Leaves with 0 when one fits, 1 when none
    does.

    Parameters
    ----------
    workbook
        The workbook's folder.
    plan
        Name of the plan; without it the chosen one.
    seconds
        For all ways together.
    seed
        A number that makes the search repeatable.
    least_hem
        The shallowest hem you would wear; 1 1/4 in without it.
    apply
        Write the way of this number into the workbook: a new plan, and changes where it needs
        them. The list is the last one made for this plan.
    json
        Write the ways as JSON to this file ("-" for standard output).
    quiet
        Do not show the search at work.
    """
    if apply is not None:
        _apply(open_book(workbook), plan, apply)
        return 0
    book = open_book(workbook).look().book
    least = parse_length(least_hem, unit=book.unit, where="--least-hem") if least_hem else None
    before = recall_or_lay(workbook, book, plan, seconds=seconds_ok(seconds) / 5, seed=seed)
    if before.lay.fits:
        out.print(f"{before.plan.name}: as it is, it {before.fit_words(book.unit)}.")
        return 0

    ways = find_ways(
        book,
        before,
        seconds=seconds_ok(seconds),
        seed=seed,
        least_hem=least,
        told=lambda way: None if quiet else err.print(f"  {way.tried(book.unit)}"),
    )
    report = ways_report(book, before, ways, least_hem=least)
    keep_ways(workbook, report)
    if json:
        write_json(report, json)
    if json != "-":
        out.print(f"{before.plan.name}: {before.fit_words(book.unit)}.")
        _show(before.plan.name, ways_shown(report["ways"], before.lay.short_by, book.unit))
    return 0 if any(w.fits for w in ways) else 1


def _show(plan: str, ways: ShownWays) -> None:
    for way in ways.found:
        out.print(f"\n{way.number}. {way.what}: {way.fit}")
        out.print(f"   Used: {way.used}")
        for cost in way.costs:
            out.print(f"   Costs: {cost}")
    if ways.vain:
        out.print(f"\nTried without gain: {'; '.join(ways.vain)}.")
    if any(w.fits for w in ways.found):
        name = f' --plan "{plan}"'
        out.print(f"\nTo use one: clothwright ways-to-fit WORKBOOK{name} --apply NUMBER")
    else:
        out.print("\nNone of these is enough. More time may find more: --seconds 120")


def _apply(book: OpenBook, plan: str, number: int) -> None:
    was = book.read()
    edit, entry = way_edit(book.folder, was.book, plan, number)
    book.edit(edit, base=was.revision)
    now = book.read().book
    out.print(f'Plan "{entry["plan"]}" is in the workbook and chosen.')
    for step in now.steps[len(was.book.steps) :]:
        title = within(dict(MENU)[step.change])
        out.print(f"  Change added: {title} (it holds for every plan)")
    if now.settings.gap != was.book.settings.gap:
        gap = show_length(now.settings.gap, now.unit)
        out.print(f"  Room between cutting lines: {gap}")
    if not entry["fits"]:
        out.print("  It does not fit yet.")
