"""What the forms of a plan's rules send: each is checked, and becomes one edit that can be undone.

The page's own script asks for the edit (`wanted=edit`) and sends it like every other edit; a form
without a script makes it at once. A form that cannot be used is answered with a sentence for each
field, and nothing is written.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.cloth.plan import Folded, Plan
from clothwright.errors import BadInput, CannotDo
from clothwright.lay.folded import asked_folds, why_single
from clothwright.units import parse_length
from clothwright.web.page import Asked, Door
from clothwright.web.plan_rules import SINGLE, address, compiled_of, rule_at, sources
from clothwright.web.rule_forms import kind_for, read_form
from clothwright.web.rule_kinds import kind_of
from clothwright.web.rule_words import rule_words

Edit = Mapping[str, Any]


def rule(asked: Asked) -> Response:
    """Add a rule, or change one. Raises BadInput, CannotDo."""
    form = asked.form
    plan = asked.book.plan(form.get("plan", ""))
    mark, src = form.get("rule", ""), sources(asked, plan)
    found = rule_at(plan, mark) if mark else None
    if mark and found is None:
        raise CannotDo(
            what="the rule cannot be changed",
            why="it was changed or left out meanwhile",
            nearest="to look at the rules as they are now, and add it anew",
        )
    kind = kind_for(found[1], src) if found else kind_of(form.get("kind", ""))
    if kind is None:
        raise BadInput(what="no kind of rule is chosen", expected="one of the list")
    read = read_form(kind, form, src, found[1] if found else None)
    if read.wrong:
        return _refused(read.wrong)
    if found:
        edit = {"edit": "set-rule", "plan": plan.name, "rule": found[0], "values": read.values}
        return _done(asked, _step(edit, plan, f"changed: {read.words}"), address(plan.name))
    if read.words in {rule_words(r, src.unit) for r in plan.rules}:
        return _refused({kind.asks[0].name: "The plan has this rule already."})
    values = {k: v for k, v in read.values.items() if v is not None}
    edit = {"edit": "add-rule", "plan": plan.name, "values": values}
    added = _step(edit, plan, f"added: {read.words}")
    return _done(asked, added, address(plan.name, kind=kind.id))


def _step(edit: Edit, plan: Plan, words: str) -> Edit:
    """Return an edit with the maker's words for it."""
    return {"edit": "several", "edits": [edit], "words": f'plan "{plan.name}": {words}'}


def name(asked: Asked) -> Response:
    """Give a plan another name or reason. Raises BadInput."""
    form = asked.form
    was = asked.book.plan(form.get("plan", "")).name
    new = form.get("name", "").strip()
    wrong = _name_trouble(asked, new, but=was)
    if wrong:
        return _refused({"name": wrong})
    why = form.get("why", "").strip()
    return _done(asked, {"edit": "set-plan", "plan": was, "name": new, "why": why}, address(new))


def copy(asked: Asked) -> Response:
    """Make another plan, with the rules of one or with none. Raises BadInput."""
    form = asked.form
    like = asked.book.plan(form.get("plan", "")).name
    new = form.get("name", "").strip()
    wrong = _name_trouble(asked, new)
    if wrong:
        return _refused({"name": wrong})
    edit = {"edit": "add-plan", "plan": new, "why": form.get("why", "").strip()}
    if form.get("begins", "same") == "same" and asked.book.plans:
        edit["like"] = like
    return _done(asked, edit, address(new))


def _name_trouble(asked: Asked, new: str, but: str = "") -> str:
    """Return why a plan cannot have a name, "" when it can."""
    if not new:
        return "A plan needs a name."
    taken = {p.name for p in asked.book.plans} - {but}
    return f"There is a plan “{new}” already. Give this one another name." if new in taken else ""


def fold(asked: Asked) -> Response:
    """Fold a cloth for a plan, or lay it single, and lay the plan anew. Raises BadInput."""
    form, unit = asked.form, asked.book.unit
    plan = asked.book.plan(form.get("plan", ""))
    cloth, way = asked.book.cloth(form.get("cloth", "")), form.get("way", SINGLE)
    text = form.get("depth", "").strip() if way == "partial" else ""
    if way != SINGLE:
        compiled = compiled_of(asked, plan)
        washed = compiled.cloth(cloth.name)
        why = why_single(compiled, plan, washed, way)
        if why:
            return _refused({"way": f"It cannot lie {way}: {why}."})
    try:
        depth = parse_length(text, unit=unit, least_mm=1.0) if text else None
        if depth is not None and depth > cloth.width / 2:
            raise BadInput(what="no cloth is folded deeper than half its width")
    except BadInput as error:
        return _refused({"depth": str(error)})
    new = None if way == SINGLE else Folded(cloth=cloth.name, way=way, depth=depth)
    return _done(
        asked, _fold_edit(plan, cloth.name, new, text, asked), address(plan.name), lay=plan
    )


def _fold_edit(plan: Plan, cloth: str, new: Folded | None, depth: str, asked: Asked) -> Edit:
    """Return one step that takes the cloth's fold out and puts the new one in."""
    if new in asked_folds(plan) or (new is None and cloth not in _folded(plan)):
        words = f"{cloth} lies that way already"
        return {"edit": "several", "edits": [], "words": words}
    edits: list[Edit] = [
        {"edit": "remove-rule", "plan": plan.name, "rule": n}
        for n, r in reversed(list(enumerate(plan.rules, start=1)))
        if isinstance(r, Folded) and r.cloth == cloth
    ]
    words = f"{cloth} is laid single"
    if new is not None:
        values = {"kind": "folded", "cloth": cloth, "way": new.way}
        values |= {"depth": depth} if depth else {}
        edits.append({"edit": "add-rule", "plan": plan.name, "values": values})
        words = rule_words(new, asked.book.unit)
    return {"edit": "several", "edits": edits, "words": f'plan "{plan.name}": {words}'}


def _folded(plan: Plan) -> set[str]:
    return {f.cloth for f in asked_folds(plan)}


def _refused(wrong: Mapping[str, str]) -> Response:
    """Answer with a sentence for each field."""
    return JSONResponse(
        {"sentence": " ".join(wrong.values()), "fields": dict(wrong)}, status_code=400
    )


def _done(asked: Asked, edit: Edit, after: str, *, lay: Plan | None = None) -> Response:
    """Give the edit to the page's script, or make it and show the page. lay: is laid anew then."""
    if asked.form.get("wanted") == "edit":
        told = {"edit": edit, "revision": asked.revision, "after": after.removesuffix("#rules")}
        return JSONResponse(told | ({"lay": lay.name} if lay else {}))
    asked.opened.edit(edit, base=asked.revision)
    if lay is not None:
        asked.lays.start(lay.name)
    return RedirectResponse(f"/b/{asked.opened.name}/plans{after}", status_code=303)


DOORS = tuple(
    Door(path=f"/b/{{book}}/plans/{answer.__name__}", answer=answer, methods=("POST",))
    for answer in (rule, name, copy, fold)
)
