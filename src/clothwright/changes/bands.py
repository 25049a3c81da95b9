"""A band made for an edge of a piece: its ends, its seams, and what is said of it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.changes.darts import free_name
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.pattern.band import EASES, gained, parts_for
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.trail import Trail, named_points
from clothwright.pattern.whole import TWIN
from clothwright.words import Sentence, show_angle_deg

FREE, SEWN = "lower edge", "upper edge"
"""The edges of a band: its free one, and the one that is sewn to the piece; its ends are called as
the edges of the piece that they continue."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AppliedBand:
    """A band made for an edge of a piece `of`, as it was before.

    sewn_to: what the edge is called on the piece now. after, before: the edges beside it; the
    band's ends are called as they are. theta_deg: the angle of the curve, 0 for a straight edge.
    """

    piece: Piece
    of: Piece
    edge: Edge
    sewn_to: str
    after: Edge
    before: Edge
    theta_deg: float

    @property
    def ends(self) -> tuple[tuple[str, str], tuple[str, str]]:
        """Each edge of the piece beside the band, and the end of the band that continues it."""
        after, before = self.after.name, self.before.name
        return (after, end_name(after)), (before, end_name(before))

    @property
    def cut_size(self) -> tuple[float, float]:
        """How long and how deep the band is cut, mm, allowances counted in; on the fold, half."""
        free, sewn = self.piece.edge(FREE), self.piece.edge(SEWN)
        deep = self.piece.up.dot(sewn.path.end - free.path.start)
        ends = sum(self.piece.edge(name).allowance for _, name in self.ends)
        return free.length + ends, deep + free.allowance + sewn.allowance

    def at_corner(self, edge: str) -> EdgeRef:
        """Return the end that is mitred to the band of an edge beside it, from the corner in."""
        return EdgeRef(self.piece.name, end_name(edge), reversed=edge == self.before.name)


def end_name(edge: str) -> str:
    """Return what the end of a band is called that continues an edge of its piece."""
    return free_name((FREE, SEWN), edge)


def rank(edge: Edge) -> tuple[bool, str]:
    """Tell from which end a seam is sewn: from the fold or centre, else from the first by name."""
    return (edge.role not in (Role.FOLD, Role.CENTRE), edge.name)


def seams_of_bands(pattern: Pattern, made: Sequence[AppliedBand]) -> Iterator[Seam]:
    """Yield the seams there were, those of the edges on the bands now, and the bands' own."""
    names = [s.name for s in pattern.seams]

    def seam(name: str, a: EdgeRef, b: EdgeRef) -> Seam:
        names.append(free_name(tuple(names), name))
        return Seam(name=names[-1], a=(a,), b=(b,))

    free = {(b.of.name, b.edge.name): b.piece.name for b in made}
    for old in pattern.seams:
        yield replace(old, a=_moved(old.a, free), b=_moved(old.b, free))
    for band in made:
        forward = rank(band.before) <= rank(band.after)
        mine = EdgeRef(band.of.name, band.sewn_to, reversed=not forward)
        yield seam(f"{band.piece.name} seam", mine, EdgeRef(band.piece.name, SEWN, forward))
    for one, two in itertools.combinations(made, 2):
        if one.of == two.of and two.edge.name in (one.after.name, one.before.name):
            refs = one.at_corner(two.edge.name), two.at_corner(one.edge.name)
            yield seam(f"{one.piece.name} mitre", *refs)
    at = {(b.of.name, e): (b.piece.name, end) for b in made for e, end in b.ends}
    for old in pattern.seams:
        for a, b in ((old.a[k], old.b[k]) for k in (0, -1)):
            here, there = at.get((a.piece, a.edge)), at.get((b.piece, b.edge))
            if here is not None and there is not None and here != there:
                refs = EdgeRef(*here, a.reversed), EdgeRef(*there, b.reversed)
                yield seam(f"{old.name} band", *refs)
                break


def _moved(side: tuple[EdgeRef, ...], free: Mapping[tuple[str, str], str]) -> tuple[EdgeRef, ...]:
    """Return a side of a seam with each edge that has a band named on the band."""
    return tuple(
        EdgeRef(free[r.piece, r.edge], FREE, r.reversed) if (r.piece, r.edge) in free else r
        for r in side
    )


def trail_of(made: Sequence[AppliedBand]) -> Trail:
    """Return where the edges have gone: to the bands' free edges, their ends and middles too."""
    edges, points = [], []
    for band in made:
        was, on = (band.of.name, band.edge.name), (band.piece.name, FREE)
        edges.append((was, (on,)))
        for name in named_points(band.of):
            spot = name.removeprefix(f"{band.edge.name} ")
            if spot != name and spot.removesuffix(TWIN) in ("start", "middle", "end"):
                points.append(((band.of.name, name), ((band.piece.name, f"{FREE} {spot}"),)))
            elif spot != name and spot.startswith("notch "):
                points.append(((band.of.name, name), ((band.of.name, f"{band.sewn_to} {spot}"),)))
    return Trail(edges=tuple(edges), points=tuple(points))


def on_curve(band: AppliedBand, depth: float) -> Sentence:
    """Say what the free edge of a straight strip (`depth` mm) lacks on a curve, and what to do."""
    theta_deg, long = abs(band.theta_deg), band.edge.path.length
    lacks = gained(theta_deg, depth)
    if lacks < JOIN_MM:
        return ()
    way = "short" if band.theta_deg > 0 else "long"
    first = (", its free edge is ", lacks, f" too {way} for the curve")
    if lacks <= EASES * long:
        return (*first, ", little enough to be eased")
    parts = parts_for(long / math.radians(theta_deg), theta_deg)
    mitre = show_angle_deg(theta_deg / (2 * parts))
    return (*first, f": cut it in {parts} parts and mitre each joint by {mitre} on both sides")
