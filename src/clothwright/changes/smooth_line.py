"""Smooth a line: draw a corner or a dent in it in one fair curve, darts in it folded out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import with_true_cap
from clothwright.changes.redraw import blend, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import IDENTITY, Transform, rotation_deg
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, edge_name, show_angle_deg

REACH_MM = 50.0
"""mm to each side of a corner that are drawn anew: a hand's breadth in all (common practice)."""
FAIR_DEG = 1.0
"""Degrees: a line that turns by less in one place has no corner there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SmoothLine:
    """Parameters of `smooth-line`; lengths in mm."""

    edge: str = param("edge", "the edge with a corner or a dent", label="Which edge")
    at: float | None = param(
        "length",
        "how far from its start the corner is, darts folded out; left out: the sharpest one",
        default=None,
        label="Where",
    )
    reach: float = param(
        "length",
        "how far to each side of it the line is drawn anew",
        default=REACH_MM,
        least=2.0,
        label="How far to each side",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Flat:
    """An edge with its darts closed: one line, each dart where its legs meet on it.

    moves: of each part between darts how it was turned to close them.
    """

    path: Path
    darts: tuple[tuple[Dart, float], ...]
    moves: tuple[Transform, ...]


def apply(pattern: Pattern, params: SmoothLine) -> Outcome:
    """Draw an edge anew from `reach` before a place to `reach` after it, in one fair curve.

    Darts are folded out first and opened again, so that the line runs fair as it is sewn; their
    legs end on the new line, equally long, and their caps are true. The directions at both ends of
    the new curve stay, and so do notches outside it. Raises CannotDo on a fold, or for a place
    that is not on the edge. Source: common practice; plane geometry.
    """
    ref = parse_edge(params.edge)
    piece, edge = pattern.piece(ref.piece), pattern.edge(ref)
    called = edge_name(piece.name, edge.name)
    if edge.role is Role.FOLD:
        why, nearest = "a fold has to stay a straight line", "another edge"
        raise CannotDo(what=f"{called} cannot be smoothed", why=why, nearest=nearest)
    flat = _closed(piece, edge)
    at, turn = _corner(flat.path, params.at, called)
    if params.at is None and turn < FAIR_DEG:
        return Outcome(pattern=pattern, said=(f"Left {called} as it was: it runs fair.",))
    low, high = max(0.0, at - params.reach), min(flat.path.length, at + params.reach)
    new = drawn_fair(piece, edge.name, at, params.reach)
    refuse_crossing(new, f"{called} cannot be smoothed", "a shorter reach")
    longer = net_length(new, edge.name) - net_length(piece, edge.name)
    by = (", and is ", abs(longer), " longer" if longer > 0 else " shorter")
    turned = f", where it turned by {show_angle_deg(turn)}" if turn >= FAIR_DEG else ""
    said = (
        f"Smoothed {called}{turned} at ",
        at,
        f" from {end_words(piece, edge.name, 'start')}: it is drawn in one curve over ",
        high - low,
        *(by if abs(longer) > 0.05 else ()),
        ".",
    )
    return Outcome(pattern=pattern.with_piece(new), said=said)


def drawn_fair(piece: Piece, name: str, at: float, reach: float) -> Piece:
    """Return a piece with an edge in one curve from `reach` mm before a place to as far after it.

    at: mm from the edge's start; its darts are folded out, and opened again on the new line.
    """
    edge = piece.edge(name)
    flat = _closed(piece, edge)
    low, high = max(0.0, at - reach), min(flat.path.length, at + reach)
    return _opened(piece, edge, flat, smoothed(flat.path, low, high), (low, high))


def sharpest(piece: Piece, name: str, at: float, reach: float) -> float:
    """Return how far an edge turns at its sharpest corner within `reach` mm of a place, degrees."""
    path = _closed(piece, piece.edge(name)).path
    return max((turn for turn, where in _turns(path) if abs(where - at) < reach), default=0.0)


def _turns(path: Path) -> Iterator[tuple[float, float]]:
    """Yield the corners between the segments of a line: degrees, and mm from its start."""
    run = 0.0
    for s, t in pairwise(path.segments):
        run += s.length
        yield abs(turn_between_deg(s.tangent(1.0), t.tangent(0.0))), run


def _closed(piece: Piece, edge: Edge) -> _Flat:
    """Lay an edge out with its darts closed, what follows a dart turned on to what comes before."""
    parts, moves, at = [], [IDENTITY], 0.0
    darts = piece.darts_on(edge.name)
    for dart in darts:
        if dart.a - at > JOIN_MM:
            parts.append(edge.path.between(at, dart.a).transformed(moves[-1]))
        a, b = (edge.path.point_at(x) - dart.point for x in (dart.a, dart.b))
        moves.append(rotation_deg(turn_between_deg(b, a), dart.point).then(moves[-1]))
        at = dart.b
    if edge.length - at > JOIN_MM:
        parts.append(edge.path.between(at, edge.length).transformed(moves[-1]))
    whole = [parts[0]]
    for part in parts[1:]:
        whole.append(part.with_ends(start=whole[-1].end))
    ats = tuple((d, net_at(piece, edge.name, d.a)) for d in darts)
    return _Flat(path=join_all(whole), darts=ats, moves=tuple(moves))


def _corner(path: Path, at: float | None, called: str) -> tuple[float, float]:
    """Return where the line is to be smoothed, and by how many degrees it turns there."""
    found = [(0.0, path.length / 2)]
    found += [(turn, run) for turn, run in _turns(path) if at is None or abs(run - at) < 1.0]
    if at is not None and not 0.0 < at < path.length:
        raise CannotDo(
            what=(f"{called} has no place ", at, " from its start"),
            why=("it is ", path.length, " long, darts folded out"),
            nearest=("a distance from 0 to ", AtMost(path.length)),
        )
    turn, where = max(found)
    return (where, turn) if at is None else (at, turn)


def smoothed(path: Path, low: float, high: float) -> Path:
    """Return the line with what lies between two places (mm) in one curve."""
    p, q = path.point_at(low), path.point_at(high)
    curve = Path((blend(p, path.tangent_at(low + 1e-6), q, path.tangent_at(high - 1e-6)),))
    parts = [path.between(0.0, low)] if low > JOIN_MM else []
    parts.append(curve.with_ends(start=parts[-1].end) if parts else curve)
    if path.length - high > JOIN_MM:
        parts.append(path.between(high, path.length).with_ends(start=q))
    return join_all(parts)


def _opened(
    piece: Piece, edge: Edge, flat: _Flat, path: Path, between: tuple[float, float]
) -> Piece:
    """Return the piece with the new line cut at its darts and turned back; darts opened again."""
    low, high = between
    gain = path.length - flat.path.length

    def now(at: float) -> float:
        if at <= low:
            return at
        if at >= high:
            return at + gain
        return low + (at - low) * (high + gain - low) / (high - low)

    cuts = [_on_leg(flat, i, path, now(at)) for i, (_, at) in enumerate(flat.darts)]
    ends = [0.0, *cuts, path.length]
    parts: list[Path] = []
    darts: list[Dart] = []
    run = 0.0
    for i, (a, b) in enumerate(pairwise(ends)):
        if i:
            cut = path.point_at(cuts[i - 1])
            cap = polyline(tuple(flat.moves[k].inverse().apply(cut) for k in (i - 1, i)))
            darts.append(replace(flat.darts[i - 1][0], a=run, b=run + cap.length))
            parts.append(cap)
            run += cap.length
        if b - a > JOIN_MM:
            parts.append(path.between(a, b).transformed(flat.moves[i].inverse()))
            run += b - a
    places = [now(net_at(piece, edge.name, n.at)) for n in edge.notches]
    shifts = [sum(d.b - d.a for d, c in zip(darts, cuts, strict=True) if c < at) for at in places]
    notches = tuple(
        replace(n, at=at + by) for n, at, by in zip(edge.notches, places, shifts, strict=True)
    )
    return _redrawn(piece, replace(edge, path=_whole(edge, parts), notches=notches), darts)


def _whole(edge: Edge, parts: list[Path]) -> Path:
    """Join the parts, from the very start of the old edge to its very end."""
    out = [parts[0].with_ends(start=edge.path.start)]
    for part in parts[1:]:
        out.append(part.with_ends(start=out[-1].end))
    out[-1] = out[-1].with_ends(end=edge.path.end)
    return join_all(out)


def _redrawn(piece: Piece, edge: Edge, darts: list[Dart]) -> Piece:
    by_name = {d.name: d for d in darts}
    out = replace(
        piece,
        edges=tuple(edge if e.name == edge.name else e for e in piece.edges),
        darts=tuple(by_name.get(d.name, d) for d in piece.darts),
    )
    for dart in darts:
        out = with_true_cap(out, dart.name)
    return out


def _on_leg(flat: _Flat, i: int, path: Path, near: float) -> float:
    """Return where the new line crosses a dart's closed leg, run on; nearest to where it was."""
    dart, at = flat.darts[i]
    point = flat.moves[i].apply(dart.point)
    found = line_crossings(path, point, flat.path.point_at(at) - point)
    return min((c.at_a for c in found if c.at_b > 0), key=lambda x: abs(x - near), default=near)


CHANGE = Change(
    id="smooth-line",
    title="Smooth a line",
    topic="edges and seams",
    why="Where pieces were joined, a dart closed or an edge moved, the line gets a corner or a "
    "dent: it is drawn anew with a curved ruler, so that it is sewn and hangs without one.",
    source="common practice; plane geometry (docs/changes/smooth-line.md)",
    params=SmoothLine,
    apply=apply,
)
