"""What the forms of a plan's rules send: each is checked, and becomes one edit."""

from __future__ import annotations

from starlette.responses import Response

from clothwright.web.answering import made_edit
from clothwright.web.page import Asked, post
from clothwright.web.plan_rules import address, single_of
from clothwright.workroom.planning.plan_forms import copied, folded, named
from clothwright.workroom.planning.rule_view import sources, stated


def rule(asked: Asked) -> Response:
    """Add a rule, or change one. Raises BadInput, CannotDo."""
    plan = asked.book.plan(asked.form.get("plan", ""))
    made = stated(sources(asked.book, asked.replayed, plan), asked.form)
    after = address(plan.name, kind=made.form) if made.form else address(plan.name)
    return made_edit(asked, made, "plans", after)


def name(asked: Asked) -> Response:
    """Give a plan another name or reason. Raises BadInput."""
    form = asked.form
    new, why = form.get("name", "").strip(), form.get("why", "").strip()
    return made_edit(
        asked, named(asked.book, form.get("plan", ""), new, why), "plans", address(new)
    )


def copy(asked: Asked) -> Response:
    """Make another plan, with the rules of one or with none. Raises BadInput."""
    form = asked.form
    new, why = form.get("name", "").strip(), form.get("why", "").strip()
    same = form.get("begins", "same") == "same"
    return made_edit(
        asked, copied(asked.book, form.get("plan", ""), new, why, same=same), "plans", address(new)
    )


def fold(asked: Asked) -> Response:
    """Fold a cloth for a plan, or lay it single, and lay the plan anew. Raises BadInput."""
    plan = asked.book.plan(asked.form.get("plan", ""))
    made = folded(asked.book, plan, asked.form, single_of(asked, plan.name))
    return made_edit(asked, made, "plans", address(plan.name), lay=plan.name)


DOORS = tuple(post(answer.__name__, answer) for answer in (rule, name, copy, fold))
