"""A knit top: no darts, sleeves sewn in flat, a neck band that is stretched on."""

from __future__ import annotations

from clothwright.demo.curves import bend, spline, straight
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
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Join, Piece
from tests.garments.kit import Half, arriving, at, block, over
from tests.garments.parts import allowed, band, folded_seam, goes_with, sleeve

HEM_Y, HEM = -190.0, 25.0
ALLOWANCE = 9.525
"""3/8 in: overlocked with three or four threads (factory table; docs/sources.md, allowances)."""
BAND_SHARE = 0.87
"""The neck band's length as a share of the neck's (common practice for a rib)."""
CAP_EASE = (3.0, 5.0)
"""mm in all 8: knits take 0 to 3/4 in (reported by fitting handbooks; docs/sources.md)."""


def knit_top() -> Pattern:
    """Return the pieces and seams of the top."""
    front_half, back_half = block(40.0, drop=-8.0, neck_wider=20.0, neck_depth=115.0, back_ease=0.0)
    front = _body("front", front_half)
    back = _body("back", back_half)
    f, b = front.edge("armhole"), back.edge("armhole")
    hole = Armhole(
        front=f.length,
        back=b.length,
        front_notch=f.notches[0].at,
        back_notch=b.notches[0].at,
    )
    arm = sleeve("sleeve", hole, biceps=300.0, long=420.0, wrist=190.0, ease=CAP_EASE, hem=HEM)
    half = front.edge("neck").length + back.edge("neck").length
    less = half * (1 - BAND_SHARE)
    shoulder = back.edge("neck").length * BAND_SHARE
    rib = band("neck band", half - less, 50.0, single(shoulder, "neck point"), folded=True,
               materials=("shell",))  # fmt: skip
    return Pattern(
        pieces=tuple(allowed(p, ALLOWANCE) for p in (front, over(back), arm, rib)),
        seams=(
            seam("side", "front.side", "back.side reversed"),
            seam("shoulder", "front.shoulder", "back.shoulder reversed"),
            seam("armhole", ("front.armhole", "back.armhole"), "sleeve.cap reversed", kind="cap",
                 ease=sum(CAP_EASE), ease_from="front", ease_to="back"),
            seam("sleeve seam", "sleeve.front seam reversed", "sleeve.back seam"),
            folded_seam("neck band", ("back.neck", "front.neck"), "neck band.lower", "stretched",
                        -less),
        ),
        companions=(
            goes_with("binding", "neck band.lower on front.neck", "neck band.lower on back.neck"),
        ),
    )  # fmt: skip


def _body(name: str, half: Half) -> Piece:
    """Return front or back, on the fold; both sides are the same curve."""
    low = Vec(0.0, HEM_Y)
    side = spline(((half.under.x + 8, HEM_Y + 3), (half.under.x - 32, 0.0), half.under), 97.0, 83.0)
    hole, neck = half.armhole(side.end_tangent.angle_deg + 90), half.neckline()
    pitch = single(hole.length * 0.4, "front") if name == "front" else double(92.0, "back")
    return Piece(
        name=name,
        edges=(
            hem_edge(bend(low, 0.0, side.start, arriving(side)), "centre hem", HEM),
            seam_edge("side", side, "side hem", single(at(side, (half.under.x - 32, 0.0)), "waist"),
                      join=Join.FOLDED),
            seam_edge("armhole", hole, "underarm", pitch),
            seam_edge("shoulder", half.shoulder, "shoulder tip"),
            seam_edge("neck", neck, "neck point"),
            fold_edge("centre", straight(neck.end, low), "centre neck"),
        ),
        grain=grain(50.0, HEM_Y + 60, 200.0),
        levels=levels(bust=(80.0, 185.0), waist=(80.0, 0.0)),
        cuts=cuts("fold", "shell"),
    )  # fmt: skip
