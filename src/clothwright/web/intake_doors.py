"""What the intake page takes: a file, an answer, "add them", "throw it away"."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import asdict, replace
from urllib.parse import urlencode

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import NONE
from clothwright.intake.candidates import scale_of
from clothwright.intake.drafting import cuts_of
from clothwright.intake.edges import DRAWN
from clothwright.intake.nested import FATES
from clothwright.units import parse_angle_deg, parse_length
from clothwright.web.page import Asked
from clothwright.workroom.pieces import inbox, sitting, sitting_edges, typing
from clothwright.workroom.pieces.inbox import Waiting
from clothwright.workroom.pieces.sitting import Look, Outline
from clothwright.workroom.pieces.sitting_reading import may_be_read_otherwise
from clothwright.workroom.pieces.sitting_sizes import plain_sizes, sizes_of

LARGEST = 25_000_000
FREE = ("notches", "darts", "levels", "fold")

Answered = Callable[[Asked, Waiting, Outline], Waiting]


def take_in(asked: Asked) -> Response:
    """POST ?name=FILE with the file as the body: put it into the inbox. Raises BadInput.

    A file that cannot be read is not kept; the sentence says what is wrong with it.
    """
    name = asked.query.get("name", "").strip()
    if not name:
        raise BadInput(where="file", what="it has no name", expected="a file with its name")
    one = inbox.put_in(asked.opened.folder, name, asked.sent)
    seen = sitting.look(one, asked.book.bought, asked.book.unit)
    kept = typing.is_notes(one) or may_be_read_otherwise(seen)
    if seen.trouble and not kept:
        inbox.throw_away(asked.opened.folder, one.id)
        return JSONResponse({"sentence": seen.trouble}, status_code=400)
    asked.opened.tell("inbox")
    address = f"/b/{asked.opened.name}/add?" + urlencode({"drawing": one.id})
    return JSONResponse({"words": f"{one.file} has come in.", "address": address})


def answer(asked: Asked) -> Response:
    """POST ?drawing=ID&piece=N with what= and the fields of that question. Raises BadInput."""
    key, number = _about(asked)
    what = asked.form.get("what", "")
    if what not in ANSWERS:
        raise BadInput(where="answer", what=f'"{what}" was not asked', expected="a question here")
    made = ANSWERS[what]

    def change(one: Waiting) -> Waiting:
        seen = _seen(asked, one)
        return made(asked, one, _outline(seen, number))

    after = inbox.answer(asked.opened.folder, key, change)
    asked.opened.tell("inbox")
    trouble = _seen(asked, after).trouble
    return _back(asked, key, number, trouble or "Kept.")


def confirm(asked: Asked) -> Response:
    """POST ?drawing=ID: add its pieces, as one edit. Raises BadInput, CannotDo: what is missing."""
    key, _ = _about(asked)
    one = inbox.one_waiting(asked.opened.folder, key)
    seen = _seen(asked, one)
    edit = sitting.edit_of(seen)
    sizes, why = sizes_of(seen, asked.book.unit)
    sent = {"edit": "add-pieces", **asdict(edit), "sizes": plain_sizes(sizes) if sizes else {}}
    done = asked.opened.edit(sent, base=asked.revision, token=f"add-{key}")
    if typing.is_notes(one):
        added = tuple(o.piece for o in seen.outlines if o.wanted and o.piece is not None)
        typing.keep(asked.opened.folder, typing.notes_in(one), added)
    inbox.throw_away(asked.opened.folder, key)
    asked.opened.tell("inbox")
    address = f"/b/{asked.opened.name}/add?" + urlencode({"added": len(edit.drawings)})
    if asked.form.get("by") == "script":
        words = f"{done.words} {why}".strip()
        return JSONResponse({"words": words, "revision": done.revision, "address": address})
    return RedirectResponse(address, status_code=303)


def throw(asked: Asked) -> Response:
    """POST ?drawing=ID: take a drawing out of the inbox. Raises BadInput."""
    key, _ = _about(asked)
    inbox.throw_away(asked.opened.folder, key)
    asked.opened.tell("inbox")
    address = f"/b/{asked.opened.name}/add"
    if asked.form.get("by") == "script":
        return JSONResponse({"words": "Thrown away.", "address": address})
    return RedirectResponse(address, status_code=303)


def _about(asked: Asked) -> tuple[str, int]:
    number = asked.query.get("piece", "0")
    if not number.isascii() or not number.isdigit():
        raise BadInput(where="piece", what=f'"{number[:20]}" is no number', expected="0, 1, 2")
    return asked.query.get("drawing", ""), int(number)


def _seen(asked: Asked, one: Waiting) -> Look:
    return sitting.look(one, asked.book.bought, asked.book.unit)


def _outline(seen: Look, number: int) -> Outline:
    if seen.trouble:
        raise BadInput(what=seen.trouble)
    found = next((o for o in seen.outlines if o.number == number), None)
    if found is None:
        raise BadInput(
            where="piece", what=f"there is no outline {number}", expected="one that is shown"
        )
    return found


def _back(asked: Asked, key: str, number: int, words: str) -> Response:
    if asked.form.get("by") == "script":
        return JSONResponse({"words": words})
    query = urlencode({"drawing": key, "piece": number})
    return RedirectResponse(f"/b/{asked.opened.name}/add?{query}#sitting", status_code=303)


# --- the answers ---------------------------------------------------------------------------------


def _take(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    return inbox.with_answers(one, outline.number, take=_one_of(asked, "take", ("yes", "no")))


def _name(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    name = " ".join(asked.form.get("name", "").split())
    if not name or "." in name or len(name) > 60:
        raise BadInput(
            where="name",
            what="the piece has no name" if not name else f'"{name[:60]}" cannot be a name',
            expected="some letters, without a dot",
        )
    instead = "yes" if asked.form.get("replace") else ""
    return inbox.with_answers(one, outline.number, name=name, replace=instead)


def _size(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    """The unit it was drawn in, or how tall the first outline really is."""
    scale = asked.form.get("scale", "")
    if scale == "measured":
        real = asked.form.get("tall", "")
        unit = asked.book.unit
        parse_length(real, unit=unit, where="the measured length", least_mm=1.0)
        if outline.candidate is None:
            raise BadInput(what="this drawing has its own size", expected="no answer")
        low, high = outline.candidate.outline.path.bounds()
        drawn = (high.y - low.y) / scale_of(one.scale, unit)
        scale = f"{real.strip()} is {drawn:.6f}"
    elif scale:
        scale_of(scale, asked.book.unit)
    return sitting_edges.with_scale(one, scale)


def _begin(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    """The pattern size to begin with; corners that were pressed are found anew."""
    del outline
    sizes = _seen(asked, one).sizes
    return replace(sitting_edges.with_scale(one, one.scale), size=_one_of(asked, "begin", sizes))


def _allowance(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    how = _one_of(asked, "how", (DRAWN, "included", NONE))
    unit = asked.book.unit
    amount, add = asked.form.get("amount", "").strip(), asked.form.get("add", "").strip()
    if how == "included":
        parse_length(amount, unit=unit, where="allowance", least_mm=0.0)
    if how == NONE and add:
        parse_length(add, unit=unit, where="allowance to add", least_mm=0.0)
    allowance = amount if how == "included" else how
    return sitting_edges.with_allowance(one, outline, allowance, add if how == NONE else "")


def _corners(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    text = asked.form.get("corners", "").strip()
    if text and not text.isdigit():
        parse_angle_deg(text, where="corners")
    return inbox.with_answers(one, outline.number, corners=text, edges=())


def _corner(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    found = re.fullmatch(r"(-?\d{1,6}(?:\.\d+)?),(-?\d{1,6}(?:\.\d+)?)", asked.form.get("at", ""))
    if not found:
        raise BadInput(where="corner", what="it says no place", expected='"x,y" in mm')
    return sitting_edges.with_corner(one, outline, Vec(float(found[1]), float(found[2])))


def _edges(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    form = asked.form
    count = sum(1 for k in form if re.fullmatch(r"edge\.\d{1,3}", k))
    names = [form.get(f"edge.{n}", "") for n in range(count)]
    fold = form.get("fold", "")
    if fold.isdigit():
        fold = " ".join(names[int(fold)].split()) if int(fold) < count else NONE
    widths = {n: form[f"width.{n}"] for n in range(count) if form.get(f"width.{n}", "").strip()}
    for n, text in widths.items():
        parse_length(text, unit=asked.book.unit, where=f"allowance of {names[n]}", least_mm=0.0)
    return sitting_edges.with_edges(one, outline, names, fold, widths)


def _grain(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    value = _one_of(asked, "grain", (DRAWN, "up", "angle"))
    if value == "angle":
        value = asked.form.get("angle", "").strip()
        parse_angle_deg(value, where="grain")
    return inbox.with_answers(one, outline.number, grain=value)


def _cut(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    rows = []
    for n in range(4):
        material = " ".join(asked.form.get(f"material.{n}", "").split())
        count = asked.form.get(f"count.{n}", "1").strip() or "1"
        if material:
            how = asked.form.get(f"how.{n}", "")
            rows.append(f"{material} {how}" + (f" {count}" if count != "1" else ""))
    if not rows:
        raise BadInput(where="cut", what="no material is named", expected="shell, for example")
    cuts_of(", ".join(rows), folded=False)
    return inbox.with_answers(one, outline.number, cut=", ".join(rows))


def _found(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    key = _one_of(asked, "which", FREE)
    value = _one_of(asked, "value", ("found", NONE))
    return inbox.with_answers(one, outline.number, **{key: value})


def _nested(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    """Which closed line is the piece's own, and what the others inside are."""
    count = len(outline.whole.nested) if outline.whole else 0
    chosen = _one_of(asked, "outline", tuple(str(n) for n in range(1, count + 2)))
    fates = [
        f"{n}={fate}"
        for n in range(1, count + 1)
        if (fate := asked.form.get(f"inside.{n}", "left out")) in FATES[:2] and str(n + 1) != chosen
    ]
    return sitting_edges.with_nested(
        one, outline.number, "" if chosen == "1" else chosen, ", ".join(fates)
    )


def _marks(asked: Asked, one: Waiting, outline: Outline) -> Waiting:
    kept = sorted(int(k[5:]) for k in asked.form if re.fullmatch(r"keep\.\d{1,3}", k))
    return inbox.with_answers(one, outline.number, marks=",".join(map(str, kept)) if kept else NONE)


def _all(asked: Asked, one: Waiting, outline: Outline) -> Waiting:  # noqa: ARG001
    """Everything as it is proposed for this outline."""
    values: dict[str, str | tuple[str, ...]] = {"take": "yes", "name": outline.name}
    for q in outline.asked:
        values[q.id] = tuple(q.default.split(",")) if q.id == "edges" else q.default
    if "edges" in values:
        _, _, parts, _ = sitting_edges.settled(outline)
        values["corners"] = "at " + "; ".join(f"{p.start.x:.3f},{p.start.y:.3f}" for p in parts)
    return inbox.with_answers(one, outline.number, **values)


def _one_of(asked: Asked, field: str, known: tuple[str, ...]) -> str:
    value = asked.form.get(field, "")
    if value not in known:
        raise BadInput(
            where=field, what=f'"{value[:40]}" is no answer', expected="one of " + ", ".join(known)
        )
    return value


ANSWERS: Mapping[str, Answered] = {
    "take": _take,
    "name": _name,
    "size": _size,
    "begin": _begin,
    "allowance": _allowance,
    "corners": _corners,
    "corner": _corner,
    "edges": _edges,
    "grain": _grain,
    "cut": _cut,
    "found": _found,
    "marks": _marks,
    "nested": _nested,
    "all": _all,
}
