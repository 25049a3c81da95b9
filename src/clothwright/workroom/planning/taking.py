"""New plans written into the workbook: those made of wishes, and a way to fit that is taken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.store import Opened, save_step
from clothwright.workbook import Workbook
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.planning.choosing import Wish, new_plans
from clothwright.workroom.planning.ways_kept import applied


def add_plans(opened: OpenBook, at: Opened, wishes: Sequence[Wish], *, every: bool) -> str:
    """Add the plan of these wishes, or a plan for every set of them; return what was done.

    at: the workbook as it was looked at. Raises BadInput, Mistakes, CannotDo; then nothing is
    written.
    """
    plans = new_plans(at.book, wishes, every=every)
    chosen = at.book.chosen_plan or plans[0].name
    after = replace(at.book, plans=(*at.book.plans, *plans), chosen_plan=chosen)
    _save(opened, at, after, "plans added: " + ", ".join(p.name for p in plans))
    if len(plans) > 1:
        return f"{len(plans)} plans more."
    return f"“{plans[0].name}” is a plan now. Lay it to see whether it fits."


def take_way(opened: OpenBook, at: Opened, plan: str, number: int) -> str:
    """Write a way to fit of the kept list into the workbook; return what was done.

    at: the workbook as it was looked at. Raises BadInput, Mistakes, CannotDo; then nothing is
    written.
    """
    after, entry = applied(opened.folder, at.book, plan, number)
    words = f'way to fit "{plan}": {entry["what"]}; plan "{entry["plan"]}"'
    _save(opened, at, after, words)
    more = " The pieces change with it, for every plan." if after.steps != at.book.steps else ""
    return f"“{entry['plan']}” is a plan now, and chosen.{more}"


def _save(opened: OpenBook, at: Opened, after: Workbook, words: str) -> None:
    saved = save_step(opened.folder, after, words=words, previous=at.book)
    opened.tell_changed(saved.number)
