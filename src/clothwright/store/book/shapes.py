"""workbook.toml as values, and what the file says otherwise than their dataclasses."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from clothwright.body.body import Body, day_of, measurement
from clothwright.body.chart import SizeChart, chart_from
from clothwright.body.measures import MEASURES, measure_of
from clothwright.checks.check import BorderEdge, CheckSettings
from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Print, PrintPicture
from clothwright.errors import BadInput
from clothwright.pattern.pattern import Companion, Seam
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.rules.known import KIND, kind_of, read_rule
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store.book.picture_name import is_picture_name
from clothwright.store.values import FileShape, Own, Place, Reading, Slip, Writing, types_of
from clothwright.units import Unit, parse_unit
from clothwright.units.kinds import Length, Name, NoFewer
from clothwright.words import with_lengths
from clothwright.words.exact import length_text
from clothwright.workbook import Settings, Step, Workbook


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRow:
    """Where a piece's drawing lies. size: of which size it is; without one it is the piece."""

    name: Name
    size: str = ""
    file: Name

    @property
    def key(self) -> str:
        """What tells this drawing from all others."""
        return drawing_key(self.name, self.size)


def drawing_key(name: str, size: str = "") -> str:
    """Return the key of a piece's drawing, or of its drawing in another size."""
    return f"{name}\n{size}" if size else name


@dataclass(frozen=True, slots=True, kw_only=True)
class SizesRow:
    """The sizes the pattern was bought in, smallest first. drawn: that of the pieces."""

    names: Annotated[tuple[str, ...], NoFewer(2)]
    drawn: Name


@dataclass(frozen=True, slots=True, kw_only=True)
class BookFile:
    """The whole file. book: all but the pieces, which have their drawings and stand in `pieces`.

    bare_chart: the chart names no unit, so that its figures count in the workbook's.
    """

    format: int
    book: Workbook
    sizes: SizesRow | None = None
    pieces: tuple[PieceRow, ...] = ()
    seams: tuple[Seam, ...] = ()
    companions: tuple[Companion, ...] = ()
    bare_chart: bool = False


# --- values that the file writes in a way of its own ----------------------------------------------


def _read_length(reading: Reading, data: Any, at: Place) -> Any:
    to_buy = isinstance(data, str) and data == "to buy"
    return None if to_buy else reading.value(types_of(Cloth)["length"], data, at)


def _write_length(mm: float | None, unit: Unit) -> str:
    return "to buy" if mm is None else length_text(mm, unit)


def _read_picture(reading: Reading, data: Any, at: Place) -> str | None:
    if isinstance(data, str) and is_picture_name(data):
        return data
    reading.slip(
        at,
        f"{data!r} is no picture of the workbook",
        'the plain name of a JPEG or PNG file in its folder "pictures"',
    )
    return None


def _read_body(reading: Reading, data: Any, at: Place) -> Body:
    entries = reading.entries(data, at)
    known = {m.key: m for m in MEASURES}
    own = {"date": "", "note": "", "compare": True}
    reading.unknown(entries, [*own, *known], at)
    if isinstance(entries.get("date"), dt.date):
        entries["date"] = entries["date"].isoformat()
    for key, usual in own.items():
        own[key] = reading.value(type(usual), entries.get(key, usual), (*at, key))
    taken = []
    for key in (k for k in known if k in entries):
        value, place = entries[key], (*at, key)
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            reading.slip(
                place, f"{value!r} is not a length", with_lengths('text such as "36 1/2 in"')
            )
            continue
        try:
            taken.append((known[key].id, measurement(value, measure=known[key], unit=reading.unit)))
        except BadInput as error:
            reading.refuse(error, place)
    try:
        own["date"] = day_of(str(own["date"]))
    except BadInput as error:
        reading.refuse(error, (*at, "date"))
    return Body(
        taken=tuple(taken),
        note=str(own["note"]),
        day=str(own["date"]),
        compare=bool(own["compare"]),
    )


def _write_body(body: Body, _: Unit) -> dict[str, Any]:
    own = {"date": body.day, "note": body.note, "compare": body.compare}
    usual = ("", "", True)
    out = {k: v for (k, v), left_out in zip(own.items(), usual, strict=True) if v != left_out}
    return out | {measure_of(m).key: figure.text for m, figure in body.taken}


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartRow:
    """The size chart as it stands in the file. unit: of the figures that name none."""

    name: str = "my chart"
    source: str = ""
    unit: Unit | None = None
    text: Name


def _read_chart(reading: Reading, data: Any, at: Place) -> SizeChart | None:
    row = reading.table(ChartRow, data, at)
    if row is None:
        return None
    return chart_from(row.text, name=row.name, source=row.source, unit=row.unit or reading.unit)


def _write_chart(chart: SizeChart, _: Unit) -> dict[str, Any]:
    source = {"source": chart.source} if chart.source else {}
    return {"name": chart.name, **source, "unit": chart.unit.value, "text": chart.text}


def _read_rule(reading: Reading, data: Any, at: Place) -> PlacingRule | None:
    rule, wrong = read_rule(reading.entries(data, at), unit=reading.unit)
    for name, e in wrong:
        place = (*at, name) if name else at
        reading.slips.append(Slip(place, e.what, e.expected, e.try_))
    return rule


def _write_rule(rule: PlacingRule, unit: Unit) -> dict[str, Any]:
    return {KIND: kind_of(rule).id} | Writing(unit=unit).table(type(rule), rule)


def _read_step(reading: Reading, data: Any, at: Place) -> Step:
    entries = reading.entries(data, at)
    if "kind" not in entries:
        reading.slip((*at, "kind"), "is missing", "an entry of this name")
    return Step(
        change=reading.value(Name, entries.pop("kind", "-"), (*at, "kind")),
        on=reading.value(bool, entries.pop("on", True), (*at, "on")),
        why=reading.value(str, entries.pop("why", ""), (*at, "why")),
        toile=reading.value(str, entries.pop("toile", ""), (*at, "toile")),
        params=settled(entries),
    )


def _write_step(step: Step, _: Unit) -> dict[str, Any]:
    out: dict[str, Any] = {"kind": step.change}
    out |= {} if step.on else {"on": False}
    out |= {"why": step.why} if step.why else {}
    out |= {"toile": step.toile} if step.toile else {}
    return out | {k: list(v) if isinstance(v, tuple) else v for k, v in step.params.items()}


def settled(params: Mapping[str, object]) -> dict[str, object]:
    """Return the parameters of a change with tuples for lists, as a workbook holds them."""
    return {k: tuple(v) if isinstance(v, list) else v for k, v in params.items()}


OWN: Mapping[Any, Own] = {
    Unit: Own(lambda _, data, __: parse_unit(data), lambda unit, _: unit.value),
    EdgeRef: Own(lambda _, data, __: parse_edge(str(data)), lambda ref, _: str(ref)),
    Body: Own(_read_body, _write_body),
    SizeChart: Own(_read_chart, _write_chart),
    PlacingRule: Own(_read_rule, _write_rule),
    Step: Own(_read_step, _write_step),
}

IN_MM = Own(
    lambda reading, data, at: reading.value(Length, data, at),
    lambda mm, _: length_text(mm, Unit.mm),
)
"""The bands of the walk: written in mm in every workbook."""

SHAPES: Mapping[type, FileShape] = {
    BookFile: FileShape(
        inside="book",
        keys={"pieces": "piece", "seams": "seam", "companions": "companion"},
        without={"bare_chart"},
    ),
    Workbook: FileShape(
        keys={"cloths": "cloth", "plans": "plan", "steps": "change"},
        must={"unit"},
        said={"unit", "settings"},
        without={"bought", "cut"},
    ),
    Settings: FileShape(keys={"checks": "walk"}, said={"checks", "gap", "paper", "for_child"}),
    CheckSettings: FileShape(
        keys={"borders": "border"},
        said={"agree", "notice", "cap_ease_min", "cap_ease_max", "corner_deg"},
        without={"body", "bought", "stretches"},
        own={"agree": IN_MM, "notice": IN_MM},
    ),
    BorderEdge: FileShape(said={"plan", "rise_max"}),
    Cloth: FileShape(
        keys={"flaws": "flaw"},
        said=("material", "length", "margin_lower", "margin_upper", "margin_start", "margin_end"),
        own={"length": Own(_read_length, _write_length)},
    ),
    Flaw: FileShape(said={"margin"}),
    Print: FileShape(keys={"borders": "border", "figures": "figure"}),
    PrintPicture: FileShape(own={"file": Own(_read_picture, lambda name, _: name)}),
    Border: FileShape(said={"down"}),
    Plan: FileShape(keys={"rules": "rule"}),
}
