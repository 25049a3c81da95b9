"""Sheets of paper by name and by size."""

from __future__ import annotations

import math

import pytest

from clothwright.errors import BadInput
from clothwright.outputs.paper import PAPERS, parse_paper
from clothwright.units import Unit


@pytest.mark.parametrize(
    ("text", "width", "height"),
    [
        ("A4", 210, 297),
        ("a3", 297, 420),
        ("A2", 420, 594),
        ("A1", 594, 841),
        ("A0", 841, 1189),
        ("A4 landscape", 297, 210),
        ("letter", 215.9, 279.4),
        ("Letter, landscape", 279.4, 215.9),
        ("Legal", 215.9, 355.6),
        ("tabloid", 279.4, 431.8),
        ("ANSI C", 431.8, 558.8),
        ("ansi-d", 558.8, 863.6),
        ("ANSI E", 863.6, 1117.6),
        ("Arch E", 914.4, 1219.2),
        ("36 x 48 in", 914.4, 1219.2),
        ('36" x 48"', 914.4, 1219.2),
        ("900 × 1200 mm", 900, 1200),
        ("60cm by 1 m", 600, 1000),
        ("900x1200", 900, 1200),
    ],
)
def test_sizes(text: str, width: float, height: float) -> None:
    """ISO 216 and ANSI/ASME Y14.1 sizes in mm; a unit at the end counts for both sides."""
    paper = parse_paper(text)
    assert (paper.width, paper.height) == pytest.approx((width, height), abs=1e-9)


def test_iso_sizes_halve() -> None:
    """ISO 216: each size is the one before it, halved and rounded down to a mm; A0 is 1 m²."""
    by_name = {p.name: p for p in PAPERS}
    for n in range(5):
        large, small = by_name[f"A{n}"], by_name[f"A{n + 1}"]
        assert small.height == large.width
        assert small.width == large.height // 2
    assert by_name["A0"].width * by_name["A0"].height == pytest.approx(1e6, rel=1e-3)


def test_a_roll_is_as_long_as_its_drawing() -> None:
    """A roll has a width; it is cut off where the drawing ends, at most at 5080 mm."""
    roll = parse_paper("roll 36 in")
    assert roll.width == pytest.approx(914.4)
    assert math.isinf(roll.height)
    assert roll.cut_to(2300.0).height == 2300.0
    assert roll.cut_to(9000.0).height == pytest.approx(5080.0)
    assert parse_paper("914 mm roll").width == 914.0
    assert "any length" in roll.said(Unit.inch)


def test_a_bare_size_is_in_the_makers_unit() -> None:
    """Numbers alone are in the unit she works in."""
    assert parse_paper("36 x 48", unit=Unit.inch).height == pytest.approx(1219.2)


def test_a_name_for_files() -> None:
    """Sizes have strokes and crosses in their names; a file's name has not."""
    assert parse_paper("A4").slug == "a4"
    assert parse_paper("17 1/2 x 11 in", unit=Unit.inch).slug == "17-1-2-in-11-in"
    assert "/" not in parse_paper("roll 36 1/2 in").slug


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("A44", "A4"),
        ("foolscap", "A4, Letter"),
        ("", "is no paper known here"),
        ("10 x 10 x 10 cm", "is no paper known here"),
        ("0 x 40 cm", "at least"),
        ("900 x -1200 mm", "at least"),
        ("30 m x 40 m", "longer than a page can be"),
        ("roll", "is no paper known here"),
        ("roll wide", "is not a length"),
    ],
)
def test_what_is_no_paper_is_told(text: str, said: str) -> None:
    """Unknown names and impossible sizes get a sentence with what would do."""
    with pytest.raises(BadInput) as caught:
        parse_paper(text)
    assert said in str(caught.value)
    assert str(caught.value).startswith("Paper")
