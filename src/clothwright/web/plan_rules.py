"""The rules of the plan that is open on the plans page, and the addresses that open them."""

from __future__ import annotations

from urllib.parse import urlencode

from clothwright.web.page import Asked
from clothwright.workroom.planning.plan_forms import Single, laid_single
from clothwright.workroom.planning.rule_view import PlanRules, rules_of


def address(plan: str, **more: str) -> str:
    """Return the query that opens a plan's rules."""
    return "?" + urlencode({"plan": plan, **more}) + "#rules"


def look_address(plan: str) -> str:
    """Return the query that opens the first look at a plan."""
    return "?" + urlencode({"look": plan}) + "#look"


def single_of(asked: Asked, plan_name: str) -> Single:
    """Return what makes the lay problem of a plan laid single, kept until the next edit."""
    book, replayed = asked.book, asked.replayed
    return lambda: asked.opened.once(
        f"single {plan_name}",
        asked.revision,
        lambda: laid_single(book, replayed, book.plan(plan_name)),
    )


def open_rules(asked: Asked) -> PlanRules | None:
    """Return the plan whose rules are open, None when none is (or it is gone)."""
    name, query = asked.query.get("plan", ""), asked.query
    return rules_of(
        asked.book,
        asked.replayed,
        name,
        single_of(asked, name),
        mark=query.get("rule", ""),
        form=query.get("kind", ""),
    )
