"""Where does the print go? The plans side by side, laid while one looks on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from markupsafe import Markup
from starlette.responses import Response

from clothwright.errors import BadInput, one_of
from clothwright.picture.photo_svg import Address
from clothwright.units import is_count
from clothwright.web.answering import words
from clothwright.web.cloth_pictures import photos_of
from clothwright.web.page import Asked, PageFile, post
from clothwright.web.plan_rules import address, look_address, open_rules
from clothwright.web.rule_doors import DOORS
from clothwright.web.svg import inline
from clothwright.words import begun, counted, listed
from clothwright.workroom.planning.cards import Card
from clothwright.workroom.planning.looking import lay_it_so, look_of
from clothwright.workroom.planning.rule_view import plan_words
from clothwright.workroom.planning.side_by_side import Plans, plans_of
from clothwright.workroom.planning.taking import add_plans, set_wishes
from clothwright.workroom.planning.taking import take_way as take
from clothwright.workroom.planning.wishing import (
    Wishing,
    border_wish,
    borders_of,
    edges_to_wish,
    moved,
    wishing_of,
)
from clothwright.workroom.searching.lays import SECONDS
from clothwright.workroom.sewing.on_garment import worn_by_plan

ROUGH_MM = 1.5
"""A small drawing may stray this far from the cutting line."""
TIMES = ((10, "10 seconds"), (20, "20 seconds"), (60, "1 minute"), (300, "5 minutes"))


def render(asked: Asked) -> Mapping[str, object]:
    """Return every plan as a card, the ways to fit of those that do not, and the wishes."""
    book = asked.book
    ready = bool(book.bought.pieces and book.cloths)
    plans = plans_of(asked.lays, asked.seen) if ready else Plans()
    return {
        "ready": ready,
        "missing": "pieces" if not book.bought.pieces else "cloth",
        "plans": plans,
        "drawn": lambda card: _drawn(asked, card),
        "numbers": {c.name: n for n, c in enumerate(plans.cards, start=1)},
        "worn": worn_by_plan(asked.opened, asked.seen, plans.laid),
        "ways": dict(plans.ways),
        "times": TIMES,
        "usual": int(SECONDS),
        "implied": not book.plans,
        "wishing": _wishing(asked) if ready else None,
        "borders": borders_of(book),
        "edges": edges_to_wish(book),
        "rules": plan_words(book),
        "spare": len(book.plans) > 1,
        "open": open_rules(asked) if ready else None,
        "rules_at": address,
        "look": look_of(asked, asked.query.get("look", ""), asked.query) if ready else None,
        "looks": {c.name: look_address(c.name) for c in plans.cards},
        "opens": {c.name: address(c.name) for c in plans.cards},
    }


def _wishing(asked: Asked) -> Wishing:
    """Return her wishes, found out once for each state of the workbook."""
    return asked.opened.once("wishes", asked.revision, lambda: wishing_of(asked.book))


def _drawn(asked: Asked, card: Card) -> Sequence[tuple[object, Markup]]:
    """Return the lays of a card that decide, each with its drawing, made once for each lay."""
    photos = photos_of(asked.opened.name)
    lays = tuple(small for small in card.looks.lays if small.large)
    return asked.opened.once(
        f"small lays {card.name}",
        asked.revision,
        lambda: tuple((one, _drawing(one, card.name, photos)) for one in lays),
        of=card.looks,
    )


def _drawing(one: Any, plan: str, photos: Address) -> Markup:
    """Return a small lay drawn, its ids told from other plans' by the plan's name."""
    return inline(
        one.picture,
        alt=one.alt,
        to_scale=False,
        margin=22.0,
        extra="small-lay",
        within=one.within,
        rough=ROUGH_MM,
        photos=photos,
        key=plan,
    )


# --- what is pressed ------------------------------------------------------------------------------


def lay(asked: Asked) -> Response:
    """Begin to lay one plan, or all. Raises BadInput."""
    form, seconds = asked.form, _seconds(asked.form.get("seconds", ""))
    if form.get("plan"):
        return words(
            asked, "plans", f"“{asked.lays.start(form['plan'], seconds=seconds)}” is being laid."
        )
    names = asked.lays.start_all(seconds=seconds)
    refused = [s.plan for s in asked.lays.states() if s.plan not in names]
    many = counted(len(names), "plan")
    said = f"{begun(many)} {'is' if len(names) == 1 else 'are'} being laid."
    if refused:
        left = listed([f"“{name}”" for name in refused])
        said += f" {left} cannot be laid: on the card stands what is in the way."
    return words(asked, "plans", said)


def _seconds(text: str) -> float:
    known = [n for n, _ in TIMES]
    if text and text not in map(str, known):
        raise BadInput(
            where="seconds",
            what=f'"{text}" is not offered',
            expected=one_of(str(n) for n in known),
        )
    return float(text or SECONDS)


def stop(asked: Asked) -> Response:
    """Stop one search, or all; the best lays are kept."""
    asked.lays.stop(asked.form.get("plan") or None)
    return words(asked, "plans", "Stopped. The best lay of each plan is kept.")


def find_ways(asked: Asked) -> Response:
    """Begin to look for ways to fit a plan. Raises BadInput."""
    name = asked.lays.start_ways(asked.form.get("plan", ""))
    return words(asked, "plans", f"Looking for ways to make “{name}” fit: about half a minute.")


def take_way(asked: Asked) -> Response:
    """Write a way to fit into the workbook. Raises BadInput, CannotDo; then nothing was written."""
    number = _number(asked, "number", "a way's number")
    return words(asked, "plans", take(asked.opened, asked.seen, asked.form.get("plan", ""), number))


def drop_rule(asked: Asked) -> Response:
    """Take a placing rule out of a plan. Raises BadInput, Mistakes, CannotDo."""
    number = _number(asked, "rule", "a rule's number")
    edit = {"edit": "remove-rule", "plan": asked.form.get("plan", ""), "rule": number}
    base = asked.form.get("base", "")
    done = asked.opened.edit(edit, base=int(base) if is_count(base) else asked.revision)
    return words(asked, "plans", done.words)


def _number(asked: Asked, name: str, expected: str) -> int:
    text = asked.form.get(name, "")
    if not is_count(text):
        raise BadInput(where=name, what=f'"{text}" is no number', expected=expected)
    return int(text)


def look(asked: Asked) -> Response:
    """Write what was slid into the plan, and lay it. Raises BadInput, Mistakes, CannotDo."""
    edit = lay_it_so(asked, asked.form.get("plan", ""), asked.form)
    asked.opened.edit(edit, base=asked.revision)
    name = asked.lays.start(edit.plans[0].name, seconds=SECONDS)
    return words(asked, "plans", f"“{name}” has its print where you slid it, and is being laid.")


def move_wish(asked: Asked) -> Response:
    """Let a wish matter more or less, wish for one more, or no longer for one. Raises BadInput."""
    form = asked.form
    names = moved(asked.book, form.get("wish", ""), form.get("to", ""))
    return words(asked, "plans", set_wishes(asked.opened, asked.seen, names))


def wish(asked: Asked) -> Response:
    """Wish for edges on a border. Raises BadInput."""
    form = asked.form
    edges = [v for k, v in form.items() if k.startswith("edge")]
    if not edges:
        raise BadInput(where="wishes", what="nothing is ticked", expected="at least one edge")
    name, border, above = (form.get(k, "").strip() for k in ("name", "border", "above"))
    text = border_wish(asked.book, edges, name=name, border=border, above=above)
    names = moved(asked.book, text, "in")
    return words(asked, "plans", set_wishes(asked.opened, asked.seen, names))


def make(asked: Asked) -> Response:
    """Add the most promising plans of her wishes. Raises BadInput."""
    most = _number(asked, "most", "how many plans to add")
    return words(asked, "plans", add_plans(asked.opened, asked.seen, most=most))


PAGE = PageFile(
    render=render,
    doors=(
        post("lay", lay),
        post("stop", stop),
        post("ways", find_ways),
        post("take", take_way),
        post("drop", drop_rule),
        post("look", look),
        post("wish", wish),
        post("move-wish", move_wish),
        post("make", make),
        *DOORS,
    ),
    modules=("plans.js", "rules.js", "first_look.js"),
)
