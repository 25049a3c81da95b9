"""A wrap dress: fronts that cross, darts at bust and waist, a skirt tucked at the waist, ties."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.body import WEARER
from clothwright.demo.curves import bend, solve, spline, straight
from clothwright.demo.draft import (
    cuts,
    double,
    fold_edge,
    grain,
    hem_edge,
    levels,
    seam,
    seam_edge,
    single,
)
from clothwright.demo.sleeve import Armhole
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_at
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Dart, Edge, Join, Level, Mark, Notch, Piece, Role
from tests.garments.kit import Half, Wedge, arriving, at, block, darted, leaving, net, over
from tests.garments.parts import BOUND, band, bias, folded_seam, goes_with, sleeve

WRAP = 95.0
"""mm: how far the front reaches beyond the centre at the waist."""
LONG, HEM = 640.0, 38.0
TUCKS = 36.0
"""mm of cloth in the two tucks of each skirt front."""
CAP_EASE = (10.0, 13.0)
FRONT_NET, BACK_NET = WEARER.waist / 4 + 12.0, WEARER.waist / 4 + 4.0
"""mm from centre to side at the waist: 32 mm of ease in all (3/4 to 1 in at least; docs)."""
TIE = 22.0


def wrap_dress() -> Pattern:
    """Return the pieces and seams of the dress."""
    front_half, back_half = block(76.0, neck_wider=14.0)
    back = _bodice_back(back_half)
    front = _bodice_front(front_half, back.edge("side").length)
    back = _level_with(back, front)
    f, b = front.edge("armhole"), back.edge("armhole")
    hole = Armhole(front=f.length, back=b.length, front_notch=f.notches[0].at,
                   back_notch=b.notches[0].at)  # fmt: skip
    arm = sleeve("sleeve", hole, biceps=350.0, long=160.0, wrist=330.0, ease=CAP_EASE, hem=25.0)
    skirt_front = _skirt_front(front)
    skirt_back = _skirt_back(skirt_front.edge("side"))
    neck = 2 * (front.edge("neck").length + back.edge("neck").length)
    return Pattern(
        pieces=(front, over(back), skirt_front, over(skirt_back), arm,
                bias("neck binding", neck), _tie()),
        seams=(
            seam("bodice side", "bodice front.side", "bodice back.side reversed"),
            seam("shoulder", "bodice front.shoulder", "bodice back.shoulder reversed", ease=6.0),
            seam("armhole", ("bodice front.armhole", "bodice back.armhole"),
                 "sleeve.cap reversed", kind="cap", ease=sum(CAP_EASE), ease_from="front",
                 ease_to="back"),
            seam("sleeve seam", "sleeve.front seam reversed", "sleeve.back seam"),
            seam("skirt side", "skirt front.side", "skirt back.side reversed"),
            folded_seam("waist", ("bodice front.waist", "bodice back.waist"),
                        ("skirt front.waist reversed", "skirt back.waist reversed"),
                        "tucked", TUCKS, "tucks begin", "tucks end", 2, "end"),
            seam("neck", ("bodice front.neck reversed", "bodice back.neck reversed",
                          "bodice back.neck", "bodice front.neck"), "neck binding.lower",
                 kind="facing"),
            seam("tie", "bodice front.front edge", "tie.end reversed"),
        ),
        companions=(
            goes_with("binding", "neck binding.lower on bodice front.neck",
                      "neck binding.lower on bodice back.neck"),
        ),
    )  # fmt: skip


def _bodice_back(half: Half) -> Piece:
    """Return the back to the waist, on the fold, with a waist dart; yet to be turned over."""
    wedge = Wedge(name="back waist dart", at=88.0, intake=26.0, deep=150.0)

    def made(x: float) -> tuple[Path, Path, tuple[Dart, ...]]:
        side = bend(Vec(x, 0.0), 80.0, half.under, 86.0)
        ground = bend(Vec(0.0, 0.0), 0.0, side.start, arriving(side))
        return side, *darted("waist", ground, (wedge,), pressed="start")

    side, waist, darts = made(solve(lambda x: net(*made(x)[1:]) - BACK_NET, 150.0, 260.0))
    hole, neck = half.armhole(leaving(side)), half.neckline(0.75)
    return Piece(
        name="bodice back",
        edges=(
            seam_edge("waist", waist, "centre waist"),
            seam_edge("side", side, "side waist"),
            seam_edge("armhole", hole, "underarm", double(94.0, "back")),
            seam_edge("shoulder", half.shoulder, "shoulder tip"),
            bound_edge(neck),
            fold_edge("centre", straight(neck.end, waist.start), "centre neck"),
        ),
        darts=darts,
        grain=grain(45.0, 40.0, 330.0),
        levels=levels(bust=(80.0, 183.0), waist=(80.0, 4.0)),
        cuts=cuts("fold", "shell"),
    )


def _level_with(back: Piece, front: Piece) -> Piece:
    """Return the back with its bust line where the front's is, once the dart is sewn."""
    path = front.edge("side").path
    crossing = line_crossings(path, front.level("bust").at, Vec(1.0, 0.0))[-1]
    there = back.edge("side").path.point_at(net_at(front, "side", crossing.at_a))
    return replace(back, levels=(Level(name="bust", at=there), back.level("waist")))


def bound_edge(path: Path) -> Edge:
    """Return a neck that is bound."""
    return seam_edge("neck", path, "neck point", allowance=BOUND)


def _bodice_front(half: Half, side_length: float) -> Piece:
    """Return the front, crossing over to the other side, with darts from waist and side."""
    bust = Wedge(name="bust dart", at=160.0, intake=32.0, deep=112.0)
    wedge = Wedge(name="waist dart", at=WRAP + 92.0, intake=24.0, deep=148.0)

    def sides(x: float) -> tuple[Path, tuple[Dart, ...]]:
        def risen(y: float) -> tuple[Path, tuple[Dart, ...]]:
            ground = bend(Vec(x, 0.0), 80.0, Vec(half.under.x, y), 84.0)
            return darted("side", ground, (bust,), pressed="start")

        return risen(solve(lambda y: net(*risen(y)) - side_length, 180.0, 320.0))

    def made(x: float) -> tuple[Path, tuple[Dart, ...], Path, tuple[Dart, ...]]:
        side, side_darts = sides(x)
        ground = bend(Vec(-WRAP, 0.0), 0.0, side.start, arriving(side))
        return side, side_darts, *darted("waist", ground, (wedge,), pressed="start")

    wanted = FRONT_NET + WRAP
    side, side_darts, waist, darts = made(solve(lambda x: net(*made(x)[2:]) - wanted, 160.0, 260.0))
    hole = replace(half, under=side.end).armhole(leaving(side))
    top = Vec(-WRAP, TIE)
    neck = spline((half.neck, (52.0, 300.0), top), half.slope_deg + 90, 242.0)
    return Piece(
        name="bodice front",
        edges=(
            seam_edge("waist", waist, "wrap point", *_tuck_notches(0.0)),
            seam_edge("side", side, "side waist"),
            seam_edge("armhole", hole, "underarm", single(hole.length * 0.4, "front")),
            seam_edge("shoulder", half.shoulder, "shoulder tip"),
            bound_edge(neck),
            seam_edge("front edge", straight(top, waist.start), "wrap top"),
        ),
        darts=(*side_darts, *darts),
        grain=grain(30.0, 40.0, 250.0),
        levels=levels(bust=(92.0, 183.0), waist=(60.0, 4.0)),
        marks=(
            Mark(name="centre front", path=straight((0.0, 180.0), (0.0, 0.0)),
                 note="centre front"),
            Mark(name="bust point", at=Vec(92.0, 183.0)),
        ),
        cuts=cuts("pair", "shell"),
    )  # fmt: skip


def _tuck_notches(more: float) -> tuple[Notch, Notch]:
    """Return where the tucks of the skirt lie, mm from the wrap's edge; `more` in the skirt."""
    return single(WRAP + 20.0, "tucks begin"), single(WRAP + 60.0 + more, "tucks end")


def _skirt_front(front: Piece) -> Piece:
    """Return the skirt's front, crossing over like the bodice; tucked at the waist."""
    low, top = Vec(-WRAP, -LONG), Vec(-WRAP, 0.0)
    wanted = net(front.edge("waist").path, [d for d in front.darts if d.edge == "waist"]) + TUCKS

    def made(x: float) -> tuple[Path, Path]:
        side = spline(((320.0, 24.0 - LONG), (278.0, -200.0), (x, 12.0)), 96.0, 102.0)
        return side, bend(side.end, leaving(side), top, 180.0)

    side, waist = made(solve(lambda x: made(x)[1].length - wanted, 150.0, 320.0))
    notches = tuple(replace(n, at=waist.length - n.at) for n in reversed(_tuck_notches(TUCKS)))
    return Piece(
        name="skirt front",
        edges=(
            hem_edge(bend(low, 0.0, side.start, arriving(side)), "wrap hem", HEM,
                     join=Join.EXTENDED),
            seam_edge("side", side, "side hem", single(at(side, (278.0, -200.0)), "hip"),
                      join=Join.FOLDED),
            seam_edge("waist", waist, "side waist", *notches),
            Edge(name="front edge", path=straight(top, low), role=Role.HEM, allowance=30.0,
                 corner="wrap point"),
        ),
        grain=grain(60.0, 90.0 - LONG, -80.0),
        levels=levels(hip=(90.0, -200.0)),
        marks=(Mark(name="centre front", path=straight((0.0, 0.0), (0.0, -LONG)),
                    note="centre front"),),
        cuts=cuts("pair", "shell"),
    )  # fmt: skip


def _skirt_back(front_side: Edge) -> Piece:
    """Return the skirt's back, on the fold, its dart below the bodice's; yet to be turned over."""
    low, top = Vec(0.0, -LONG), Vec(0.0, 0.0)
    wedge_at = 88.0

    def sides(x: float) -> Path:
        def risen(y: float) -> Path:
            return spline(((312.0, 24.0 - LONG), (262.0, -200.0), (x, y)), 96.0, 100.0)

        return risen(solve(lambda y: risen(y).length - front_side.length, -40.0, 60.0))

    def made(x: float) -> tuple[Path, Path, tuple[Dart, ...]]:
        side = sides(x)
        ground = bend(side.end, leaving(side), top, 180.0)
        wedge = Wedge(name="back skirt dart", at=ground.length - wedge_at - 12.0, intake=24.0,
                      deep=120.0)  # fmt: skip
        return side, *darted("waist", ground, (wedge,))

    side, waist, darts = made(solve(lambda x: net(*made(x)[1:]) - BACK_NET, 150.0, 280.0))
    return Piece(
        name="skirt back",
        edges=(
            hem_edge(bend(low, 0.0, side.start, arriving(side)), "centre hem", HEM),
            seam_edge("side", side, "side hem", single(front_side.notches[0].at, "hip"),
                      join=Join.FOLDED),
            seam_edge("waist", waist, "side waist"),
            fold_edge("centre", straight(top, low), "centre waist"),
        ),
        darts=darts,
        grain=grain(60.0, 90.0 - LONG, -150.0),
        levels=levels(hip=(90.0, -200.0)),
        cuts=cuts("fold", "shell"),
    )  # fmt: skip


def _tie() -> Piece:
    """Return a tie, two layers, as wide as the front's edge at the waist."""
    tie = band("tie", 900.0, TIE, how="pair", materials=("shell",))
    return replace(tie, marks=(), cuts=(Cut(how="pair", count=2),))
