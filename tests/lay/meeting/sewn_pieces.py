"""Two pieces with one seam between them, drawn by the angles at which it leaves the grain."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.meeting.seams import meetings
from clothwright.lay.meeting.values import SeamMeeting
from clothwright.lay.result import Lay, Placement
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Dart, Edge, Grain, Notch, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.rules.compile import compile_lay
from clothwright.rules.plan import Plan

WIDE = 300.0


def slanting(length: float, angle_deg: float) -> Path:
    """A straight edge from (0, 0) up, leaving the grain (+y) by an angle towards +x."""
    angle = math.radians(angle_deg)
    return polyline(((0.0, 0.0), (length * math.sin(angle), length * math.cos(angle))))


def bowed(length: float, bow: float) -> Path:
    """A cubic from (0, 0) up to (0, length), bowed by so much towards +x and -x."""
    return Path(
        (Cubic(Vec(0, 0), Vec(bow, length / 3), Vec(-bow, 2 * length / 3), Vec(0, length)),)
    )


def piece(
    name: str,
    edge: Path,
    *,
    left: bool,
    notches: tuple[Notch, ...] = (),
    dart: tuple[float, float] | None = None,
) -> Piece:
    """A piece with a seam edge "side" from its hem up: on its right, or on its left side.

    notches, dart: mm along the edge from the hem. A cut as a single, grain upwards.
    """
    low, high = edge.start, edge.end
    far = -WIDE if not left else WIDE
    a, b = Vec(low.x + far, low.y), Vec(high.x + far, high.y)
    length = edge.length
    if left:
        edge = edge.reversed()
        notches = tuple(replace(n, at=length - n.at) for n in notches)
        dart = dart and (length - dart[1], length - dart[0])
    side = Edge(
        name="side", path=edge, notches=notches, corner="side hem" if not left else "underarm"
    )
    top = Edge(name="top", path=polyline((high, b) if not left else (b, high)), corner="underarm")
    other = Edge(name="other", path=polyline((b, a) if not left else (a, b)))
    hem = Edge(name="hem", path=polyline((a, low) if not left else (low, a)), role=Role.HEM)
    inside = (edge.point_at(length / 2).x + far / 3, edge.point_at(length / 2).y)
    return Piece(
        name=name,
        edges=(hem, side, top, other) if not left else (hem, other, top, side),
        darts=()
        if dart is None
        else (Dart(name="bust", edge="side", a=dart[0], b=dart[1], point=Vec(*inside)),),
        grain=Grain(start=Vec(a.x, a.y), end=Vec(a.x, a.y + 100.0)),
        cuts=(Cut(how="once"),),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Two:
    """Two pieces sewn together at their edges "side", from the hem up."""

    a: Piece
    b: Piece

    @property
    def pattern(self) -> Pattern:
        """Both pieces and the seam between them."""
        seam = Seam(name="side", a=(parse_edge("a.side"),), b=(parse_edge("b.side reversed"),))
        return Pattern(pieces=(self.a, self.b), seams=(seam,))

    def laid(
        self,
        design: Print,
        a: tuple[float, float, float],
        b: tuple[float, float, float],
    ) -> tuple[Compiled, Lay]:
        """Lay both: x and y (mm) of the hem's end of the seam on the cloth, and the turn."""
        cloth = Cloth(name="c", width=3000.0, length=5000.0, print=design)
        compiled = compile_lay(self.pattern, (cloth,), Plan(name="p"))
        places = []
        for name, (x, y, turn) in (("a", a), ("b", b)):
            mine = self.a if name == "a" else self.b
            low = mine.edge("side").path.start if name == "a" else mine.edge("side").path.end
            at = compiled.copy(name).frame_point(low)
            c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
            places.append(
                Placement(
                    shape=name,
                    region="c",
                    turn_deg=turn,
                    flipped=False,
                    x=x - (c * at.x - s * at.y),
                    y=y - (s * at.x + c * at.y),
                    outline=(),
                )
            )
        return compiled, Lay(placements=tuple(places))

    def meeting(
        self,
        design: Print,
        a: tuple[float, float, float],
        b: tuple[float, float, float],
        *,
        tolerance: float | None = None,
    ) -> SeamMeeting:
        """Return how the print meets along the seam."""
        compiled, lay = self.laid(design, a, b)
        (found,) = meetings(
            self.pattern, compiled, lay, {} if tolerance is None else {"side": tolerance}
        )
        return found
