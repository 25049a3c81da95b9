"""A shirt: yoke, collar on a stand, a pleat at the back, long sleeves pleated into cuffs."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.curves import scoop, solve, spline, straight
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
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Join, Mark, Notch, Piece, Role
from tests.garments.kit import Half, arriving, at, block, over
from tests.garments.parts import (
    band,
    collar,
    collar_piece,
    folded_seam,
    goes_with,
    lapped,
    noted,
    sleeve,
    yoked,
)

HEM_Y, HEM = -250.0, 12.0
STAND, STAND_HIGH, FACING = 15.0, 30.0, 45.0
"""mm: from centre front to the front edge; height of the stand; the facing turned in."""
PLEAT = 30.0
COLLAR = (Cut(how="fold", count=2), Cut(material="interfacing", how="fold"))
CUFF, WRIST_FULL, LAP = 220.0, 40.0, 25.0
CAP_EASE = (2.0, 4.0)
"""mm: a shirt's low cap is sewn in flat, with next to no ease (common practice)."""


def shirt() -> Pattern:
    """Return the pieces and seams of the shirt."""
    front_half, back_half = block(130.0, drop=35.0, back_ease=0.0, neck_depth=90.0)
    y = yoked(front_half, back_half)
    yoke = noted(y.yoke, "back seam", (y.back_line.length - PLEAT, "pleat"))
    front = _front(front_half, y.front_hole, y.front_line, y.front_neck)
    back = over(_back(back_half, y.back_hole, y.back_line))
    arm = yoke.edge("armhole")
    hole = Armhole(
        front=y.front_hole.length + arm.notches[0].at,
        back=y.back_hole.length + arm.length - arm.notches[0].at,
        front_notch=front.edge("armhole").notches[0].at,
        back_notch=y.back_hole.length - back.edge("armhole").notches[0].at,
    )
    arm_piece = _slit(sleeve("sleeve", hole, biceps=390.0, long=400.0, wrist=CUFF + WRIST_FULL,
                             ease=CAP_EASE, bottom="wrist"))  # fmt: skip
    opening = sum(arm_piece.edge(e).length for e in ("wrist", "wrist back"))
    cuff = lapped(band("cuff", opening - WRIST_FULL, 120.0, how="pair"), LAP)
    neck = front.edge("neck").length + yoke.edge("neck").length
    stand = _stand(neck)
    leaf = collar("collar", stand.edge("upper").length, Vec(14.0, 68.0), 45.0, COLLAR)
    half_neck = ("front.neck reversed", "yoke.neck reversed")
    return Pattern(
        pieces=(front, back, yoke, arm_piece, cuff, over(stand), over(leaf)),
        seams=(
            seam("side", "front.side", "back.side reversed"),
            seam("front yoke", "yoke.front seam reversed", "front.yoke seam"),
            folded_seam("back yoke", "yoke.back seam", "back.yoke seam reversed", "pleated", PLEAT,
                        "pleat", folds=1, fold_to="box"),
            seam("armhole", ("front.armhole", "yoke.armhole", "back.armhole"),
                 "sleeve.cap reversed", kind="cap", ease=sum(CAP_EASE), ease_from="front",
                 ease_to="back"),
            seam("sleeve seam", "sleeve.front seam reversed", "sleeve.back seam"),
            folded_seam("cuff", "cuff.lower", ("sleeve.wrist back", "sleeve.wrist"), "pleated",
                        WRIST_FULL, folds=2, fold_to="start"),
            seam("neck", half_neck, "collar stand.lower"),
            seam("collar", "collar stand.upper", "collar.lower reversed"),
        ),
        companions=(
            goes_with("stand", "collar stand.lower on front.neck",
                      "collar stand.lower on yoke.neck"),
            goes_with("collar", "collar.lower on collar stand.upper"),
        ),
    )  # fmt: skip


def _front(half: Half, hole: Path, line: Path, neck: Path) -> Piece:
    """Return the front: its edge STAND beyond the centre, turned in as its own facing."""
    top = Vec(-STAND, half.centre.y)
    neck = neck.joined(straight(neck.end, top))
    edges = _edges(half, hole, line, Vec(-STAND, HEM_Y), single(90.0, "front"))
    edge = Edge(name="front edge", path=straight(top, (-STAND, HEM_Y)), role=Role.HEM,
                allowance=FACING, corner="front neck")  # fmt: skip
    step = (half.centre.y - 60.0 - (HEM_Y + 150.0)) / 5
    buttons = tuple(
        Mark(name=f"button {n + 1}", at=Vec(0.0, half.centre.y - 60.0 - n * step), note="button")
        for n in range(6)
    )
    return Piece(
        name="front",
        edges=(*edges, seam_edge("neck", neck, "neck yoke"), edge),
        grain=grain(50.0, HEM_Y + 70, 250.0),
        levels=levels(bust=(80.0, 175.0), waist=(80.0, 0.0)),
        marks=(
            Mark(name="centre front", path=straight(half.centre, (0.0, HEM_Y)),
                 note="centre front"),
            *buttons,
        ),
        cuts=cuts("pair", "shell"),
    )  # fmt: skip


def _back(half: Half, hole: Path, line: Path) -> Piece:
    """Return the back, on the fold, wider by a pleat; yet to be turned over."""
    end = line.end - Vec(PLEAT, 0.0)
    edges = _edges(half, hole, straight(line.start, end), Vec(end.x, HEM_Y), double(96.0, "back"))
    piece = Piece(
        name="back",
        edges=(*edges, fold_edge("centre", straight(end, (end.x, HEM_Y)), "centre yoke")),
        grain=grain(50.0, HEM_Y + 70, 250.0),
        levels=levels(bust=(80.0, 175.0), waist=(80.0, 0.0)),
        cuts=cuts("fold", "shell"),
    )
    return noted(piece, "yoke seam", (line.length - PLEAT, "pleat"))


def _edges(half: Half, hole: Path, top: Path, low: Vec, pitch: Notch) -> tuple[Edge, ...]:
    """Return hem, side, armhole and yoke seam; the hem curves up to the side like a shirt's."""
    side = spline(
        ((half.under.x + 4, HEM_Y + 62), (half.under.x - 14, 0.0), half.under), 90.0, 90.0
    )
    x = side.start.x
    hem = spline((low, (x * 0.45, HEM_Y), (x * 0.82, HEM_Y + 48), side.start), 0.0, arriving(side))
    return (
        hem_edge(hem, "centre hem", HEM, join=Join.EXTENDED),
        seam_edge("side", side, "side hem", single(at(side, (x, 0.0)), "waist"), join=Join.FOLDED),
        seam_edge("armhole", hole, "underarm", pitch),
        seam_edge("yoke seam", top, "yoke armhole"),
    )


def _slit(piece: Piece) -> Piece:
    """Return the sleeve with its wrist cut in two where the slit runs up, three quarters back."""
    line = piece.edge("wrist").path
    first, second = line.split_at(line.length * 0.75)
    foot = first.end
    edges = (
        seam_edge("wrist", first, "front wrist"),
        seam_edge("wrist back", second, "slit"),
        *piece.edges[1:],
    )
    slit = Mark(name="slit", path=straight(foot, foot + Vec(0.0, 110.0)), note="slit")
    return replace(piece, edges=edges, marks=(slit,))


def _stand(neck: float) -> Piece:
    """Return half a collar stand, as long as the neck with its extension, the front rounded."""

    def made(x: float) -> Path:
        return spline(((0.0, 0.0), (x * 0.6, 2.0), (x, 19.0)), 0.0, 13.0)

    lower = made(solve(lambda x: made(x).length - neck, neck * 0.8, neck))
    out = unit_at(13.0)
    point = lower.end - out * STAND + out.perp * STAND_HIGH
    upper = spline((point, (point.x * 0.58, STAND_HIGH + 2.5), (0.0, STAND_HIGH)), 193.0, 180.0)
    end = scoop(lower.end, 13.0 + 90.0, point, 193.0, full=0.6)
    return collar_piece(
        "collar stand", lower, seam_edge("round end", end, "front low"), upper, COLLAR
    )
