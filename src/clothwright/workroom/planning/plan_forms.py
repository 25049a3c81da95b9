"""A plan's name, copies of it, and how its cloths are folded: what a page shows, and the edits."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, ClothwrightError
from clothwright.lay.compiled import Compiled
from clothwright.lay.folded import WAYS, why_single
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.folded import Folded, asked_folds
from clothwright.rules.known import said
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store.book.format import writing_in
from clothwright.units import Unit, parse_length
from clothwright.units.params import declared
from clothwright.words import say, told
from clothwright.words.exact import length_text
from clothwright.workbook import Replay, Workbook
from clothwright.workroom.editing.asking import FromForm

Single = Callable[[], Compiled]
"""Makes the lay problem of a plan laid single, or returns the one kept (`laid_single`)."""

SINGLE = "single"
FOLD_WORDS = {
    SINGLE: "single, right side up",
    **declared(Folded)["way"].choices,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldForm:
    """How one cloth lies. ways: (way, words, chosen, allowed); reasons: why others are not."""

    cloth: str
    ways: tuple[tuple[str, str, bool, bool], ...]
    depth: str
    reasons: tuple[str, ...]
    may: bool


# --- names and copies -----------------------------------------------------------------------------


def named(book: Workbook, plan_name: str, new: str, why: str) -> FromForm:
    """Return the edit that gives a plan another name or reason."""
    was = book.plan(plan_name).name
    wrong = _name_trouble(book, new, but=was)
    if wrong:
        return FromForm(wrong={"name": wrong})
    return FromForm(edit={"edit": "set-plan", "plan": was, "name": new, "why": why})


def copied(book: Workbook, plan_name: str, new: str, why: str, *, same: bool) -> FromForm:
    """Return the edit that makes another plan, with the rules of one or with none."""
    like = book.plan(plan_name).name
    wrong = _name_trouble(book, new)
    if wrong:
        return FromForm(wrong={"name": wrong})
    edit = {"edit": "add-plan", "plan": new, "why": why}
    return FromForm(edit=edit | ({"like": like} if same and book.plans else {}))


def _name_trouble(book: Workbook, new: str, but: str = "") -> str:
    """Return why a plan cannot have a name, "" when it can."""
    if not new:
        return "A plan needs a name."
    taken = {p.name for p in book.plans} - {but}
    return f"There is a plan “{new}” already. Give this one another name." if new in taken else ""


# --- folds ----------------------------------------------------------------------------------------


def laid_single(book: Workbook, replayed: Replay, plan: Plan) -> Compiled:
    """Return the lay problem of a plan with every cloth laid single. Raises BadInput, Mistakes."""
    rules = tuple(r for r in plan.rules if not isinstance(r, Folded))
    single = replace(plan, rules=rules)
    return compile_lay(replayed.pattern, book.cloths, single, gap=book.settings.gap)


def folds_of(book: Workbook, plan: Plan, single: Single) -> tuple[tuple[FoldForm, ...], str]:
    """Return how each cloth may lie, and what is wrong when that cannot be known."""
    if not book.cloths or not book.bought.pieces:
        return (), ""
    try:
        compiled = single()
        used = {r.name for r in compiled.problem.regions}
        cloths = [c for c in compiled.cloths if c.name in used]
        return tuple(_fold(compiled, plan, c, book.unit) for c in cloths), ""
    except ClothwrightError as error:
        return (), told(error, book.unit)


def _fold(compiled: Compiled, plan: Plan, cloth: Cloth, unit: Unit) -> FoldForm:
    now = next((f for f in asked_folds(plan) if f.cloth == cloth.name), None)
    why = {way: why_single(compiled, cloth, way) for way in WAYS}
    chosen = SINGLE if now is None else now.way
    refused: dict[str, list[str]] = {}
    for way, reason in why.items():
        if reason:
            refused.setdefault(reason, []).append(way)
    every = [r for r, ways in refused.items() if len(ways) == len(WAYS)]
    reasons = every or [f"not {' or '.join(ways)}: {r}" for r, ways in refused.items()]
    return FoldForm(
        cloth=cloth.name,
        ways=tuple(
            (way, words, way == chosen, way in (SINGLE, chosen) or not why[way])
            for way, words in FOLD_WORDS.items()
        ),
        depth="" if now is None or now.depth is None else length_text(now.depth, unit),
        reasons=tuple(reasons),
        may=now is not None or not all(why.values()),
    )


def folded(book: Workbook, plan: Plan, filled: Mapping[str, str], single: Single) -> FromForm:
    """Return the edit that folds a cloth for a plan, or lays it single. Raises BadInput."""
    cloth, way = book.cloth(filled.get("cloth", "")), filled.get("way", SINGLE)
    text = filled.get("depth", "").strip() if way == "partial" else ""
    if way != SINGLE:
        compiled = single()
        why = why_single(compiled, compiled.cloth(cloth.name), way)
        if why:
            return FromForm(wrong={"way": f"It cannot lie {way}: {why}."})
    try:
        depth = parse_length(text, unit=book.unit, least_mm=1.0) if text else None
        if depth is not None and depth > cloth.width / 2:
            raise BadInput(what="no cloth is folded deeper than half its width")
    except BadInput as error:
        return FromForm(wrong={"depth": told(error, book.unit)})
    new = None if way == SINGLE else Folded(cloth=cloth.name, way=way, depth=depth)
    return FromForm(edit=_fold_edit(plan, cloth.name, new, book.unit))


def _fold_edit(plan: Plan, cloth: str, new: Folded | None, unit: Unit) -> Mapping[str, Any]:
    """Return one step that takes the cloth's fold out and puts the new one in."""
    folds = asked_folds(plan)
    if new in folds or (new is None and cloth not in {f.cloth for f in folds}):
        return {"edit": "several", "edits": []}
    edits: list[Mapping[str, Any]] = [
        {"edit": "remove-rule", "plan": plan.name, "rule": n}
        for n, r in reversed(list(enumerate(plan.rules, start=1)))
        if isinstance(r, Folded) and r.cloth == cloth
    ]
    words = f"{cloth} is laid single"
    if new is not None:
        values = writing_in(unit).plain(PlacingRule, new)
        edits.append({"edit": "add-rule", "plan": plan.name, "values": values})
        words = say(said(new), unit)
    return {"edit": "several", "edits": edits, "words": f'Plan "{plan.name}", now: {words}'}
