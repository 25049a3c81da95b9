"""A corner put where the seams that meet there agree: what was cut off comes back.

The mistakes are made with scissors (`tests.faults.paper`), not by a change of the program.
"""

from __future__ import annotations

import math

import pytest

from clothwright.changes.fit_corner import FitCorner, apply
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import side
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.faults.paper import cornered, let_out
from tests.garments.wardrobe import GARMENTS

CASES = (
    ("knit top", "back", "armhole", Vec(0.0, -12.0), ("shoulder", "armhole")),
    ("wrap dress", "skirt front", "waist", Vec(-20.0, 0.0), ("waist", "skirt side")),
    ("raglan", "front", "raglan", Vec(0.0, -20.0), ("front raglan", "side and sleeve")),
)
"""Garment, piece, the edge that starts at the corner, how it was moved, what it spoils."""


def differences(pattern: Pattern, names: tuple[str, ...]) -> list[float]:
    """By how much side b of each seam is the longer, mm."""
    seams = (pattern.seam(n) for n in names)
    return [side(pattern, s.b).length - side(pattern, s.a).length for s in seams]


@pytest.mark.parametrize("case", CASES, ids=lambda c: c[1])
def test_a_corner_that_was_cut_off_comes_back(
    case: tuple[str, str, str, Vec, tuple[str, ...]],
) -> None:
    """Both seams are as they were, and the corner is within 3 mm of where it was."""
    garment, name, edge, by, seams = case
    right = GARMENTS[garment]()
    spoilt = right.with_piece(cornered(right.piece(name), edge, by.x, by.y))
    assert all(
        abs(x - y) > 1.0
        for x, y in zip(differences(right, seams), differences(spoilt, seams), strict=True)
    )
    new = apply(spoilt, FitCorner(corner=f"{name}.{edge} start")).pattern
    assert differences(new, seams) == pytest.approx(differences(right, seams), abs=0.02)
    was, now = (p.piece(name).edge(edge).path.start for p in (right, new))
    assert was.distance(now) < 3.0


def test_what_lies_beyond_the_nearest_notch_stays() -> None:
    """The side of a skirt below its hip notch, when the corner of its waist comes back."""
    right = GARMENTS["wrap dress"]()
    spoilt = right.with_piece(cornered(right.piece("skirt front"), "waist", -20.0, 0.0))
    new = apply(spoilt, FitCorner(corner="skirt front.waist start")).pattern
    sides = [p.piece("skirt front").edge("side") for p in (spoilt, new)]
    (hip,) = (n.at for n in sides[0].notches if n.name == "hip")
    assert next(n.at for n in sides[1].notches if n.name == "hip") == pytest.approx(hip)
    for at in (0.0, hip / 2, hip):
        assert sides[0].path.point_at(at).distance(sides[1].path.point_at(at)) < 1e-6


def test_a_corner_that_is_right_stays() -> None:
    """Nothing is moved, and it is said so."""
    right = GARMENTS["knit top"]()
    done = apply(right, FitCorner(corner="back.armhole start"))
    assert done.pattern == right
    assert "agree already" in say(done.said, Unit.cm)


def test_a_corner_does_not_move_by_many_times_what_is_off() -> None:
    """A stand 2 mm short would want its centre back 14 mm higher: that is not what was changed."""
    right = GARMENTS["shirt"]()
    spoilt = right.with_piece(let_out(right.piece("yoke"), "front seam", 10.0))
    spoilt = spoilt.with_piece(let_out(right.piece("front"), "yoke seam", -10.0))
    with pytest.raises(CannotDo) as caught:
        apply(spoilt, FitCorner(corner="collar stand.lower end"))
    assert "no place near it" in str(caught.value)


def test_a_line_without_a_notch_keeps_its_directions_at_both_ends() -> None:
    """The waist of trousers, its side raised 12 mm with tape: lowered again, it runs as before.

    A line that was swung about its other end would bend the waist by 7 degrees at the side.
    """
    right = GARMENTS["trousers"]()
    spoilt = right.with_piece(cornered(right.piece("back"), "side", 0.0, 12.0))
    new = apply(spoilt, FitCorner(corner="back.side waist")).pattern
    was, now = (p.piece("back").edge("waist").path for p in (right, new))
    for a, b in ((was.start_tangent, now.start_tangent), (was.end_tangent, now.end_tangent)):
        assert abs(a.cross(b)) < math.sin(math.radians(1.0))
