"""New plans written into the workbook: those made of wishes, and a way to fit that is taken."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.store import Opened
from clothwright.workroom.editing.edits.plans import PutPlans, SetWishes
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.planning.choosing import new_plans
from clothwright.workroom.planning.ways_kept import way_edit
from clothwright.workroom.planning.wishing import mine_of


def add_plans(opened: OpenBook, at: Opened, *, most: int) -> str:
    """Add the most promising plans of her wishes, `most` at the most; say what was done.

    at: the workbook as it was looked at. Raises BadInput, Mistakes, CannotDo; then nothing is
    written.
    """
    plans = new_plans(at.book, mine_of(at.book), most=most)
    chosen = "" if at.book.chosen_plan else plans[0].name
    opened.edit(PutPlans(plans=plans, chosen=chosen), base=at.revision)
    if len(plans) > 1:
        return f"{len(plans)} plans more."
    return f"“{plans[0].name}” is a plan now. Lay it to see whether it fits."


def set_wishes(opened: OpenBook, at: Opened, wishes: Sequence[str]) -> str:
    """Note what she wishes for, what matters most first; return what was done."""
    return opened.edit(SetWishes(wishes=tuple(wishes)), base=at.revision).words


def take_way(opened: OpenBook, at: Opened, plan: str, number: int) -> str:
    """Write a way to fit of the kept list into the workbook; return what was done.

    at: the workbook as it was looked at. Raises BadInput, Mistakes, CannotDo; then nothing is
    written.
    """
    edit, entry = way_edit(opened.folder, at.book, plan, number)
    opened.edit(edit, base=at.revision)
    more = " The pieces change with it, for every plan." if entry["edits"]["changes"] else ""
    return f"“{entry['plan']}” is a plan now, and chosen.{more}"
