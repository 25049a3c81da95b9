"""The inside of the coat: facings on the shell's own lines, and the lining that is left.

Every piece lies on the drawing of the shell piece it belongs to. Where facing and lining meet,
both have their seam allowance, so that the cut edges overlap by two of them (docs/sources.md).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.demo.body import SEAM, CoatStyle, Wearer
from clothwright.demo.coat import CoatFrame, coat_frame, draft_coat_back, draft_coat_front
from clothwright.demo.curves import bend, scoop, straight
from clothwright.demo.draft import (
    cuts,
    fold_edge,
    grain,
    hem_edge,
    renamed,
    seam_edge,
    single,
)
from clothwright.demo.sleeve import armhole_of, draft_sleeve
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Join, Mark, Notch, Piece
from clothwright.units import INCH

PLEAT = INCH / 2
"""Depth of the lining's pleat at centre back on each half: 1 in in all (a trade manual of 1911)."""
LINING_RAISE = 8.0
"""mm by which the lining ends higher under the arm than the shell (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FacingStyle:
    """Finished widths of the facings, mm."""

    at_shoulder: float = 50.0
    at_hem: float = 75.0
    at_nape: float = 66.0


def lined(style: CoatStyle) -> CoatStyle:
    """Return the style the lining is drafted to."""
    return replace(style, underarm_raise=LINING_RAISE, hem=SEAM)


def draft_front_facing(body: Wearer, style: CoatStyle, facing: FacingStyle) -> Piece:
    """Return the front facing: the front's neck and front edge, and an inner edge of its own."""
    front, f = draft_coat_front(body, style), coat_frame(body, style)
    inner = _front_inner(f, style, facing)
    low = Vec(-style.extension, f.hem_y)
    return Piece(
        name="front facing",
        edges=(
            hem_edge(straight(low, inner.start), "front hem", style.hem, join=Join.EXTENDED),
            seam_edge("inner", inner, "facing hem", *_inner_notches(inner, f), join=Join.FOLDED),
            seam_edge("shoulder", straight(inner.end, f.front_neck), "facing point"),
            front.edge("neck"),
            front.edge("front edge"),
        ),
        grain=grain(20.0, f.hem_y + 70, f.hem_y + 330),
        levels=front.levels,
        cuts=cuts("pair", "shell", "interfacing"),
    )


def _front_inner(f: CoatFrame, style: CoatStyle, facing: FacingStyle) -> Path:
    """Return the line where front facing and lining meet, from the hem up to the shoulder."""
    x = facing.at_hem - style.extension
    along = (f.front_tip - f.front_neck).unit
    top = f.front_neck + along * facing.at_shoulder
    waist = Vec(x, 20.0)
    curve = bend(waist, 90.0, top, (-along).angle_deg - 90)
    return straight((x, f.hem_y), waist).joined(curve)


def _inner_notches(inner: Path, f: CoatFrame) -> tuple[Notch, ...]:
    """Return the notches of the inner line: at the waist and at the bust."""
    bust = inner.nearest((f.bust_point.x - 30, f.bust_point.y))[0]
    return single(-f.hem_y, "waist"), single(bust, "bust")


def _turned(notches: tuple[Notch, ...], length: float) -> tuple[Notch, ...]:
    """Count notches from the other end of their edge."""
    return tuple(replace(n, at=length - n.at) for n in reversed(notches))


def draft_back_neck_facing(body: Wearer, style: CoatStyle, facing: FacingStyle) -> Piece:
    """Return the back neck facing, on the fold."""
    back, f = draft_coat_back(body, style), coat_frame(body, style)
    inner = _back_inner(f, facing)
    return Piece(
        name="back neck facing",
        edges=(
            fold_edge("centre", straight(inner.end, f.nape), "centre low"),
            back.edge("neck"),
            seam_edge("shoulder", straight(f.back_neck, inner.start), "neck point"),
            seam_edge("inner", inner, "facing point"),
        ),
        grain=grain(-14.0, f.nape.y - facing.at_nape + 12, f.nape.y - 8),
        cuts=cuts("fold", "shell", "interfacing"),
    )


def _back_inner(f: CoatFrame, facing: FacingStyle) -> Path:
    """Return the line where neck facing and lining meet, from the shoulder to centre back."""
    along = (f.back_tip - f.back_neck).unit
    start = f.back_neck + along * facing.at_shoulder
    low = Vec(0.0, f.nape.y - facing.at_nape)
    return scoop(start, along.angle_deg + 90, low, 0.0)


def draft_lining_front(body: Wearer, style: CoatStyle, facing: FacingStyle) -> Piece:
    """Return the front of the lining: the front less its facing, with the same bust dart."""
    style = lined(style)
    front, f = draft_coat_front(body, style), coat_frame(body, style)
    inner = _front_inner(f, style, facing)
    side_low = front.edge("hem").path.end
    return Piece(
        name="lining front",
        edges=(
            hem_edge(straight(inner.start, side_low), "facing hem", style.hem),
            front.edge("side"),
            front.edge("armhole"),
            seam_edge("shoulder", straight(f.front_tip, inner.end), "shoulder tip"),
            seam_edge(
                "inner",
                inner.reversed(),
                "facing point",
                *_turned(_inner_notches(inner, f), inner.length),
            ),
        ),
        darts=front.darts,
        grain=grain(105.0, f.hem_y + 70, f.hem_y + 250),
        levels=front.levels,
        cuts=cuts("pair", "lining"),
    )


def draft_lining_back(body: Wearer, style: CoatStyle, facing: FacingStyle) -> Piece:
    """Return the back of the lining, on the fold, with a pleat at centre back.

    Its underarm is the higher one; the lines of the body are where they are on the coat.
    """
    levels = draft_coat_back(body, style).levels
    style = lined(style)
    back, f = draft_coat_back(body, style), coat_frame(body, style)
    inner = _back_inner(f, facing).reversed()
    shift = Vec(PLEAT, 0.0)
    top, low = inner.start + shift, Vec(0.0, f.hem_y) + shift
    return Piece(
        name="lining back",
        edges=(
            hem_edge(straight(back.edge("hem").path.start, low), "side hem", style.hem),
            fold_edge("pleat fold", straight(low, top), "pleat hem"),
            seam_edge("pleat", straight(top, inner.start), "pleat top"),
            seam_edge("inner", inner, "centre neck"),
            seam_edge("shoulder", straight(inner.end, f.back_tip), "facing point"),
            back.edge("armhole"),
            back.edge("side"),
        ),
        grain=grain(-95.0, f.hem_y + 60, f.back_underarm.y + 60),
        levels=levels,
        marks=(
            Mark(
                name="pleat line",
                path=straight(inner.start, (0.0, f.hem_y)),
                note="fold of the pleat",
            ),
        ),
        cuts=cuts("fold", "lining"),
    )


def draft_lining_sleeve(body: Wearer, style: CoatStyle) -> Piece:
    """Return the sleeve of the lining, its cap drafted to the lining's own armhole."""
    style = lined(style)
    hole = armhole_of(draft_coat_front(body, style), draft_coat_back(body, style))
    return renamed(draft_sleeve(body, style, hole), "lining sleeve", cuts("pair", "lining"))
