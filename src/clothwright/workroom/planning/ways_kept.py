"""The list of ways to fit, kept with the workbook, so that one can be chosen by number later."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path as FilePath
from typing import Any

from clothwright.errors import BadInput, CannotDo
from clothwright.rules.known import kind_of
from clothwright.rules.weighing.concessions import LEAST_HEM_MM, Amendment, concessions, together
from clothwright.rules.weighing.laid import Laid, short_cloths
from clothwright.rules.weighing.ways_to_fit import WayToFit
from clothwright.store.beside import lays
from clothwright.store.beside.lays import KeptWays
from clothwright.store.book.lock import held
from clothwright.units import Unit
from clothwright.words import say
from clothwright.words.exact import length_text
from clothwright.workbook import Workbook
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.changes import AddChange
from clothwright.workroom.editing.edits.plans import PutPlans
from clothwright.workroom.editing.edits.whole import SetSettings, Several
from clothwright.workroom.planning.tried import WHY, edited
from clothwright.workroom.searching.laying import compile_plan


def ways_report(
    book: Workbook, before: Laid, ways: Sequence[WayToFit], *, least_hem: float | None = None
) -> dict[str, Any]:
    """Return the ways to fit as plain data, numbered from 1 (docs/ways-to-fit.md).

    least_hem: the shallowest hem that was offered, mm; None for the usual one.
    """
    return {
        "format": KeptWays.FORMAT,
        "plan": before.plan.name,
        "digest": before.mark,
        "short_by_mm": before.lay.short_by,
        "short_cloths": list(short_cloths(before)),
        "least_hem_mm": LEAST_HEM_MM if least_hem is None else least_hem,
        "ways": [_way(n, way, book.unit) for n, way in enumerate(ways, start=1)],
    }


def _way(number: int, way: WayToFit, unit: Unit) -> dict[str, object]:
    return {
        "number": number,
        "key": way.key,
        "keys": [c.key for c in way.given],
        "kinds": [c.kind for c in way.given],
        "what": say(way.what, unit),
        "fits": way.fits,
        "short_by_mm": way.short_by,
        "used_mm": {n: round(u, 3) for n, u in way.used.items()},
        "loss": way.loss,
        "look": [say(s, unit) for s in (*way.look, *way.laid.compiled.gave_way)],
        "off_grain": list(way.laid.off_grain),
        "edits": _edits(way.edit),
        "plan": way.plan.name,
        "lay": way.laid.report,
    }


def _edits(edit: Amendment) -> dict[str, object]:
    return {
        "drop_rules": list(edit.drop),
        "add_rules": [{"kind": kind_of(r).id, **asdict(r)} for r in edit.add],
        "put_rules": [{"number": n, "kind": kind_of(r).id, **asdict(r)} for n, r in edit.put],
        "changes": [{"kind": c.change, **c.params} for c in edit.changes],
        "gap_mm": edit.gap,
    }


def keep_ways(folder: FilePath, report: Mapping[str, object]) -> None:
    """Keep the list with the workbook, for `way_edit`. Raises BadInput."""
    with held(folder):
        lays.keep_ways(folder, str(report["plan"]), report)


def way_edit(
    folder: FilePath, book: Workbook, plan_name: str, number: int
) -> tuple[Several, dict[str, Any]]:
    """Return the edit that makes way `number` of the kept list, and its entry in the list.

    The lay that was found for it is kept with the workbook as well. Raises BadInput when no list
    is kept for the pieces, cloths and rules as they are now, or it has no such number; CannotDo
    when the workbook is that way already.
    """
    before = compile_plan(book, book.plan(plan_name))
    kept = _kept(folder, before)
    entries = kept.ways
    if not 1 <= number <= len(entries):
        raise BadInput(
            where="--apply",
            what=f"there is no way to fit {number}",
            expected=f"a number from 1 to {len(entries)}",
        )
    entry = entries[number - 1]
    short = [c for c in book.cloths if c.name in kept.short_cloths]
    found = {
        c.key: c
        for c in concessions(
            before.pattern,
            before.plan,
            book.cloths,
            short,
            gap=book.settings.gap,
            least_hem=kept.least_hem_mm,
        )
    }
    if any(key not in found for key in entry["keys"]):
        raise CannotDo(
            what=f"way to fit {number} cannot be made",
            why="the workbook has changed since the list was made",
            nearest="to list the ways to fit again",
        )
    edit = together([found[key].edit for key in entry["keys"]])
    after = edited(book, before.plan, edit, entry["plan"])
    if after == book:
        raise CannotDo(
            what=f"way to fit {number} was not made", why="it is in the workbook already"
        )
    lays.keep_lay(folder, entry["plan"], entry["lay"])
    steps: list[Edit] = [AddChange(kind=c.change, params=c.params, why=WHY) for c in edit.changes]
    if edit.gap is not None:
        steps.append(SetSettings(values={"gap": length_text(edit.gap, book.unit)}))
    plans = tuple(p for p in after.plans if p not in book.plans)
    steps.append(PutPlans(plans=plans, chosen=after.chosen_plan))
    words = f'Made "{before.plan.name}" fit: {entry["what"]}; plan "{entry["plan"]}"'
    return Several(edits=tuple(steps), words=words), dict(entry)


def _kept(folder: FilePath, before: Laid) -> KeptWays:
    kept = lays.kept_ways(folder, before.plan.name)
    if kept is None or kept.digest != before.mark:
        raise BadInput(
            where="--apply",
            what=f'no ways to fit are kept for "{before.plan.name}" as it is now',
            expected="the list to be made first",
            try_="clothwright ways-to-fit WORKBOOK without --apply",
        )
    return kept
