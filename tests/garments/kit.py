"""What our garments share: half a block to draft on, corners that run fair, bands and facings.

Every half piece is drafted with its centre on the left, x = 0, and y = 0 at the waist; backs are
turned over at the end. Lengths in mm, angles in degrees. The wearer is the demo's, who is nobody.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.demo.body import SEAM, WEARER, CoatStyle
from clothwright.demo.coat import coat_frame
from clothwright.demo.curves import bend, dart_cap, scoop, spline, straight
from clothwright.demo.draft import cuts, fold_edge, seam_edge
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.piece import Dart, Edge, Grain, Mark, Notch, Piece, Role
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
    """Return front and back of a bodice: ease round the bust, armhole and neck lowered."""
    f = coat_frame(
        WEARER,
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


def band(
    name: str,
    long: float,
    high: float,
    *notches: Notch,
    how: str = "once",
    folded: bool = False,
    materials: Sequence[str] = ("shell", "interfacing"),
) -> Piece:
    """Return a straight band, `lower` sewn on; grain along it. With `folded`, half of it."""
    end = Edge(name="centre", path=straight((0.0, high), (0.0, 0.0)), role=Role.FOLD)
    return Piece(
        name=name,
        edges=(
            seam_edge("lower", straight((0.0, 0.0), (long, 0.0)), "low start", *notches),
            seam_edge("end", straight((long, 0.0), (long, high)), "low end"),
            seam_edge("upper", straight((long, high), (0.0, high)), "high end"),
            end if folded else seam_edge("start", end.path, "high start"),
        ),
        grain=Grain(start=Vec(long * 0.2, high * 0.4), end=Vec(long * 0.8, high * 0.4)),
        marks=(
            Mark(name="fold line", note="fold", path=straight((0.0, high / 2), (long, high / 2))),
        ),
        cuts=cuts("fold" if folded else how, *materials),
    )


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


def neck_facing(of: Piece, name: str, wide: float = 55.0) -> Piece:
    """Return the neck facing of a front or a back drafted with its centre on the left."""
    neck, shoulder = of.edge("neck"), of.edge("shoulder").path
    centre = next(e for e in of.edges if e.path.start.distance(neck.path.end) < 1e-6)
    end = shoulder.end - shoulder.end_tangent * wide
    low = centre.path.point_at(wide)
    inner = scoop(low, centre.path.tangent_at(wide).angle_deg + 90.0, end,
                  shoulder.end_tangent.angle_deg - 90.0, full=0.7)  # fmt: skip
    middle = centre.path.between(0.0, wide)
    return Piece(
        name=name,
        edges=(
            Edge(name="inner", path=inner, role=Role.RAW, corner="low centre"),
            seam_edge("shoulder", straight(end, shoulder.end), "facing point"),
            neck,
            fold_edge("centre", middle, centre.corner)
            if centre.role is Role.FOLD
            else seam_edge("centre", middle, centre.corner),
        ),
        grain=Grain(start=low.lerp(neck.path.end, 0.2) + Vec(8.0, 0.0),
                    end=low.lerp(neck.path.end, 0.8) + Vec(8.0, 0.0)),
        cuts=cuts("fold" if centre.role is Role.FOLD else "pair", "shell", "interfacing"),
    )  # fmt: skip


__all__ = [
    "SEAM",
    "Half",
    "Wedge",
    "arriving",
    "at",
    "band",
    "block",
    "darted",
    "inside_deg",
    "leaving",
    "neck_facing",
    "net",
    "over",
]
