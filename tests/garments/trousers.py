"""Straight trousers: a fly in front, a dart in each piece, one waistband all round."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.body import WEARER
from clothwright.demo.curves import bend, scoop, solve, spline, straight
from clothwright.demo.draft import cuts, double, grain, hem_edge, levels, seam, seam_edge, single
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Join, Piece, Role
from tests.garments.kit import Wedge, arriving, at, darted, inside_deg, leaving, net, over
from tests.garments.parts import band, goes_with, lapped

HEM_Y, KNEE_Y, HIP_Y, HEM = -1010.0, -590.0, -200.0, 38.0
FLY = 165.0
STRETCH = 6.0
"""mm: by which the back's inseam is shorter, to be stretched from knee to crotch (common
practice)."""
WAIST_EASE = 20.0
LAP = 35.0


def trousers() -> Pattern:
    """Return the pieces and seams of the trousers."""
    front = _front()
    back = _back(front)
    f, b = (net(p.edge("waist").path, p.darts) for p in (front, back))
    waistband = _waistband(f, b)
    fly = _fly(front)
    return Pattern(
        pieces=(front, over(back), waistband, fly),
        seams=(
            seam("side", "front.side", "back.side reversed"),
            replace(
                seam("inseam", "front.inseam", "back.inseam reversed", ease=-STRETCH),
                join="stretched",
                ease_to="knee",
            ),
            seam("crotch", ("front.crotch", "back.crotch"), ("front.crotch", "back.crotch")),
            seam("fly", "front.fly", "fly facing.fly", kind="facing"),
            seam("waist", ("front.waist reversed", "back.waist reversed",
                           "back.waist", "front.waist"), "waistband.lower"),
        ),
        companions=(
            goes_with("facing", "fly facing.fly on front.fly"),
            goes_with(
                "waistband", "waistband.lower on front.waist", "waistband.lower on back.waist"
            ),
        ),
    )  # fmt: skip


def _front() -> Piece:
    hem_r, crotch_point = Vec(100.0, HEM_Y), Vec(-141.0, -262.0)
    centre = Vec(-88.0, 0.0)
    seat = scoop(Vec(-96.0, -185.0), -93.0, crotch_point, 184.0, full=0.62)
    down = straight(centre, (-96.0, -185.0)).joined(seat)

    def made(x: float) -> tuple[Path, Path, tuple[Dart, ...]]:
        side = spline((hem_r, (114.0, KNEE_Y), (141.0, HIP_Y), (x, 9.0)), 90.0, 101.0)
        return side, *_waist(side, centre, down, Wedge(name="front dart", at=108.0, intake=20.0,
                                                       deep=85.0))  # fmt: skip

    wanted = (WEARER.waist + WAIST_EASE) / 4 - 5
    side, waist, darts = made(solve(lambda x: net(*made(x)[1:]) - wanted, 60.0, 160.0))
    inseam = spline((crotch_point, (-114.0, KNEE_Y), (-100.0, HEM_Y)), -80.0, -90.0)
    fly, crotch = down.split_at(FLY)
    return _leg("front", side, waist, darts, inseam,
                (seam_edge("fly", fly, "front waist"),
                 seam_edge("crotch", crotch, "fly end")),
                (at(side, (114.0, KNEE_Y)), at(side, (141.0, HIP_Y)),
                 inseam.length - at(inseam, (-114.0, KNEE_Y))))  # fmt: skip


def _back(front: Piece) -> Piece:
    """Return the back: its side as long as the front's, its inseam a little shorter."""
    hem_r, centre = Vec(110.0, HEM_Y), Vec(-62.0, 26.0)
    fork = 180.0 - inside_deg(front.edge("crotch").path, front.edge("inseam").path)
    side_length, inseam_length = front.edge("side").length, front.edge("inseam").length

    def leg(y: float) -> Path:
        return spline(((-186.0, y), (-127.0, KNEE_Y), (-110.0, HEM_Y)), -66.0, -90.0)

    inseam = leg(solve(lambda y: leg(y).length - inseam_length + STRETCH, -300.0, -220.0))
    low = Vec(-104.0, -190.0)
    lean = (low - centre).angle_deg
    seat = scoop(low, lean, inseam.start, arriving(inseam, fork), full=0.66)
    down = straight(centre, low).joined(seat)

    def outer(x: float) -> Path:
        def risen(y: float) -> Path:
            return spline((hem_r, (127.0, KNEE_Y), (150.0, HIP_Y), (x, y)), 90.0, 97.0)

        return risen(solve(lambda y: risen(y).length - side_length, -60.0, 60.0))

    def made(x: float) -> tuple[Path, Path, tuple[Dart, ...]]:
        side = outer(x)
        return side, *_waist(side, centre, down, Wedge(name="back dart", at=104.0, intake=22.0,
                                                       deep=115.0))  # fmt: skip

    wanted = (WEARER.waist + WAIST_EASE) / 4 + 5
    side, waist, darts = made(solve(lambda x: net(*made(x)[1:]) - wanted, 100.0, 180.0))
    return _leg("back", side, waist, darts, inseam, (seam_edge("crotch", down, "back waist"),),
                (*(n.at for n in front.edge("side").notches),
                 inseam_length - front.edge("inseam").notches[0].at))  # fmt: skip


def _waist(side: Path, centre: Vec, down: Path, wedge: Wedge) -> tuple[Path, tuple[Dart, ...]]:
    """Return the waist from the side to the centre, square to both, with a dart."""
    ground = bend(side.end, leaving(side), centre, arriving(down))
    return darted("waist", ground, (wedge,))


def _leg(
    name: str, side: Path, waist: Path, darts: tuple[Dart, ...], inseam: Path,
    middle: tuple[Edge, ...], marks: tuple[float, ...],
) -> Piece:  # fmt: skip
    """Return a leg; marks: mm from the hem to knee and hip at the side, to the knee inside."""
    knee, hip, inner = marks
    return Piece(
        name=name,
        edges=(
            hem_edge(straight(inseam.end, side.start), "inner hem", HEM, join=Join.FOLDED),
            seam_edge("side", side, "side hem", single(knee, "knee"), single(hip, "hip"),
                      join=Join.FOLDED),
            seam_edge("waist", waist, "side waist"),
            *middle,
            seam_edge("inseam", inseam, "fork", single(inseam.length - inner, "knee")),
        ),
        darts=darts,
        grain=grain(0.0, HEM_Y + 120, -60.0),
        levels=levels(hip=(0.0, HIP_Y), knee=(0.0, KNEE_Y)),
        cuts=cuts("pair", "shell"),
    )  # fmt: skip


def _waistband(front: float, back: float) -> Piece:
    """Return the band, from the right front round to the left front and its underlap."""
    half, high = front + back, 70.0
    whole = band("waistband", 2 * half, high,
                 single(front, "side waist"), double(half, "back waist"),
                 single(2 * half - front, "side waist"))  # fmt: skip
    return lapped(whole, LAP)


def _fly(front: Piece) -> Piece:
    """Return the facing of the fly: the front's own line, 40 mm wide, rounded below."""
    line = front.edge("fly").path
    wide = Vec(40.0, 0.0)
    outer = scoop(line.end, line.end_tangent.angle_deg + 80.0, line.point_at(110.0) + wide, 90.0)
    up = straight(outer.end, line.start + wide)
    return Piece(
        name="fly facing",
        edges=(
            Edge(name="outer", path=outer.joined(up), role=Role.RAW, corner="fly end"),
            seam_edge("waist", straight(up.end, line.start), "outer waist"),
            front.edge("fly"),
        ),
        grain=grain(line.start.x + 20.0, -FLY + 50.0, -20.0),
        cuts=cuts("pair", "shell"),
    )
