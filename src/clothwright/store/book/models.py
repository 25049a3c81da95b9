"""The shape of workbook.toml: every table and key, read strictly, lengths in the maker's unit."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationInfo,
    create_model,
    model_validator,
)

from clothwright.body.body import Measurement, day_of, measurement
from clothwright.body.chart import SizeChart, chart_from
from clothwright.body.measures import MEASURES, measure_of
from clothwright.errors import BadInput, Mistakes
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.rules.kinds import read_rule
from clothwright.rules.plan import PlacingRule
from clothwright.store.book.picture_name import is_picture_name
from clothwright.units import Unit, parse_fraction, parse_length, parse_unit
from clothwright.units.params import Wrong


def _length(value: object, info: ValidationInfo) -> float:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise ValueError(f'{value!r} is not a length; expected text such as "5/8 in" or 43.5')
    unit = info.context["unit"] if info.context else Unit.mm
    try:
        return parse_length(value, unit=unit)
    except BadInput as error:
        raise ValueError(str(error)) from None


def _share(value: object, most: float = 0.5) -> float:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise ValueError(f'{value!r} is not a share; expected text such as "3 %"')
    try:
        return parse_fraction(value, least=0, most=most)
    except BadInput as error:
        raise ValueError(str(error)) from None


MOST_STRETCH = 3.0
"""A knit may stretch to four times its width; more is a slip of the hand."""


def _stretch(value: object) -> float:
    return _share(value, MOST_STRETCH)


def _edge(value: object) -> EdgeRef:
    try:
        return parse_edge(str(value))
    except BadInput as error:
        raise ValueError(str(error)) from None


def _unit(value: object) -> Unit:
    try:
        return parse_unit(value)
    except BadInput as error:
        raise ValueError(str(error)) from None


Length = Annotated[float, BeforeValidator(_length)]
Share = Annotated[float, BeforeValidator(_share)]
Stretch = Annotated[float, BeforeValidator(_stretch)]
Ref = Annotated[EdgeRef, BeforeValidator(_edge)]
Spot = Annotated[tuple[Length, Length], Field(strict=False)]


class Strict(BaseModel):
    """A table whose every key is known."""

    model_config = ConfigDict(
        extra="forbid", strict=True, arbitrary_types_allowed=True, allow_inf_nan=False
    )


class CheckBorderTable(Strict):
    """[[settings.check.border]]: an edge to be straight enough for a border, without a plan."""

    piece: str
    edge: str
    plan: str = ""
    rise_max: Annotated[Length, Field(ge=0)] = 3.0


class CheckTable(Strict):
    """[settings.check]: the bands of the walk."""

    agree: Length = 1.5
    notice: Length = 3.0
    cap_ease_min: Length = 12.7
    cap_ease_max: Length = 38.1
    corner_deg: float = 5.0
    border: list[CheckBorderTable] = []


class SettingsTable(Strict):
    """[settings]."""

    gap: Length = 2.0
    paper: str = "A4"
    for_child: bool = False
    check: CheckTable = Field(default_factory=CheckTable)


class PieceTable(Strict):
    """[[piece]]: where a piece's drawing lies, in the order of the pieces.

    size: of which size it is; without one it is the piece itself.
    """

    name: str = Field(min_length=1)
    size: str = ""
    file: str = Field(min_length=1)

    @property
    def key(self) -> str:
        """What tells this drawing from all others."""
        return drawing_key(self.name, self.size)


def drawing_key(name: str, size: str = "") -> str:
    """Return the key of a piece's drawing, or of its drawing in another size."""
    return f"{name}\n{size}" if size else name


class SizesTable(Strict):
    """[sizes]: the sizes the pattern was bought in, smallest first."""

    names: list[str] = Field(min_length=2)
    drawn: str = Field(min_length=1)


def _figure(value: object, info: ValidationInfo) -> Measurement:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise ValueError(f'{value!r} is not a length; expected text such as "36 1/2 in"')
    unit = info.context["unit"] if info.context else Unit.mm
    try:
        return measurement(value, measure=measure_of(str(info.field_name)), unit=unit)
    except BadInput as error:
        raise ValueError(str(error)) from None


def _day(value: object) -> str:
    try:
        return day_of(value.isoformat() if isinstance(value, dt.date) else str(value))
    except BadInput as error:
        raise ValueError(str(error)) from None


class BodyNotes(Strict):
    """What [body] has besides measurements."""

    date: Annotated[str, BeforeValidator(_day)] = ""
    note: str = ""
    compare: bool = True


if TYPE_CHECKING:
    BodyTable = BodyNotes
else:
    BodyTable = create_model(
        "BodyTable",
        __base__=BodyNotes,
        **{m.key: (Annotated[Any, BeforeValidator(_figure)], None) for m in MEASURES},
    )
    """[body]: an entry for each measurement taken, its name with _ for - (back_waist)."""


class ChartTable(Strict):
    """[chart]: the size chart as typed. unit: of the figures that name none."""

    name: str = "my chart"
    source: str = ""
    unit: Annotated[Unit, BeforeValidator(_unit)] | None = None
    text: str = Field(min_length=1)

    def chart(self, unit: Unit) -> SizeChart:
        """Return the chart. unit: the workbook's. Raises BadInput, Mistakes."""
        own = self.unit or unit
        return chart_from(self.text, name=self.name, source=self.source, unit=own)

    @model_validator(mode="after")
    def _readable(self, info: ValidationInfo) -> ChartTable:
        try:
            self.chart(info.context["unit"] if info.context else Unit.mm)
        except (BadInput, Mistakes) as error:
            raise ValueError(str(error)) from None
        return self


class SeamTable(Strict):
    """[[seam]]."""

    name: str = Field(min_length=1)
    a: list[Ref] = Field(min_length=1)
    b: list[Ref] = Field(min_length=1)
    ease: Length = 0.0
    ease_from: str = ""
    ease_to: str = ""
    eased_max: Length = 0.0
    kind: Literal["plain", "cap", "facing", "lining", "closure", "hem"] = "plain"


class BorderTable(Strict):
    """[[cloth.print.border]]."""

    name: str = Field(min_length=1)
    side: Literal["lower", "upper"]
    base: Length
    height: Annotated[Length, Field(gt=0)]
    down: Literal["selvedge", "middle", "either"] = "selvedge"
    repeat: Annotated[Length, Field(gt=0)] | None = None


class FigureTable(Strict):
    """[[cloth.print.figure]]."""

    name: str = Field(min_length=1)
    x: Length
    y: Length
    radius: Annotated[Length, Field(gt=0)]


def _picture_file(value: object) -> str:
    if isinstance(value, str) and is_picture_name(value):
        return value
    raise ValueError(
        f"{value!r} is no picture of the workbook; expected the plain name of a JPEG or PNG file "
        'in its folder "pictures"'
    )


class PictureTable(Strict):
    """[cloth.print.picture]."""

    file: Annotated[str, BeforeValidator(_picture_file)]
    width: Annotated[Length, Field(gt=0)]
    height: Annotated[Length, Field(gt=0)]
    along: Length = 0.0
    across: Length = 0.0


class PrintTable(Strict):
    """[cloth.print]."""

    border: list[BorderTable] = []
    figure: list[FigureTable] = []
    repeat_along: Annotated[Length, Field(gt=0)] | None = None
    repeat_across: Annotated[Length, Field(gt=0)] | None = None
    origin_along: Length = 0.0
    origin_across: Length = 0.0
    axes_along: list[Length] = []
    axes_across: list[Length] = []
    one_way: bool = False
    look: str = "plain"
    picture: PictureTable | None = None


class FlawTable(Strict):
    """[[cloth.flaw]]."""

    name: str = Field(min_length=1)
    ring: list[Spot] = Field(min_length=3)
    margin: Annotated[Length, Field(ge=0)] = 5.0


class ClothTable(Strict):
    """[[cloth]]; length "to buy" or left out: still to be bought."""

    name: str = Field(min_length=1)
    width: Annotated[Length, Field(gt=0)]
    length: Annotated[Length, Field(gt=0)] | Literal["to buy"] = "to buy"
    material: str = "shell"
    margin_lower: Annotated[Length, Field(ge=0)] = 10.0
    margin_upper: Annotated[Length, Field(ge=0)] = 10.0
    margin_start: Annotated[Length, Field(ge=0)] = 0.0
    margin_end: Annotated[Length, Field(ge=0)] = 0.0
    outline: list[Spot] | None = None
    flaw: list[FlawTable] = []
    nap: bool = False
    shrink_along: Share = 0.0
    shrink_across: Share = 0.0
    stretch: Stretch = 0.0
    price_per_m: Annotated[float, Field(ge=0, strict=False)] | None = None
    print: PrintTable = Field(default_factory=PrintTable)
    note: str = ""


class Misread(NamedTuple):
    """A placing rule that could not be read, and what is wrong with it."""

    wrong: tuple[Wrong, ...]


def read_rule_table(value: object, info: ValidationInfo) -> PlacingRule | Misread:
    """Return the placing rule of a table, or what is wrong with it."""
    if isinstance(value, PlacingRule | Misread):
        return value
    unit = info.context["unit"] if info.context else Unit.mm
    rule, wrong = read_rule(value if isinstance(value, dict) else {}, unit=unit)
    return Misread(tuple(wrong)) if rule is None else rule


class PlanTable(Strict):
    """[[plan]]."""

    name: str = Field(min_length=1)
    why: str = ""
    rule: list[Annotated[Any, PlainValidator(read_rule_table)]] = []


class ChangeTable(BaseModel):
    """[[change]]: its kind, whether it is on, why; every other key is a parameter of the change."""

    model_config = ConfigDict(extra="allow", strict=True)

    kind: str = Field(min_length=1)
    on: bool = True
    why: str = ""


class OnlyPlans(BaseModel):
    """The plans of a file, whatever else is in it."""

    plan: list[PlanTable] = []


class BookTable(Strict):
    """The whole file."""

    format: int
    title: str
    unit: Annotated[Unit, BeforeValidator(_unit)]
    notes: str = ""
    chosen_plan: str = ""
    settings: SettingsTable = Field(default_factory=SettingsTable)
    body: BodyTable = Field(default_factory=BodyTable)
    chart: ChartTable | None = None
    sizes: SizesTable | None = None
    piece: list[PieceTable] = []
    seam: list[SeamTable] = []
    cloth: list[ClothTable] = []
    plan: list[PlanTable] = []
    change: list[ChangeTable] = []
