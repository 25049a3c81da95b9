"""A strip along edges as they are sewn: facings, shaped waistbands, flat collars. Lengths in mm."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.changes.cut_out import off_fold, stretch_of, with_inside_of
from clothwright.changes.darts import free_name
from clothwright.changes.redraw import blend
from clothwright.changes.runs import SewnRun, joined_path, laid_together, main_run, without_dart
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import crossings, line_crossings
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Segment
from clothwright.geometry.shift import chained
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Join, Piece, Role
from clothwright.words import AtMost

INNER = "inner"
"""The edge of a strip that lies on the piece, where it ends; a lining is sewn to it."""
UNSEWN = (Role.HEM, Role.BOUND, Role.RAW)
"""What an edge is that nothing is sewn to; it is a seam when something is."""
ENDING_MM = 60.0
"""mm: how much of an inner line is drawn anew at most, where it ends at a seam."""
LEAST_MM = 10.0
"""mm: a strip narrower than this is no facing (common practice)."""
FAIR_MM, FAIR_DEG = 0.01, 0.1
"""mm, degrees: what is as near to where it should end need not be drawn anew."""
CORNER_DEG = 20.0
"""Degrees: a line that turns by more in one point has a corner there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip of one width along runs that are laid together.

    inner: its other long side, in the runs' direction, from the edge before the first run to the
    edge after the last one; before, after: how far along these it ends, mm from their starts.
    name: the piece whose drawing it lies on.
    """

    name: str
    runs: tuple[SewnRun, ...]
    inner: Path
    before: float
    after: float

    @property
    def main(self) -> SewnRun:
        """The run whose grain and fold it has."""
        return main_run(self.runs, self.name)

    def reach(self, *, after: bool) -> float:
        """Return how long its end is, mm: as far it goes along the edge beside the runs there."""
        return self.after if after else self.runs[0].before.length - self.before

    def leaving(self, *, after: bool) -> tuple[Vec, Vec]:
        """Return the directions at an end: of the edge it lies on, of the inner line from it."""
        if after:
            return self.runs[-1].after.path.tangent_at(self.after), -self.inner.end_tangent
        return -self.runs[0].before.path.tangent_at(self.before), self.inner.start_tangent

    def reaching(self, reach: float, way: Vec, *, after: bool) -> Strip:
        """Return it with an end so long (mm), from which the inner line leaves that way."""
        if after:
            end = self.runs[-1].after.path.point_at(reach)
            return replace(self, inner=_ended(self.inner, end, -way), after=reach)
        before = self.runs[0].before
        at = before.length - reach
        inner = _ended(self.inner.reversed(), before.path.point_at(at), -way).reversed()
        return replace(self, inner=inner, before=at)


def _ended(line: Path, end: Vec, way: Vec) -> Path:
    """Return a line that comes to another end that way, by one fair curve at its end."""
    if line.end.is_near(end, FAIR_MM) and abs(turn_between_deg(line.end_tangent, way)) < FAIR_DEG:
        return line.with_ends(end=end)
    start = max(0.5 * line.length, line.length - ENDING_MM)
    curve = blend(line.point_at(start), line.tangent_at(start), end, way)
    return chained([line.between(0.0, start), Path((curve,))])


def strip_along(
    pattern: Pattern, runs: Sequence[SewnRun], width: float, *, lap: float = 0.0
) -> Strip:
    """Return the strip (mm wide) inside the pieces, over the seams between runs if there are any.

    lap: as for `laid_together`. Darts that reach into it are closed first; where the edges turn a
    corner, the inner line is rounded. Raises CannotDo where the edges beside the runs are too short
    for it.
    """
    loose = tuple(runs)
    while True:
        strip = _strip(loose[0].piece.name, laid_together(pattern, loose, lap), width)
        found = [(run.piece.name, d) for run in strip.runs for d in _darts_in(run, strip)]
        if not found:
            return strip
        loose = tuple(_shut(run, *found[0]) for run in loose)


def _shut(run: SewnRun, piece: str, dart: str) -> SewnRun:
    """Return a run of that piece with a dart closed."""
    if run.piece.name != piece or all(d.name != dart for d in run.piece.darts):
        return run
    away = (run.before.name, *run.names, run.after.name)
    return replace(run, piece=without_dart(run.piece, dart, away))


def _darts_in(run: SewnRun, strip: Strip) -> list[str]:
    """Return the darts whose legs the inner line crosses, or that open beside the run within it."""
    found = []
    for dart in run.piece.darts:
        path = run.piece.edge(dart.edge).path
        legs = polyline((path.point_at(dart.a), dart.point, path.point_at(dart.b)))
        within = (dart.edge == run.after.name and dart.a < strip.after) or (
            dart.edge == run.before.name and dart.b > strip.before
        )
        if within or crossings(legs, strip.inner):
            found.append(dart.name)
    return found


def _strip(name: str, runs: tuple[SewnRun, ...], width: float) -> Strip:
    strip = _inner(name, runs, width)
    if strip is None:
        low, high = 0.0, width
        for _ in range(12):
            middle = (low + high) / 2
            low, high = (low, middle) if _inner(name, runs, middle) is None else (middle, high)
        binding = "a binding, or edges beside which the pieces reach farther in"
        raise CannotDo(
            what=(f'"{name}" has no room for a strip ', width, " wide along these edges"),
            why=f"it would run past {runs[0].before.name} or {runs[-1].after.name}",
            nearest=("a width of ", AtMost(low)) if low >= LEAST_MM else binding,
        )
    return strip


def _inner(name: str, runs: tuple[SewnRun, ...], width: float) -> Strip | None:
    """Return the strip, None where its inner line does not reach the edges beside the runs."""
    try:
        line = rounded(parallel(joined_path(runs), -width), width)
    except CannotDo:
        return None
    on = _reaching(line, runs[-1].after.path)
    back = on and _reaching(on[0].reversed(), runs[0].before.path.reversed())
    if not on or not back or back[0].length < JOIN_MM:
        return None
    before = runs[0].before.length - back[1]
    return Strip(name=name, runs=runs, inner=back[0].reversed(), before=before, after=on[1])


def _reaching(line: Path, beside: Path) -> tuple[Path, float] | None:
    """Return a line ended on the path it comes to, run on straight if need be, and where on it."""
    found = [(c.at_b, c.at_a, c.point) for c in crossings(line, beside)]
    found += [
        (c.at_a, line.length + c.at_b, c.point)
        for c in line_crossings(beside, line.end, line.end_tangent)
        if c.at_b > 0.0
    ]
    found = [f for f in found if f[0] > JOIN_MM and f[1] > JOIN_MM]
    if not found:
        return None
    at, run, point = min(found, key=lambda f: f[0])
    if run < line.length:
        return line.between(0.0, run).with_ends(end=point), at
    if run - line.length <= JOIN_MM:
        return line.with_ends(end=point), at
    return line.joined(polyline((line.end, point))), at


def rounded(path: Path, radius: float) -> Path:
    """Return a path with its corners rounded off, by arcs that begin at most `radius` mm off."""
    segments = list(path.segments)
    out: list[Segment] = [segments[0]]
    for segment in segments[1:]:
        last = out.pop()
        turn = turn_between_deg(last.tangent(1.0), segment.tangent(0.0))
        back = min(radius, 0.45 * last.length, 0.45 * segment.length)
        if abs(turn) < CORNER_DEG or back < 1.0:
            out += [last, segment]
            continue
        first = last.split(last.t_at(last.length - back))[0]
        rest = segment.split(segment.t_at(back))[1]
        out += [first, _arc(first, rest, back), rest]
    return Path(tuple(out))


def _arc(before: Segment, after: Segment, back: float) -> Cubic:
    """Return the curve from one segment to the next that is the arc of a circle for straight ones.

    Handles 4/3 tan(θ/4) of the radius, which is `back` / tan(θ/2) (standard).
    """
    u, v = before.tangent(1.0), after.tangent(0.0)
    theta = math.radians(abs(turn_between_deg(u, v)))
    handle = 4 / 3 * math.tan(theta / 4) * back / math.tan(theta / 2)
    return Cubic(before.end, before.end + u * handle, after.start - v * handle, after.start)


def strip_piece(strip: Strip, name: str, *, allowance: float, material: str = "shell") -> Piece:
    """Return the strip as a piece: the edges it lies along, and an inner one of its own.

    The edges keep notches, allowances and names (after that of their piece, where two are called
    the same); a hem or a bound edge is a seam of it, with `allowance` (mm), which the inner edge
    has, too. Grain, levels and marks are those of the main piece.
    """
    first, last, main = strip.runs[0], strip.runs[-1], strip.main
    after = stretch_of(last.after, 0.0, strip.after)
    before = stretch_of(first.before, strip.before, first.before.length)
    own = [(r.piece, _faced(e, allowance)) for r in strip.runs for e in r.edges]
    own += [(last.piece, replace(after, join=Join.EXTENDED))]
    own += [(first.piece, replace(before, join=Join.EXTENDED))]
    edges = _named_apart(own)
    inner = Edge(name=INNER, path=strip.inner.reversed(), allowance=allowance)
    how = _cut_of(main.piece, material, on_fold=any(e.role is Role.FOLD for e in edges[-2:]))
    piece = replace(
        main.piece,
        name=name,
        edges=closed_up((*edges[:-1], inner, edges[-1])),
        darts=(),
        cuts=(how,),
        note="",
    )
    return with_inside_of(piece, main.piece, strip.inner)


def _named_apart(own: Sequence[tuple[Piece, Edge]]) -> list[Edge]:
    """Return edges of pieces, with the names of their pieces where two are called the same."""
    known = Counter((INNER, *(e.name for _, e in own)))
    out: list[Edge] = []
    for piece, edge in own:
        name = edge.name if known[edge.name] == 1 else f"{piece.name} {edge.name}"
        out.append(replace(edge, name=free_name(tuple(e.name for e in out), name)))
    return out


def closed_up(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """Return edges round a piece with each starting just where the one before it ends."""
    out = list(edges)
    for i, edge in enumerate(out):
        out[i] = replace(edge, path=edge.path.with_ends(start=out[i - 1].path.end))
    return tuple(out)


def _faced(edge: Edge, allowance: float) -> Edge:
    if edge.role not in UNSEWN:
        return replace(edge, join=Join.EXTENDED)
    return replace(edge, role=Role.SEAM, allowance=allowance, join=Join.EXTENDED)


def _cut_of(piece: Piece, material: str, *, on_fold: bool) -> Cut:
    cut = replace(piece.cuts[0], material=material) if piece.cuts else Cut(material=material)
    return cut if on_fold else off_fold(cut)
