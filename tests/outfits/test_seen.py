"""What is seen on painted cloth is what plane geometry says, on seams reckoned by hand.

Sources: plane geometry; the worked numbers (drift, dart, chevron) are arithmetic, said in place.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.demo.curves import straight
from clothwright.demo.draft import cuts, grain, hem_edge, seam, seam_edge
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from tests.outfits.painted import ground_painting
from tests.outfits.placing import put
from tests.outfits.seen import seen
from tests.outfits.sewn import Sewn, sewn
from tests.outfits.skirts import gore

HERE = (500.0, 400.0)


def cloth(**printed: object) -> Cloth:
    return Cloth(name="cloth", width=1500.0, print=Print(**printed))  # type: ignore[arg-type]


def leaning(name: str, degrees: float, long: float = 400.0) -> Piece:
    """A gore whose straight side, `long` mm, leans so much from the grain."""
    wide, high = long * math.sin(math.radians(degrees)), long * math.cos(math.radians(degrees))
    return gore(name, "once", waist=200.0, hem=200.0 + wide, long=300.0, top=high - 300.0)


def two_gores(a_deg: float, b_deg: float, **places: object) -> Sewn:
    """Two gores sewn side to side from the hem up, both hems' side corners on one place."""
    a, b = leaning("a", a_deg), leaning("b", b_deg)
    pattern = Pattern(pieces=(a, b), seams=(seam("side", "a.side", "b.side"),))
    return sewn_as(pattern, put(a, "side hem", HERE), put(b, "side hem", HERE, flipped=True))


def sewn_as(pattern: Pattern, *placements: object, half: int = 0) -> Sewn:
    return next(s for s in sewn(pattern, {"placements": list(placements)}) if s.half == half)


@pytest.mark.parametrize(("a_deg", "b_deg"), [(10.0, 6.0), (7.0, 7.0), (3.0, 12.0)])
def test_bars_drift_by_the_cosines(a_deg: float, b_deg: float) -> None:
    """After s mm of seam, bars across are apart by s |cos a - cos b|; 400 at 10 and 6: 3.89."""
    found = seen(two_gores(a_deg, b_deg), cloth(repeat_along=90.0))
    less = abs(math.cos(math.radians(a_deg)) - math.cos(math.radians(b_deg)))
    assert found.height == pytest.approx(found.at * less, abs=1e-6)
    assert np.isnan(found.side).all()
    share = min(1.0, 2.0 / (400.0 * less)) if less else 1.0
    assert found.share() == pytest.approx(share, abs=0.002)
    if (a_deg, b_deg) == (10.0, 6.0):
        assert found.height[-1] == pytest.approx(3.89, abs=0.01)


def darted(intake: float) -> Pattern:
    """Two oblongs 200 wide; the front's right side has a level dart, its lower leg 150 up."""
    edges = {
        "front": [(0, 0), (200, 0), (200, 350 + intake), (0, 350 + intake)],
        "back": [(0, 0), (200, 0), (200, 350), (0, 350)],
    }
    pieces = []
    for name, (p, q, r, s) in edges.items():
        dart = Dart(
            name="dart", edge="side", a=150.0, b=150.0 + intake, point=Vec(90.0, 150.0 + intake / 2)
        )
        pieces.append(
            Piece(
                name=name,
                edges=(
                    hem_edge(straight(p, q), "low centre", 10.0),
                    seam_edge("side", straight(q, r), "low"),
                    seam_edge("top", straight(r, s), "high"),
                    seam_edge("centre", straight(s, p), "high centre"),
                ),
                darts=(dart,) if name == "front" else (),
                grain=grain(100.0, 40.0, 300.0),
                cuts=cuts("once", "shell"),
            )
        )
    return Pattern(pieces=tuple(pieces), seams=(seam("side", "front.side", "back.side"),))


@pytest.mark.parametrize(
    ("intake", "repeat", "above"), [(40, 60, 20), (40, 40, 0), (70, 60, 10), (25, 80, 25)]
)
def test_above_a_level_dart_bars_are_apart_by_its_intake(
    intake: float, repeat: float, above: float
) -> None:
    """To the nearer repeat: 4 of 6 leaves 2, 4 of 4 nothing, 7 of 6 one, 2.5 of 8 2.5; below 0."""
    pattern = darted(intake)
    front, back = pattern.pieces
    join = sewn_as(pattern, put(front, "low", HERE), put(back, "low", HERE, flipped=True))
    found = seen(join, cloth(repeat_along=float(repeat)))
    assert join.a.darts == (("dart", 150.0),)
    below = found.at <= 150.0
    assert found.height[below] == pytest.approx(0.0, abs=1e-9)
    assert found.height[~below] == pytest.approx(above, abs=1e-9)
    assert found.share() == pytest.approx(1.0 if above == 0 else 150.0 / 350.0, abs=0.002)


def bias(b_deg: float) -> Sewn:
    """Two gores sewn along their straight centres, turned to 45 and 45 degrees off the stripe."""
    a, b = leaning("a", 8.0), leaning("b", 8.0)
    pattern = Pattern(pieces=(a, b), seams=(seam("centre", "a.centre", "b.centre"),))
    return sewn_as(
        pattern,
        put(a, "centre hem", HERE, turn_deg=45.0),
        put(b, "centre hem", HERE, turn_deg=-b_deg, flipped=True),
    )


STRIPE = {"repeat_across": 30.0, "axes_across": (10.0,), "origin_across": HERE[1]}


def test_equal_angles_make_a_chevron_and_unequal_ones_do_not() -> None:
    """Stripes of 3 cm at 45 and 45: mirrored all along, if both start on a mirror line.

    At 45 and 40 the fifth stripe is 2.123 cm out along the seam, 5 R (1/sin 40 - 1/sin 45): that
    is 5 R / sin 45 (sin 45 - sin 40) square to the stripes.
    """
    level = cloth(repeat_across=30.0, axes_across=(0.0,), origin_across=HERE[1])
    found = seen(bias(45.0), level)
    assert set(found.kind) == {"mirrored"}
    assert found.crossing == pytest.approx(0.0, abs=1e-9)
    fifth = 5 * 30.0 / math.sin(math.radians(45.0))
    off = seen(bias(40.0), level)
    less = math.sin(math.radians(45.0)) - math.sin(math.radians(40.0))
    up = off.at[-1] - off.at
    assert np.interp(fifth, up[::-1], off.crossing[::-1]) == pytest.approx(fifth * less, abs=0.01)
    along = fifth * less / math.sin(math.radians(40.0))
    assert along == pytest.approx(21.23, abs=0.01)
    assert off.share("mirrored") == pytest.approx(2.0 / less / off.at[-1], abs=0.002)


def test_the_same_turn_on_the_bias_is_no_chevron() -> None:
    """Both at 45 the same way: the stripes run on across the seam where their phase is the same."""
    a, b = leaning("a", 8.0), leaning("b", 8.0)
    pattern = Pattern(pieces=(a, b), seams=(seam("centre", "a.centre", "b.centre"),))
    for shift, kind in ((0.0, "runs on"), (9.0, "apart")):
        join = sewn_as(
            pattern,
            put(a, "centre hem", HERE, turn_deg=45.0),
            put(b, "centre hem", (700.0, HERE[1] + shift), turn_deg=45.0, flipped=True),
        )
        assert set(seen(join, cloth(**STRIPE)).kind) == {kind}


def test_a_border_on_one_side_stops_and_on_both_is_measured() -> None:
    """Crosswise on a band from 40 to 140: 5 mm higher is 5 mm; hem far from it: it stops there."""
    pattern = darted(0.5)
    front, back = pattern.pieces
    band = Border(name="b", side="lower", base=40.0, height=100.0)
    bordered = cloth(borders=(band,))
    for y, kind, length in (
        (45.0, "apart", 105.0),
        (41.0, "runs on", 101.0),
        (400.0, "stops", 100.0),
    ):
        join = sewn_as(
            pattern,
            put(front, "low", (300.0, 40.0), turn_deg=90.0),
            put(back, "low", (900.0, y), turn_deg=90.0, flipped=True),
        )
        found = seen(join, bordered)
        told = found.kind != "plain"
        assert set(found.kind[told]) == {kind}
        high = found.at[told].max()
        assert high == pytest.approx(min(length, 100.0) if y < 45.0 else 100.0, abs=6.0)
        if kind != "stops":
            assert found.height[told] == pytest.approx(y - 40.0, abs=1e-6)


def test_half_a_turn_and_a_column_along_are_seen_as_the_same_figure() -> None:
    """Brick with a half turn: end for end, or half a repeat across and one along, it runs on.

    What is said to run on looks the same in the cloth round the seam, to 1e-6 of a shade; a third
    of a repeat away it does not.
    """
    printed = {
        "repeat_along": 50.0, "repeat_across": 76.0, "drop": "brick", "half_turn": (12.0, 20.0),
    }  # fmt: skip
    pattern = darted(0.5)
    front, back = pattern.pieces
    turned = (2 * 12.0 - HERE[0], 2 * 20.0 - HERE[1])
    for on, turn, same in (
        ((HERE[0] + 50.0, HERE[1] + 38.0), 0.0, True),
        (turned, 180.0, True),
        ((turned[0] + 16.0, turned[1]), 180.0, False),
        ((HERE[0] + 50.0, HERE[1]), 0.0, False),
    ):
        join = sewn_as(
            pattern,
            put(front, "low", HERE),
            put(back, "low", on, turn_deg=turn, flipped=True),
        )
        below = seen(join, cloth(**printed)).kind[:500]
        assert ({*below} == {"runs on"}) is same
        assert (unlike(join, cloth(**printed), 100.0) < 1e-6) is same


def unlike(join: Sewn, on: Cloth, at: float) -> float:
    """How unlike the cloth on both sides is round a place of the seam, b turned as it is sewn."""
    painting = ground_painting(on.print)
    assert painting is not None
    rows = []
    beside = np.random.default_rng(2).random((300, 2)) * 60.0 - 30.0
    for edge, net in ((join.a, np.array([at])), (join.b, join.beside(np.array([at])))):
        [point], [way], _ = edge.places(net)
        rows.append(painting.colour(point + beside @ np.array([way, [-way[1], way[0]]])))
    return float(np.abs(rows[0] - rows[1]).max())
