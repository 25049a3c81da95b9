"""Darts turned into seams: a panel seam over the bust, a yoke seam (trade facts, darts)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes import dart_to_seam, rotate_dart
from clothwright.changes.dart_to_seam import DartToSeam
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_intake, dart_legs, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.test_dart_sums import front
from tests.changes.test_rotate_dart import fine_area, wedge_area
from tests.garments.wardrobe import GARMENTS


def turned(pattern: Pattern, to: str, at: float) -> Pattern:
    params = rotate_dart.RotateDart(dart="front.side", to=to, at=at)
    return rotate_dart.apply(pattern, params).pattern


@pytest.mark.parametrize(
    ("to", "leg", "wide"), [("shoulder", 240.0, 51.4), ("armhole", 170.0, 36.4)]
)
def test_the_side_dart_at_shoulder_and_armhole(to: str, leg: float, wide: float) -> None:
    """12.30 degrees: 5.14 wide at a shoulder 24 cm away, 3.64 at an armhole 17 cm away (O31)."""
    after = turned(front(), f"front.{to}", 60.0).piece("front")
    dart = after.dart("side")
    scale = leg / dart_legs(after, dart)[0]
    assert dart_intake(after, dart) * scale == pytest.approx(wide, abs=0.05)


def princess(smooth: float) -> Pattern:
    """The front in two panels, from the shoulder over the bust point to the waist."""
    pattern = turned(front(), "front.shoulder", 110.0)
    params = DartToSeam(
        dart="front.side", other="front.waist", smooth=smooth, names="centre, side panel"
    )
    return dart_to_seam.apply(pattern, params).pattern


def test_both_sides_of_a_panel_seam_are_the_legs_of_its_darts() -> None:
    """Not rounded: each half as long on both parts; widths and area are the whole less the darts.

    Source: plane geometry (trade facts: halves equal, waist widths sum to the whole less dart).
    """
    whole = turned(front(), "front.shoulder", 110.0).piece("front")
    after = princess(0.0)
    parts = [after.piece(n) for n in ("centre", "side panel")]
    legs = [dart_legs(whole, whole.dart(n))[0] for n in ("side", "waist")]
    for part in parts:
        assert part.edge("joining").length == pytest.approx(sum(legs), abs=1e-6)
        ats = [n.at for n in part.edge("joining").notches]
        corner = part.edge("joining").path.segments[0].length
        assert corner in (pytest.approx(legs[0]), pytest.approx(legs[1]))
        assert [abs(at - corner) for at in ats] == pytest.approx([50.0, 50.0], abs=1e-6)
    for edge in ("waist", "shoulder"):
        total = sum(part.edge(edge).length for part in parts)
        assert total == pytest.approx(net_length(whole, edge), abs=1e-3)
    area = sum(fine_area(part) for part in parts)
    assert area == pytest.approx(fine_area(whole) - wedge_area(whole), abs=5.0)
    seam = next(s for s in after.seams if "joining" in s.name)
    assert seam.ease == 0.0


def test_rounding_eases_a_little_between_the_notches() -> None:
    """A corner of t rounded over s each way, loses about s t^2 / 6: under 1.5 mm for 23 degrees."""
    after = princess(50.0)
    seam = next(s for s in after.seams if "joining" in s.name)
    long = {r.piece: after.edge(r).length for r in (*seam.a, *seam.b)}
    assert 0.0 < seam.ease < 1.5
    assert long[seam.b[0].piece] - long[seam.a[0].piece] == pytest.approx(seam.ease, abs=1e-6)
    names = [n.name for n in after.edge(seam.b[0]).notches]
    assert {seam.ease_from, seam.ease_to} == set(names)
    path = after.edge(seam.b[0]).path
    turns = [
        path.segments[i].tangent(1.0).cross(path.segments[i + 1].tangent(0.0))
        for i in range(len(path.segments) - 1)
    ]
    assert turns == pytest.approx([0.0] * len(turns), abs=1e-6)


def test_both_sides_of_a_yoke_seam_are_equal() -> None:
    """The dart moved to the armhole, cut on to the centre: the sides differ by nothing (O32)."""
    pattern = turned(front(), "front.armhole", 40.0)
    params = DartToSeam(
        dart="front.side", to="front.centre", at=150.0, smooth=0.0, names="yoke, front"
    )
    after = dart_to_seam.apply(pattern, params).pattern
    long = [after.piece(n).edge("joining").length for n in ("yoke", "front")]
    assert long[0] == pytest.approx(long[1], abs=1e-6)
    assert [d.name for d in after.piece("front").darts] == ["waist"]
    assert after.piece("yoke").fold is not None


def test_a_seam_too_far_from_the_bust_point_is_warned_of() -> None:
    """1 1/2 in from the bust point is more than the 1 in that holds a bust dart (O36)."""
    pattern = front()
    mark = Mark(name="bust point", at=Vec(-38.1, 0.0))
    piece = pattern.piece("front")
    pattern = pattern.with_piece(replace(piece, marks=(mark,)))
    seam = DartToSeam(dart="front.side", other="front.waist", turns="own", smooth=0.0)
    said = say(dart_to_seam.apply(pattern, seam).said, Unit.inch)
    assert "It passes 1 1/2 in from the bust point" in said
    near = DartToSeam(dart="front.side", other="front.waist")
    assert "It passes" not in say(dart_to_seam.apply(front(), near).said, Unit.inch)


def test_darts_of_a_back_are_not_one_seam() -> None:
    """They shape places of their own."""
    pattern = front("back", short=20.0)
    with pytest.raises(CannotDo, match="a place of its own"):
        dart_to_seam.apply(pattern, DartToSeam(dart="back.side", other="back.waist"))


def test_a_seam_rounded_away_from_the_bust_point_is_warned_of() -> None:
    """What counts is where the seam runs, not the corner it was rounded from (O36: within 1 in)."""
    p = GARMENTS["wrap dress"]()
    asked = {"dart": "bodice front.bust dart", "to": "bodice front.armhole", "at": 80.0}
    wide = say(dart_to_seam.apply(p, DartToSeam(**asked)).said, Unit.cm)  # type: ignore[arg-type]
    near = DartToSeam(**asked, smooth=5.0)  # type: ignore[arg-type]
    assert "from the bust point" in wide
    assert "from the bust point" not in say(dart_to_seam.apply(p, near).said, Unit.cm)
