"""The size a chart suggests, against the published table and the rules of the trade."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.body.chart import chart_from
from clothwright.body.charts import EXAMPLES
from clothwright.body.suggest import FULLER_MM, TAPE_MM, size_text, standing, standings, suggest
from clothwright.units import Unit
from clothwright.words import say

IN = 25.4
(MISSES,) = EXAMPLES

READY_MADE = chart_from(
    "size 00 0 2 4 6 8 10 12 14 16 18 20\n"
    "bust 31 1/8 31 3/4 33 34 1/8 35 1/4 36 1/4 37 1/4 38 3/4 40 3/8 42 1/8 44 46",
    name="ASTM D5585-11e1, chest/bust",
    unit=Unit.inch,
)
"""Ready-made sizes: the publisher's own page (docs/sources.md, sizes)."""


def of(chart, kind, **inches):
    body = {k.replace("_", "-"): v * IN for k, v in inches.items()}
    return suggest(body, chart, kind)


@pytest.mark.parametrize("size", MISSES.sizes)
def test_every_column_suggests_itself(size: str) -> None:
    """A body with the figures of a column is that size, in every row and for every garment."""
    body = {r.measure: MISSES.value(r.measure, size) or 0.0 for r in MISSES.rows}
    assert {s.measure: s.words for s in standings(body, MISSES)} == dict.fromkeys(body, size)
    for kind in ("upper", "lower"):
        found = suggest(body, MISSES, kind)
        assert found is not None
        assert size_text(found.standing, MISSES.sizes) == size


@pytest.mark.parametrize(("low", "high"), list(pairwise(MISSES.sizes)))
def test_half_way_is_half_way(low: str, high: str) -> None:
    """Midway between two columns both are named, and the size is the number between."""
    for row in ("bust", "waist", "hip"):
        a, b = MISSES.value(row, low) or 0.0, MISSES.value(row, high) or 0.0
        found = standing(MISSES, row, (a + b) / 2)
        assert found is not None
        assert (found.low, found.high) == (low, high)
        assert found.words == f"between {low} and {high}"
        assert float(size_text(found, MISSES.sizes)) == (int(low) + int(high)) / 2


def test_size_12_of_a_pattern_is_not_size_12_of_the_shop() -> None:
    """Bust 34 in is a pattern's 12, and a 4 ready-made; the shop's 12 has a bust of 38 3/4 in."""
    pattern, shop = of(MISSES, "upper", bust=34), of(READY_MADE, "upper", bust=34)
    assert pattern.standing.words == "12"
    assert shop.standing.words == "4"  # 34 1/8 in, 1/8 in off: a tape tells no more
    twelve = READY_MADE.value("bust", "12")
    assert twelve == pytest.approx(38.75 * IN)
    assert standing(MISSES, "bust", twelve).words == "between 16 and 18"


def test_by_the_high_bust_from_two_inches_on() -> None:
    """Fuller by 2 in or more: the high bust decides (extension); by less: the bust."""
    full = of(MISSES, "upper", bust=38, high_bust=34)
    assert full.standing.measure == "high-bust"
    assert full.standing.words == "14"  # by the bust it would be 16
    less = of(MISSES, "upper", bust=36, high_bust=34.25)
    assert (less.standing.measure, less.standing.words) == ("bust", "14")
    exact = of(MISSES, "upper", bust=36, high_bust=34)
    assert exact.standing.measure == "high-bust"
    assert abs(FULLER_MM - 50.8) < 1e-9


def test_a_chart_without_high_bust() -> None:
    """High bust + 2 in is looked up as bust, and it is said."""
    chart = chart_from("size 12 14 16\nbust 34 36 38", unit=Unit.inch)
    found = of(chart, "upper", bust=38, high_bust=32)
    assert found.standing.words == "12"
    assert "34 in is looked up as bust" in say(found.why, Unit.inch)


def test_skirts_go_by_the_hip() -> None:
    """By the hip; without one by the waist; without either nothing is suggested."""
    assert of(MISSES, "lower", hip=40, waist=26.5).standing.words == "16"
    assert of(MISSES, "lower", waist=26.5).standing.words == "12"
    assert of(MISSES, "lower", bust=36) is None
    assert of(MISSES, "upper", hip=36) is None


@pytest.mark.parametrize(
    ("hip", "words"),
    [
        (53, "3 in more than its largest size, 26"),
        (30, "1 1/2 in less than its smallest size, 4"),
    ],
)
def test_beyond_the_chart_no_size_is_made_up(hip: float, words: str) -> None:
    """It is said by how much, and which size is the last."""
    found = of(MISSES, "lower", hip=hip)
    assert found.standing.beyond == pytest.approx((3 if hip > 50 else -1.5) * IN)
    assert words in say(found.words, Unit.inch)


def test_letters_for_sizes() -> None:
    """Between S and M a pattern can name only half-way; nearer to one, that one is named."""
    chart = chart_from("size S M L\nbust 80 88 96", unit=Unit.cm)
    texts = [
        size_text(standing(chart, "bust", mm), chart.sizes) for mm in (800, 815, 840, 870, 880)
    ]
    assert texts == ["S", "S", "S/M", "M", "M"]


def test_sizes_that_are_the_same_number() -> None:
    """00 and 0 are two sizes: between them both are named, never 0 for what is nearly 00."""
    wanted = {31.125: "00", 31.26: "00", 31.44: "00/0", 31.55: "00/0", 31.64: "0", 31.75: "0"}
    for inches, size in wanted.items():
        found = of(READY_MADE, "upper", bust=inches)
        assert size_text(found.standing, READY_MADE.sizes) == size
    between = of(READY_MADE, "upper", bust=31.44)
    assert between.standing.words == "between 00 and 0"
    assert "Between 00 and 0" in say(between.words, Unit.inch)


def test_silent_sizes_are_passed_over() -> None:
    """Where the chart has no figure, the neighbours that have one are named."""
    chart = chart_from("size 8 10 12\nbust 80 - 90", unit=Unit.cm)
    found = standing(chart, "bust", 850.0)
    assert (found.low, found.high, found.at) == ("8", "12", pytest.approx(1.0))
    assert size_text(found, chart.sizes) == "10"


@given(st.floats(700, 1400), st.floats(0, 200), st.sampled_from(["bust", "waist", "hip"]))
def test_more_is_never_a_smaller_size(mm: float, more: float, row: str) -> None:
    """Monotone: a larger girth is never given a smaller size."""
    a, b = standing(MISSES, row, mm), standing(MISSES, row, mm + more)
    assert a.at <= b.at + 1e-9
    assert float(size_text(a, MISSES.sizes)) <= float(size_text(b, MISSES.sizes)) + 1e-9


@given(st.floats(560, 1060))
def test_the_place_is_the_linear_one(mm: float) -> None:
    """Between two columns the place is that of numpy's interpolation, but for a tape's breadth."""
    numpy = pytest.importorskip("numpy")
    row = [v for v in MISSES.row("waist") or () if v is not None]
    found = standing(MISSES, "waist", mm)
    wanted = float(numpy.interp(mm, row, range(len(row))))
    assert abs(found.at - wanted) <= TAPE_MM / 25.4 + 1e-9
