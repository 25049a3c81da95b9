"""Pictures in the page: the style sheet knows every role; the tape measure is true."""

from __future__ import annotations

import re

import pytest

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import DrawnRole
from clothwright.units import Unit
from clothwright.web.tape import tape

BOX = polyline((Vec(0, 0), Vec(100, 0), Vec(100, 50), Vec(0, 50), Vec(0, 0)))


def test_every_role_has_a_line_in_the_style_sheet() -> None:
    """A role that is drawn is never invisible: lines.css knows each of them."""
    from pathlib import Path

    import clothwright.web.svg as module

    css = (Path(module.__file__).parent / "static/css/lines.css").read_text()
    for role in DrawnRole:
        if role is not DrawnRole.LABEL:
            assert f".r-{role.value} .line" in css, role


@pytest.mark.parametrize(("unit", "step"), [(Unit.cm, 100.0), (Unit.inch, 6 * 25.4)])
def test_the_tape_is_true(unit: Unit, step: float) -> None:
    """The number 10 stands at 100 mm; the number 6 at six inches (25.4 mm each, exactly)."""
    found = re.findall(r'<text x="([\d.]+)"[^>]*>(\d+)<', str(tape(unit, 1000.0)))
    per = 10.0 if unit is Unit.cm else 25.4
    assert float(found[0][0]) == pytest.approx(step, abs=0.05)
    for x, n in found:
        assert float(x) == pytest.approx(int(n) * per, abs=0.05)
