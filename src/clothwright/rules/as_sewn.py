"""How two copies have to be turned so that their print can meet where they are sewn together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.cloth.motions import AS_IT_IS, Motion, Motions
from clothwright.geometry.vec import Vec, turn_apart
from clothwright.lay import problem as put
from clothwright.lay.meeting.compare import LEVEL_DEG
from clothwright.lay.result import Placement
from clothwright.lay.sewn import SEWN_KINDS, placement_move
from clothwright.lay.turning import may
from clothwright.pattern.parts import ON_LINE_MM, front_or_back
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import TWIN
from clothwright.rules.joins import SewnTogether
from clothwright.rules.table import CuttingTable, Lying, WrongRule
from clothwright.words import show_angle_deg

Place = tuple[str, Vec]
"""A piece, and a point of it as drawn."""


class AsSewn(NamedTuple):
    """How the print of two copies meets: turned so, the first lies where `motion` has the second.

    turn: the rule that turns them; motion: one of the print.
    """

    turn: put.SameTurn
    motion: Motion


@dataclass(frozen=True, slots=True, kw_only=True)
class SewnHere:
    """Where two copies are sewn together.

    way_a, way_b: degrees from the top of each, the way the seam runs. one_way: both tops stay one
    way, as of a front, a back and a sleeve.
    """

    a: Lying
    b: Lying
    way_a: float
    way_b: float
    one_way: bool

    def bent(self, by_deg: float, motion: Motion) -> float:
        """Return by how much bars are bent, degrees, at worst.

        by_deg: the second is turned so much further. motion: of the print, on the second.
        """
        turns = [
            t for t in self.a.turns_deg if may(self.b.turns_deg, t + by_deg)
        ] or self.a.turns_deg
        return max(
            turn_apart(self.way_a + t, motion.turned(self.way_b + t + by_deg)) for t in turns
        )

    @property
    def tried(self) -> tuple[float, ...]:
        """By how many degrees the second may be turned further than the first; alike at first."""
        apart = ((t - s) % 360.0 for s in self.a.turns_deg for t in self.b.turns_deg)
        return tuple(dict.fromkeys((0.0, *(() if self.one_way else apart))))


def as_sewn(
    at: CuttingTable, join: SewnTogether, design: Motions, a: Place, b: Place, *, field: str
) -> AsSewn:
    """Return how two copies have to lie so that their print can meet at a place of a seam.

    The same way up and the print running on come first, then another motion of the print (at a
    shoulder front and back are each other's mirror image), then one turned round. Places that no
    seam holds together lie on each other as they are. design: printed at both. field: of the rule,
    which says how they meet.
    Raises WrongRule where bars are always bent by more than what still meets (`LEVEL_DEG`), as the
    seam is told (docs/meeting.md).
    """
    name, shapes = f"same way {join.tag}", (join.a.id, join.b.id)
    here = _here(at.pattern, join, a, b)
    if here is None:
        return AsSewn(put.SameTurn(id=name, shapes=shapes), AS_IT_IS)
    ways = [(by, m) for by in here.tried for m in design.operations]
    bent = {way: here.bent(*way) for way in ways}
    best = min(
        bent, key=lambda way: (bent[way] > LEVEL_DEG, way[0] != 0.0, way[1] != AS_IT_IS, bent[way])
    )
    if bent[best] > LEVEL_DEG + join.a.tilt_deg + join.b.tilt_deg:
        raise WrongRule(
            field=field,
            what=f'where "{a[0]}" and "{b[0]}" are sewn together, the print of the one would be '
            f"turned by {show_angle_deg(min(bent.values()))} against that of the other",
            expected=f"no more than {LEVEL_DEG:.0f}°: beyond that nothing meets",
            try_=f'a rule that lays "{b[0]}" on another grain, or a place where the two run alike',
        )
    by, motion = best
    return AsSewn(put.SameTurn(id=name, shapes=shapes, by_deg=by), motion)


def _here(pattern: Pattern, join: SewnTogether, a: Place, b: Place) -> SewnHere | None:
    found = next(_ways(pattern, a, b), None)
    if found is None:
        return None
    (way_a, way_b), kind = found
    return SewnHere(
        a=join.a,
        b=join.b,
        way_a=_heading(join.a, way_a, twin=join.both["point_a"].endswith(TWIN)),
        way_b=_heading(join.b, way_b, twin=join.both["point_b"].endswith(TWIN)),
        one_way=kind == "cap" or all(front_or_back(e.copy.piece) for e in (join.a, join.b)),
    )


def _ways(pattern: Pattern, a: Place, b: Place) -> Iterator[tuple[tuple[Vec, Vec], str]]:
    """Yield the ways in which a seam runs at two places sewn together, and its kind."""
    for seam in pattern.seams:
        for sides in ((seam.a, seam.b), (seam.b, seam.a)):
            if seam.kind in SEWN_KINDS:
                one, two = (_way(pattern, s, p) for s, p in zip(sides, (a, b), strict=True))
                if one is not None and two is not None:
                    yield (one, two), seam.kind


def _way(pattern: Pattern, side: tuple[EdgeRef, ...], place: Place) -> Vec | None:
    """Return the way one side of a seam runs at a place, None where the place is not on it."""
    name, point = place
    for ref in (r for r in side if r.piece == name):
        path = pattern.edge(ref).path
        at, off = path.nearest(point)
        if off <= ON_LINE_MM:
            way = path.tangent_at(at)
            return -way if ref.reversed else way
    return None


def _heading(lying: Lying, way: Vec, *, twin: bool) -> float:
    """Return a direction of a piece as drawn, degrees from its copy's top, right side up."""
    flat = Placement(
        shape=lying.id,
        region="",
        turn_deg=0.0,
        flipped=lying.copy.turned_over,
        x=0.0,
        y=0.0,
        outline=(),
    )
    move = placement_move(lying.copy, flat, twin=twin)
    return (move.apply(way) - move.apply((0.0, 0.0))).angle_deg
