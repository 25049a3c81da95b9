"""A size chart as typed from an envelope: what is read, and what is said of mistakes."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.body.chart import SizeChart, chart_from
from clothwright.body.charts import EXAMPLES
from clothwright.body.measures import MEASURES
from clothwright.errors import BadInput, Mistakes
from clothwright.units import Unit

IN = 25.4

TABLE = {
    "high-bust": (27.5, 28.5, 29.5, 30.5, 32, 34, 36, 38, 40, 42, 44, 46),
    "bust": (29.5, 30.5, 31.5, 32.5, 34, 36, 38, 40, 42, 44, 46, 48),
    "waist": (22, 23, 24, 25, 26.5, 28, 30, 32, 34, 37, 39, 41.5),
    "hip": (31.5, 32.5, 33.5, 34.5, 36, 38, 40, 42, 44, 46, 48, 50),
    "back-waist": (15.25, 15.5, 15.75, 16, 16.25, 16.5, 16.75, 17, 17.25, 17.375, 17.5, 17.75),
}
"""Purchased-pattern misses sizes, inches, from three published copies (docs/sources.md, sizes)."""


def test_the_example_is_the_published_table() -> None:
    """Every figure of the example, size by size; typed here from the source once more."""
    (chart,) = EXAMPLES
    assert chart.sizes == ("4", "6", "8", "10", "12", "14", "16", "18", "20", "22", "24", "26")
    assert {r.measure for r in chart.rows} == set(TABLE)
    for measure, inches in TABLE.items():
        assert chart.row(measure) == pytest.approx([x * IN for x in inches])
    assert chart.value("back-waist", "4") == pytest.approx(385, abs=3)  # printed beside: 38.5 cm


def test_high_bust_is_two_inches_less_from_4_to_26() -> None:
    """The chart is drafted for a B cup, 2 in between bust and high bust (the same source)."""
    (chart,) = EXAMPLES
    pairs = zip(chart.row("bust") or (), chart.row("high-bust") or (), strict=True)
    assert [round((b - h) / IN, 6) for b, h in pairs if b and h] == [2.0] * 12


@pytest.mark.parametrize(
    "line",
    [
        "bust 31 1/2 32 1/2 34",
        "Bust: 31-1/2  32-1/2  34",
        "bust girth\t31½\t32½\t34",
        "bust | 31.5 | 32,5 | 34 |",
        'bust 31 1/2" 32 1/2" 34"',
        "bust 31 1/2 32 1/2 34 in",
        "bust (in) 31 1/2, 32 1/2, 34",
        "BUST 800.1 mm 825.5 mm 863.6 mm",
    ],
)
def test_ways_to_type_a_row(line: str) -> None:
    """However the envelope has it, the same figures are read; the workbook thinks in inches."""
    chart = chart_from(f"size 8 10 12\n{line}", unit=Unit.inch)
    assert chart.row("bust") == pytest.approx((31.5 * IN, 32.5 * IN, 34 * IN))


def test_units_of_a_chart() -> None:
    """A line "unit cm" counts for what follows; a row may name its own; "-" is no figure."""
    text = (
        "Sizes: S M L\nwaist 24 25 26 1/2\nunit cm\nbust 80 84 88\nhip in 34 36 38\nwrist 15 - 16"
    )
    chart = chart_from(text, unit=Unit.inch, name="  mine ")
    assert chart.name == "mine"
    assert chart.row("waist") == pytest.approx((24 * IN, 25 * IN, 26.5 * IN))
    assert chart.row("bust") == (800, 840, 880)
    assert chart.row("hip") == pytest.approx((34 * IN, 36 * IN, 38 * IN))
    assert chart.row("wrist") == (150, None, 160)
    assert chart.row("thigh") is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no sizes"),
        ("size 8 10", "no measurement"),
        ("size 8", "at least two"),
        ("size 8 10 8\nbust 31 32 33", "line 1: size 8 stands twice"),
        ("bust 31 32\nsize 8 10", "line 1: numbers before the sizes"),
        ("size 8 10\nbust 31", "line 2: 1 number for 2 sizes (31 in)"),
        ("size 8 10\nbust 31 32 33", "line 2: 3 numbers for 2 sizes"),
        ("size 8 10\nbusst 31 32", 'no measurement "busst". Did you mean "bust"'),
        ("size 8 10\nbust 31 32\nfull bust 31 32", "line 3: bust girth stands twice"),
        ("size 8 10\nbust 32 31", "size 10 has 31 in, less than size 8"),
        ("size 8 10\nbust 80 84", 'try a line "unit cm" above'),
        ("size 8 10\nunit cm\nbust 31 32", 'try a line "unit in" above'),
        ("size 8 10\nbust 31-32 33-34", "not a range"),
        ("size 8 10\nbust 31 x", '"x" is no figure'),
        ("size 8 10\nbust 31 1/0", "divides by zero"),
        ("size 8 10\nsize 8 10", "a second line of sizes"),
        ("size 8 10\nbust -31 32", '"-31" is no figure'),
        ("size 8 10\nbust" + " " * 5000 + "31 32", "is no line of a chart"),
        ("size 8 10\n\u2603", "is no line of a chart"),
        ("size 8 10\nunit furlong\nbust 1 2", "line 2"),
        ("x" * 30_000, "far too long"),
    ],
)
def test_mistakes_are_told_with_their_line(text: str, words: str) -> None:
    """A sentence with the line, what was found and what to try; never anything else."""
    with pytest.raises((BadInput, Mistakes)) as caught:
        chart_from(text, unit=Unit.inch)
    assert words in str(caught.value)


def test_all_mistakes_are_told_at_once() -> None:
    """Three wrong lines make three sentences."""
    with pytest.raises(Mistakes) as caught:
        chart_from("size 8 10\nbust 31\nwaiste 24 25\nhip 34 x", unit=Unit.inch)
    assert [m.where for m in caught.value.mistakes] == [f"chart, line {n}" for n in (2, 3, 4)]


PLACE = re.compile(r"chart$|chart, line [1-9]\d*$")


@given(st.text(max_size=200))
def test_any_text_is_a_chart_or_a_sentence(text: str) -> None:
    """Nothing that is typed makes anything but a whole chart, or mistakes with their line."""
    for whole in (text, "size 8 10 12\n" + text, "size 8 10 12\nbust " + text):
        made, wrong = _chart_or_mistakes(whole)
        assert all(PLACE.match(m.where) for m in wrong)
        if made is None:
            assert wrong
        else:
            assert made.rows
            assert {len(r.values) for r in made.rows} == {len(made.sizes)}
            assert chart_from(made.text, unit=Unit.cm) == made


def _chart_or_mistakes(text: str) -> tuple[SizeChart | None, tuple[BadInput, ...]]:
    try:
        return chart_from(text, unit=Unit.cm), ()
    except BadInput as error:
        return None, (error,)
    except Mistakes as error:
        return None, tuple(error.mistakes)


@given(st.data())
def test_what_is_typed_comes_back(data: st.DataObject) -> None:
    """Figures in eighths of an inch, or in mm, are read to the last; the text says it all again."""
    count = data.draw(st.integers(2, 8))
    chosen = data.draw(st.lists(st.sampled_from(MEASURES), min_size=1, max_size=5, unique=True))
    lines, wanted = ["size " + " ".join(str(2 * k) for k in range(count))], {}
    for m in chosen:
        least, most = int(m.least / IN * 8) + 1, int(m.most / IN * 8)
        eighths = sorted(
            data.draw(st.lists(st.integers(least, most), min_size=count, max_size=count))
        )
        figures = [f"{n // 8} {n % 8}/8" if n % 8 else str(n // 8) for n in eighths]
        lines.append(f"{m.id} " + "  ".join(figures))
        wanted[m.id] = [n * IN / 8 for n in eighths]
    chart = chart_from("\n".join(lines), unit=Unit.inch)
    assert {r.measure: list(r.values) for r in chart.rows} == {
        m: pytest.approx(v) for m, v in wanted.items()
    }
    assert chart_from(chart.text, unit=chart.unit) == chart
