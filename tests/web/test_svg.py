"""Pictures in the page: true to scale, a class a role, nothing that escapes."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.picture.inline import EM_MM
from clothwright.picture.picture import Fill, Picture, Role, Stroke, Text
from clothwright.units import Unit
from clothwright.web.svg import inline
from clothwright.web.tape import tape

BOX = polyline((Vec(0, 0), Vec(100, 0), Vec(100, 50), Vec(0, 50), Vec(0, 0)))


def test_every_role_has_a_line_in_the_style_sheet() -> None:
    """A role that is drawn is never invisible: lines.css knows each of them."""
    from pathlib import Path

    import clothwright.web.svg as module

    css = (Path(module.__file__).parent / "static/css/lines.css").read_text()
    for role in Role:
        if role is not Role.LABEL:
            assert f".r-{role.value} .line" in css, role


def test_size_and_direction() -> None:
    """A 100 x 50 mm box is 10 x 5 em, and up on the cloth is up on the screen."""
    text = inline(Picture(items=(Fill(path=BOX, role=Role.PIECE),)), alt="box", margin=0.0)
    svg = ET.fromstring(str(text))
    assert svg.get("width") == f"{100 / EM_MM:g}em"
    assert svg.get("height") == f"{50 / EM_MM:g}em"
    assert svg.get("viewBox") == "0 -50 100 50"
    assert svg.get("aria-label") == "box"


def test_words_cannot_become_markup() -> None:
    """A piece or a mark may be called anything."""
    evil = '"><script>x</script>&'
    items = (
        Text(words=evil, at=Vec(0, 0), size=5, group=evil),
        Stroke(path=BOX, role=Role.CUT, group=evil),
    )
    svg = ET.fromstring(str(inline(Picture(items=items), alt=evil)))
    assert svg.get("aria-label") == evil
    assert not [e for e in svg.iter() if e.tag == "script"]
    assert [e.text for e in svg.iter("text")] == [evil]


def test_nothing_to_draw_is_said() -> None:
    """An empty picture is a sentence."""
    with pytest.raises(BadInput, match="nothing to draw"):
        inline(Picture(), alt="")


@pytest.mark.parametrize(("unit", "step"), [(Unit.cm, 100.0), (Unit.inch, 6 * 25.4)])
def test_the_tape_is_true(unit: Unit, step: float) -> None:
    """The number 10 stands at 100 mm; the number 6 at six inches (25.4 mm each, exactly)."""
    found = re.findall(r'<text x="([\d.]+)"[^>]*>(\d+)<', str(tape(unit, 1000.0)))
    per = 10.0 if unit is Unit.cm else 25.4
    assert float(found[0][0]) == pytest.approx(step, abs=0.05)
    for x, n in found:
        assert float(x) == pytest.approx(int(n) * per, abs=0.05)
