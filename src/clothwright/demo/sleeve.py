"""The one-piece sleeve with its elbow dart. y = 0 at the biceps, x = 0 on the centre line.

Drawn for the left arm seen from outside: front on the left, back on the right.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.demo.body import Body, CoatStyle
from clothwright.demo.curves import bend, dart_cap, solve, spline, square_left, straight
from clothwright.demo.draft import cuts, double, grain, hem_edge, levels, seam_edge, single
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.piece import Dart, Piece

FOREARM_DEG = 3.4
"""How far the forearm swings forward."""
FRONT_END_DEG = 1.8
"""How far the front seam leans from the grain at the wrist; the back seam leans BACK_END_DEG."""
BACK_END_DEG = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Armhole:
    """What a sleeve must know of the armhole: stitching lengths in mm.

    front, back: from underarm to shoulder. front_notch, back_notch: from the underarm to each.
    """

    front: float
    back: float
    front_notch: float
    back_notch: float


def armhole_of(front: Piece, back: Piece) -> Armhole:
    """Measure the armhole of a front and a back that are sewn at shoulder and side."""
    f, b = front.edge("armhole"), back.edge("armhole")
    return Armhole(
        front=f.length,
        back=b.length,
        front_notch=f.notches[0].at,
        back_notch=b.length - b.notches[0].at,
    )


def draft_sleeve(body: Body, style: CoatStyle, hole: Armhole) -> Piece:
    """Return the sleeve: its cap longer than the armhole by the style's ease, over the top only."""
    half = (body.upper_arm + style.biceps_ease) / 2
    front = _front_seam(body, style, half)
    back, dart, hem = _back_seam(style, half, front)
    cap = _cap(style, hole, half, front, back)
    length = cap.length
    over_top = length - hole.front - style.cap_ease_front
    return Piece(
        name="coat sleeve",
        edges=(
            hem_edge(hem, "front wrist", style.hem),
            seam_edge("back seam", back, "back wrist"),
            seam_edge(
                "cap",
                cap,
                "back underarm",
                double(hole.back_notch, "back"),
                single(over_top, "shoulder tip"),
                single(length - hole.front_notch, "front"),
            ),
            seam_edge("front seam", front, "front underarm"),
        ),
        darts=(dart,),
        grain=grain(0.0, -330.0, 90.0),
        levels=levels(biceps=(0.0, 0.0), elbow=(0.0, _elbow_y(body))),
        cuts=cuts("pair", "shell"),
    )


def _elbow_y(body: Body) -> float:
    return -(body.arm - 140.0) * 0.43


def _front_seam(body: Body, style: CoatStyle, half: float) -> Path:
    """Return the front seam, downwards: a gentle hollow at the elbow."""
    underarm = Vec(-half, style.underarm_raise * 0)
    elbow = Vec(-half + 27, _elbow_y(body))
    wrist = Vec(-half + 36, -(body.arm - 140.0))
    return spline((underarm, elbow, wrist), -80.0, -90.0 - FRONT_END_DEG)


def _back_seam(style: CoatStyle, half: float, front: Path) -> tuple[Path, Dart, Path]:
    """Return the back seam upwards with its dart, the dart, and the hem.

    The dart is as wide as it takes for the seam to be as long as the front's when folded out.
    """
    front_wrist = front.end
    tilt = -FOREARM_DEG
    wrist = front_wrist + unit_at(tilt) * style.wrist
    hem = bend(front_wrist, tilt, wrist, tilt)
    underarm = Vec(half, 0.0)
    elbow_y = front.segments[0].end.y
    top = Vec(half - 11, elbow_y + 2)
    above = bend(top, 88.0, underarm, 80.0)
    hem = straight(front_wrist, wrist)

    def made(width: float) -> tuple[Path, Path, Path, Vec]:
        foot = top + unit_at(-88.0) * width
        middle = top.lerp(foot, 0.5)
        inward = unit_at(180.0 + 4.0)
        point = middle + inward * (style.elbow_dart**2 - (width / 2) ** 2) ** 0.5
        # the perpendicular through the middle keeps both legs equal
        across = (top - foot).unit.perp
        point = middle + across * abs((point - middle).dot(across))
        below = bend(wrist, 90.0 - BACK_END_DEG, foot, 68.0)
        cap = dart_cap(below, point, top, above, pressed="start")
        return below, cap, above, point

    width = solve(lambda w: made(w)[0].length + above.length - front.length, 1.0, 80.0)
    below, cap, above, point = made(width)
    if abs(below.length + above.length - front.length) > 0.01:
        raise CannotDo(
            what="the elbow dart cannot be drafted",
            why="front and back seam differ too much",
            nearest="a wrist nearer to the elbow's width",
        )
    dart = Dart(
        name="elbow dart",
        edge="back seam",
        a=below.length,
        b=below.length + cap.length,
        point=point,
        pressed="start",
    )
    return below.joined(cap).joined(above), dart, hem


def _cap(style: CoatStyle, hole: Armhole, half: float, front: Path, back: Path) -> Path:
    """Return the cap from back underarm to front underarm, as high as its length asks."""
    wanted = hole.front + hole.back + style.cap_ease_front + style.cap_ease_back
    start_deg = square_left(back.end_tangent)
    end_deg = square_left(front.start_tangent) - 180.0

    def made(height: float) -> Path:
        shape = (
            (1.0, 0.0),
            (0.80, 0.155),
            (0.565, 0.52),
            (0.29, 0.885),
            (0.0, 1.0),
            (-0.27, 0.855),
            (-0.50, 0.475),
            (-0.745, 0.115),
            (-1.0, 0.0),
        )
        points = [(half * x, height * y) for x, y in shape]
        return spline(points, start_deg, end_deg)

    return made(solve(lambda h: made(h).length - wanted, 60.0, 260.0))
