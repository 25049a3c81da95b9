"""A raglan top: sleeves that reach the neck, a dart over the shoulder, elastic at the wrists."""

from __future__ import annotations

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
from clothwright.geometry.path import Path
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Join, Notch, Piece
from tests.garments.kit import Half, Wedge, arriving, at, block, darted, inside_deg, leaving, over
from tests.garments.parts import BOUND, band, bias, folded_seam, goes_with

HEM_Y, HEM = -200.0, 30.0
AT_NECK = 42.0
"""mm of front's and of back's neck that the sleeve takes over."""
HALF, LONG, WRIST, CUFF = 195.0, 410.0, 280.0, 200.0
PITCH = {"front": 100.0, "back": 108.0}
"""mm from the underarm to the notches of the raglan seams."""


def raglan() -> Pattern:
    """Return the pieces and seams of the top."""
    front_half, back_half = block(120.0, drop=25.0, neck_wider=26.0, neck_depth=105.0)
    front, back = _body("front", front_half), _body("back", back_half)
    arm = _sleeve(front, back)
    neck = 2 * (front.edge("neck").length + back.edge("neck").length + net_length(arm, "neck"))
    cuff = band("cuff", CUFF, 60.0, how="pair", materials=("shell",))
    half_neck = ("front.neck reversed", "sleeve.neck reversed", "back.neck reversed")
    return Pattern(
        pieces=(front, over(back), arm, cuff, bias("neck binding", neck)),
        seams=(
            seam("front raglan", "front.raglan", "sleeve.front raglan reversed"),
            seam("back raglan", "back.raglan", "sleeve.back raglan reversed"),
            seam("side and sleeve", ("front.side", "sleeve.front seam"),
                 ("back.side reversed", "sleeve.back seam reversed")),
            folded_seam("cuff", "cuff.lower", "sleeve.wrist", "elasticated",
                        arm.edge("wrist").length - CUFF),
            seam("cuff end", "cuff.end", "cuff.start reversed"),
            seam("neck", (*half_neck, "back.neck", "sleeve.neck", "front.neck"),
                 "neck binding.lower", kind="facing"),
        ),
        companions=(
            goes_with("binding", *(f"neck binding.lower on {p}.neck"
                                   for p in ("front", "sleeve", "back"))),
        ),
    )  # fmt: skip


def _body(name: str, half: Half) -> Piece:
    """Return front or back, on the fold, its raglan seam from the underarm to the neck."""
    low, side_low = Vec(0.0, HEM_Y), Vec(half.under.x + 6, HEM_Y + 2)
    side = straight(side_low, half.under)
    neck = half.neckline(0.6 if name == "front" else 0.75)
    strip, rest = neck.split_at(AT_NECK)
    point = half.chest + Vec(-8.0, -14.0)
    way = (strip.end - point).angle_deg
    line = spline((half.under, half.under.lerp(point, 0.45) + Vec(-14.0, -6.0), point, strip.end),
                  leaving(side), way + 4)  # fmt: skip
    return Piece(
        name=name,
        edges=(
            hem_edge(bend(low, 0.0, side_low, arriving(side)), "centre hem", HEM),
            seam_edge("side", side, "side hem", single(at(side, (half.under.x, 0.0)), "waist"),
                      join=Join.FOLDED),
            seam_edge("raglan", line, "underarm", _pitch(name, PITCH[name])),
            seam_edge("neck", rest, "neck raglan", allowance=BOUND),
            fold_edge("centre", straight(rest.end, low), "centre neck"),
        ),
        grain=grain(45.0, HEM_Y + 60, 200.0),
        levels=levels(bust=(80.0, 168.0), waist=(80.0, 0.0)),
        cuts=cuts("fold", "shell"),
    )  # fmt: skip


def _pitch(name: str, where: float) -> Notch:
    return single(where, name) if name == "front" else double(where, name)


def _sleeve(front: Piece, back: Piece) -> Piece:
    """Return the sleeve: its seams as long as those of front and back, a dart from the neck."""
    low = Vec(WRIST / 2, -LONG)
    inner, outer = straight((-HALF, 0.0), (-low.x, -LONG)), straight(low, (HALF, 0.0))
    wrist = bend(inner.end, leaving(inner), low, arriving(outer))

    def line(h: float) -> Path:
        points = ((HALF, 0.0), (HALF * 0.72, h * 0.17), (HALF * 0.44, h * 0.6), (56.0, h))
        return spline(points, leaving(outer), 108.0)

    def fitted(length: float) -> Path:
        return line(solve(lambda h: line(h).length - length, 120.0, 420.0))

    up = fitted(back.edge("raglan").length)
    mirror = reflection((0.0, 0.0), (0.0, 1.0))
    down = fitted(front.edge("raglan").length).transformed(mirror).reversed()
    there = [180.0 - inside_deg(p.edge("raglan").path, p.edge("neck").path) for p in (back, front)]
    ground = bend(up.end, leaving(up, there[0]), down.start, arriving(down, there[1]))
    neck, darts = darted(
        "neck",
        ground,
        (Wedge(name="shoulder dart", at=ground.length / 2, intake=26.0, deep=105.0),),
    )
    return Piece(
        name="sleeve",
        edges=(
            seam_edge("wrist", wrist, "front wrist"),
            seam_edge("back seam", outer, "back wrist", single(outer.length - 150.0, "elbow")),
            seam_edge("back raglan", up, "back underarm", _pitch("back", PITCH["back"])),
            seam_edge("neck", neck, "back neck", allowance=BOUND),
            seam_edge("front raglan", down, "front neck",
                      _pitch("front", down.length - PITCH["front"])),
            seam_edge("front seam", inner, "front underarm", single(150.0, "elbow")),
        ),
        darts=darts,
        grain=grain(0.0, -LONG + 60, 90.0),
        levels=levels(biceps=(0.0, -20.0)),
        cuts=cuts("pair", "shell"),
    )  # fmt: skip
