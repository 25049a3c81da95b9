"""A change leaves no corner untrue that it turned itself.

Fair across a seam: both inside angles add up to 180 degrees, within 5 (common practice). The angles
are measured here between chords of points on the lines, with no help of the code that draws them.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from clothwright.changes import (
    add_flare,
    broad_back,
    full_upper_arm,
    knit_reduction,
    let_out,
    shoulder_slope,
    shoulder_width,
)
from clothwright.changes.add_flare import AddFlare
from clothwright.changes.broad_back import BroadBack
from clothwright.changes.full_upper_arm import FullUpperArm
from clothwright.changes.knit_reduction import KnitReduction
from clothwright.changes.let_out import LetOut
from clothwright.changes.own_corners import trued
from clothwright.changes.shoulder_slope import ShoulderSlope
from clothwright.changes.shoulder_width import ShoulderWidth
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.figures import told_anew
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice

NEAR = 0.01
"""mm from a corner at which the direction of a line is taken."""
LINED = ("coat front", "coat back", "lining front", "lining back")
SIDES_OF = {
    "princess": ("side front.side", "side back.side"),
    "blouse": ("front.side", "back.side"),
}
WRAP = ("bodice front", "bodice back")


def inside_deg(pattern: Pattern, piece: str, one: str, two: str) -> float:
    """The angle between two edges that meet, between chords next to their common corner."""
    paths = [pattern.piece(piece).edge(n).path for n in (one, two)]
    first, second = paths if paths[0].end.is_near(paths[1].start, 1e-6) else paths[::-1]
    corner = first.end
    arms = first.point_at(first.length - NEAR) - corner, second.point_at(NEAR) - corner
    return math.degrees(math.acos(arms[0].dot(arms[1]) / arms[0].norm / arms[1].norm))


def long(pattern: Pattern, piece: str, edge: str) -> float:
    """The length of an edge between points 0.01 mm beside the curve, added up."""
    points = list(pattern.piece(piece).edge(edge).path.flatten(0.0005))
    return sum(p.distance(q) for p, q in pairwise(points))


SHOULDERS = [
    ("wrap dress", shoulder_slope, ShoulderSlope(pieces=WRAP, by=10.0), WRAP),
    ("wrap dress", shoulder_slope, ShoulderSlope(pieces=WRAP, by=-10.0), WRAP),
    ("wrap dress", shoulder_width, ShoulderWidth(pieces=WRAP, by=10.0), WRAP),
    ("lined coat", shoulder_slope, ShoulderSlope(pieces=LINED, by=10.0), LINED[:2]),
    ("lined coat", shoulder_width, ShoulderWidth(pieces=LINED, by=10.0), LINED[2:]),
    ("lined coat", shoulder_width, ShoulderWidth(pieces=LINED, by=-10.0), LINED[:2]),
    ("princess", broad_back, BroadBack(piece="centre back", by=10.0),
     ("centre front", "centre back")),
]  # fmt: skip


@pytest.mark.parametrize(("garment", "change", "params", "pieces"), SHOULDERS)
def test_the_shoulder_ends_fair(
    garment: str, change: Any, params: Any, pieces: tuple[str, ...]
) -> None:
    """Armhole and neck run on over the shoulder seam, and are as long as the change promises."""
    before = GARMENTS[garment]()
    after = change.CHANGE.apply(before, params).pattern
    for line in ("armhole", *(() if pieces == LINED[2:] else ("neck",))):
        assert sum(inside_deg(after, p, "shoulder", line) for p in pieces) == pytest.approx(
            180, abs=5
        )
        for piece in pieces:
            assert long(after, piece, line) == pytest.approx(long(before, piece, line), abs=0.05)


@pytest.mark.parametrize("garment", ["blouse", "shirt", "princess"])
@pytest.mark.parametrize("by", [20.0, -20.0])
def test_the_underarm_of_a_sleeve_ends_fair(garment: str, by: float) -> None:
    """Both ends of the cap run on over the sleeve seam; the cap is as long as it was."""
    before = GARMENTS[garment]()
    after = full_upper_arm.CHANGE.apply(before, FullUpperArm(piece="sleeve", by=by)).pattern
    ends = sum(inside_deg(after, "sleeve", e, "cap") for e in ("front seam", "back seam"))
    assert ends == pytest.approx(180.0, abs=5.0)
    assert long(after, "sleeve", "cap") == pytest.approx(long(before, "sleeve", "cap"), abs=0.05)


@pytest.mark.parametrize(
    ("garment", "change", "params", "pieces"),
    [
        (
            "princess",
            add_flare,
            AddFlare(edges=SIDES_OF["princess"], by=30.0),
            ("side front", "side back"),
        ),
        ("blouse", add_flare, AddFlare(edges=SIDES_OF["blouse"], by=40.0), ("front", "back")),
        (
            "shirt",
            let_out,
            LetOut(edges=SIDES_OF["blouse"], by=40.0, level="bust", full="both"),
            ("front", "back"),
        ),
        (
            "shirt",
            let_out,
            LetOut(edges=SIDES_OF["blouse"], by=-40.0, level="bust", full="both"),
            ("front", "back"),
        ),
    ],
)
def test_the_armhole_ends_fair_where_a_side_was_turned(
    garment: str, change: Any, params: Any, pieces: tuple[str, ...]
) -> None:
    """It runs on over the side seam, and no hem waves."""
    before = GARMENTS[garment]()
    after = change.CHANGE.apply(before, params).pattern
    assert sum(inside_deg(after, p, "side", "armhole") for p in pieces) == pytest.approx(180, abs=5)
    assert [t for t in told_anew(before, after, garment) if "cap is" not in t] == []


def test_only_what_the_change_turned_is_redrawn() -> None:
    """A line that was untrue before, and a piece that was not changed, are left for the walk."""
    before = GARMENTS["wrap dress"]()
    assert trued(before, before) == (before, ())
    only = ("bodice back",)
    done = shoulder_slope.CHANGE.apply(before, ShoulderSlope(pieces=only, by=15.0))
    assert done.pattern.piece("bodice front") == before.piece("bodice front")
    assert say(done.said, Unit.inch).count("its length kept: bodice back (armhole and neck).")


def test_where_no_seam_is_known_nothing_is_redrawn() -> None:
    """A shoulder that is sewn to nothing has no line across it: the armhole keeps its shape."""
    alone = replace(bodice(), seams=())
    params = ShoulderSlope(pieces=("front", "back"), by=15.0)
    done = shoulder_slope.CHANGE.apply(alone, params)
    assert "redrawn" not in say(done.said, Unit.cm)


# --- a bodice whose armhole lies in panels ---

PANELS = ("centre front", "side front", "centre back", "side back")
CENTRES = PANELS[::2]


@pytest.mark.parametrize("by", [10.0, -10.0])
def test_the_slope_of_a_shoulder_above_panels(by: float) -> None:
    """The armhole goes along whole, through every panel: the underarms rise as the tips do.

    Armhole and shoulder keep their lengths, the seams between the panels fit as they did (up to
    1.5 mm agree, as the walk has it), and naming the panels too makes no difference.
    """
    before = GARMENTS["princess"]()
    change = shoulder_slope.CHANGE
    after = change.apply(before, ShoulderSlope(pieces=CENTRES, by=by)).pattern
    assert change.apply(before, ShoulderSlope(pieces=PANELS, by=by)).pattern == after
    for name in PANELS:
        assert long(after, name, "armhole") == pytest.approx(
            long(before, name, "armhole"), abs=0.05
        )
    for name in PANELS[1::2]:
        rise = after.piece(name).point("underarm") - before.piece(name).point("underarm")
        assert rise.y == pytest.approx(by, abs=1e-9)
    for centre, side in (PANELS[:2], PANELS[2:]):
        grown = [
            long(after, p, "panel seam") - long(before, p, "panel seam") for p in (centre, side)
        ]
        assert abs(grown[0]) > 8.0
        assert grown[0] == pytest.approx(grown[1], abs=0.5)


@pytest.mark.parametrize("by", [10.0, -10.0])
def test_the_width_of_a_shoulder_above_panels(by: float) -> None:
    """It swings about the end of the panels' seam, which stays where it was, as do the panels."""
    before = GARMENTS["princess"]()
    after = shoulder_width.CHANGE.apply(before, ShoulderWidth(pieces=CENTRES, by=by)).pattern
    for name in CENTRES:
        assert long(after, name, "shoulder") - long(before, name, "shoulder") == pytest.approx(by)
        old, new = before.piece(name), after.piece(name)
        assert new.edge("panel seam") == old.edge("panel seam")
        assert long(after, name, "armhole") == pytest.approx(
            long(before, name, "armhole"), abs=0.05
        )
    assert after.piece("side front") == before.piece("side front")


def test_a_panel_without_the_shoulder_is_told_which_to_name() -> None:
    """By itself the panel under the arm has no shoulder to turn: the other one takes it along."""
    with pytest.raises(CannotDo, match="takes this one along"):
        shoulder_slope.CHANGE.apply(
            GARMENTS["princess"](), ShoulderSlope(pieces=("side front",), by=10.0)
        )


def test_lines_keep_fair_on_a_knit_that_is_cut_smaller() -> None:
    """Drawn in across alone, a shoulder slopes more: neck and armhole still run on over it."""
    before = GARMENTS["knit top"]()
    params = KnitReduction(pieces=("front", "back", "sleeve"), across=0.08)
    told = told_anew(before, knit_reduction.CHANGE.apply(before, params).pattern, "knit top")
    assert [t for t in told if t.startswith("Where seam")] == []
