"""What our garments share: half a block to draft on, corners that run fair, darts.

Every half piece is drafted with its centre on the left, x = 0, and y = 0 at the waist; backs are
turned over at the end. Lengths in mm, angles in degrees. The wearer is the demo's, who is nobody.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.demo.body import SEAM, WEARER, CoatStyle
from clothwright.demo.coat import coat_frame
from clothwright.demo.curves import bend, dart_cap, scoop, spline, straight
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.piece import Dart, Piece
from clothwright.pattern.whole import moved


@dataclass(frozen=True, slots=True, kw_only=True)
class Half:
    """The points of half a bodice, front or back, centre at x = 0."""

    centre: Vec
    neck: Vec
    tip: Vec
    chest: Vec
    under: Vec

    @property
    def slope_deg(self) -> float:
        """Direction of the shoulder from tip to neck."""
        return (self.neck - self.tip).angle_deg

    @property
    def shoulder(self) -> Path:
        """The shoulder, tip to neck."""
        return straight(self.tip, self.neck)

    def neckline(self, full: float = 0.6) -> Path:
        """The neck, shoulder to centre: square to both."""
        return scoop(self.neck, self.slope_deg + 90, self.centre, 180.0, full=full)

    def armhole(self, start_deg: float = 180.0) -> Path:
        """The armhole, underarm to tip: leaves in a direction, arrives square to the shoulder."""
        round_ = scoop(self.under, 180.0, self.chest, 90.0, full=0.66)
        low = round_.point_at(round_.length * 0.45)
        return spline((self.under, low, self.chest, self.tip), start_deg, self.slope_deg - 90)


def block(
    bust_ease: float,
    *,
    drop: float = 6.0,
    neck_wider: float = 8.0,
    neck_depth: float = 95.0,
    back_ease: float = 6.0,
) -> tuple[Half, Half]:
    """Return front and back of a bodice: ease round the bust, armhole and neck lowered.

    neck_wider: by how much its neck is wider on each side; the shoulder is so much shorter.
    """
    f = coat_frame(
        replace(WEARER, shoulder=WEARER.shoulder + 8.0 - neck_wider),
        CoatStyle(
            bust_ease=bust_ease,
            underarm_drop=drop,
            neck_wider=neck_wider,
            neck_depth=neck_depth,
            back_ease=back_ease,
        ),
    )
    half = -f.back_underarm.x
    front = Half(
        centre=f.neck_low,
        neck=f.front_neck,
        tip=f.front_tip,
        chest=f.front_chest,
        under=Vec(half, f.back_underarm.y),
    )
    back = Half(
        centre=f.nape,
        neck=_over(f.back_neck),
        tip=_over(f.back_tip),
        chest=_over(f.back_blade),
        under=_over(f.back_underarm),
    )
    return front, back


def _over(p: Vec) -> Vec:
    return Vec(-p.x, p.y)


def inside_deg(before: Path, after: Path) -> float:
    """Return the inside angle of a corner, degrees: 180 where the line runs straight on."""
    return 180.0 - (after.start_tangent.angle_deg - before.end_tangent.angle_deg) % 360.0


def leaving(before: Path, inside: float = 90.0) -> float:
    """Return the direction in which to go on after an edge, for an inside angle there."""
    return before.end_tangent.angle_deg + 180.0 - inside


def arriving(after: Path, inside: float = 90.0) -> float:
    """Return the direction in which to come to an edge, for an inside angle there."""
    return after.start_tangent.angle_deg - 180.0 + inside


def over(piece: Piece) -> Piece:
    """Turn a piece over: a back, drafted like a front."""
    return moved(piece, reflection((0.0, 0.0), (0.0, 1.0)))


def at(path: Path, point: tuple[float, float]) -> float:
    """Return how far along a path the place nearest to a point lies, mm."""
    return path.nearest(point)[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wedge:
    """A dart to be drawn into a line: where its middle lies along it, its intake and depth, mm."""

    name: str
    at: float
    intake: float
    deep: float


def darted(
    edge: str, ground: Path, wedges: Sequence[Wedge], *, pressed: str = "end"
) -> tuple[Path, tuple[Dart, ...]]:
    """Return a gently bent line with darts square to it, that runs fair once they are sewn.

    The line comes squarely to each leg and leaves squarely from it; caps by fold and cut.
    """
    here, here_deg = ground.start, ground.start_tangent.angle_deg
    parts: list[Path] = []
    darts: list[Dart] = []
    run = 0.0
    for w in wedges:
        out = -ground.tangent_at(w.at).perp
        point = ground.point_at(w.at) - out * w.deep
        half_deg, leg = (
            math.degrees(math.atan2(w.intake / 2, w.deep)),
            math.hypot(w.deep, w.intake / 2),
        )
        a, b = (point + unit_at(out.angle_deg + s * half_deg) * leg for s in (-1, 1))
        before = bend(here, here_deg, a, out.angle_deg - half_deg + 90)
        here, here_deg = b, out.angle_deg + half_deg + 90
        cap = dart_cap(before, point, b, straight(b, b + unit_at(here_deg)), pressed=pressed)
        parts += [before, cap]
        run += before.length
        darts.append(
            Dart(name=w.name, edge=edge, a=run, b=run + cap.length, point=point, pressed=pressed)
        )
        run += cap.length
    parts.append(bend(here, here_deg, ground.end, ground.end_tangent.angle_deg))
    return join_all(parts), tuple(darts)


def net(path: Path, darts: Sequence[Dart]) -> float:
    """Return the length of a line with its darts folded out, mm."""
    return path.length - sum(d.b - d.a for d in darts)


__all__ = [
    "SEAM",
    "Half",
    "Wedge",
    "arriving",
    "at",
    "block",
    "darted",
    "inside_deg",
    "leaving",
    "net",
    "over",
]
