"""The painted cloth and the edges on it are right themselves, and the program's motions are seen.

Sources: the words of docs/file-format.md (repeat, drop, mirror lines, half turn); plane geometry.
"""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest
from shapely import MultiPoint, Polygon

from clothwright.cloth.motions import Motions, band, ground
from clothwright.cloth.prints import Border, Print
from clothwright.demo import DEMOS
from tests.outfits import OUTFITS
from tests.outfits.painted import Painting, band_painting, ground_painting, in_band
from tests.outfits.placing import scattered
from tests.outfits.sewn import sewn

BOOKS = {**OUTFITS, **{d.name: d.make for d in DEMOS}}
DESIGNS = [
    pytest.param(cloth, id=f"{name}: {cloth.name}")
    for name, make in BOOKS.items()
    for cloth in make().cloths
    if cloth.print.has_design
]


def same_motions(seen: Painting, told: Motions) -> None:
    """Every motion seen in the painting is one of those told, and every one told is seen."""
    looked = seen.motions()
    for (sx, sy), shift in looked:
        [op] = [m for m in told.operations if m.signs == (sx, sy)]
        apart = told.apart(np.subtract([shift], [op.shift]))
        assert np.nan_to_num(apart) == pytest.approx(np.zeros((1, 2)), abs=1e-6)
    assert {(int(x), int(y)) for (x, y), _ in looked} == {m.signs for m in told.operations}
    assert sum(1 for signs, _ in looked if signs == (1.0, 1.0)) == len(told.shifts)
    assert [p or None for p in seen.period] == list(told.period)


@pytest.mark.parametrize("cloth", DESIGNS)
def test_the_motions_of_a_print_are_those_its_painting_shows(cloth) -> None:
    """Mirrors, half turns, half-drop and brick: found by looking, none more and none less."""
    painting = ground_painting(cloth.print)
    if painting is not None:
        same_motions(painting, ground(cloth.print))
    for border in cloth.print.borders:
        same_motions(band_painting(border, cloth.print, cloth.width), band(border, cloth.print))


def test_a_motion_that_is_none_is_not_seen() -> None:
    """Without its mirror line the figure has one motion; with it said 3 mm off, another one."""
    plain = Print(repeat_along=60.0, repeat_across=48.0)
    one = ground_painting(plain)
    assert one is not None
    assert {signs for signs, _ in one.motions()} == {(1.0, 1.0)}
    axis = ground_painting(replace(plain, axes_along=(10.0,)))
    assert axis is not None
    with pytest.raises(AssertionError):
        same_motions(axis, ground(replace(plain, axes_along=(13.0,))))


def test_half_drop_and_brick_are_what_the_trade_calls_them() -> None:
    """Half-drop: the next column, one repeat across, half a repeat along; brick the other way."""
    for drop, there in (("half-drop", (50.0, 80.0)), ("brick", (100.0, 40.0))):
        seen = ground_painting(Print(repeat_along=100.0, repeat_across=80.0, drop=drop))
        assert seen is not None
        spots = np.random.default_rng(3).random((50, 2)) * 300.0
        assert seen.colour(spots + there) == pytest.approx(seen.colour(spots), abs=1e-9)
        straight = np.array([100.0, 0.0] if drop == "brick" else [0.0, 80.0])
        assert np.abs(seen.colour(spots + straight) - seen.colour(spots)).max() > 0.1


def test_a_border_is_painted_in_its_band() -> None:
    """On the upper selvedge of 1000 mm: from 960 inwards to 900, and the same upside down."""
    border = Border(name="b", side="upper", base=40.0, height=60.0, repeat=50.0)
    points = np.array([[0.0, 961.0], [0.0, 959.0], [0.0, 901.0], [0.0, 899.0]])
    assert in_band(border, 1000.0, points).tolist() == [False, True, True, False]
    upper = band_painting(border, Print(borders=(border,)), 1000.0)
    lower = band_painting(replace(border, side="lower"), Print(borders=(border,)), 1000.0)
    spots = np.random.default_rng(5).random((40, 2)) * [100.0, 60.0]
    assert lower.colour(spots + np.array([0.0, 40.0])) == pytest.approx(
        upper.colour(spots * [1.0, -1.0] + [0.0, 960.0]), abs=1e-9
    )


@pytest.mark.parametrize("name", OUTFITS)
def test_every_stitching_line_lies_in_the_cutting_line_of_its_copy(name: str) -> None:
    """Placed by the documented words of the JSON, each edge of each seam is inside its outline."""
    laid = scattered(OUTFITS[name](), 1)
    report = json.loads(json.dumps(laid.report))
    outlines = {p["shape"]: Polygon(p["outline"]).buffer(0.06) for p in report["placements"]}
    seams = sewn(laid.pattern, report)
    pockets = {"one-way vest": {"pocket on front"}, "two repeats": {"pocket on skirt front"}}
    expected = {s.name for s in laid.pattern.seams} | pockets.get(name, set())
    assert {s.seam.name for s in seams} == expected
    for each in seams:
        for run in (*each.a.runs, *each.b.runs):
            assert outlines[run.shape].contains(MultiPoint(run.line)), (each.seam.name, run.shape)
