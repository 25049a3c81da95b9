"""What a photo proposes goes with what is known of the cloth already."""

from __future__ import annotations

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.contradictions import contradictions
from clothwright.cloth.prints import Print
from clothwright.photo.axes import Axis
from clothwright.photo.cloth_print import PrintFound
from clothwright.photo.repeat import Measured
from clothwright.units import Unit
from clothwright.units.reading import parse_length
from clothwright.workroom.cloth.found import proposed
from clothwright.workroom.cloth.photos import PhotoLies


@pytest.mark.parametrize(("drop", "lines"), [("straight", 2), ("half-drop", 2), ("brick", 1)])
def test_mirror_lines_are_those_that_the_drop_can_have(drop, lines):
    """Half way along a brick's repeat the rows are not mirrored: no second line is proposed."""
    found = PrintFound(
        borders=(),
        repeat_along=Measured(mm=60.0, give=0.5),
        repeat_across=Measured(mm=48.0, give=0.5),
        axes_along=(Axis(at=10.0, likeness=1.0), Axis(at=40.0, likeness=1.0)),
        doubts=(),
    )
    cloth = Cloth(name="c", width=1400.0, print=Print(drop=drop))
    laid = PhotoLies(width=300.0, height=200.0)
    said = proposed(found, laid, cloth, Unit.cm)
    axes = tuple(parse_length(a, unit=Unit.cm) for a in said.axes_along)
    assert len(axes) == lines
    taken = Print(repeat_along=60.0, repeat_across=48.0, axes_along=axes, drop=drop)
    assert contradictions(taken) == ()
