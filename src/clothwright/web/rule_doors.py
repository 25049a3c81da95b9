"""What the forms of a plan's rules send: each is checked, and becomes one edit that can be undone.

The page's own script asks for the edit (`wanted=edit`) and sends it like every other edit; a form
without a script makes it at once. A form that cannot be used is answered with a sentence for each
field, and nothing is written.
"""

from __future__ import annotations

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.web.page import Asked, Door
from clothwright.web.plan_rules import address, single_of
from clothwright.workroom.planning.rule_view import Made, copied, folded, named, sources, stated


def rule(asked: Asked) -> Response:
    """Add a rule, or change one. Raises BadInput, CannotDo."""
    plan = asked.book.plan(asked.form.get("plan", ""))
    made = stated(sources(asked.book, asked.replayed, plan), asked.form)
    after = address(plan.name, kind=made.form) if made.form else address(plan.name)
    return _done(asked, made, after)


def name(asked: Asked) -> Response:
    """Give a plan another name or reason. Raises BadInput."""
    form = asked.form
    new, why = form.get("name", "").strip(), form.get("why", "").strip()
    return _done(asked, named(asked.book, form.get("plan", ""), new, why), address(new))


def copy(asked: Asked) -> Response:
    """Make another plan, with the rules of one or with none. Raises BadInput."""
    form = asked.form
    new, why = form.get("name", "").strip(), form.get("why", "").strip()
    same = form.get("begins", "same") == "same"
    return _done(asked, copied(asked.book, form.get("plan", ""), new, why, same=same), address(new))


def fold(asked: Asked) -> Response:
    """Fold a cloth for a plan, or lay it single, and lay the plan anew. Raises BadInput."""
    plan = asked.book.plan(asked.form.get("plan", ""))
    made = folded(asked.book, plan, asked.form, single_of(asked, plan.name))
    return _done(asked, made, address(plan.name), lay=plan.name)


def _done(asked: Asked, made: Made, after: str, *, lay: str = "") -> Response:
    """Give the edit to the page's script, or make it and show the page; or say what is wrong.

    lay: the plan that is laid anew then.
    """
    if made.wrong:
        told = {"sentence": " ".join(made.wrong.values()), "fields": dict(made.wrong)}
        return JSONResponse(told, status_code=400)
    if asked.form.get("wanted") == "edit":
        answer = {
            "edit": made.edit,
            "revision": asked.revision,
            "after": after.removesuffix("#rules"),
        }
        return JSONResponse(answer | ({"lay": lay} if lay else {}))
    asked.opened.edit(made.edit, base=asked.revision)
    if lay:
        asked.lays.start(lay)
    return RedirectResponse(f"/b/{asked.opened.name}/plans{after}", status_code=303)


DOORS = tuple(
    Door(path=f"/b/{{book}}/plans/{answer.__name__}", answer=answer, methods=("POST",))
    for answer in (rule, name, copy, fold)
)
