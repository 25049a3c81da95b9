"""workbook.toml <-> Workbook: strict reading with every mistake placed, exact writing."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import fields
from decimal import Decimal
from fractions import Fraction
from typing import Any

from pydantic import ValidationError

from clothwright.checks.check import CheckSettings
from clothwright.cloth import plan as plans
from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.errors import BadInput, did_you_mean, raise_all
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.store import models
from clothwright.store.places import place_words, places
from clothwright.store.upgrade import upgraded
from clothwright.units import Unit, parse_length, parse_unit
from clothwright.workbook import Settings, Step, Workbook

FORMAT = 1
"""The format this program writes; older ones are upgraded on reading (store.upgrade)."""

RULES: dict[str, type[plans.PlacingRule]] = {
    "on-border": plans.OnBorder,
    "at-phase": plans.AtPhase,
    "meets": plans.Meets,
    "mirrored": plans.Mirrored,
    "clear": plans.Clear,
    "one-way": plans.OneWay,
    "on-grain": plans.OnGrain,
    "cut-from": plans.CutFrom,
    "pin": plans.Pin,
}
LENGTH_KEYS = frozenset({"above", "along", "across", "by", "x", "y"})


def read_table(text: str, where: str) -> models.BookTable:
    """Return the checked contents of workbook.toml. Raises BadInput or Mistakes with places."""
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(
            where=where,
            what=f"this is not a readable workbook: {str(error)[0].lower()}{str(error)[1:]}",
            expected="TOML text (docs/file-format.md)",
        ) from None
    raw = upgraded(raw, FORMAT, where)
    try:
        unit = parse_unit(raw.get("unit", "mm"))
    except BadInput:
        unit = Unit.mm
    try:
        return models.BookTable.model_validate(raw, context={"unit": unit})
    except ValidationError as error:
        found = places(text)
        raise_all([_mistake(dict(e), found, where) for e in error.errors()])
        raise


def _mistake(error: dict[str, Any], found: Mapping[tuple[Any, ...], int], where: str) -> BadInput:
    loc = tuple(p for p in error["loc"] if p not in RULES and not str(p).startswith("function-"))
    loc = tuple(p for p in loc if not re.fullmatch(r"constrained-\w+|literal\[.*\]|float", str(p)))
    line = next((found[loc[:n]] for n in range(len(loc), 0, -1) if loc[:n] in found), None)
    place = f"{where}, line {line}" if line else where
    what, expected = _words(error, loc)
    return BadInput(where=f"{place}, {place_words(loc)}", what=what, expected=expected)


def _words(error: dict[str, Any], loc: tuple[Any, ...]) -> tuple[str, str]:  # noqa: PLR0911
    kind, given = error["type"], error.get("input")
    context = error.get("ctx", {})
    if kind == "missing":
        return "is missing", "an entry of this name"
    if kind == "extra_forbidden":
        known = _known_keys(loc)
        return f"this entry is not known.{did_you_mean(str(loc[-1]), known)}", (
            "one of " + ", ".join(known) if known else ""
        )
    if kind == "value_error":
        return str(context.get("error", error["msg"])), ""
    if kind == "rule_kind":
        name = str(given.get("kind", "")) if isinstance(given, dict) else ""
        return f'there is no placing rule "{name}".{did_you_mean(name, list(RULES))}', (
            "one of " + ", ".join(RULES)
        )
    if kind == "literal_error":
        return f"found {given!r}", "one of " + str(context.get("expected", ""))
    if kind in ("greater_than", "greater_than_equal"):
        bound = context.get("gt", context.get("ge"))
        more = "more than" if kind == "greater_than" else "at least"
        return f"found {given!r}", f"{more} {bound:g}"
    message = str(error["msg"])
    return f"found {given!r}", message.removeprefix("Input should be ")


def _known_keys(loc: tuple[Any, ...]) -> list[str]:
    table: Any = models.BookTable
    for part in loc[:-1]:
        if isinstance(part, int):
            continue
        nested = {
            "settings": models.SettingsTable,
            "check": models.CheckTable,
            "piece": models.PieceTable,
            "seam": models.SeamTable,
            "cloth": models.ClothTable,
            "print": models.PrintTable,
            "border": models.BorderTable,
            "figure": models.FigureTable,
            "flaw": models.FlawTable,
            "plan": models.PlanTable,
        }
        if part == "rule":
            return sorted({f for m in models.RULE_TABLES for f in m.model_fields})
        table = nested.get(str(part), table)
    return list(table.model_fields)


def to_workbook(table: models.BookTable, pieces: tuple[Piece, ...]) -> Workbook:
    """Return the workbook of a checked table and the pieces it names. Raises BadInput."""
    s = table.settings
    return Workbook(
        title=table.title,
        unit=table.unit,
        bought=Pattern(pieces=pieces, seams=tuple(_seam(t) for t in table.seam)),
        steps=tuple(
            Step(change=c.kind, params=dict(c.model_extra or {}), on=c.on, why=c.why)
            for c in table.change
        ),
        cloths=tuple(_cloth(t) for t in table.cloth),
        plans=tuple(
            plans.Plan(name=p.name, why=p.why, rules=tuple(_rule(r) for r in p.rule))
            for p in table.plan
        ),
        settings=Settings(
            checks=CheckSettings(**s.check.model_dump()),
            gap=s.gap,
            paper=s.paper,
            for_child=s.for_child,
        ),
        chosen_plan=table.chosen_plan,
        notes=table.notes,
    )


def _seam(t: models.SeamTable) -> Seam:
    return Seam(
        name=t.name,
        a=tuple(t.a),
        b=tuple(t.b),
        ease=t.ease,
        ease_from=t.ease_from,
        ease_to=t.ease_to,
        eased_max=t.eased_max,
        kind=t.kind,
    )


def _cloth(t: models.ClothTable) -> Cloth:
    data = {k: getattr(t, k) for k in type(t).model_fields if k not in ("flaw", "print")}
    data["length"] = None if t.length == "to buy" else t.length
    data["outline"] = None if t.outline is None else tuple(tuple(p) for p in t.outline)
    flaws = tuple(
        Flaw(name=f.name, ring=tuple((x, y) for x, y in f.ring), margin=f.margin) for f in t.flaw
    )
    return Cloth(**data, flaws=flaws, print=_print(t.print))


def _print(t: models.PrintTable) -> Print:
    data = {k: getattr(t, k) for k in type(t).model_fields if k not in ("border", "figure")}
    data["axes_along"], data["axes_across"] = tuple(t.axes_along), tuple(t.axes_across)
    return Print(
        **data,
        borders=tuple(Border(**b.model_dump()) for b in t.border),
        figures=tuple(Figure(**f.model_dump()) for f in t.figure),
    )


def _rule(table: models.Strict) -> plans.PlacingRule:
    data = table.model_dump(by_alias=True)
    kind = RULES[data.pop("kind")]
    if "pieces" in data:
        data["pieces"] = tuple(data["pieces"])
    return kind(**data)


def length_text(mm: float, unit: Unit) -> str:
    """Return text that `parse_length` reads back as exactly this length, short where possible.

    >>> length_text(15.875, Unit.inch), length_text(435.0, Unit.cm)
    ('5/8 in', '43.5 cm')

    A length under a millionth of a millionth of a mm is written as nothing.
    """
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
            "agree": f"{c.agree!r} mm",
            "notice": f"{c.notice!r} mm",
            "cap_ease_min": ln(c.cap_ease_min),
            "cap_ease_max": ln(c.cap_ease_max),
            "corner_deg": c.corner_deg,
        },
    }
    data["piece"] = [{"name": p.name, "file": files[p.name]} for p in book.bought.pieces]
    data["seam"] = [_plain_seam(s, ln) for s in book.bought.seams]
    data["cloth"] = [_plain_cloth(c_, ln) for c_ in book.cloths]
    data["plan"] = [_plain_plan(p, ln) for p in book.plans]
    data["change"] = [_plain_step(s) for s in book.steps]
    return data


def _plain_seam(s: Seam, ln: Any) -> dict[str, Any]:
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


def _plain_cloth(c: Cloth, ln: Any) -> dict[str, Any]:
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
            out[key] = _share_text(getattr(c, key))
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


def _share_text(share: float) -> str:
    for digits in range(8):
        text = f"{share * 100:.{digits}f} %"
        if models._share(text) == share:
            return text
    return repr(share)


def _plain_print(p: Print, ln: Any) -> dict[str, Any]:
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
    if p.borders:
        out["border"] = [_plain_border(b, ln) for b in p.borders]
    if p.figures:
        out["figure"] = [
            {"name": f.name, "x": ln(f.x), "y": ln(f.y), "radius": ln(f.radius)} for f in p.figures
        ]
    return out


def _plain_border(b: Border, ln: Any) -> dict[str, Any]:
    out: dict[str, Any] = {"name": b.name, "side": b.side, "base": ln(b.base)}
    out.update(height=ln(b.height), down=b.down)
    if b.repeat is not None:
        out["repeat"] = ln(b.repeat)
    return out


def _plain_plan(p: plans.Plan, ln: Any) -> dict[str, Any]:
    kinds = {cls: kind for kind, cls in RULES.items()}
    rules = []
    for rule in p.rules:
        row: dict[str, Any] = {"kind": kinds[type(rule)]}
        for f in fields(rule):
            value = getattr(rule, f.name)
            if value == f.default:
                continue
            if isinstance(value, tuple):
                value = list(value)
            elif f.name in LENGTH_KEYS and isinstance(value, float | int):
                value = ln(value)
            row[f.name] = value
        rules.append(row)
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
