"""Lengths to buy, differences and names as they are said."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.errors import BadInput
from clothwright.units import Unit, parse_length
from clothwright.words import (
    edge_name,
    listed,
    ref_name,
    refs_name,
    show_difference,
    show_number,
    show_price,
    show_run,
    to_buy,
    to_buy_mm,
)

LENGTHS = st.floats(min_value=0.0, max_value=500_000.0)
UNITS = st.sampled_from([Unit.inch, Unit.cm, Unit.mm])


@given(LENGTHS, UNITS)
def test_what_is_bought_is_enough_and_not_a_step_too_much(need: float, unit: Unit) -> None:
    """Shops cut by 1/8 yd or 5 cm; what is asked for covers the need and no step more."""
    step = 50.0 if unit.is_metric else 914.4 / 8
    bought = parse_length(to_buy(need, unit), unit=unit, where="bought")
    assert need - 1e-3 <= bought < need + step + 1e-6
    assert bought == pytest.approx(to_buy_mm(need, unit))


@given(LENGTHS, UNITS)
def test_a_run_never_promises_more_than_there_is(mm: float, unit: Unit) -> None:
    """Binding that is there is rounded down, binding that is needed up; both in yards or metres."""
    there, needed = show_run(mm, unit), show_run(mm, unit, needed=True)
    assert parse_length(there, unit=unit, where="") <= mm + 1e-3
    assert parse_length(needed, unit=unit, where="") >= mm - 1e-3
    assert there.endswith(" m" if unit.is_metric else " yd")


@given(st.floats(min_value=-200.0, max_value=200.0), UNITS)
def test_a_difference_is_never_told_as_zero(mm: float, unit: Unit) -> None:
    """What is met is "none"; anything else is a number that is not nothing, or "less than"."""
    words = show_difference(mm, unit)
    if abs(mm) <= 0.1:
        assert words == "none"
    else:
        assert words.startswith("less than") or float(parse_length(words, unit=unit, where=""))


@pytest.mark.parametrize("odd", [float("nan"), float("inf")])
@pytest.mark.parametrize("say_it", [to_buy, show_run])
def test_what_is_no_number_is_refused(odd: float, say_it: object) -> None:
    """A length that came out as no number is an error in words, never shown."""
    with pytest.raises(BadInput, match="not a number"):
        say_it(odd, Unit.cm)  # type: ignore[operator]


def test_names_as_said() -> None:
    """No dot between piece and edge; edges of one piece are told together."""
    assert edge_name("front", "side", seam=True) == "front, side seam"
    assert ref_name("front.side reversed") == "front, side"
    assert refs_name([("a", "x"), ("b", "y"), ("a", "z")]) == "a (x and z) and b (y)"
    assert listed(["a", "b", "c"], "or") == "a, b or c"
    assert show_number(444.5, Unit.inch) == "17 1/2"
    assert show_price(3, "CHF") == "3.00 CHF"
    assert show_price(3, "") == "3.00 in your currency"
