"""The one-piece sleeve with its elbow dart. y = 0 at the biceps, x = 0 on the centre line.

Drawn for the left arm seen from outside: front on the left, back on the right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwright.demo.body import CoatStyle, Wearer
from clothwright.demo.curves import bend, dart_cap, solve, spline, square_left, straight
from clothwright.demo.draft import cuts, double, grain, hem_edge, levels, seam_edge, single
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.piece import Dart, Piece

ELBOW_DEG = 89.0
"""Direction of the back seam at the elbow."""
FOREARM_DEG = 4.2
"""How far the forearm swings forward."""
FRONT_END_DEG = 1.8
"""How far the front seam leans from the grain at the wrist; the back seam leans BACK_END_DEG."""
BACK_END_DEG = 5.2
ELBOW_NOTCH = 150.0
"""mm from the underarm to the notch above the elbow, on both seams."""


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


def draft_sleeve(body: Wearer, style: CoatStyle, hole: Armhole) -> Piece:
    """Return the sleeve: its cap longer than the armhole by the style's ease, over the top only."""
    half = (body.upper_arm + style.biceps_ease) / 2
    front = _front_seam(body, style, half)
    back, dart, hem = _back_seam(style, half, front)
    wanted = hole.front + hole.back + style.cap_ease_front + style.cap_ease_back
    cap = cap_line(wanted, half, front, back)
    length = cap.length
    over_top = length - hole.front - style.cap_ease_front
    return Piece(
        name="coat sleeve",
        edges=(
            hem_edge(hem, "front wrist", style.hem),
            seam_edge("back seam", back, "back wrist", single(back.length - ELBOW_NOTCH, "elbow")),
            seam_edge(
                "cap",
                cap,
                "back underarm",
                double(hole.back_notch, "back"),
                single(over_top, "shoulder tip"),
                single(length - hole.front_notch, "front"),
            ),
            seam_edge("front seam", front, "front underarm", single(ELBOW_NOTCH, "elbow")),
        ),
        darts=(dart,),
        grain=grain(0.0, -330.0, 90.0),
        levels=levels(biceps=(0.0, 0.0), elbow=(0.0, _elbow_y(body))),
        cuts=cuts("pair", "shell"),
    )


def _elbow_y(body: Wearer) -> float:
    return -(body.arm - 140.0) * 0.43


def _front_seam(body: Wearer, style: CoatStyle, half: float) -> Path:
    """Return the front seam, downwards: a gentle hollow at the elbow."""
    underarm = Vec(-half, 0.0)
    elbow = Vec(-half + 0.72 * (half - style.wrist_front), _elbow_y(body))
    wrist = Vec(-style.wrist_front, -(body.arm - 140.0))
    return spline((underarm, elbow, wrist), -80.0, -90.0 - FRONT_END_DEG)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Elbow:
    """The back seam with a dart of one width: below it, across its mouth, above it."""

    below: Path
    cap: Path
    above: Path
    point: Vec

    @property
    def net(self) -> float:
        """Length in mm with the dart folded out."""
        return self.below.length + self.above.length


def _back_seam(style: CoatStyle, half: float, front: Path) -> tuple[Path, Dart, Path]:
    """Return the back seam upwards with its dart, the dart, and the hem.

    The dart is as wide as it takes for the seam to be as long as the front's when folded out.
    """
    wrist = front.end + unit_at(-FOREARM_DEG) * style.wrist
    top = Vec(half - 11, front.segments[0].end.y + 2)
    underarm = Vec(half, 0.0)
    width = solve(lambda w: _elbow(style, wrist, top, underarm, w).net - front.length, 1.0, 80.0)
    e = _elbow(style, wrist, top, underarm, width)
    if abs(e.net - front.length) > 0.01:
        raise CannotDo(
            what="the elbow dart cannot be drafted",
            why="front and back seam differ too much",
            nearest="a wrist nearer to the elbow's width",
        )
    at = e.below.length
    dart = Dart(
        name="elbow dart",
        edge="back seam",
        a=at,
        b=at + e.cap.length,
        point=e.point,
        pressed="start",
    )
    return e.below.joined(e.cap).joined(e.above), dart, straight(front.end, wrist)


def _elbow(style: CoatStyle, wrist: Vec, top: Vec, underarm: Vec, width: float) -> _Elbow:
    """Draw the seam with a dart `width` mm wide; sewn, the seam runs straight on over the dart."""
    foot = top - unit_at(ELBOW_DEG) * width
    middle = top.lerp(foot, 0.5)
    depth = (style.elbow_dart**2 - (width / 2) ** 2) ** 0.5
    point = middle + unit_at(ELBOW_DEG).perp * depth
    angle_deg = 2 * math.degrees(math.atan2(width / 2, depth))
    above = bend(top, ELBOW_DEG, underarm, 80.0)
    below = bend(wrist, 90.0 - BACK_END_DEG, foot, ELBOW_DEG - angle_deg)
    cap = dart_cap(below, point, top, above, pressed="start")
    return _Elbow(below=below, cap=cap, above=above, point=point)


def cap_line(wanted: float, half: float, front: Path, back: Path) -> Path:
    """Return a cap of a length (mm) from back underarm to front underarm, square to both seams."""
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
