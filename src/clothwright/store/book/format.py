"""workbook.toml <-> Workbook: strict reading with every mistake placed, exact writing."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache

from pydantic import ValidationError

from clothwright.body.body import Body
from clothwright.body.measures import MEASURES
from clothwright.checks.check import BorderEdge, CheckSettings
from clothwright.cloth import plan as plans
from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure, Print, PrintPicture
from clothwright.errors import BadInput, ClothwrightError, Mistakes, raise_all
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.store.book import models
from clothwright.store.book.mistakes import mistake_of
from clothwright.store.book.places import line_of, place_words, places
from clothwright.store.book.upgrade import upgraded
from clothwright.units import Unit, parse_unit
from clothwright.units.params import read_params
from clothwright.workbook import Settings, Step, Workbook, change_of

Draw = Callable[[str, str], Piece]
"""Returns a piece, given its name and the file of its drawing. Raises BadInput."""

FORMAT = 1
"""The format this program writes; older ones are upgraded on reading (store.upgrade)."""

RULES: dict[str, type[plans.PlacingRule]] = {
    "on-border": plans.OnBorder,
    "at-phase": plans.AtPhase,
    "meets": plans.Meets,
    "mirrored": plans.Mirrored,
    "clear": plans.Clear,
    "keep-off": plans.KeepOff,
    "one-way": plans.OneWay,
    "on-grain": plans.OnGrain,
    "cut-from": plans.CutFrom,
    "folded": plans.Folded,
    "pin": plans.Pin,
}


@lru_cache(maxsize=8)
def read_table(text: str, where: str) -> models.BookTable:
    """Return the checked contents of workbook.toml. Raises BadInput or Mistakes with places.

    The texts read last are remembered; what is returned is not to be changed.
    """
    raw = tomllib.loads(up_to_date(text, where))
    try:
        unit = parse_unit(raw.get("unit", "mm"))
    except BadInput:
        unit = Unit.mm
    try:
        return models.BookTable.model_validate(raw, context={"unit": unit})
    except ValidationError as error:
        found = places(text)
        mistakes = [mistake_of(dict(e), found, where) for e in error.errors()]
        raise_all([m for _, m in sorted(mistakes, key=lambda lm: lm[0])])
        raise


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
        table = read_table(text, where)
    except ClothwrightError as error:
        found_too = _drawing_faults(text, draw) if isinstance(error, Mistakes | BadInput) else []
        raise_all([*_each(error), *found_too])
        raise
    found = places(text)

    def at(*place: str | int) -> str:
        line = line_of(place, found)
        return f"{where}, line {line}, {place_words(place)}" if line else where

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
    raise_all(mistakes)
    return to_workbook(table, tuple(pieces))


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


def _twice(table: models.BookTable, at: Callable[..., str]) -> list[BadInput]:
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


def _seam_faults(
    table: models.BookTable, pieces: Sequence[Piece], at: Callable[..., str]
) -> list[BadInput]:
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


def _change_faults(table: models.BookTable, at: Callable[..., str]) -> list[BadInput]:
    """Return the changes of a kind that is not known, and parameters that cannot be read."""
    faults: list[BadInput] = []
    for k, row in enumerate(table.change):
        params = row.model_extra or {}
        try:
            kind = change_of(row.kind)
            read_params(kind.params, params, unit=table.unit, where="")
        except (BadInput, Mistakes) as error:
            for each in _each(error):
                named = (p for p in params if each.where == f", {p}" or f'"{p}"' in each.what)
                key = next(named, "kind" if f'"{row.kind}"' in each.what else None)
                place = at("change", k, key) if key else at("change", k)
                faults.append(
                    BadInput(
                        where=f"{place} ({row.kind})",
                        what=each.what,
                        expected=each.expected,
                        try_=each.try_,
                    )
                )
    return faults


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
            plans.Plan(name=p.name, why=p.why, rules=tuple(rule_of(r) for r in p.rule))
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


def _size_faults(table: models.BookTable, at: Callable[..., str]) -> list[BadInput]:
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
                    expected="one of " + (", ".join(n for n in known if n != drawn) or "(none)"),
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


def rule_of(table: models.Strict) -> plans.PlacingRule:
    """Return the placing rule of a checked table."""
    data = table.model_dump(by_alias=True)
    kind = RULES[data.pop("kind")]
    if "pieces" in data:
        data["pieces"] = tuple(data["pieces"])
    return kind(**data)
