"""Outlines in several pens that nothing names: asked whether they are sizes before they are added.

The rule is the house's own: nothing that could spoil cloth is guessed. Cost: about two seconds.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.errors import BadInput
from clothwright.intake.answers import UNSURE, Answers
from clothwright.intake.drawing import Drawing
from clothwright.intake.pdf.reader import READER as PDF
from clothwright.intake.svg import READER as SVG
from clothwright.intake.waiting.at_once import drawn_draft
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Shape, area, box, line
from tests.intake.test_sizes_as_drawn import SIZES, STEP, away, bodice, sheet


def unnamed(centre: str) -> Plain:
    """The bodice in three colours, without its legend."""
    plain = sheet(5, centre)
    names = tuple(w for w in plain.words if w.text not in SIZES)
    shapes = tuple(s for s in plain.shapes if min(x for x, _ in s.rings[0]) < 300)
    return replace(plain, shapes=shapes, words=names)


def read(plain: Plain, way: str, alike: str = "") -> Drawing:
    reader, data = (SVG, plain.svg()) if way == "svg" else (PDF, plain.pdf())
    return reader.drawing(data, f"d.{way}", Answers(alike=alike))


def dart(size: str) -> Shape:
    tip = (135.0 + STEP[size] / 10, 150.0)
    return line((120, 60), tip, (150, 60), stroke=SIZES[size])


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("centre", ["each", "once", "by the largest"])
def test_three_colours_are_asked_and_are_three_sizes(way: str, centre: str) -> None:
    """Called 1, 2, 3 from the smallest; each has its own outline and no dart but its own."""
    plain = unnamed(centre).and_(*map(dart, SIZES))
    asked = read(plain, way)
    assert (asked.alike, asked.sizes) == (UNSURE, ())
    with pytest.raises(BadInput, match="lines in 3 colours lie in one another as sizes do"):
        drawn_draft(asked, Answers(allowance="none"), Unit.mm)
    drawing = read(plain, way, "sizes")
    draft = drawn_draft(drawing, Answers(allowance="none", size="1"), Unit.mm)
    assert draft.sizes is not None, draft.notes
    assert draft.sizes.names == ("1", "2", "3")
    for size, (piece,) in zip(SIZES, draft.sizes.pieces, strict=True):
        assert away(bodice(size, 5)[1], piece.outline) < 0.05
        assert len(piece.darts) == 1


@pytest.mark.parametrize("count", [2, 3])
def test_widths_tell_two_or_three_outlines_apart(count: int) -> None:
    """Two that share a corner are asked about as three are; and none where she says so."""
    shapes = tuple(
        box(60, 60, 200 + 9 * k, 300 + 12 * k, width=0.3 + 0.2 * k) for k in range(count)
    )
    asked = read(Plain(shapes=shapes), "svg")
    assert (asked.alike, asked.alike_by) == (UNSURE, "width")
    assert len(asked.alike_names) == count
    assert read(Plain(shapes=shapes), "svg", "pieces").sizes == ()


@pytest.mark.parametrize(
    "shapes",
    [
        (box(60, 60, 240, 340), box(75, 75, 210, 310, stroke="#d00000")),
        (box(60, 60, 240, 340), box(60, 75, 225, 310, stroke="#d00000")),
        (box(60, 60, 240, 340), line((100, 90), (100, 380), stroke="#d00000")),
        (box(60, 60, 120, 240), box(200, 60, 120, 240, stroke="#d00000")),
        (box(60, 60, 240, 340), area((60, 60), (300, 60), (300, 130), (60, 130), stroke="#d00000")),
    ],
    ids=["stitching", "stitching on the fold", "grain", "another piece", "facing"],
)
def test_other_lines_in_another_colour_are_no_sizes(shapes: tuple[Shape, ...]) -> None:
    """A stitching line, a grain line, another piece, a facing."""
    assert read(Plain(shapes=shapes), "svg").alike == ""


@pytest.mark.parametrize(
    "colours", [("red", "green", "blue"), ("", "", ""), ("#ABCDEF", "tan", "")]
)
def test_colours_by_name_or_none_are_read(colours: tuple[str, ...]) -> None:
    """A colour may be any name of the CSS Color Module, or none at all."""
    shapes = [box(60, 60, 200 + 9 * k, 300, stroke=c) for k, c in enumerate(colours)]
    asked = read(Plain(shapes=tuple(shapes)), "svg")
    assert len(asked.lines) == 3
    assert len(asked.alike_names) == (3 if len(set(colours)) == 3 else 0)
