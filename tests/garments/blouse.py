"""A blouse pulled over the head: gathered to a yoke, puffed sleeves in cuffs, its neck bound."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo.curves import bend, straight
from clothwright.demo.draft import cuts, fold_edge, grain, hem_edge, levels, seam, seam_edge, single
from clothwright.demo.draft import double as double_notch
from clothwright.demo.sleeve import Armhole
from clothwright.geometry.path import Path
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Join, Piece
from tests.garments.kit import Half, arriving, at, block, over
from tests.garments.parts import band, bias, bound, folded_seam, goes_with, noted, sleeve, yoked

HEM_Y, HEM = -190.0, 15.0
FULL_FRONT, FULL_BACK = 55.0, 40.0
"""mm: what each half is wider for its gathers."""
CAP_FULL = (40.0, 50.0)
CUFF, WRIST_FULL = 300.0, 110.0
START, END = "gathers begin", "gathers end"
PLAIN = 25.0
"""mm next to the armhole, and to the fold, that are sewn plain."""


def blouse() -> Pattern:
    """Return the pieces and seams of the blouse."""
    front_half, back_half = block(70.0, drop=15.0, neck_wider=36.0, neck_depth=120.0, back_ease=0.0)
    y = yoked(front_half, back_half)
    line = y.front_line.length
    yoke = noted(bound(y.yoke), "front seam", (PLAIN, END), (line - PLAIN, START))
    yoke = noted(yoke, "back seam", (PLAIN, START))
    front = _front(front_half, y.front_hole, y.front_line, y.front_neck)
    back = over(_back(back_half, y.back_hole, y.back_line))
    arm = yoke.edge("armhole")
    tip = next(n.at for n in arm.notches)
    hole = Armhole(
        front=y.front_hole.length + tip,
        back=y.back_hole.length + arm.length - tip,
        front_notch=front.edge("armhole").notches[0].at,
        back_notch=y.back_hole.length - back.edge("armhole").notches[0].at,
    )
    arm_piece = sleeve("sleeve", hole, biceps=400.0, long=190.0, wrist=CUFF + WRIST_FULL,
                       ease=CAP_FULL, bottom="wrist")  # fmt: skip
    wrist = arm_piece.edge("wrist")
    full = wrist.length - CUFF
    arm_piece = noted(arm_piece, "wrist", (PLAIN, START), (wrist.length - PLAIN, END))
    cuff = band("cuff", CUFF, 80.0, single(PLAIN, START), single(CUFF - PLAIN, END), how="pair")
    neck = 2 * (front.edge("neck").length + yoke.edge("neck").length)
    binding = bias("neck binding", neck)
    return Pattern(
        pieces=(front, back, yoke, arm_piece, cuff, binding),
        seams=(
            seam("side", "front.side", "back.side reversed"),
            folded_seam("front yoke", "yoke.front seam reversed", "front.yoke seam",
                     "gathered", front.edge("yoke seam").length - line, START, END),
            folded_seam("back yoke", "yoke.back seam", "back.yoke seam reversed",
                        "gathered", FULL_BACK, START),
            replace(
                folded_seam("armhole", ("front.armhole", "yoke.armhole", "back.armhole"),
                            "sleeve.cap reversed", "gathered", sum(CAP_FULL), "front", "back"),
                kind="cap",
            ),
            seam("sleeve seam", "sleeve.front seam reversed", "sleeve.back seam"),
            folded_seam("cuff", "cuff.lower", "sleeve.wrist", "gathered", full, START, END),
            seam("cuff end", "cuff.end", "cuff.start reversed"),
            seam("neck", ("front.neck reversed", "yoke.neck reversed", "yoke.neck", "front.neck"),
                 "neck binding.lower", kind="facing"),
        ),
        companions=(
            goes_with("binding", "neck binding.lower on front.neck",
                      "neck binding.lower on yoke.neck"),
        ),
    )  # fmt: skip


def _front(half: Half, hole: Path, line: Path, neck: Path) -> Piece:
    """Return the front, on the fold: widened for its gathers, the yoke seam's ends as they were."""
    neck = neck.transformed(translation((-FULL_FRONT, 0.0)))
    along = line.start_tangent.angle_deg
    top = bend(hole.end, along, neck.start, along)
    piece = _body("front", half, hole, top, seam_edge("neck", neck, "neck yoke"))
    return noted(bound(piece), "yoke seam", (PLAIN, START), (top.length - PLAIN, END))


def _back(half: Half, hole: Path, line: Path) -> Piece:
    """Return the back, on the fold, its fold moved out for the gathers; yet to be turned over."""
    top = straight(line.start, line.end - Vec(FULL_BACK, 0.0))
    return noted(_body("back", half, hole, top), "yoke seam", (PLAIN, START))


def _body(name: str, half: Half, hole: Path, top: Path, *neck: Edge) -> Piece:
    end = neck[-1].path.end if neck else top.end
    low, side_low = Vec(end.x, HEM_Y), Vec(half.under.x + 10.0, HEM_Y + 4.0)
    side = straight(side_low, half.under)
    pitch = single(92.0, "front") if name == "front" else double_notch(98.0, "back")
    return Piece(
        name=name,
        edges=(
            hem_edge(bend(low, 0.0, side_low, arriving(side)), "centre hem", HEM),
            seam_edge("side", side, "side hem", single(at(side, (half.under.x, 0.0)), "waist"),
                      join=Join.FOLDED),
            seam_edge("armhole", hole, "underarm", pitch),
            seam_edge("yoke seam", top, "yoke armhole"),
            *neck,
            fold_edge("centre", straight(end, low), "centre top"),
        ),
        grain=grain(50.0, HEM_Y + 60, 200.0),
        levels=levels(bust=(0.0, 183.0), waist=(0.0, 0.0)),
        cuts=cuts("fold", "shell"),
    )  # fmt: skip
