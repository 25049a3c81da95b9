"""Closed lines in one another that nothing names: which is the piece is asked, never taken.

The rule is the house's own: nothing that could spoil cloth is guessed. Cost: under a second.
"""

from __future__ import annotations

import pytest

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.units import Unit
from clothwright.words import told
from tests.intake.plain import WAYS, Plain, area, box
from tests.intake.proposing import propose, questions

SIZES = tuple(area((60, 60), (260 + k, 60), (240 + k, 400 + k), (70, 410 + k)) for k in (0, 9, 18))
"""A piece in three sizes, from one corner."""


def asked(sheet: Plain, way: str, **answers: str) -> list[str]:
    said = Answers(**{"allowance": "none", **answers})
    return [q.id for q in questions(sheet.read(way), said, unit=Unit.mm)]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("sizes", "wide"), [(SIZES, "21.8 cm")])
def test_sizes_that_nobody_names_are_asked_about(way: str, sizes, wide: str) -> None:
    """The outermost is not taken in silence; the sentence names the option and every line."""
    sheet = Plain(shapes=sizes)
    assert asked(sheet, way) == ["outline"]
    with pytest.raises(BadInput) as caught:
        propose(sheet.read(way), Answers(allowance="none"), unit=Unit.cm)
    words = told(caught.value, Unit.cm)
    assert f"{len(sizes)} closed lines lie in one another" in words
    assert f"--outline with its number: 1 ({wide} wide" in words


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("outline", "wide"), [("1", 218.0), ("2", 209.0), ("3", 200.0)])
def test_the_line_that_is_said_is_the_piece(way: str, outline: str, wide: float) -> None:
    """The outermost, too, is an answer."""
    said = Answers(allowance="none", outline=outline)
    (piece,) = propose(Plain(shapes=SIZES).read(way), said, unit=Unit.mm).pieces
    low, high = piece.outline.bounds()
    assert high.x - low.x == pytest.approx(wide, abs=0.1)


@pytest.mark.parametrize("way", WAYS)
def test_a_stitching_line_and_a_pocket_are_no_sizes(way: str) -> None:
    """One line inside at a steady distance is asked about with the allowance; a small one not."""
    stitched = Plain(shapes=(box(60, 60, 240, 340), box(75, 75, 210, 310)))
    pocket = Plain(shapes=(box(60, 60, 240, 340), box(90, 110, 90, 100)))
    assert asked(stitched, way) == asked(pocket, way) == []


def test_three_even_steps_are_sizes_though_they_run_like_a_stitching_line() -> None:
    """Lines 10 mm inside each other: the first inside may be a stitching line, or the next size."""
    steps = Plain(shapes=tuple(box(60 + k, 60 + k, 240 - 2 * k, 340 - 2 * k) for k in (0, 10, 20)))
    assert asked(steps, "svg") == ["outline"]
