"""Full upper arm: width is paid for in cap height, and both are told.

The tables are worked in plane geometry independently of this code: half width b cos t + a sin t,
new cap height a cos t - b sin t (docs/changes/full-upper-arm.md).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes.full_upper_arm import CHANGE, FullUpperArm
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.pattern.level_spots import level_spot
from clothwright.pattern.measure import net_length
from clothwright.pattern.piece import Edge, Grain, Level, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import assert_same_shape
from tests.changes.figures import CM, alone, at
from tests.garments.wardrobe import GARMENTS


def arm(height: float = 13.0, front: float = 16.0, back: float = 16.0, long: float = 45.0) -> Piece:
    """A sleeve: cap height, half widths at the biceps, length below it; cm. The hem is 20 wide."""
    left, right, top = at(-front, 0), at(back, 0), at(0, height)
    hem = at(-10, -long), at(10, -long)
    cap = Path(
        (
            Cubic(right, right + at(-5, 1), top + at(6, 0), top),
            Cubic(top, top + at(-6, 0), left + at(5, 1), left),
        )
    )
    notch = Notch(at=cap.segments[0].length, name="shoulder")
    return Piece(
        name="sleeve",
        edges=(
            Edge(name="hem", path=polyline(hem), role=Role.HEM),
            Edge(name="back underarm", path=polyline((hem[1], right))),
            Edge(name="cap", path=cap, notches=(notch,)),
            Edge(name="front underarm", path=polyline((left, hem[0]))),
        ),
        grain=Grain(start=at(0, -40), end=at(0, 10)),
        levels=(Level(name="biceps", at=at(0, 0)), Level(name="elbow", at=at(0, -20))),
    )


def altered(piece: Piece, by: float) -> Piece:
    done = CHANGE.apply(alone(piece), FullUpperArm(piece="sleeve", by=by))
    return done.pattern.piece("sleeve")


def sizes(piece: Piece) -> tuple[float, float, float]:
    """Width at the biceps, cap height, length down the middle; cm."""
    cap = piece.edge("cap").path
    top = cap.point_at(piece.edge("cap").notches[0].at)
    low = piece.edge("hem").path.middle
    return (
        abs(cap.end.x - cap.start.x) / CM,
        (top.y - (cap.start.y + cap.end.y) / 2) / CM,
        top.distance(low) / CM,
    )


@pytest.mark.parametrize(
    ("gain", "height", "shorter"),
    [(1, 12.36, 0.82), (2, 11.66, 1.71), (3, 10.90, 2.66), (4, 10.05, 3.71)],
)
def test_the_table(gain: float, height: float, shorter: float) -> None:
    """Cap height and length down the middle for 1 to 4 cm more; all seams keep their lengths."""
    before = arm()
    after = altered(before, gain * CM)
    assert sizes(after)[0] == pytest.approx(32 + gain, abs=1e-6)
    assert sizes(after)[1] == pytest.approx(height, abs=0.006)
    assert sizes(before)[2] - sizes(after)[2] == pytest.approx(shorter, abs=0.006)
    for edge in before.edges:
        assert net_length(after, edge.name) == pytest.approx(edge.length, abs=1e-6)


@pytest.mark.parametrize(("gain", "height"), [(0.5, 5.19), (1.0, 4.85), (1.5, 4.47)])
def test_in_inches(gain: float, height: float) -> None:
    """A cap of 5 1/2 in and half a biceps of 6 1/2 in: the same table in inches."""
    after = altered(arm(5.5 * 2.54, 6.5 * 2.54, 6.5 * 2.54), gain * 25.4)
    assert sizes(after)[1] / 2.54 == pytest.approx(height, abs=0.006)


@settings(max_examples=25)
@given(
    height=st.floats(8, 16),
    front=st.floats(13, 18),
    back=st.floats(13, 18),
    by=st.floats(2, 35),
)
def test_what_stays(height: float, front: float, back: float, by: float) -> None:
    """On uneven sleeves too: every seam keeps its length, and wider then narrower comes back."""
    before = arm(height, front, back)
    after = altered(before, by)
    assert not self_crossings(after.outline)
    assert sizes(after)[0] == pytest.approx(front + back + by / CM, abs=1e-6)
    for edge in before.edges:
        assert net_length(after, edge.name) == pytest.approx(edge.length, abs=1e-6)
    assert_same_shape(before, altered(after, -by), 1e-6)


def test_both_are_told() -> None:
    """What is gained and what it costs stand in one sentence, and more than 5 cm is warned of."""
    out = CHANGE.apply(alone(arm()), FullUpperArm(piece="sleeve", by=30.0))
    words = say(out.said, Unit.cm)
    assert "Made sleeve 3 cm wider at the upper arm." in words
    assert "the cap is 2.1 cm lower (10.9 cm now)" in words
    assert "2.7 cm shorter down its middle" in words
    assert "a lot" not in words
    assert "a lot" in say(
        CHANGE.apply(alone(arm()), FullUpperArm(piece="sleeve", by=52.0)).said, Unit.cm
    )
    assert out.pattern.piece("sleeve").level("biceps").at.y == pytest.approx(21.0, abs=0.1)


def test_more_than_the_cap_holds_is_refused() -> None:
    """The cap cannot be lower than nothing."""
    with pytest.raises(CannotDo, match=r"cap's height.* less than"):
        altered(arm(), 120.0)


@pytest.mark.parametrize(("front", "back"), [(16.0, 16.0), (14.0, 18.0)])
@pytest.mark.parametrize("by", [20.0, -15.0])
def test_levels_meet_the_seams_where_they_did(front: float, back: float, by: float) -> None:
    """The seams are as long as before and what is sewn to them was not changed: its lines stay.

    Also where the cap of an upper sleeve ends above the biceps line, as with two pieces.
    """
    sleeve = arm(front=front, back=back)
    low = Level(name="biceps", at=at(0, -4))
    sleeve = replace(sleeve, levels=(low, sleeve.level("elbow")))
    after = altered(sleeve, by)
    for level in ("biceps", "elbow"):
        for edge in ("back underarm", "front underarm"):
            ref = (EdgeRef("sleeve", edge),)
            spots = [level_spot(alone(p), ref, level) for p in (sleeve, after)]
            was, now = (spot.distance for spot in spots if spot is not None)
            assert now == pytest.approx(was, abs=0.6)


def test_a_sleeve_without_a_cap_is_told_another_way() -> None:
    """A raglan sleeve is refused, with what can be done: let out at its seams."""
    with pytest.raises(CannotDo, match="let out at both its seams, at the biceps line"):
        CHANGE.apply(GARMENTS["raglan"](), FullUpperArm(piece="sleeve", by=20.0))
