"""Workbook -> plain data for TOML: lengths as exact text in the maker's unit, defaults unsaid."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from clothwright.body.body import Body
from clothwright.body.chart import SizeChart
from clothwright.body.measures import measure_of
from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print, PrintPicture
from clothwright.errors import BadInput
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.rules.kinds import entries_of
from clothwright.rules.plan import Plan
from clothwright.store.book import models
from clothwright.store.book.format import FORMAT, seam_of, to_workbook
from clothwright.units import Unit, parse_length
from clothwright.workbook import Step, Workbook

Say = Callable[[float], str]


def length_text(mm: float, unit: Unit) -> str:
    """Return text that `parse_length` reads back as exactly this length, short where possible.

    >>> length_text(15.875, Unit.inch), length_text(435.0, Unit.cm)
    ('5/8 in', '43.5 cm')

    A length under a millionth of a millionth of a mm is written as nothing.
    """
    if not math.isfinite(mm):
        raise BadInput(what=f"a length came out as {mm}", expected="a finite length")
    if abs(mm) < 1e-12:
        return f"0 {unit.value}"
    for text in _tries(mm, unit):
        if parse_length(text, unit=unit) == mm:
            return text
    return f"{format(Decimal(repr(mm)), 'f').removesuffix('.0')} mm"


def _tries(mm: float, unit: Unit) -> list[str]:
    exact = Fraction(mm) / unit.exact_mm
    out = []
    if not unit.is_metric:
        rough = exact.limit_denominator(64)
        sign, size = ("-" if rough < 0 else ""), abs(rough)
        whole, rest = divmod(size, 1)
        parts = [str(whole)] if whole or not rest else []
        parts += [f"{rest.numerator}/{rest.denominator}"] if rest else []
        out.append(f"{sign}{' '.join(parts)} {unit.value}")
    return out + [f"{float(exact):.{digits}f} {unit.value}" for digits in range(5)]


def to_plain(book: Workbook, files: Mapping[str, str]) -> dict[str, Any]:
    """Return the workbook as plain data for TOML. files: piece name -> file name."""
    rows = [
        _row(p.name, size, files[models.drawing_key(p.name, size)])
        for p, size in drawings(book.bought)
    ]
    found = book.bought.sizes
    sizes = {} if found is None else {"names": list(found.names), "drawn": found.drawn}
    return _plain(book, rows, sizes, book.bought.seams)


def drawings(pattern: Pattern) -> list[tuple[Piece, str]]:
    """Return every piece with "", then its drawing in each further size with that size's name."""
    out: list[tuple[Piece, str]] = []
    sizes = pattern.sizes
    for piece in pattern.pieces:
        out.append((piece, ""))
        if sizes is not None and piece.name in sizes.piece_names:
            each = zip(sizes.names, sizes.each(piece.name), strict=True)
            out += [(p, size) for size, p in each if size != sizes.drawn]
    return out


def _row(name: str, size: str, file: str) -> dict[str, str]:
    return {"name": name, "size": size, "file": file} if size else {"name": name, "file": file}


def said_by(table: models.BookTable, unit: Unit) -> dict[str, Any]:
    """Return what a checked text says, in the form of `to_plain`, lengths written in `unit`."""
    bare = to_workbook(table.model_copy(update={"seam": []}), ())
    rows = [_row(p.name, p.size, p.file) for p in table.piece]
    sizes = {} if table.sizes is None else table.sizes.model_dump()
    seams = tuple(seam_of(t) for t in table.seam)
    said = _plain(replace(bare, unit=unit), rows, sizes, seams)
    if table.chart is not None and table.chart.unit is None and unit is not table.unit:
        del said["chart"]["unit"]  # left out it meant the old unit; from now on it is said
    return {**said, "unit": table.unit.value, "format": table.format}


def _plain(
    book: Workbook, rows: list[dict[str, str]], sizes: dict[str, Any], seams: tuple[Seam, ...]
) -> dict[str, Any]:
    def ln(mm: float) -> str:
        return length_text(mm, book.unit)

    data: dict[str, Any] = {"format": FORMAT, "title": book.title, "unit": book.unit.value}
    if book.notes:
        data["notes"] = book.notes
    if book.chosen_plan:
        data["chosen_plan"] = book.chosen_plan
    c = book.settings.checks
    data["settings"] = {
        "gap": ln(book.settings.gap),
        "paper": book.settings.paper,
        "for_child": book.settings.for_child,
        "check": {
            "agree": length_text(c.agree, Unit.mm),
            "notice": length_text(c.notice, Unit.mm),
            "cap_ease_min": ln(c.cap_ease_min),
            "cap_ease_max": ln(c.cap_ease_max),
            "corner_deg": c.corner_deg,
        },
    }
    if c.borders:
        data["settings"]["check"]["border"] = [
            {"piece": b.piece, "edge": b.edge, "plan": b.plan, "rise_max": ln(b.rise_max)}
            for b in c.borders
        ]
    if book.body != Body():
        data["body"] = plain_body(book.body)
    if book.chart is not None:
        data["chart"] = plain_chart(book.chart)
    if sizes:
        data["sizes"] = sizes
    data["piece"] = rows
    data["seam"] = [plain_seam(s, ln) for s in seams]
    data["cloth"] = [_plain_cloth(c_, ln) for c_ in book.cloths]
    data["plan"] = [_plain_plan(p, ln) for p in book.plans]
    data["change"] = [_plain_step(s) for s in book.steps]
    return {k: v for k, v in data.items() if v != []}


def plain_body(body: Body) -> dict[str, Any]:
    """Return the measurements as plain data, each as typed."""
    out: dict[str, Any] = {"date": body.day} if body.day else {}
    if body.note:
        out["note"] = body.note
    if not body.compare:
        out["compare"] = False
    return out | {measure_of(m).key: figure.text for m, figure in body.taken}


def plain_chart(chart: SizeChart) -> dict[str, Any]:
    """Return a size chart as plain data, as typed."""
    out: dict[str, Any] = {"name": chart.name}
    if chart.source:
        out["source"] = chart.source
    return out | {"unit": chart.unit.value, "text": chart.text}


def plain_seam(s: Seam, ln: Say) -> dict[str, Any]:
    """Return a seam as plain data. ln: says a length as text."""
    out: dict[str, Any] = {"name": s.name, "a": [str(r) for r in s.a], "b": [str(r) for r in s.b]}
    if s.kind != "plain":
        out["kind"] = s.kind
    for key in ("ease", "eased_max"):
        if getattr(s, key):
            out[key] = ln(getattr(s, key))
    for key in ("ease_from", "ease_to"):
        if getattr(s, key):
            out[key] = getattr(s, key)
    return out


CLOTH_LENGTHS = ("margin_lower", "margin_upper", "margin_start", "margin_end")
PRINT_LENGTHS = ("repeat_along", "repeat_across", "origin_along", "origin_across")


def _plain_cloth(c: Cloth, ln: Say) -> dict[str, Any]:
    out: dict[str, Any] = {
        "name": c.name,
        "material": c.material,
        "width": ln(c.width),
        "length": "to buy" if c.length is None else ln(c.length),
        **{k: ln(getattr(c, k)) for k in CLOTH_LENGTHS},
    }
    if c.outline is not None:
        out["outline"] = [[ln(x), ln(y)] for x, y in c.outline]
    if c.nap:
        out["nap"] = True
    for key in ("shrink_along", "shrink_across", "stretch"):
        if getattr(c, key):
            out[key] = share_text(getattr(c, key))
    if c.price_per_m is not None:
        out["price_per_m"] = c.price_per_m
    if c.note:
        out["note"] = c.note
    if c.flaws:
        out["flaw"] = [
            {"name": f.name, "margin": ln(f.margin), "ring": [[ln(x), ln(y)] for x, y in f.ring]}
            for f in c.flaws
        ]
    if c.print != Print():
        out["print"] = _plain_print(c.print, ln)
    return out


def share_text(share: float) -> str:
    """Return a share as text that is read back as exactly this share.

    >>> share_text(0.035)
    '3.5 %'
    """
    if not math.isfinite(share):
        raise BadInput(what=f"a share came out as {share}", expected="a finite share")
    text = format(Decimal(repr(float(share))) * 100, "f")
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} %"


def _plain_print(p: Print, ln: Say) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for key in PRINT_LENGTHS:
        if getattr(p, key):
            out[key] = ln(getattr(p, key))
    for key in ("axes_along", "axes_across"):
        if getattr(p, key):
            out[key] = [ln(a) for a in getattr(p, key)]
    if p.one_way:
        out["one_way"] = True
    if p.look != "plain":
        out["look"] = p.look
    if p.picture is not None:
        out["picture"] = _plain_picture(p.picture, ln)
    if p.borders:
        out["border"] = [_plain_border(b, ln) for b in p.borders]
    if p.figures:
        out["figure"] = [
            {"name": f.name, "x": ln(f.x), "y": ln(f.y), "radius": ln(f.radius)} for f in p.figures
        ]
    return out


def _plain_picture(p: PrintPicture, ln: Say) -> dict[str, Any]:
    out: dict[str, Any] = {"file": p.file, "width": ln(p.width), "height": ln(p.height)}
    out.update({key: ln(getattr(p, key)) for key in ("along", "across") if getattr(p, key)})
    return out


def _plain_border(b: Border, ln: Say) -> dict[str, Any]:
    out: dict[str, Any] = {"name": b.name, "side": b.side, "base": ln(b.base)}
    out.update(height=ln(b.height), down=b.down)
    if b.repeat is not None:
        out["repeat"] = ln(b.repeat)
    return out


def _plain_plan(p: Plan, ln: Say) -> dict[str, Any]:
    rules = [entries_of(rule, ln) for rule in p.rules]
    out: dict[str, Any] = {"name": p.name}
    if p.why:
        out["why"] = p.why
    if rules:
        out["rule"] = rules
    return out


def _plain_step(s: Step) -> dict[str, Any]:
    out: dict[str, Any] = {"kind": s.change}
    if not s.on:
        out["on"] = False
    if s.why:
        out["why"] = s.why
    for key, value in s.params.items():
        out[key] = list(value) if isinstance(value, tuple) else value
    return out
