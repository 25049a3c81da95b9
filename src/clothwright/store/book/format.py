"""workbook.toml <-> Workbook: strict reading with every mistake placed, exact writing."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import TypeGuard

from pydantic import ValidationError

from clothwright.body.body import Body
from clothwright.body.measures import MEASURES
from clothwright.checks.check import BorderEdge, CheckSettings
from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure, Print, PrintPicture
from clothwright.errors import (
    BadInput,
    ClothwrightError,
    Mistakes,
    one_of,
    raise_all,
)
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.rules.compile import mistaken_rules
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store.book import models
from clothwright.store.book.mistakes import mistake_of
from clothwright.store.book.places import line_of, place_words, places
from clothwright.store.book.upgrade import upgraded
from clothwright.units import Unit, parse_unit
from clothwright.units.params import Wrong, read_fields
from clothwright.workbook import Settings, Step, Workbook, change_of, replay

Draw = Callable[[str, str], Piece]
"""Returns a piece, given its name and the file of its drawing. Raises BadInput."""

FORMAT = 1
"""The format this program writes; older ones are upgraded on reading (store.upgrade)."""


At = Callable[..., str]
"""Says in words where a path of the text stands: `at("plan", 0, "rule", 1, "border")`."""


def read_table(text: str, where: str) -> models.BookTable:
    """Return the checked contents of workbook.toml. Raises BadInput or Mistakes with places.

    The texts read last are remembered; what is returned is not to be changed.
    """
    table = _table(text, where)
    raise_all([m for _, _, m in _misread_rules(table, _placing(text, where))])
    return table


@lru_cache(maxsize=8)
def _table(text: str, where: str) -> models.BookTable:
    """Return the checked contents, with `Misread` for placing rules that cannot be read."""
    raw = tomllib.loads(up_to_date(text, where))
    try:
        unit = parse_unit(raw.get("unit", "mm"))
    except BadInput:
        unit = Unit.mm
    context = {"unit": unit}
    try:
        return models.BookTable.model_validate(raw, context=context)
    except ValidationError as error:
        found = places(text)
        mistakes = [mistake_of(dict(e), found, where) for e in error.errors()]
        try:
            plans = models.OnlyPlans.model_validate(raw, context=context)
        except ValidationError:
            plans = models.OnlyPlans()
        for i, j, mistake in _misread_rules(plans, _placing(text, where)):
            mistakes.append((line_of(("plan", i, "rule", j), found) or 0, mistake))
        raise_all([m for _, m in sorted(mistakes, key=lambda lm: lm[0])])
        raise


def _placing(text: str, where: str) -> At:
    found = places(text)

    def at(*place: str | int) -> str:
        line = line_of(place, found)
        return f"{where}, line {line}, {place_words(place)}" if line else where

    return at


def _misread_rules(
    table: models.BookTable | models.OnlyPlans, at: At
) -> Iterator[tuple[int, int, BadInput]]:
    """Yield plan, rule (from 0) and mistake for each placing rule that could not be read."""
    for i, plan in enumerate(table.plan):
        for j, rule in enumerate(plan.rule):
            for wrong in rule.wrong if isinstance(rule, models.Misread) else ():
                yield i, j, _placed(wrong, at, "plan", i, "rule", j)


def _placed(wrong: Wrong, at: At, *place: str | int) -> BadInput:
    where = at(*place, wrong.field) if wrong.field else at(*place)
    e = wrong.error
    return BadInput(where=where, what=e.what, expected=e.expected, try_=e.try_)


def up_to_date(text: str, where: str) -> str:
    """Return the text in the current format. Raises BadInput when it is no TOML, or too new."""
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(
            where=where,
            what=f"this is not a readable workbook: {str(error)[0].lower()}{str(error)[1:]}",
            expected="TOML text (docs/file-format.md)",
        ) from None
    return upgraded(text, FORMAT, where)


def read_book(text: str, where: str, draw: Draw) -> Workbook:
    """Return the workbook that a text describes; every mistake is told at once, with its place.

    draw: returns the piece of a name and file; what it raises without a place of its own gets the
    place of the entry in the text. Raises BadInput or Mistakes.
    """
    try:
        table = _table(text, where)
    except ClothwrightError as error:
        found_too = _drawing_faults(text, draw) if isinstance(error, Mistakes | BadInput) else []
        raise_all([*_each(error), *found_too])
        raise
    at = _placing(text, where)
    pieces: list[Piece] = []
    own: list[Piece] = []
    mistakes = _twice(table, at)
    for k, row in enumerate(table.piece):
        try:
            pieces.append(draw(row.name, row.file))
            own += [] if row.size else pieces[-1:]
        except BadInput as error:
            mistakes.append(error if error.where else error.at(at("piece", k)))
    mistakes += _seam_faults(table, own, at)
    mistakes += _size_faults(table, at)
    mistakes += _change_faults(table, at)
    misread = [m for _, _, m in _misread_rules(table, at)]
    if misread:
        misread += _wrong_names(table, tuple(pieces), at) if not mistakes else []
    raise_all([*mistakes, *misread])
    return to_workbook(table, tuple(pieces))


def _wrong_names(table: models.BookTable, pieces: tuple[Piece, ...], at: At) -> Iterator[BadInput]:
    """Yield what the rules that can be read name in vain, when others cannot be read at all.

    Alone such a rule does not keep a workbook closed: the pieces may be changed so that it holds.
    """
    book = to_workbook(table, pieces)
    pattern = replay(book).pattern
    for i, plan in enumerate(book.plans):
        places = [j for j, rule in enumerate(table.plan[i].rule) if is_rule(rule)]
        for found in mistaken_rules(plan, pattern, book.cloths):
            for wrong in found.wrong:
                yield _placed(wrong, at, "plan", i, "rule", places[found.number - 1])


def _each(error: ClothwrightError) -> tuple[BadInput, ...]:
    if isinstance(error, Mistakes):
        return error.mistakes
    return (error,) if isinstance(error, BadInput) else ()


def _drawing_faults(text: str, draw: Draw) -> list[BadInput]:
    """Return what is wrong with the drawings that a text with other mistakes names."""
    try:
        rows = tomllib.loads(text).get("piece", [])
    except tomllib.TOMLDecodeError:
        return []
    faults: list[BadInput] = []
    for row in rows if isinstance(rows, list) else []:
        name, file = (row.get(k) if isinstance(row, dict) else None for k in ("name", "file"))
        if isinstance(name, str) and isinstance(file, str):
            try:
                draw(name, file)
            except BadInput as error:
                faults.append(error if error.where else error.at(f'piece "{name}"'))
    return faults


def _twice(table: models.BookTable, at: At) -> list[BadInput]:
    """Return a mistake for every name that two pieces, seams, cloths or plans share."""
    faults = []
    for kind in ("piece", "seam", "cloth", "plan"):
        names = [getattr(row, "key", row.name) for row in getattr(table, kind)]
        faults += [
            BadInput(
                where=at(kind, k, "name"),
                what=f'the name "{name.replace(chr(10), ", size ")}" stands twice',
                expected=f"a different name for every {kind}",
            )
            for k, name in enumerate(names)
            if name in names[:k]
        ]
    return faults


def _seam_faults(table: models.BookTable, pieces: Sequence[Piece], at: At) -> list[BadInput]:
    """Return the seams that name what is not there, among pieces whose drawings could be read."""
    read = {p.name: p for p in pieces}
    unread = {row.name for row in table.piece} - set(read)
    faults = []
    for k, row in enumerate(table.seam):
        if any(ref.piece in unread for ref in (*row.a, *row.b)):
            continue
        try:
            Pattern(pieces=tuple(read.values()), seams=(seam_of(row),))
        except BadInput as error:
            faults.append(error.at(at("seam", k)))
    return faults


def _change_faults(table: models.BookTable, at: At) -> list[BadInput]:
    """Return the changes of a kind that is not known, and parameters that cannot be read."""
    faults: list[BadInput] = []
    for k, row in enumerate(table.change):
        params = row.model_extra or {}
        try:
            kind = change_of(row.kind)
        except BadInput as error:
            wrong: tuple[Wrong, ...] = (Wrong("kind", error),)
        else:
            _, wrong = read_fields(kind.params, params, unit=table.unit)
        for field, e in wrong:
            place = at("change", k, field) if field in ("kind", *params) else at("change", k)
            faults.append(
                BadInput(
                    where=f"{place} ({row.kind})", what=e.what, expected=e.expected, try_=e.try_
                )
            )
    return faults


def is_rule(rule: object) -> TypeGuard[PlacingRule]:
    """Tell whether an entry of a plan could be read as a placing rule."""
    return isinstance(rule, PlacingRule)


def to_workbook(table: models.BookTable, pieces: tuple[Piece, ...]) -> Workbook:
    """Return the workbook of a checked table and the pieces it names. Raises BadInput."""
    s = table.settings
    return Workbook(
        title=table.title,
        unit=table.unit,
        bought=_bought(table, pieces),
        steps=tuple(
            Step(change=c.kind, params=settled(c.model_extra or {}), on=c.on, why=c.why)
            for c in table.change
        ),
        cloths=tuple(cloth_of(t) for t in table.cloth),
        plans=tuple(
            Plan(name=p.name, why=p.why, rules=tuple(r for r in p.rule if is_rule(r)))
            for p in table.plan
        ),
        settings=Settings(
            checks=_checks(s.check),
            gap=s.gap,
            paper=s.paper,
            for_child=s.for_child,
        ),
        chosen_plan=table.chosen_plan,
        notes=table.notes,
        body=body_of(table.body),
        chart=None if table.chart is None else table.chart.chart(table.unit),
    )


def body_of(t: models.BodyTable) -> Body:
    """Return the body of a checked table."""
    found = ((m.id, getattr(t, m.key)) for m in MEASURES)
    taken = tuple((name, figure) for name, figure in found if figure is not None)
    return Body(taken=taken, note=t.note, day=t.date, compare=t.compare)


def _bought(table: models.BookTable, pieces: tuple[Piece, ...]) -> Pattern:
    """Return the pattern of a table and its drawings, one for each entry (or none at all)."""
    drawn = list(zip(table.piece, pieces, strict=False))
    own = tuple(p for row, p in drawn if not row.size)
    seams = tuple(seam_of(t) for t in table.seam)
    sizes: SizeRange | None = None
    several = {row.name for row, _ in drawn if row.size}
    if table.sizes is not None and several:
        of = {row.key: p for row, p in drawn}
        names = tuple(p.name for p in own if p.name in several)
        sizes = SizeRange(
            names=tuple(table.sizes.names),
            drawn=table.sizes.drawn,
            pieces=tuple(
                tuple(
                    of[key]
                    for n in names
                    if (key := models.drawing_key(n, "" if s == table.sizes.drawn else s)) in of
                )
                for s in table.sizes.names
            ),
        )
    return Pattern(pieces=own, seams=seams, sizes=sizes)


def _size_faults(table: models.BookTable, at: At) -> list[BadInput]:
    """Return the drawings of a size that [sizes] does not name, or of a piece that is not there."""
    known = [] if table.sizes is None else table.sizes.names
    drawn = "" if table.sizes is None else table.sizes.drawn
    own = {row.name for row in table.piece if not row.size}
    faults = []
    for k, row in enumerate(table.piece):
        if row.size and (row.size not in known or row.size == drawn):
            faults.append(
                BadInput(
                    where=at("piece", k, "size"),
                    what=f'the size "{row.size}" is not one of the further sizes in [sizes]',
                    expected=one_of(n for n in known if n != drawn),
                )
            )
        elif row.size and row.name not in own:
            faults.append(
                BadInput(
                    where=at("piece", k, "name"),
                    what=f'size {row.size} of "{row.name}", which is no piece of the workbook',
                    expected=f'an entry for "{row.name}" without a size, too',
                )
            )
    return faults


def settled(params: Mapping[str, object]) -> dict[str, object]:
    """Return the parameters of a change with tuples for lists, as a workbook holds them."""
    return {k: tuple(v) if isinstance(v, list) else v for k, v in params.items()}


def _checks(t: models.CheckTable) -> CheckSettings:
    data = {k: getattr(t, k) for k in type(t).model_fields if k != "border"}
    return CheckSettings(**data, borders=tuple(BorderEdge(**b.model_dump()) for b in t.border))


def seam_of(t: models.SeamTable) -> Seam:
    """Return the seam of a checked table."""
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


def cloth_of(t: models.ClothTable) -> Cloth:
    """Return the cloth of a checked table."""
    data = {k: getattr(t, k) for k in type(t).model_fields if k not in ("flaw", "print")}
    data["length"] = None if t.length == "to buy" else t.length
    data["outline"] = None if t.outline is None else tuple(tuple(p) for p in t.outline)
    flaws = tuple(
        Flaw(name=f.name, ring=tuple((x, y) for x, y in f.ring), margin=f.margin) for f in t.flaw
    )
    return Cloth(**data, flaws=flaws, print=_print(t.print))


PRINT_TABLES = ("border", "figure", "picture")


def _print(t: models.PrintTable) -> Print:
    data = {k: getattr(t, k) for k in type(t).model_fields if k not in PRINT_TABLES}
    data["axes_along"], data["axes_across"] = tuple(t.axes_along), tuple(t.axes_across)
    return Print(
        **data,
        borders=tuple(Border(**b.model_dump()) for b in t.border),
        figures=tuple(Figure(**f.model_dump()) for f in t.figure),
        picture=None if t.picture is None else PrintPicture(**t.picture.model_dump()),
    )
