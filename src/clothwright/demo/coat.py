"""The short coat: front with a bust dart, back on the fold. y = 0 at the waist, x = 0 at centre.

Both are drawn for the wearer's left half: the front's side on its right, the back's on its left,
so that pieces laid side seam to side seam make the half body as it is seen from outside.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwright.demo.body import CoatStyle, Wearer
from clothwright.demo.curves import bend, dart_cap, scoop, spline, square_left, straight
from clothwright.demo.draft import cuts, fold_edge, grain, hem_edge, levels, seam_edge, single
from clothwright.demo.draft import double as double_notch
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.piece import Dart, Join, Mark, Piece

BACK_SLOPE_DEG = 18.0
FRONT_SLOPE_DEG = 22.5
NECK_RISE = 23.0
"""mm by which the high point of the shoulder lies above the nape."""
WAIST_IN = 9.25
"""mm by which each side comes in at the waist: half the demo coat is then 8 1/2 repeats round."""
DART_TILT_DEG = 10.0
"""The bust dart rises towards the bust point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatFrame:
    """Points that front, back, facings and linings share (mm, y up from the waist)."""

    nape: Vec
    back_neck: Vec
    back_tip: Vec
    back_underarm: Vec
    back_blade: Vec
    back_waist_x: float
    front_neck: Vec
    front_tip: Vec
    front_chest: Vec
    front_bust_x: float
    front_waist_x: float
    neck_low: Vec
    bust_point: Vec
    hem_y: float


def coat_frame(body: Wearer, style: CoatStyle) -> CoatFrame:
    """Return the frame of the coat for a body."""
    half = (body.bust + style.bust_ease) / 2
    back, front = half / 2, half / 2
    nape_y = body.back_waist + 4
    width = body.neck / 5 + style.neck_wider
    back_neck = Vec(-width, nape_y + NECK_RISE)
    front_neck = Vec(width, back_neck.y + body.front_longer)
    back_tip = back_neck + unit_at(180 + BACK_SLOPE_DEG) * (body.shoulder + style.back_ease)
    front_tip = front_neck + unit_at(-FRONT_SLOPE_DEG) * body.shoulder
    underarm_y = nape_y - body.nape_to_underarm - style.underarm_drop + style.underarm_raise
    return CoatFrame(
        nape=Vec(0.0, nape_y),
        back_neck=back_neck,
        back_tip=back_tip,
        back_underarm=Vec(-back, underarm_y),
        back_blade=Vec(-body.across_back / 2 - 10, nape_y - 118),
        back_waist_x=-back + WAIST_IN,
        front_neck=front_neck,
        front_tip=front_tip,
        front_chest=Vec(body.across_chest / 2 + 9, front_tip.y - 104),
        front_bust_x=front + 8,
        front_waist_x=front - WAIST_IN,
        neck_low=Vec(0.0, front_neck.y - style.neck_depth),
        bust_point=Vec(body.bust_point_from_centre, front_neck.y - 285),
        hem_y=back_neck.y - style.from_shoulder,
    )


def draft_coat_back(body: Wearer, style: CoatStyle) -> Piece:
    """Return the back, on the fold at centre back."""
    f = coat_frame(body, style)
    low, side_low = Vec(0.0, f.hem_y), Vec(f.back_waist_x, f.hem_y)
    slope = (f.back_tip - f.back_neck).angle_deg
    neck = back_neckline(f, slope)
    shoulder = straight(f.back_neck, f.back_tip)
    armhole = back_armhole(f, slope)
    side = back_side(f, side_low)
    waist_notch = side.length - (0.0 - f.hem_y)
    return Piece(
        name="coat back",
        edges=(
            hem_edge(straight(side_low, low), "side hem", style.hem),
            fold_edge("centre", straight(low, f.nape), "centre hem"),
            seam_edge("neck", neck, "centre neck"),
            seam_edge("shoulder", shoulder, "neck point"),
            seam_edge(
                "armhole", armhole, "shoulder tip", double_notch(armhole.length * 0.56, "back")
            ),
            seam_edge("side", side, "underarm", single(waist_notch, "waist")),
        ),
        grain=grain(-95.0, f.hem_y + 60, f.back_underarm.y + 90),
        levels=levels(
            bust=(-100.0, f.back_underarm.y - style.underarm_raise - 25), waist=(-100.0, 0.0)
        ),
        marks=(Mark(name="centre back", at=Vec(0.0, 0.0), note="centre back at the waist"),),
        cuts=cuts("fold", "shell"),
    )


def back_neckline(f: CoatFrame, slope_deg: float) -> Path:
    """Return the back neck (mm), nape to neck point: flat at centre, square to the shoulder."""
    return scoop(f.nape, 180.0, f.back_neck, slope_deg - 90, full=0.46, full_end=0.85)


def back_armhole(f: CoatFrame, slope_deg: float) -> Path:
    """Return the back armhole (mm), shoulder tip to underarm, square to both seams it meets."""
    turn = f.back_blade
    round_ = scoop(turn, -90.0, f.back_underarm, 180.0, full=0.62)
    low = round_.point_at(round_.length * 0.62)
    return spline((f.back_tip, turn, low, f.back_underarm), slope_deg + 90, 180.0)


def back_side(f: CoatFrame, side_low: Vec) -> Path:
    """Return the back's side from underarm to hem: a fair curve to the waist, then straight."""
    waist = Vec(f.back_waist_x, 0.0)
    upper = bend(f.back_underarm, -90.0, waist, -90.0)
    return upper.joined(straight(waist, side_low))


def draft_coat_front(body: Wearer, style: CoatStyle) -> Piece:
    """Return the front, a pair, with a bust dart in its side seam and a button extension."""
    f = coat_frame(body, style)
    back_side = draft_coat_back(body, style).edge("side")
    side, dart = front_side(f, style, back_side.length)
    slope = (f.front_neck - f.front_tip).angle_deg
    armhole = front_armhole(f, side, slope)
    low, side_low = Vec(-style.extension, f.hem_y), Vec(f.front_waist_x, f.hem_y)
    edge_top = Vec(-style.extension, f.neck_low.y)
    neck = front_neckline(f, slope).joined(straight(f.neck_low, edge_top))
    front_edge = straight(edge_top, low)
    return Piece(
        name="coat front",
        edges=(
            hem_edge(straight(low, side_low), "front hem", style.hem, join=Join.EXTENDED),
            seam_edge("side", side, "side hem", single(-f.hem_y, "waist"), join=Join.FOLDED),
            seam_edge("armhole", armhole, "underarm", single(armhole.length * 0.42, "front")),
            seam_edge("shoulder", straight(f.front_tip, f.front_neck), "shoulder tip"),
            seam_edge("neck", neck, "neck point"),
            seam_edge(
                "front edge",
                front_edge,
                "front neck",
                single(front_edge.length - (0.0 - f.hem_y), "waist"),
            ),
        ),
        darts=(dart,),
        grain=grain(60.0, f.hem_y + 60, f.bust_point.y + 70),
        levels=levels(bust=f.bust_point, waist=(100.0, 0.0)),
        marks=(
            Mark(
                name="centre front",
                path=straight(f.neck_low, Vec(0.0, -48.0)),
                note="centre front",
            ),
            Mark(name="bust point", at=f.bust_point),
            *_buttons(f),
        ),
        cuts=cuts("pair", "shell"),
    )


def _buttons(f: CoatFrame) -> tuple[Mark, ...]:
    """Return three button marks on centre front, the first 20 mm under the neck."""
    first, last = f.neck_low.y - 20, -15.0
    return tuple(
        Mark(name=f"button {n + 1}", at=Vec(0.0, first + (last - first) * n / 2), note="button")
        for n in range(3)
    )


def front_neckline(f: CoatFrame, slope_deg: float) -> Path:
    """Return the front neck (mm), neck point to centre, square to shoulder and centre."""
    return scoop(f.front_neck, slope_deg + 90, f.neck_low, 180.0, full=0.6)


def front_armhole(f: CoatFrame, side: Path, slope_deg: float) -> Path:
    """Return the front armhole (mm), underarm to shoulder tip, square to both seams."""
    start_deg = square_left(side.end_tangent)
    round_ = scoop(side.end, 180.0, f.front_chest, 90.0, full=0.66)
    low = round_.point_at(round_.length * 0.45)
    return spline((side.end, low, f.front_chest, f.front_tip), start_deg, slope_deg - 90)


def front_side(f: CoatFrame, style: CoatStyle, length: float) -> tuple[Path, Dart]:
    """Return the side with its dart (mm): as long as the back's once the dart is folded out."""
    half_deg = math.degrees(math.asin(style.dart / 2 / _dart_length(f)))
    low, waist = Vec(f.front_waist_x, f.hem_y), Vec(f.front_waist_x, 0.0)
    axis = unit_at(-DART_TILT_DEG)
    point = f.bust_point + axis * 22
    a = point + unit_at(-DART_TILT_DEG - half_deg) * _dart_length(f)
    b = point + unit_at(-DART_TILT_DEG + half_deg) * _dart_length(f)
    lean_deg = 86.0
    below = straight(low, waist).joined(bend(waist, 90.0, a, lean_deg))
    # Sewn, the two sides of the seam run straight on over the dart.
    above_deg = lean_deg + 2 * half_deg
    rest = length - below.length
    above = straight(b, b + unit_at(above_deg) * rest)
    cap = dart_cap(below, point, b, above, pressed="start")
    dart = Dart(
        name="bust dart",
        edge="side",
        a=below.length,
        b=below.length + cap.length,
        point=point,
        pressed="start",
    )
    return below.joined(cap).joined(above), dart


def _dart_length(f: CoatFrame) -> float:
    return f.front_bust_x - f.bust_point.x - 26
