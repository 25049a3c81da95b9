"""A drawing that holds too much is refused at once, in a sentence that says what there is of it."""

from __future__ import annotations

import pytest

from clothwright.errors import BadInput
from clothwright.intake import bounds
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import see
from clothwright.intake.edges import parts_of
from clothwright.intake.pdf.said_tiles import said_tiles
from clothwright.intake.svg import READER
from clothwright.units import Unit

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="3000mm" height="3000mm" viewBox="0 0 3e3 3e3">'
)


def seen(body: str):
    drawing = READER.drawing(f"{HEAD}{body}</svg>".encode(), "d.svg", Answers())
    return see(drawing, "", Unit.cm)


def shapes(count: int, side: float) -> str:
    at = [(k % 60 * 30, k // 60 * 30) for k in range(count)]
    return "".join(f'<path d="M{x},{y}h{side}v{side}h-{side}z"/>' for x, y in at)


def zigzag(count: int) -> str:
    points = " ".join(f"{k % 3000},{2000 + k % 2}" for k in range(count))
    return f'<path d="M0,0 {points}z" fill="none" stroke="black"/>'


def test_shapes_are_counted_before_they_are_compared(monkeypatch):
    """More shapes than pieces are refused; letters and marks of any number are not counted."""
    monkeypatch.setattr(bounds, "MOST_SHAPES", 50)
    with pytest.raises(BadInput, match=": 51 closed shapes in it are large enough"):
        seen(shapes(51, 25))
    assert len(seen(shapes(50, 25)).candidates) == 50
    assert seen(shapes(51, 5) + shapes(1, 29)).lines == 52


def test_points_are_counted_before_anything_is_sought(monkeypatch):
    """One endless line, and many that are long together, are told by how many points they have."""
    monkeypatch.setattr(bounds, "MOST_IN_LINE", 1000)
    with pytest.raises(BadInput, match="has 1,101 points; expected at most 1,000 in a line"):
        seen(zigzag(1100))
    monkeypatch.setattr(bounds, "MOST_IN_ALL", 1500)
    with pytest.raises(BadInput, match="1,802 points together"):
        seen(zigzag(900) * 2)


def test_a_line_of_a_million_points_is_not_read_to_its_end():
    """A sentence says it long before memory is filled."""
    with pytest.raises(BadInput, match="more than 400,000 numbers"):
        seen(zigzag(210_000))


def test_a_number_of_five_thousand_figures_is_a_sentence():
    """Wherever a count is typed: one that no computer reads is no count."""
    long = "9" * 5000
    path = seen(shapes(1, 50)).candidates[0].outline.path
    with pytest.raises(BadInput):
        parts_of(path, long, "front")
    for tiles in (f"1 {long} / 3 4", f"{long}x2"):
        with pytest.raises(BadInput, match="--tiles"):
            said_tiles(tiles, "")
    with pytest.raises(BadInput, match="--moved"):
        said_tiles("", "", f"{long}: 1 mm, 1 mm")
