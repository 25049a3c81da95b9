"""A bodice to the hip with seams from the armholes over the bust and the shoulder blades."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.demo.body import WEARER, CoatStyle
from clothwright.demo.curves import bend, scoop, solve, spline
from clothwright.demo.draft import (
    cuts,
    double,
    fold_edge,
    grain,
    hem_edge,
    levels,
    renamed,
    seam,
    seam_edge,
    single,
)
from clothwright.demo.sleeve import Armhole, draft_sleeve
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Join, Mark, Notch, Piece
from tests.garments.kit import Half, arriving, at, block, inside_deg, leaving, over
from tests.garments.parts import goes_with, neck_facing

HEM_Y, HEM = -180.0, 12.7
BUST_EASE = 5.0
"""mm: by which the side panel is longer over the bust, 3 to 13 (trade practice, from memory)."""
PITCH = 50.0
"""mm: the notches of the bust seam lie this far above and below the bust (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """Where the seam between two panels runs on each of them, from the hem up.

    inner, outer: the seam's points on the centre and the side panel, each at hem, waist and bust;
    on the side panel x = 0 is its own hem corner. waist, hem: width of the side panel there.
    """

    inner: tuple[tuple[float, float], ...]
    outer: tuple[tuple[float, float], ...]
    top: float
    top_deg: float
    turn_deg: float
    waist: float
    hem: float
    under: float
    ease: float


FRONT = Panel(
    inner=((112.0, HEM_Y + 7), (84.0, 0.0), (97.0, 183.0)),
    outer=((0.0, HEM_Y + 7), (26.0, 0.0), (-6.0, 180.0)),
    top=125.0, top_deg=48.0, turn_deg=2.0, waist=108.0, hem=143.0, under=138.0, ease=BUST_EASE,
)  # fmt: skip
BACK = Panel(
    inner=((110.0, HEM_Y + 7), (80.0, 0.0), (106.0, 181.0)),
    outer=((0.0, HEM_Y + 7), (24.0, 0.0), (4.0, 179.0)),
    top=105.0, top_deg=44.0, turn_deg=2.0, waist=110.0, hem=143.0, under=146.0, ease=0.0,
)  # fmt: skip


def princess() -> Pattern:
    """Return the pieces and seams of the bodice."""
    front, back = block(76.0)
    cf, sf = _panels(front, FRONT, "centre front", "side front")
    cb, sb = _panels(back, BACK, "centre back", "side back")
    facings = neck_facing(cf, "front neck facing"), neck_facing(cb, "back neck facing")
    holes = [p.edge("armhole") for p in (sf, cf, sb, cb)]
    hole = Armhole(
        front=holes[0].length + holes[1].length,
        back=holes[2].length + holes[3].length,
        front_notch=holes[0].notches[0].at,
        back_notch=holes[2].notches[0].at,
    )
    style = CoatStyle(biceps_ease=64.0, cap_ease_front=11.0, cap_ease_back=14.0,
                      wrist=232.0, wrist_front=125.0, hem=HEM)  # fmt: skip
    sleeve = renamed(draft_sleeve(WEARER, style, hole), "sleeve", cuts("pair", "shell"))
    return Pattern(
        pieces=(cf, sf, over(cb), over(sb), sleeve, facings[0], over(facings[1])),
        seams=(
            seam("front panel seam", "centre front.panel seam", "side front.panel seam reversed",
                 ease=BUST_EASE, ease_from="below bust", ease_to="above bust"),
            seam("back panel seam", "centre back.panel seam", "side back.panel seam reversed"),
            seam("side", "side front.side", "side back.side reversed"),
            seam("shoulder", "centre front.shoulder", "centre back.shoulder reversed", ease=6.0),
            seam("centre back", "centre back.centre", "centre back.centre"),
            seam("armhole", ("side front.armhole", "centre front.armhole",
                             "centre back.armhole", "side back.armhole"),
                 "sleeve.cap reversed", kind="cap", ease=25.0, ease_from="front", ease_to="back"),
            seam("sleeve seam", "sleeve.front seam reversed", "sleeve.back seam"),
            seam("front neck facing", "centre front.neck", "front neck facing.neck",
                 kind="facing"),
            seam("back neck facing", "centre back.neck", "back neck facing.neck", kind="facing"),
            seam("facing shoulder", "front neck facing.shoulder",
                 "back neck facing.shoulder reversed"),
        ),
        companions=(
            goes_with("facing", "front neck facing.neck on centre front.neck"),
            goes_with("facing", "back neck facing.neck on centre back.neck"),
        ),
    )  # fmt: skip


def _panels(half: Half, p: Panel, centre: str, side: str) -> tuple[Piece, Piece]:
    """Return the two panels of half a bodice."""
    whole = half.armhole()
    joint = whole.length - p.top
    upper = whole.between(joint, whole.length)
    inner = spline((*p.inner, whole.point_at(joint)), 97.0, p.top_deg)
    bust = at(inner, p.inner[2])
    marks = at(inner, p.inner[1]), bust - PITCH, bust + PITCH
    one = _centre(half, p, centre, inner, upper, marks)
    rest = 180.0 - inside_deg(inner, upper)
    two = _side(half, p, side, inner.length, marks, rest)
    return one, two


def _notches(waist: float, low: float, high: float) -> tuple[Notch, ...]:
    return single(waist, "waist"), single(low, "below bust"), single(high, "above bust")


def _centre(
    half: Half, p: Panel, name: str, inner: Path, upper: Path, marks: tuple[float, float, float]
) -> Piece:
    low = Vec(0.0, HEM_Y)
    neck = half.neckline() if name == "centre front" else half.neckline(0.75)
    if name == "centre front":
        middle = Path((*spline((half.centre, low), -90.0, -90.0).segments,))
        centre: Edge = fold_edge("centre", middle, "centre neck")
    else:
        low = Vec(6.0, HEM_Y)
        middle = spline((half.centre, (0.0, 330.0), (10.0, 0.0), low), -90.0, -90.0)
        centre = seam_edge("centre", middle, "centre neck", double(220.0, "zip end"))
    hem = bend(low, 0.0, inner.start, arriving(inner))
    return Piece(
        name=name,
        edges=(
            hem_edge(hem, "centre hem", HEM, join=Join.FOLDED),
            seam_edge("panel seam", inner, "panel hem", *_notches(*marks),
                      join=Join.FOLDED),
            seam_edge("armhole", upper, "panel top"),
            seam_edge("shoulder", half.shoulder, "shoulder tip"),
            seam_edge("neck", neck, "neck point"),
            centre,
        ),
        grain=grain(40.0, HEM_Y + 50, 250.0),
        levels=levels(bust=p.inner[2], waist=(40.0, 0.0)),
        marks=(Mark(name="bust point", at=Vec(*p.inner[2])),) if p.ease else (),
        cuts=cuts("fold" if p.ease else "pair", "shell"),
    )  # fmt: skip


def _side(
    half: Half, p: Panel, name: str, seam_length: float, marks: tuple[float, float, float],
    inside: float,
) -> Piece:  # fmt: skip
    """Return the side panel: its seam as long as the centre panel's and the ease over the bust."""

    def made(y: float) -> Path:
        top = (p.outer[2][0] + 66.0, y)
        return spline((*p.outer, top), 83.0, p.top_deg + p.turn_deg)

    outer = made(solve(lambda y: made(y).length - seam_length - p.ease, 210.0, 380.0))
    low = Vec(p.hem, HEM_Y + 7)
    side = spline((low, (p.outer[1][0] + p.waist, 0.0), (p.under, half.under.y)), 97.0, 87.0)
    down = outer.reversed()
    armhole = scoop(side.end, leaving(side), down.start, arriving(down, inside), full=0.62)
    waist, below, above = marks
    turned = tuple(
        single(outer.length - s, n)
        for s, n in (
            (above + p.ease, "above bust"), (below, "below bust"), (waist, "waist"),
        )
    )  # fmt: skip
    bust = outer.point_at((below + above + p.ease) / 2)
    note = single(armhole.length * 0.8, "front") if p.ease else double(armhole.length * 0.8, "back")
    return Piece(
        name=name,
        edges=(
            hem_edge(bend(outer.start, -7.0, low, 7.0), "panel hem", HEM, join=Join.FOLDED),
            seam_edge("side", side, "side hem", single(at(side, (140.0, 0.0)), "waist"),
                      join=Join.FOLDED),
            seam_edge("armhole", armhole, "underarm", note),
            seam_edge("panel seam", down, "panel top", *turned),
        ),
        grain=grain(75.0, HEM_Y + 50, 180.0),
        levels=levels(bust=bust, waist=(75.0, 0.0)),
        cuts=cuts("pair", "shell"),
    )  # fmt: skip
