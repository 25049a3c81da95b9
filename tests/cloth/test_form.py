"""The fields of a cloth: shown rounded in her unit, saved exactly where they were not touched."""

from __future__ import annotations

import re

import pytest

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.form import FieldText, form_of
from clothwright.cloth.prints import Border, Print
from clothwright.units import Unit, parse_length

WOOL = Cloth(
    name="wool",
    width=1448.0,
    length=2057.4,
    price_per_m=30.0,
    flaws=(Flaw(name="hole", ring=((101.0, 50.0), (120.0, 50.0), (120.0, 80.0))),),
    print=Print(
        borders=(Border(name="vine", side="lower", base=82.0, height=150.0, repeat=56.0),),
        axes_along=(0.0, 28.0),
    ),
)


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_shown_in_her_unit_and_exact_beneath(unit: Unit) -> None:
    """82 mm is shown as 3 1/4 in; what is saved of the untouched field is 82 mm again."""
    form = form_of(WOOL, unit)
    texts = [*form.lengths.values(), form.length, *form.axes.values()]
    texts += [v for rows in (form.borders, form.flaws) for row in rows for v in row.values()]
    foreign = r"\d (mm|cm)\b" if unit is Unit.inch else r"\d (in|mm)\b"
    for text in texts:
        if isinstance(text, FieldText):
            assert not re.search(foreign, text.shown), text
    base = form.borders[0]["base"]
    assert isinstance(base, FieldText)
    assert base.shown == ("3 1/4 in" if unit is Unit.inch else "8.2 cm")
    assert parse_length(base.exact, unit=unit) == 82.0


def test_a_price_is_of_a_yard_or_of_a_metre() -> None:
    """One yard is 0.9144 m exactly (international yard, 1959)."""
    inches, metric = form_of(WOOL, Unit.inch), form_of(WOOL, Unit.cm)
    assert (inches.price.shown, inches.price_of) == ("27.43", "yard")
    assert (metric.price.shown, metric.price_of) == ("30.00", "metre")
    assert inches.price.exact == metric.price.exact == "30.0"
