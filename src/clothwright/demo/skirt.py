"""The panel skirt: straight hem square to the grain, darts at the waist. y = 0 at the waist level.

Drawn for the wearer's left half: front with centre on the left, back with centre on the right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.demo.body import SEAM, SkirtStyle, Wearer
from clothwright.demo.curves import bend, dart_cap, solve, spline, straight
from clothwright.demo.draft import cuts, fold_edge, grain, hem_edge, levels, seam_edge, single
from clothwright.demo.draft import double as double_notch
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.measure import net_length
from clothwright.pattern.piece import Dart, Edge, Grain, Join, Mark, Piece, Role
from clothwright.pattern.whole import moved


@dataclass(frozen=True, slots=True, kw_only=True)
class WaistDart:
    """A waist dart: how far from the centre its middle lies, its intake and its depth (mm)."""

    name: str
    at: float
    intake: float
    deep: float


FRONT_DARTS = (
    WaistDart(name="front dart", at=82.0, intake=20.0, deep=88.0),
    WaistDart(name="side front dart", at=138.0, intake=16.0, deep=80.0),
)
BACK_DARTS = (
    WaistDart(name="back dart", at=72.0, intake=24.0, deep=132.0),
    WaistDart(name="side back dart", at=132.0, intake=20.0, deep=118.0),
)


def _panel_width(body: Wearer, style: SkirtStyle, more: float) -> float:
    return (body.hip + style.hip_ease) / 4 + more


def _waist_width(body: Wearer, style: SkirtStyle, more: float) -> float:
    return (body.waist + style.waist_ease) / 4 + more


def _side(body: Wearer, style: SkirtStyle, width: float, waist: float) -> Path:
    """Return the side from hem to waist: straight to the hip, then a fair curve inwards."""
    hip = Vec(width, -body.waist_to_hip)
    top = Vec(waist, style.side_rise)
    lean = (top - hip).angle_deg
    curve = spline((hip, hip.lerp(top, 0.5) + unit_at(lean).perp * -5.5, top), 90.0, lean + 7.0)
    return straight((width, -style.length), hip).joined(curve)


def _waist(side: Path, darts: tuple[WaistDart, ...]) -> tuple[Path, tuple[Dart, ...]]:
    """Return the waist from side to centre (x = 0), square to side, darts and centre.

    Dart legs end on a shallow curve; the seam meets each leg squarely, so that it runs fair sewn.
    """
    top = side.end
    ground = bend(top, side.end_tangent.angle_deg + 90, Vec(0.0, 0.0), 180.0).segments[0]

    def height(x: float) -> float:
        return ground.point(solve(lambda t: x - ground.point(t).x, 0.0, 1.0)).y

    here, here_deg = top, side.end_tangent.angle_deg + 90
    parts: list[Path] = []
    found: list[Dart] = []
    run = 0.0
    for d in reversed(darts):
        middle = Vec(d.at, height(d.at))
        point = middle - Vec(0.0, d.deep)
        half_deg = math.degrees(math.asin(d.intake / 2 / math.hypot(d.deep, d.intake / 2)))
        leg = math.hypot(d.deep, d.intake / 2)
        a, b = (point + unit_at(90.0 + s * half_deg) * leg for s in (-1, 1))
        before = bend(here, here_deg, a, 180.0 - half_deg)
        here, here_deg = b, 180.0 + half_deg
        after = straight(b, b + unit_at(here_deg))
        cap = dart_cap(before, point, b, after, pressed="end")
        parts += [before, cap]
        run += before.length
        found.append(
            Dart(name=d.name, edge="waist", a=run, b=run + cap.length, point=point, pressed="end")
        )
        run += cap.length
    parts.append(bend(here, here_deg, Vec(0.0, 0.0), 180.0))
    return join_all(parts), tuple(found)


def _fitted(
    body: Wearer, style: SkirtStyle, width: float, net: float, darts: tuple[WaistDart, ...]
) -> tuple[Path, Path, tuple[Dart, ...]]:
    """Return side, waist and darts with the waist `net` mm long once the darts are folded out."""

    def made(x: float) -> tuple[Path, Path, tuple[Dart, ...]]:
        side = _side(body, style, width, x)
        return side, *_waist(side, darts)

    def miss(x: float) -> float:
        _, waist, ds = made(x)
        return waist.length - sum(d.b - d.a for d in ds) - net

    return made(solve(miss, net, width + 40))


def draft_skirt_front(body: Wearer, style: SkirtStyle) -> Piece:
    """Return the front panel, on the fold at centre front."""
    width = _panel_width(body, style, 5.0)
    side, waist, darts = _fitted(body, style, width, _waist_width(body, style, 5.0), FRONT_DARTS)
    low = Vec(0.0, -style.length)
    return Piece(
        name="skirt front",
        edges=(
            hem_edge(straight(low, side.start), "centre hem", style.hem, join=Join.EXTENDED),
            seam_edge(
                "side",
                side,
                "side hem",
                single(style.length - body.waist_to_hip, "hip"),
                join=Join.FOLDED,
            ),
            seam_edge("waist", waist, "side waist"),
            fold_edge("centre", straight((0.0, 0.0), low), "centre waist"),
        ),
        darts=darts,
        grain=grain(width * 0.42, -style.length + 90, -160.0),
        levels=levels(hip=(width / 2, -body.waist_to_hip)),
        marks=(Mark(name="centre front", at=low, note="centre front"),),
        cuts=cuts("fold", "shell"),
    )


def draft_skirt_back(body: Wearer, style: SkirtStyle) -> Piece:
    """Return the back panel, a pair, with a zip in the upper part of its centre back seam.

    Its side rises above the waist level by what makes it as long as the front's.
    """
    width = _panel_width(body, style, -5.0)
    target = draft_skirt_front(body, style).edge("side").length

    def made(rise: float) -> tuple[Path, Path, tuple[Dart, ...]]:
        risen = replace(style, side_rise=rise)
        return _fitted(body, risen, width, _waist_width(body, style, -5.0), BACK_DARTS)

    rise = solve(lambda r: made(r)[0].length - target, 0.0, 2 * style.side_rise)
    side, waist, darts = made(rise)
    low = Vec(0.0, -style.length)
    return _turned_over(
        Piece(
            name="skirt back",
            edges=(
                hem_edge(straight(low, side.start), "centre hem", style.hem),
                seam_edge(
                    "side",
                    side,
                    "side hem",
                    single(style.length - body.waist_to_hip, "hip"),
                    join=Join.FOLDED,
                ),
                seam_edge("waist", waist, "side waist"),
                seam_edge(
                    "centre",
                    straight((0.0, 0.0), low),
                    "centre waist",
                    double_notch(style.zip, "zip end"),
                ),
            ),
            darts=darts,
            grain=grain(width * 0.42, -style.length + 90, -200.0),
            levels=levels(hip=(width / 2, -body.waist_to_hip)),
            cuts=cuts("pair", "shell"),
        )
    )


def _turned_over(piece: Piece) -> Piece:
    """Mirror a piece drawn for the right half, and let its edges start anew at the hem."""
    return moved(piece, reflection((0.0, 0.0), (0.0, 1.0)))


def draft_waistband(front: Piece, back: Piece, style: SkirtStyle) -> Piece:
    """Return the straight waistband: right half, left half, underlap at centre back."""
    f, b = net_length(front, "waist"), net_length(back, "waist")
    half, high, lap = f + b, 2 * style.band, style.underlap
    thread = style.band * 0.55
    points = [Vec(x, 0.0) for x in (-half, 0.0, half, half + lap)]
    edges = (
        seam_edge(
            "right half", straight(points[0], points[1]), "right end", single(b, "side waist")
        ),
        seam_edge(
            "left half", straight(points[1], points[2]), "centre front", single(f, "side waist")
        ),
        seam_edge("underlap", straight(points[2], points[3]), "left back"),
        seam_edge("lap end", straight(points[3], points[3] + Vec(0.0, high)), "lap low"),
        Edge(
            name="inside",
            path=straight(points[3] + Vec(0.0, high), points[0] + Vec(0.0, high)),
            role=Role.SEAM,
            allowance=SEAM,
            corner="lap high",
        ),
        seam_edge("right back end", straight(points[0] + Vec(0.0, high), points[0]), "right high"),
    )
    return Piece(
        name="waistband",
        edges=edges,
        grain=Grain(start=Vec(-half * 0.6, thread), end=Vec(half * 0.6, thread)),
        marks=(
            Mark(
                name="fold line",
                note="fold",
                path=straight((-half, style.band), (half + lap, style.band)),
            ),
        ),
        cuts=cuts("once", "shell", "interfacing"),
    )
