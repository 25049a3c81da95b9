"""What is typed about a cloth: measurements, print, motifs and flaws, as a form has them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure
from clothwright.units import Unit
from clothwright.words import shop_unit, show_fraction, show_length
from clothwright.words.exact import length_text


class FieldText(NamedTuple):
    """What stands in a field. shown: rounded, in the maker's unit; exact: saved if untouched."""

    shown: str
    exact: str


Row = Mapping[str, FieldText | str]
"""The fields of one border, motif or flaw, by the names of the workbook's entries."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothForm:
    """The fields of a cloth. lengths: by the names of the workbook's entries, "" where unsaid.

    length: "to buy" for a cloth without an end. shrinks: shares in percent. price: of a metre, or
    of a yard for who measures in inches (`price_of`, which is `per_m` of a metre).
    """

    lengths: Mapping[str, FieldText]
    length: FieldText
    shrinks: Mapping[str, str]
    price: FieldText
    price_of: str
    per_m: float
    axes: Mapping[str, FieldText]
    borders: tuple[Row, ...]
    motifs: tuple[Row, ...]
    flaws: tuple[Row, ...]


def form_of(cloth: Cloth, unit: Unit) -> ClothForm:
    """Return the fields of a cloth as they stand, lengths in `unit`."""
    design = cloth.print
    own = ("width", "margin_lower", "margin_upper", "margin_start", "margin_end")
    printed = ("repeat_along", "repeat_across", "origin_along", "origin_across")
    lengths = {name: typed(getattr(cloth, name), unit) for name in own}
    lengths |= {name: typed(getattr(design, name), unit) for name in printed}
    shrinks = ("shrink_along", "shrink_across")
    per_m = float(shop_unit(unit).exact_mm) / 1000.0
    return ClothForm(
        lengths=lengths,
        length=FieldText("to buy", "to buy") if cloth.length is None else typed(cloth.length, unit),
        shrinks={name: show_fraction(getattr(cloth, name)) for name in shrinks},
        price=_price(cloth.price_per_m, per_m),
        price_of="metre" if unit.is_metric else "yard",
        per_m=per_m,
        axes={
            "axes_along": _listed(design.axes_along, unit),
            "axes_across": _listed(design.axes_across, unit),
        },
        borders=tuple(_border(b, unit) for b in design.borders),
        motifs=tuple(_motif(f, unit) for f in design.figures),
        flaws=tuple(_flaw(f, unit) for f in cloth.flaws),
    )


def typed(mm: float | None, unit: Unit) -> FieldText:
    """Return a length (mm) as a field has it; "" for none."""
    return (
        FieldText("", "") if mm is None else FieldText(show_length(mm, unit), length_text(mm, unit))
    )


def _price(per_metre: float | None, per_m: float) -> FieldText:
    if per_metre is None:
        return FieldText("", "")
    return FieldText(f"{per_metre * per_m:.2f}", str(per_metre))


def _listed(values: tuple[float, ...], unit: Unit) -> FieldText:
    each = [typed(v, unit) for v in values]
    return FieldText("; ".join(t.shown for t in each), "; ".join(t.exact for t in each))


def _border(b: Border, unit: Unit) -> Row:
    lengths = {"base": b.base, "height": b.height, "repeat": b.repeat}
    words = {"name": b.name, "side": b.side, "down": b.down}
    return {**words, **{name: typed(mm, unit) for name, mm in lengths.items()}}


def _motif(f: Figure, unit: Unit) -> Row:
    lengths = {"x": f.x, "y": f.y, "radius": f.radius}
    return {"name": f.name, **{name: typed(mm, unit) for name, mm in lengths.items()}}


def _flaw(flaw: Flaw, unit: Unit) -> Row:
    corners = [(typed(x, unit), typed(y, unit)) for x, y in flaw.ring]
    ring = FieldText(
        "\n".join(f"{x.shown} by {y.shown}" for x, y in corners),
        "\n".join(f"{x.exact} by {y.exact}" for x, y in corners),
    )
    return {"name": flaw.name, "margin": typed(flaw.margin, unit), "ring": ring}
