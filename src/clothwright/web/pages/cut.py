"""How does it lie on the cloth? The lay on the long table, moved by hand, laid and ticked off."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path as FilePath
from urllib.parse import urlencode

from markupsafe import Markup
from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.drawing.lay import lay_picture
from clothwright.errors import BadInput, CannotDo, one_of
from clothwright.geometry.thin import thinned_ring
from clothwright.lay.order import LayingStep, laying_list
from clothwright.lay.problem import Ring
from clothwright.pattern.finding import Severity
from clothwright.picture.picture import Picture
from clothwright.store.beside.places import lay_file
from clothwright.units import Unit
from clothwright.web.cut_files import PIECE_FILES, piece_doors
from clothwright.web.cut_lay import (
    Table,
    Wanted,
    held_words,
    may_turn,
    shape_named,
    table_of,
    track_of,
    try_place,
    turned,
)
from clothwright.web.garment_view import worn_of
from clothwright.web.page import Asked, Door, Page, handed_over
from clothwright.web.svg import inline
from clothwright.words import say, show_length
from clothwright.workroom.cutting.printing import lay_drawing, lay_pdf, print_pieces
from clothwright.workroom.cutting.ticks import done_ticks, set_ticks
from clothwright.workroom.searching.lays import LayState
from clothwright.workroom.sewing.wearing import garment_pictures

PAPERS = ("A4", "Letter")
MOST_FAULTS = 3
MARGIN_MM = 20.0
ROUGH_MM = 0.3
"""A drawing on the screen may stray this far from the cutting line."""
NUDGES = ((1.0, "1 mm"), (10.0, "10 mm"))
WAYS = (("left", -1, 0), ("right", 1, 0), ("up", 0, 1), ("down", 0, -1))
READY = (
    ("ready scale", "Measure the test square of the printed pages before anything is cut."),
    ("ready cloth", "Cloth washed or shrunk as it will be worn, pressed, its ends squared."),
    ("ready flat", "Cloth flat on the table, nothing hanging over, right side as the plan says."),
)
CHECKED = (
    ("check grain", "Measure every grain line to the selvedge at both ends once more."),
    ("check print", "Look at the border and the motifs under every piece."),
    ("check count", "Count the pieces: each is there, each turned over where the list says so."),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One step of the laying list. key: of its ticks."""

    number: int
    shape: str
    words: str
    href: str
    chosen: bool
    pinned: bool
    laid: bool
    cut: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing to tick before or after laying."""

    key: str
    words: str
    done: bool


def render(asked: Asked) -> Mapping[str, object]:
    """Return the lay of the chosen plan, its laying list, and the chosen piece."""
    ready = bool(asked.book.bought.pieces and asked.book.cloths)
    if not ready:
        return {"ready": False, "table": None, "missing": _missing(asked), "state": None}
    state, table = table_of(asked)
    shared = {
        "ready": True,
        "plan": state.plan,
        "state": state,
        "busy": state.busy,
        "verdict": _verdict(state, table, asked.book.unit),
        "papers": PAPERS,
        "piece_files": PIECE_FILES,
        "mine": "Letter" if not asked.book.unit.is_metric else "A4",
    }
    if table is None:
        return {**shared, "table": None}
    return {**shared, "table": table, **_shown(asked, state.plan, table)}


def _missing(asked: Asked) -> str:
    return "pieces" if not asked.book.bought.pieces else "cloth"


def _verdict(state: LayState, table: Table | None, unit: Unit) -> tuple[str, tuple[str, ...]]:
    """Return how the lay stands: "good", "notice" or "bad", and sentences."""
    if state.stage == "failed":
        return "bad", (f"It cannot be laid. {state.trouble}",)
    if table is None:
        return "notice", ("Being laid.",) if state.busy else ("This plan is not laid yet.",)
    out = ["Being laid around what is pinned; the best so far is shown."] if state.busy else []
    faults = [
        say(f.words, unit)
        for f in table.laid.faults
        if f.severity is Severity.FAULT or f.code == "lay-unplaced"
    ]
    short = table.laid.lay.short_by
    if short:
        out.append(f"The cloth is too short by {show_length(short, unit)}.")
    if faults:
        out += faults[:MOST_FAULTS]
        if len(faults) > MOST_FAULTS:
            out.append(f"And {len(faults) - MOST_FAULTS} more.")
        if not state.busy:
            out.append("Do not cut by it yet: lay the rest around the pinned pieces.")
    elif not table.fresh and not short:
        out.append("Moved by hand, and judged anew: every rule is kept and nothing overlaps.")
    elif not out:
        out.append("It fits; every rule is kept and nothing overlaps.")
    kind = "notice" if state.busy else "bad" if faults or short else "good"
    return kind, tuple(out)


def _shown(asked: Asked, plan: str, table: Table) -> Mapping[str, object]:
    unit = asked.book.unit
    steps = laying_list(table.laid.compiled, table.laid.lay)
    cloths = tuple(dict.fromkeys(s.cloth for s in steps))
    wanted = asked.query.get("piece", "")
    chosen = wanted if wanted in table.places else ""
    cloth = asked.query.get("cloth", "")
    if cloth not in cloths:
        cloth = table.places[chosen].region if chosen else cloths[0]
    if chosen and table.places[chosen].region != cloth:
        chosen = ""
    done = done_ticks(asked.opened.folder, plan, table.mark)
    rows = tuple(_row(s, table, unit, done, chosen) for s in steps if s.cloth == cloth)
    of = {s.shape: s for s in steps}
    drawing = asked.opened.once(
        f"lay drawn {cloth}",
        asked.revision,
        lambda: _on_screen(table, cloth, unit),
        of=(table.mark, table.fresh),
    )
    title = f"The lay on {cloth}: {len(rows)} pieces, {_used(table, cloth, unit)}"
    return {
        "cloth": cloth,
        "cloths": tuple((c, _href(cloth=c), c == cloth) for c in cloths),
        "used": _used(table, cloth, unit),
        "drawing": inline(
            drawing,
            alt=title,
            over=_holds(table, rows, cloth),
            margin=MARGIN_MM,
            extra="lay",
            rough=ROUGH_MM,
        ),
        "rows": rows,
        "before": _lines(READY, done),
        "after_laid": _lines(CHECKED, done),
        "done": sum(r.laid for r in rows),
        "one": _one(table, of[chosen], unit) if chosen else None,
        "worn_now": lambda: worn_of(asked, table.laid, "cut"),
        "folded": bool(table.laid.folds),
        "pins": len(table.pins),
        "nudges": NUDGES,
        "ways": WAYS,
    }


def _href(**query: str) -> str:
    return "?" + urlencode({k: v for k, v in query.items() if v})


def _used(table: Table, cloth: str, unit: Unit) -> str:
    return f"{show_length(table.laid.lay.used.get(cloth, 0.0), unit)} used"


def picture_of(table: Table, cloth: str, unit: Unit) -> Picture:
    """Return one cloth of the lay as drawn everywhere."""
    laid = table.laid
    return lay_picture(laid.compiled, laid.lay, cloth, unit, folds=laid.folds)


def _on_screen(table: Table, cloth: str, unit: Unit) -> Picture:
    """Return the same with outlines as fine as a screen shows them: a third less to send."""
    laid = table.laid
    rough = tuple(replace(p, outline=_rough(p.outline)) for p in laid.lay.placements)
    lay = replace(laid.lay, placements=rough)
    return lay_picture(laid.compiled, lay, cloth, unit, folds=laid.folds)


@lru_cache(maxsize=512)
def _rough(outline: Ring) -> Ring:
    return thinned_ring(outline, ROUGH_MM)


def _lines(lines: tuple[tuple[str, str], ...], done: frozenset[str]) -> tuple[Line, ...]:
    return tuple(Line(key=k, words=w, done=k in done) for k, w in lines)


def _row(step: LayingStep, table: Table, unit: Unit, done: frozenset[str], chosen: str) -> Row:
    return Row(
        number=step.number,
        shape=step.shape,
        words=_where(step, unit),
        href=_href(cloth=step.cloth, piece=step.shape),
        chosen=step.shape == chosen,
        pinned=step.shape in table.pins,
        laid=f"lay {step.number}" in done,
        cut=f"cut {step.number}" in done,
    )


def _where(step: LayingStep, unit: Unit) -> str:
    """Say where the grain line's ends come to lie, measured from cut end and lower selvedge."""

    def at(x: float, y: float) -> str:
        return f"{show_length(x, unit)} along, {show_length(y, unit)} up"

    over = "Turned over. " if step.turned_over else ""
    if (step.head - step.tail).norm < 1.0:
        return f"{over}Its middle at {at(step.tail.x, step.tail.y)}."
    tail, head = at(step.tail.x, step.tail.y), at(step.head.x, step.head.y)
    return f"{over}Grain line from {tail}, to {head}."


def _one(table: Table, step: LayingStep, unit: Unit) -> Mapping[str, object]:
    shape = table.shapes[step.shape]
    copy = table.laid.compiled.copy(step.shape)
    return {
        "shape": step.shape,
        "number": step.number,
        "piece": copy.piece.name,
        "copy": copy.copy,
        "pinned": step.shape in table.pins,
        "where": _where(step, unit),
        "held": held_words(table, step.shape, unit),
        "turns": may_turn(shape),
    }


def _holds(table: Table, rows: tuple[Row, ...], cloth: str) -> Markup:
    """Return something to take hold of over every piece of the lay."""
    out = []
    order = list(table.shapes)
    for row in sorted(rows, key=lambda r: order.index(r.shape)):
        place = table.places[row.shape]
        copy = table.laid.compiled.copy(row.shape)
        ring = "L".join(f"{x:.0f},{-y:.0f}" for x, y in place.outline[:: _every(place.outline)])
        free = [track_of(table, place, axis) for axis in (0, 1)]
        data = {
            "shape": row.shape,
            "piece": copy.piece.name,
            "copy": copy.copy,
            "cloth": cloth,
            "x": f"{place.x:.4f}",
            "y": f"{place.y:.4f}",
            "turn": f"{place.turn_deg:.4f}",
            "flipped": "yes" if place.flipped else "no",
            "pinned": "yes" if row.pinned else "no",
            "held": "".join("1" if t is None or not t.free else "0" for t in free),
            "href": row.href,
        }
        told = Markup(" ").join(Markup('data-{}="{}"').format(k, v) for k, v in data.items())
        words = f"{row.number} {row.shape}" + (", pinned" if row.pinned else "")
        now = Markup(' aria-pressed="true"') if row.chosen else Markup(' aria-pressed="false"')
        mark = "hold pinned" if row.pinned else "hold"
        mark += " chosen" if row.chosen else ""
        out.append(
            Markup(
                '<g class="{}" id="hold-{}" tabindex="0" role="button" aria-label="{}" {}{}>'
                '<path class="reach" d="M{}Z"/>{}</g>'
            ).format(
                mark,
                row.shape.replace(" ", "-"),
                words,
                told,
                now,
                ring,
                _pin_mark(place, row.pinned),
            )
        )
    return Markup("").join(out)


def _every(ring: tuple[tuple[float, float], ...]) -> int:
    """Return which points of an outline are enough to take hold of it."""
    return max(1, len(ring) // 60)


def _pin_mark(place: object, pinned: bool) -> Markup:
    """Return a pin through the middle of a pinned piece."""
    if not pinned:
        return Markup("")
    ring = getattr(place, "outline", ())
    x = sum(p[0] for p in ring) / len(ring)
    y = -sum(p[1] for p in ring) / len(ring)
    return Markup(
        '<path class="pin" d="M{0:.0f},{1:.0f}l70,-50M{2:.0f},{3:.0f}a14,14 0 1 1 -0.1,0"/>'
    ).format(x - 35, y + 45, x + 45, y - 33)


# --- what is pressed ------------------------------------------------------------------------------


def _on_table(asked: Asked) -> tuple[LayState, Table]:
    state, table = table_of(asked)
    if table is None:
        raise CannotDo(what="nothing can be moved or printed", why="this plan is not laid yet")
    return state, table


def try_it(asked: Asked) -> Response:
    """Answer a drag: the nearest place that keeps the rules, and what is wrong there. BadInput."""
    sent = _sent(asked)
    _, table = _on_table(asked)
    name = str(sent.get("shape", ""))
    shape_named(table, name)
    if table.laid.folds:
        raise CannotDo(
            what="a piece cannot be moved by hand", why="the cloth is folded, both layers are cut"
        )
    wanted = turned(table, name) if sent.get("next") else _wanted(sent, name)
    tried = try_place(table, wanted, asked.book.unit)
    p = tried.place
    return JSONResponse(
        {
            "shape": name,
            "x": round(p.x, 4),
            "y": round(p.y, 4),
            "turn": p.turn_deg,
            "flipped": p.flipped,
            "faults": tried.faults,
            "over": tried.over,
            "may_pin": tried.may_pin,
        }
    )


def _sent(asked: Asked) -> Mapping[str, object]:
    try:
        sent = json.loads(asked.sent)
    except ValueError:
        sent = None
    if not isinstance(sent, dict):
        raise BadInput(where="place", what="it is no JSON", expected='{"shape", "x", "y"}')
    return sent


def _wanted(sent: Mapping[str, object], name: str) -> Wanted:
    def number(key: str) -> float:
        value = sent.get(key, 0.0)
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise BadInput(where=key, what=f"{value!r} is no number", expected="mm or degrees")
        return float(value)

    return Wanted(
        shape=name,
        x=number("x"),
        y=number("y"),
        turn_deg=number("turn"),
        flipped=sent.get("flipped") is True,
        step=(number("step_x"), number("step_y")),
        came=(number("from_x"), number("from_y")),
    )


def tick(asked: Asked) -> Response:
    """Tick or untick a line of the laying list. Raises BadInput."""
    state, table = _on_table(asked)
    form = asked.form
    lay = form.get("lay") or table.mark
    set_ticks(
        asked.opened.folder, state.plan, lay, {form.get("key", ""): form.get("done") == "yes"}
    )
    asked.opened.tell("ticks")
    return _said(asked, "")


def lay_rest(asked: Asked) -> Response:
    """Lay the plan anew around what is pinned. Raises BadInput."""
    name = asked.lays.start()
    return _said(asked, f"“{name}” is being laid, around what is pinned.")


def stop(asked: Asked) -> Response:
    """Stop laying; the best lay is kept."""
    asked.lays.stop()
    return _said(asked, "Stopped. The best lay is kept.")


def _said(asked: Asked, words: str) -> Response:
    if asked.form.get("by") == "script":
        return JSONResponse({"words": words})
    return RedirectResponse(PAGE.address(asked.opened.name), status_code=303)


# --- files to take away ---------------------------------------------------------------------------


def pages_pdf(asked: Asked) -> Response:
    """Return the pieces at full size on many pages. Raises BadInput, CannotDo."""
    paper = asked.query.get("paper", "A4")
    if paper not in PAPERS:
        raise BadInput(
            where="paper", what=f'"{paper[:40]}" is not offered', expected=" or ".join(PAPERS)
        )
    with tempfile.TemporaryDirectory() as out:
        files = print_pieces(asked.book, FilePath(out), kinds=("pages",), paper=paper)
        data = files[0].read_bytes()
    return handed_over(data, "application/pdf", files[0].name)


def _lay_file(kind: str, make: Callable[[Picture], bytes]) -> Callable[[Asked], Response]:
    """Return the door of the lay plan as one kind of file."""

    def answer(asked: Asked) -> Response:
        state, table = _on_table(asked)
        cloths = [r for r, used in table.laid.lay.used.items() if used > 0]
        cloth = asked.query.get("cloth", cloths[0])
        if cloth not in cloths:
            raise BadInput(
                where="cloth", what=f'nothing lies on "{cloth[:60]}"', expected=", ".join(cloths)
            )
        stem = lay_file(FilePath(), f"{state.plan} on {cloth}").stem
        ending, media = kind, "application/pdf" if kind == "pdf" else "image/svg+xml"
        return handed_over(
            make(picture_of(table, cloth, asked.book.unit)), media, f"{stem}.{ending}"
        )

    return answer


def garment_pdf(asked: Asked) -> Response:
    """Return front and back of a garment with its print as one page. Raises BadInput, CannotDo."""
    state, table = _on_table(asked)
    pictures = garment_pictures(table.laid)
    name = asked.query.get("name", "")
    if name not in pictures:
        raise BadInput(
            where="name",
            what=f'there is no garment "{name[:60]}"',
            expected=one_of(pictures),
        )
    stem = lay_file(FilePath(), f"{state.plan} on the {name}").stem
    return handed_over(lay_pdf(pictures[name]), "application/pdf", f"{stem}.pdf")


def _post(name: str, answer: Callable[[Asked], Response]) -> Door:
    return Door(path=f"/b/{{book}}/cut/{name}", answer=answer, methods=("POST",))


def _get(name: str, answer: Callable[[Asked], Response]) -> Door:
    return Door(path=f"/b/{{book}}/cut/{name}", answer=answer)


PAGE = Page(
    name="cut",
    path="/b/{book}/cut",
    question="How does it lie on the cloth?",
    render=render,
    doors=(
        _post("try", try_it),
        _post("tick", tick),
        _post("lay", lay_rest),
        _post("stop", stop),
        _get("pages.pdf", pages_pdf),
        _get("lay.pdf", _lay_file("pdf", lay_pdf)),
        _get("garment.pdf", garment_pdf),
        _get("lay.svg", _lay_file("svg", lay_drawing)),
        *piece_doors(),
    ),
    modules=("cut.js", "garment.js"),
)
