"""Where does the print go? The plans side by side, laid while one looks on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.errors import BadInput, one_of
from clothwright.pattern.piece import Role
from clothwright.rules.plan import Plan
from clothwright.store import save_step
from clothwright.units import Unit
from clothwright.web.garment_view import worn_by_plan
from clothwright.web.page import Asked, Door, Page
from clothwright.web.plan_cards import cards
from clothwright.web.plan_rules import address, open_rules
from clothwright.web.rule_doors import DOORS
from clothwright.words import show_length
from clothwright.workbook import Workbook
from clothwright.workroom.planning.choosing import (
    MOST_WISHES,
    Wish,
    parse_wish,
    plans_from,
    wishes_of,
)
from clothwright.workroom.planning.rule_view import plan_words
from clothwright.workroom.planning.ways_kept import applied
from clothwright.workroom.searching.lays import SECONDS, WaysState
from clothwright.workroom.sewing.guiding import compare_table

TIMES = ((10, "10 seconds"), (20, "20 seconds"), (60, "1 minute"), (300, "5 minutes"))
SEEN_MM = 1.0
"""mm: a way to fit that saves less than this saves nothing."""
EASY = (Role.HEM,)
"""Edges offered to be put on a border by a tick; others can be typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to fit, as the page shows it."""

    number: int
    what: str
    fits: bool
    words: str
    costs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """The ways to fit of one plan. vain: what was tried and saves nothing."""

    busy: bool
    listed: bool
    tried: tuple[str, ...]
    found: tuple[Way, ...]
    vain: tuple[str, ...]
    trouble: str


def render(asked: Asked) -> Mapping[str, object]:
    """Return every plan as a card, the ways to fit of those that do not, and the wishes."""
    book, lays = asked.book, asked.lays
    ready = bool(book.bought.pieces and book.cloths)
    states = lays.states() if ready else ()
    shown = cards(states, book.unit, {p.name: p.why for p in book.plans}, book.plan().name)
    short = {
        s.plan: s.laid.lay.short_by for s in states if s.laid is not None and not s.laid.lay.fits
    }
    laid = [s.laid for s in states if s.laid is not None]
    return {
        "ready": ready,
        "missing": "pieces" if not book.bought.pieces else "cloth",
        "cards": shown,
        "numbers": {c.name: n for n, c in enumerate(shown, start=1)},
        "busy": any(c.busy for c in shown) or any(lays.ways(n).busy for n in short),
        "how_many_fit": sum(1 for c in shown if c.fits),
        "laid": len(laid),
        "worn": worn_by_plan(asked, states),
        "ways": {n: _ways(lays.ways(n), by, book.unit) for n, by in short.items()},
        "times": TIMES,
        "usual": int(SECONDS),
        "implied": not book.plans,
        "table": compare_table(book, laid) if len(laid) > 1 else None,
        "wishes": wishes_of(book),
        "borders": tuple(b.name for c in book.cloths for b in c.print.borders),
        "edges": tuple(_easy(book)) if ready else (),
        "most": MOST_WISHES,
        "rules": plan_words(book),
        "spare": {p.name: len(book.plans) > 1 for p in book.plans},
        "open": open_rules(asked) if ready else None,
        "rules_at": address,
        "opens": {c.name: address(c.name) for c in shown},
    }


def _easy(book: Workbook) -> list[tuple[str, str]]:
    """Return the edges most often put on a border, as a value and words; cloths with a print."""
    printed = {c.material for c in book.cloths if c.print.borders}
    return [
        (f"{p.name}.{e.name}", f"{p.name}, {e.name}")
        for p in book.bought.pieces
        if any(c.material in printed for c in p.cuts)
        for e in p.edges
        if e.role in EASY
    ]


def _ways(state: WaysState, short_by: float | None, unit: Unit) -> Ways:
    found, vain = [], []
    for way in state.ways or ():
        saves = way["short_by_mm"]
        if way["fits"] or (saves is not None and (short_by is None or saves < short_by - SEEN_MM)):
            found.append(_way(way, unit))
        else:
            vain.append(str(way["what"]))
    return Ways(
        busy=state.busy,
        listed=state.ways is not None,
        tried=state.tried if state.busy else (),
        found=tuple(found),
        vain=tuple(vain),
        trouble=state.trouble,
    )


def _way(way: Mapping[str, Any], unit: Unit) -> Way:
    words = "fits" if way["fits"] else f"short by {show_length(way['short_by_mm'], unit)}"
    used = ", ".join(f"{n} {show_length(u, unit)}" for n, u in way["used_mm"].items() if u > 0)
    what = str(way["what"])
    return Way(
        number=way["number"],
        what=what[:1].upper() + what[1:],
        fits=way["fits"],
        words=f"{words[:1].upper()}{words[1:]}. Used: {used}.",
        costs=tuple(way["look"]),
    )


# --- what is pressed ------------------------------------------------------------------------------


def lay(asked: Asked) -> Response:
    """Begin to lay one plan, or all. Raises BadInput."""
    form, lays = asked.form, asked.lays
    seconds = _seconds(form.get("seconds", ""))
    if form.get("plan"):
        return _said(asked, f"“{lays.start(form['plan'], seconds=seconds)}” is being laid.")
    names = lays.start_all(seconds=seconds)
    return _said(asked, f"{len(names)} plans are being laid." if len(names) > 1 else "Being laid.")


def _seconds(text: str) -> float:
    known = [n for n, _ in TIMES]
    if text and (not text.isdigit() or int(text) not in known):
        raise BadInput(
            where="seconds",
            what=f'"{text}" is not offered',
            expected=one_of(str(n) for n in known),
        )
    return float(text or SECONDS)


def stop(asked: Asked) -> Response:
    """Stop one search, or all; the best lays are kept."""
    asked.lays.stop(asked.form.get("plan") or None)
    return _said(asked, "Stopped. The best lay of each plan is kept.")


def find_ways(asked: Asked) -> Response:
    """Begin to look for ways to fit a plan. Raises BadInput."""
    name = asked.lays.start_ways(asked.form.get("plan", ""))
    return _said(asked, f"Looking for what would make “{name}” fit: about half a minute.")


def take_way(asked: Asked) -> Response:
    """Write a way to fit into the workbook. Raises BadInput, CannotDo; then nothing was written."""
    text = asked.form.get("number", "")
    if not text.isdigit():
        raise BadInput(where="number", what=f'"{text}" is no number', expected="a way's number")
    plan = asked.form.get("plan", "")
    after, entry = applied(asked.opened.folder, asked.book, plan, int(text))
    words = f'made "{plan}" fit: {entry["what"]}; plan "{entry["plan"]}"'
    _save(asked, after, words)
    extra = " The pieces change with it, for every plan." if after.steps != asked.book.steps else ""
    return _said(asked, f"“{entry['plan']}” is a plan now, and chosen.{extra}")


def drop_rule(asked: Asked) -> Response:
    """Take a placing rule out of a plan. Raises BadInput, Mistakes, CannotDo."""
    text = asked.form.get("rule", "")
    if not text.isdigit():
        raise BadInput(where="rule", what=f'"{text}" is no number', expected="a rule's number")
    edit = {"edit": "remove-rule", "plan": asked.form.get("plan", ""), "rule": int(text)}
    base = asked.form.get("base", "")
    done = asked.opened.edit(edit, base=int(base) if base.isdigit() else asked.revision)
    return _said(asked, done.words)


def wish(asked: Asked) -> Response:
    """Add the plan of the wishes ticked, or a plan for every set of them. Raises BadInput."""
    wishes = _wishes(asked)
    every = asked.form.get("how") == "every"
    made = [plan for _, plan in plans_from(asked.book, wishes)]
    known = [frozenset(p.rules) for p in asked.book.plans]
    new = [p for p in (made if every else made[-1:]) if frozenset(p.rules) not in known]
    if not new:
        raise BadInput(
            where="wishes",
            what="the workbook has this plan already",
            expected="other wishes",
            try_="to tick one more, or one less",
        )
    named = _named(asked.book, new)
    words = "plans added: " + ", ".join(p.name for p in named)
    chosen = asked.book.chosen_plan or named[0].name
    after = replace(asked.book, plans=(*asked.book.plans, *named), chosen_plan=chosen)
    _save(asked, after, words)
    one = f"“{named[0].name}” is a plan now." if len(named) == 1 else f"{len(named)} plans more."
    return _said(asked, f"{one} Lay it to see whether it fits." if len(named) == 1 else one)


def _wishes(asked: Asked) -> tuple[Wish, ...]:
    """Read the ticked wishes of the workbook and the one that was put together. BadInput."""
    known, form = wishes_of(asked.book), asked.form
    out = [w for n, w in enumerate(known) if form.get(f"wish{n}")]
    ticked = [v for k, v in form.items() if k.startswith("edge") and k != "edges"]
    typed = [e.strip() for e in form.get("edges", "").split(",") if e.strip()]
    edges = [*ticked, *typed]
    if edges:
        name = form.get("name", "").strip() or ", ".join(edges)
        text = f"{name.replace('=', ' ')} = {', '.join(edges)}"
        text += f" on {form['border']}" if form.get("border") else ""
        text += f" above {form['above']}" if form.get("above", "").strip() else ""
        out.append(parse_wish(text, asked.book))
    if not out:
        raise BadInput(where="wishes", what="nothing is ticked", expected="at least one wish")
    return tuple(out)


def _named(book: Workbook, plans: Sequence[Plan]) -> list[Plan]:
    """Return plans with names that no plan of the workbook has."""
    taken, out = {p.name for p in book.plans}, []
    for plan in plans:
        name, n = plan.name, 2
        while name in taken:
            name, n = f"{plan.name} {n}", n + 1
        taken.add(name)
        out.append(replace(plan, name=name))
    return out


def _save(asked: Asked, after: Workbook, words: str) -> None:
    saved = save_step(asked.opened.folder, after, words=words, previous=asked.book)
    asked.opened.tell_changed(saved.number)


def _said(asked: Asked, words: str) -> Response:
    """Say what was begun: to the page's own script as JSON, else by showing the page."""
    if asked.form.get("by") == "script":
        return JSONResponse({"words": words})
    return RedirectResponse(PAGE.address(asked.opened.name), status_code=303)


def _post(name: str, answer: Any) -> Door:
    return Door(path=f"/b/{{book}}/plans/{name}", answer=answer, methods=("POST",))


PAGE = Page(
    name="plans",
    path="/b/{book}/plans",
    question="Where does the print go?",
    render=render,
    doors=(
        _post("lay", lay),
        _post("stop", stop),
        _post("ways", find_ways),
        _post("take", take_way),
        _post("drop", drop_rule),
        _post("wish", wish),
        *DOORS,
    ),
    modules=("plans.js", "rules.js"),
)
