"""The drawing for the screen, read again by a general SVG library."""

from __future__ import annotations

import io
from xml.etree import ElementTree as ET

import pytest
import svgelements

from clothwright.drawing.style import LOOKS, PRINT, TABLE
from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.outputs.svg import svg
from clothwright.picture import DrawnRole, Fill, Picture, Stroke, Text
from tests.outputs.specimens import cut, panel, panel_path, ring

MM = 25.4 / 96
"""mm in one CSS pixel, the unit svgelements reads in."""
NS = "{http://www.w3.org/2000/svg}"


def paths_of(text: str) -> list[svgelements.Path]:
    drawing = svgelements.SVG.parse(io.StringIO(text), reify=True)
    return [each for each in drawing.elements() if isinstance(each, svgelements.Path)]


def test_lengths_come_back() -> None:
    """Every line has its length again, within 0.01 mm, read with the drawing's own mm size."""
    lines = [item for item in panel().items if not isinstance(item, Text)]
    read = paths_of(svg(panel()))
    assert len(read) == len(lines) == 5
    for line, back in zip(lines, read, strict=True):
        assert back.length() * MM == pytest.approx(line.path.length, abs=0.01)


def test_places_come_back_with_y_up() -> None:
    """A point stands where it was once y is turned back and the margin taken off."""
    picture = Picture(items=(Stroke(path=polyline(((10, 20), (110, 220))), role=DrawnRole.GRAIN),))
    (line,) = paths_of(svg(picture, margin=5.0))
    start, end = line.point(0), line.point(1)
    assert (start.x * MM, start.y * MM) == pytest.approx((5.0, 205.0), abs=1e-3)
    assert (end.x * MM, end.y * MM) == pytest.approx((105.0, 5.0), abs=1e-3)


def test_size_is_in_mm() -> None:
    """Width, height and view box are the picture's size and a margin, in mm."""
    root = ET.fromstring(svg(panel(), margin=5.0))
    low, high = panel().bounds()
    assert float(root.get("width", "").removesuffix("mm")) == pytest.approx(high.x - low.x + 10)
    assert float(root.get("height", "").removesuffix("mm")) == pytest.approx(high.y - low.y + 10)
    box = [float(v) for v in root.get("viewBox", "").split()]
    assert box == pytest.approx([low.x - 5, -high.y - 5, high.x - low.x + 10, high.y - low.y + 10])


def test_a_reduced_drawing_keeps_true_lengths_and_pen_widths() -> None:
    """Shown 100 mm wide it still counts in mm of the piece, and its lines are as broad on paper."""
    text = svg(panel(), width=100.0, margin=0.0)
    root = ET.fromstring(text)
    assert root.get("width") == "100mm"
    low, high = panel().bounds()
    scale = 100.0 / (high.x - low.x)
    outline = paths_of(text)[1]
    assert outline.length() * MM / scale == pytest.approx(panel_path().length, abs=0.02)
    assert f"stroke-width:{PRINT.pen(DrawnRole.CUT).width / scale:.4f}".rstrip("0") in text


def test_roles_are_groups() -> None:
    """Each run of a role is one group with the role as id, class and layer; order is kept."""
    picture = Picture(
        items=(
            cut(ring(0, 0, 50, 50)),
            Stroke(path=polyline(((10, 10), (10, 40))), role=DrawnRole.GRAIN, group="front"),
            cut(ring(60, 0, 90, 50)),
        )
    )
    groups = ET.fromstring(svg(picture)).findall(f"{NS}g")
    assert [g.get("id") for g in groups] == ["cut", "grain", "cut-2"]
    assert [g.get("class") for g in groups] == ["cut", "grain", "cut"]
    assert [g.get("data-layer") for g in groups] == ["cut", "grain", "cut"]
    assert groups[1][0].get("data-group") == "front"


def test_words_are_kept_as_words() -> None:
    """Text with signs that mean something in XML, fractions and umlauts comes back as written."""
    words = 'front & "back" <cut 2>, 1⅝″, Größe'
    text = Text(words=words, at=Vec(0, 0), size=5, angle_deg=90, anchor="middle", group='a"b')
    picture = Picture(items=(cut(ring(0, 0, 50, 50)), text), title="A & B")
    root = ET.fromstring(svg(picture, alt="One <square>"))
    (back,) = root.iter(f"{NS}text")
    assert back.text == words
    assert back.get("text-anchor") == "middle"
    assert back.get("transform") == "rotate(-90 0 0)"
    assert back.get("data-group") == 'a"b'
    assert root.findtext(f"{NS}title") == "A & B"
    assert root.findtext(f"{NS}desc") == "One <square>"
    assert root.get("role") == "img"


def test_holes_stay_holes() -> None:
    """An area with a hole is one path of two rings, filled even-odd."""
    area = Fill(path=ring(0, 0, 100, 100), holes=(ring(20, 20, 80, 80),), role=DrawnRole.PIECE)
    text = svg(Picture(items=(area,)), look=TABLE)
    (path,) = ET.fromstring(text).iter(f"{NS}path")
    assert path.get("d", "").count("M") == path.get("d", "").count("Z") == 2
    assert "fill-rule:evenodd" in text


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_every_role_can_be_drawn(look: object) -> None:
    """No role is missing a style, and the style is inside the file."""
    items = tuple(Stroke(path=polyline(((0, i), (9, i))), role=r) for i, r in enumerate(DrawnRole))
    text = svg(Picture(items=items), look=look)  # type: ignore[arg-type]
    for role in DrawnRole:
        assert f".{role.value} .line{{stroke:#" in text
    assert "url(" not in text
    assert "@import" not in text


def test_same_picture_same_text() -> None:
    """Two runs write the same, and no number is written as minus nothing."""
    assert svg(panel()) == svg(panel())
    assert "-0 " not in svg(panel())
    assert "-0," not in svg(panel())


def test_an_empty_picture_is_told() -> None:
    """There is nothing to draw."""
    with pytest.raises(BadInput, match="nothing to draw"):
        svg(Picture(title="Front"))
