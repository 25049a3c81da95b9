"""A picture as an element of a page: true to scale, a class a role, nothing that escapes."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from clothwright.errors import BadInput
from clothwright.geometry.path import rectangle
from clothwright.geometry.vec import Vec
from clothwright.picture.inline import EM_MM, inline_svg, inner_svg
from clothwright.picture.picture import DrawnRole, Fill, Picture, Stroke, Text

BOX = rectangle((0.0, 0.0), (100.0, 50.0))


def test_size_and_direction() -> None:
    """A 100 x 50 mm box is 10 x 5 em, and up on the cloth is up on the screen."""
    text = inline_svg(Picture(items=(Fill(path=BOX, role=DrawnRole.PIECE),)), alt="box", margin=0.0)
    svg = ET.fromstring(text)
    assert svg.get("width") == f"{100 / EM_MM:g}em"
    assert svg.get("height") == f"{50 / EM_MM:g}em"
    assert svg.get("viewBox") == "0 -50 100 50"
    assert svg.get("aria-label") == "box"


def test_words_cannot_become_markup() -> None:
    """A piece or a mark may be called anything."""
    evil = '"><script>x</script>&'
    items = (
        Text(words=evil, at=Vec(0, 0), size=5, group=evil),
        Stroke(path=BOX, role=DrawnRole.CUT, group=evil),
    )
    svg = ET.fromstring(inline_svg(Picture(items=items), alt=evil))
    assert svg.get("aria-label") == evil
    assert not [e for e in svg.iter() if e.tag == "script"]
    assert [e.text for e in svg.iter("text")] == [evil]


def test_nothing_to_draw_is_said() -> None:
    """An empty picture is a sentence."""
    with pytest.raises(BadInput, match="nothing to draw"):
        inline_svg(Picture(), alt="")


def test_what_is_put_over_it() -> None:
    """`over` lies on top of all; then the drawing is a group."""
    items = (
        Fill(path=BOX, role=DrawnRole.CLOTH),
        Stroke(path=BOX, role=DrawnRole.CUT, closed=True),
    )
    svg = ET.fromstring(inline_svg(Picture(items=items), alt="box", over="<g class='knob'/>"))
    assert [e.get("class") or e.tag for e in svg] == ["r-cloth", "r-cut", "knob"]
    assert (svg.get("role"), svg.get("aria-label")) == ("group", "box")


def test_strokes_of_one_thing_are_one_element() -> None:
    """Two lines of a piece are one path, another piece's is its own; there is no frame."""
    items = tuple(Stroke(path=BOX, role=DrawnRole.CUT, group=name) for name in ("a", "a", "b"))
    group = ET.fromstring(inner_svg(Picture(items=items)))
    assert (group.tag, group.get("class")) == ("g", "r-cut")
    assert [e.get("data-group") for e in group] == ["a", "b"]
    assert group[0].get("d", "").count("M") == 2


def test_a_part_is_shown() -> None:
    """What is asked for is shown, whatever is drawn: mm, y turned down, with room round it."""
    picture = Picture(items=(Fill(path=BOX, role=DrawnRole.PIECE),))
    svg = ET.fromstring(
        inline_svg(picture, alt="", within=((0.0, 0.0), (40.0, 30.0)), margin=5.0, to_scale=False)
    )
    assert svg.get("viewBox") == "-5 -35 50 40"
    assert svg.get("width") is None
    assert svg.get("aria-hidden") == "true"
