"""Size charts of general use, as examples: figures from sources, in the form a maker types."""

from __future__ import annotations

from clothwright.body.chart import SizeChart, chart_from
from clothwright.units import Unit

PURCHASED_MISSES = """\
size       4       6       8       10      12      14      16      18  20  22      24      26
high bust  27 1/2  28 1/2  29 1/2  30 1/2  32      34      36      38  40  42      44      46
bust       29 1/2  30 1/2  31 1/2  32 1/2  34      36      38      40  42  44      46      48
waist      22      23      24      25      26 1/2  28      30      32  34  37      39      41 1/2
hip        31 1/2  32 1/2  33 1/2  34 1/2  36      38      40      42  44  46      48      50
back waist 15 1/4  15 1/2  15 3/4  16      16 1/4  16 1/2  16 3/4  17  17 1/4  17 3/8  17 1/2  17 3/4
"""  # noqa: E501
"""Purchased-pattern misses sizes, inches; three copies agree but for the back waist of size 4 (one
has 15 1/2, beside 38.5 cm, which is 15 1/4: a misprint, we think) and of 22 and 24 (one copy has
17 1/2 and 17 3/4). For a height of 5 ft 5 to 5 ft 6 and a B cup. docs/sources.md, sizes."""

EXAMPLES: tuple[SizeChart, ...] = (
    chart_from(
        PURCHASED_MISSES,
        name="purchased-pattern misses sizes",
        source="three published copies of the chart on purchased patterns",
        unit=Unit.inch,
    ),
)
"""Charts to begin with when the envelope is lost, or to learn how one is typed."""
