"""A lined-to-the-edge waistcoat: V neck, pointed front, patch pocket, back on the fold."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.demo.body import CoatStyle, Wearer
from clothwright.demo.coat import (
    CoatFrame,
    back_armhole,
    back_neckline,
    back_side,
    coat_frame,
    front_armhole,
    front_side,
)
from clothwright.demo.curves import bend, straight
from clothwright.demo.draft import cuts, fold_edge, grain, hem_edge, levels, seam_edge, single
from clothwright.demo.draft import double as double_notch
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Mark, Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class WaistcoatStyle:
    """Looseness and shape of the waistcoat (guides: docs/sources.md, ease)."""

    bust_ease: float = 64.0
    underarm_drop: float = 26.0
    narrower_shoulder: float = 22.0
    from_shoulder: float = 502.0
    extension: float = 18.0
    vee: float = 142.0
    """Height of the V's point above the waist."""
    front_point: float = 62.0
    """How far the front's point hangs below its side."""
    buttons: int = 5
    pocket_wide: float = 96.0
    pocket_high: float = 104.0
    pocket_hem: float = 25.0


def _frame(body: Wearer, style: WaistcoatStyle) -> CoatFrame:
    less = style.narrower_shoulder
    slim = replace(
        body,
        shoulder=body.shoulder - less,
        across_back=body.across_back - 1.6 * less,
        across_chest=body.across_chest - 1.6 * less,
    )
    coat = _coat_style(style)
    return coat_frame(slim, coat)


def _coat_style(style: WaistcoatStyle) -> CoatStyle:
    return CoatStyle(
        bust_ease=style.bust_ease,
        underarm_drop=style.underarm_drop,
        neck_wider=9.0,
        extension=style.extension,
        from_shoulder=style.from_shoulder,
        back_ease=0.0,
        dart=28.0,
    )


def draft_waistcoat_back(body: Wearer, style: WaistcoatStyle) -> Piece:
    """Return the back, on the fold."""
    f = _frame(body, style)
    slope = (f.back_tip - f.back_neck).angle_deg
    low, side_low = Vec(0.0, f.hem_y), Vec(f.back_waist_x, f.hem_y)
    armhole, side = back_armhole(f, slope), back_side(f, side_low)
    return Piece(
        name="back",
        edges=(
            seam_edge("hem", straight(side_low, low), "side hem"),
            fold_edge("centre", straight(low, f.nape), "centre hem"),
            seam_edge("neck", back_neckline(f, slope), "centre neck"),
            seam_edge("shoulder", straight(f.back_neck, f.back_tip), "neck point"),
            seam_edge(
                "armhole", armhole, "shoulder tip", double_notch(armhole.length * 0.55, "back")
            ),
            seam_edge("side", side, "underarm", single(side.length + f.hem_y, "waist")),
        ),
        grain=grain(-80.0, f.hem_y + 60, f.back_underarm.y + 80),
        levels=levels(waist=(-100.0, 0.0)),
        marks=(Mark(name="centre back", at=Vec(0.0, 0.0), note="centre back at the waist"),),
        cuts=cuts("fold", "shell", "lining"),
    )


def draft_waistcoat_front(body: Wearer, style: WaistcoatStyle) -> Piece:
    """Return the front, a pair, with a bust dart in its side seam and the place of its pocket."""
    f = _frame(body, style)
    side, dart = front_side(
        f, _coat_style(style), draft_waistcoat_back(body, style).edge("side").length
    )
    slope = (f.front_neck - f.front_tip).angle_deg
    armhole = front_armhole(f, side, slope)
    tip = Vec(34.0, f.hem_y - style.front_point)
    edge_low = Vec(-style.extension, tip.y + 40.0)
    edge_top = Vec(-style.extension, style.vee)
    vee = bend(f.front_neck, slope + 90, edge_top, slope + 103)
    front_edge = straight(edge_top, edge_low)
    return Piece(
        name="front",
        edges=(
            seam_edge("hem", bend(tip, 30.0, side.start, 0.0), "front point"),
            seam_edge("side", side, "side hem", single(-f.hem_y, "waist")),
            seam_edge("armhole", armhole, "underarm", single(armhole.length * 0.44, "front")),
            seam_edge("shoulder", straight(f.front_tip, f.front_neck), "shoulder tip"),
            seam_edge("neck", vee, "neck point"),
            seam_edge("front edge", front_edge, "front neck"),
            seam_edge("point", straight(edge_low, tip), "front hem"),
        ),
        darts=(dart,),
        grain=grain(78.0, f.hem_y + 150, f.bust_point.y + 60),
        levels=levels(bust=f.bust_point, waist=(100.0, 0.0)),
        marks=(*_front_marks(f, style, edge_low), *_pocket_place(f, style)),
        cuts=cuts("pair", "shell", "lining"),
    )


def _front_marks(f: CoatFrame, style: WaistcoatStyle, low: Vec) -> tuple[Mark, ...]:
    first, last = style.vee - 14.0, low.y + 24.0
    step = (last - first) / (style.buttons - 1)
    return (
        Mark(
            name="centre front",
            path=straight((0.0, style.vee + 25), (0.0, low.y)),
            note="centre front",
        ),
        Mark(name="bust point", at=f.bust_point),
        *(
            Mark(name=f"button {n + 1}", at=Vec(0.0, first + step * n), note="button")
            for n in range(style.buttons)
        ),
    )


def _pocket_points(style: WaistcoatStyle) -> tuple[Vec, ...]:
    wide, high = style.pocket_wide, style.pocket_high
    return (
        Vec(0.0, 0.0),
        Vec(0.0, -high + 16),
        Vec(wide / 2, -high),
        Vec(wide, -high + 16),
        Vec(wide, 0.0),
    )


def _pocket_place(f: CoatFrame, style: WaistcoatStyle) -> tuple[Mark, ...]:
    corner = Vec(92.0, f.hem_y + 124.0)
    points = [corner + p for p in _pocket_points(style)]
    return (
        Mark(name="pocket corner", at=corner, note="pocket"),
        Mark(name="pocket", path=straight(*points, points[0])),
    )


def draft_pocket(style: WaistcoatStyle) -> Piece:
    """Return the patch pocket: hem above, three sides turned in, a blunt point below."""
    upper, left, tip, right, far = _pocket_points(style)
    return Piece(
        name="pocket",
        edges=(
            seam_edge("inner side", straight(upper, left), "upper corner"),
            seam_edge("inner point", straight(left, tip), "inner low"),
            seam_edge("outer point", straight(tip, right), "pocket point"),
            seam_edge("outer side", straight(right, far), "outer low"),
            hem_edge(straight(far, upper), "far corner", style.pocket_hem),
        ),
        grain=grain(style.pocket_wide / 2, -style.pocket_high * 0.8, -12.0),
        cuts=cuts("pair", "shell"),
    )
