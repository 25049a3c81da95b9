"""Redraw edges of a piece and carry along what sits on them: notches, dart legs, marked lines.

Plane geometry that several changes share. Distances are mm along the stitching line as drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import NamedTuple

from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings, self_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.parts import ON_LINE_MM
from clothwright.pattern.piece import Edge, Mark, Notch, Piece, Role
from clothwright.pattern.places import lying_kind
from clothwright.words import Said, edge_name

FULL = (0.15, 0.6)
"""Handles of a fair curve, as shares of its chord, at least and at most (our own choice)."""
Place = Callable[[float], float | None]
"""Where a place on the old edge is on the new one, mm; None when it is gone."""


class Redrawn(NamedTuple):
    """A new path for an edge, and where its old places are now."""

    path: Path
    place: Place


class Recut(NamedTuple):
    """A piece with edges redrawn, and in words what was lost on the way."""

    piece: Piece
    gone: tuple[str, ...]


def redrawn(piece: Piece, new: Mapping[str, Redrawn], **rest: object) -> Recut:
    """Return the piece with the named edges redrawn.

    Notches and dart legs go to their new places. A notch whose place is gone is left out and
    told; so is a dart that loses a leg. A straight line marked up to such an edge, as a band's fold
    line is, runs up to it again. `rest` replaces other fields of the piece; darts and marks given
    there are taken as they are.
    """
    gone: list[str] = []
    edges = []
    for edge in piece.edges:
        if edge.name not in new:
            edges.append(edge)
            continue
        notches = []
        for notch in edge.notches:
            at = new[edge.name].place(notch.at)
            if at is None:
                gone.append(f"{_called(notch)} of {edge_name(piece.name, edge.name)}")
            else:
                notches.append(replace(notch, at=min(max(at, 0.0), new[edge.name].path.length)))
        notches.sort(key=lambda n: n.at)
        edges.append(replace(edge, path=new[edge.name].path, notches=tuple(notches)))
    if "darts" not in rest:
        darts = []
        for dart in piece.darts:
            if dart.edge in new:
                a, b = (new[dart.edge].place(at) for at in (dart.a, dart.b))
                if a is None or b is None:
                    gone.append(f'the dart "{dart.name}" of {piece.name}')
                    continue
                dart = replace(dart, a=a, b=b)  # noqa: PLW2901
            darts.append(dart)
        rest["darts"] = tuple(darts)
    rest.setdefault("marks", tuple(_run_up(piece, new, m) for m in piece.marks))
    return Recut(replace(piece, edges=tuple(edges), **rest), tuple(gone))  # type: ignore[arg-type]


def _run_up(piece: Piece, new: Mapping[str, Redrawn], mark: Mark) -> Mark:
    """Return a mark whose straight line runs up to the edges again that it ended on."""
    line = mark.path
    if line is None or not line.is_straight or lying_kind(mark.name):
        return mark
    way = line.end - line.start
    for name, drawn in new.items():
        for at_end, tip in enumerate(line.ends):
            if piece.edge(name).path.nearest(tip)[1] > ON_LINE_MM:
                continue
            met = line_crossings(drawn.path, tip, way)
            if met:
                to = drawn.path.point_at(min(met, key=lambda c: abs(c.at_b)).at_a)
                line = line.with_ends(end=to) if at_end else line.with_ends(start=to)
    return mark if line is mark.path else replace(mark, path=line)


def _called(notch: Notch) -> str:
    return f'notch "{notch.name}"' if notch.name else f"a {notch.kind.value} notch"


def kept(at: float) -> float | None:
    """Place (mm along the edge): as far from the start as before."""
    return at


def from_end(old: float, new: float) -> Place:
    """Place: as far from the end as before (old and new length of the edge)."""
    return lambda at: at + new - old


def from_nearer(old: float, new: float) -> Place:
    """Place (mm along the edge): as far as before from the nearer end; the middle stays it."""

    def place(at: float) -> float | None:
        if abs(at - old / 2) < JOIN_MM:
            return new / 2
        return at if at < old / 2 else at + new - old

    return place


def on_the_cloth(old: float, new: float, end: str) -> Place:
    """Place: it stays where it is on the cloth, counted from the end that does not move.

    old, new: lengths of the edge, mm; end: which of its ends moves, "start" or "end". What is on
    the part that is cut off keeps its distance from that end instead.
    """
    nearer = from_nearer(old, new)

    def place(at: float) -> float | None:
        stays = at if end == "end" else at + new - old
        return stays if 0.0 <= stays <= new else nearer(at)

    return place


def prolonged(path: Path, by: float) -> Path:
    """Return the path run on straight past its end by `by` mm, or cut off short when negative.

    A last straight line is made longer, a curve gains a straight line. A last line of no length has
    no direction and is left out. Cutting off the whole path raises ValueError.
    """
    while len(path.segments) > 1 and path.segments[-1].length < JOIN_MM:
        path = Path(path.segments[:-1])
    if by < -JOIN_MM:
        return path.between(0.0, path.length + by)
    last = path.segments[-1]
    to = path.end + path.end_tangent * by
    if abs(by) <= JOIN_MM:
        return path if by == 0.0 else path.with_ends(end=to)
    if isinstance(last, Line):
        return Path((*path.segments[:-1], Line(last.p0, to)))
    return Path((*path.segments, Line(path.end, to)))


def swung(path: Path, *, start: Vec | None = None, end: Vec | None = None) -> Path:
    """Return the path in the same proportions with one end moved, the other end kept.

    A straight path stays straight. A curve is turned about the kept end and grown or shrunk as a
    whole, so that moving the end back gives the old curve.
    """
    if start is not None:
        return swung(path.reversed(), end=start).reversed()
    if end is None or end == path.end:
        return path
    origin, old = path.start, path.end - path.start
    if path.is_straight or old.norm < JOIN_MM:
        return Path((Line(origin, end),))
    to = end - origin
    size = old.dot(old)
    cos, sin = old.dot(to) / size, old.cross(to) / size
    x, y = origin
    turn = Transform(cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)
    return path.transformed(turn).with_ends(start=origin, end=end)


def swung_edge(
    piece: Piece, name: str, *, start: Vec | None = None, end: Vec | None = None
) -> Redrawn:
    """Redraw an edge for a moved end; darts on it stay, only the run up to the first one swings.

    Notches keep their distance from the nearer end. Raises CannotDo where a dart opens at that end.
    """
    edge = piece.edge(name)
    darts = piece.darts_on(name)
    if not darts:
        path = swung(edge.path, start=start, end=end)
        return Redrawn(path, from_nearer(edge.length, path.length))
    if end is None:
        back = replace(edge, path=edge.path.reversed())
        hinge = edge.length - darts[0].a
    else:
        back, hinge = edge, darts[-1].b
    if edge.length - hinge < JOIN_MM:
        raise CannotDo(
            what=f"the end of {edge_name(piece.name, name)} cannot be moved",
            why=f'the dart "{(darts[0] if end is None else darts[-1]).name}" opens right there',
            nearest="to move the dart along its edge first",
        )
    fixed, run = back.path.split_at(hinge)
    path = fixed.joined(swung(run, end=end if start is None else start))
    new = path.length
    nearer = from_nearer(run.length, new - hinge)

    def place(at: float) -> float | None:
        s = at if end is not None else edge.length - at
        now = s if s <= hinge + JOIN_MM else hinge + (nearer(s - hinge) or 0.0)
        return now if end is not None else new - now

    return Redrawn(path if end is not None else path.reversed(), place)


def blend(start: Vec, leaving: Vec, end: Vec, arriving: Vec) -> Cubic:
    """Return one fair curve between two points with given directions of travel."""
    third = start.distance(end) / 3
    return Cubic(start, start + leaving.unit * third, end - arriving.unit * third, end)


def as_long(before: Path, after: Path, wanted: float, most: float = FULL[1]) -> Cubic:
    """Return a curve from where one line ends to where another starts, as long as is wanted (mm).

    It leaves and arrives in their directions, fuller or flatter by the length of its handles, which
    are at most so much of its chord; as near to the length as that comes.
    """
    p, q, chord = before.end, after.start, before.end.distance(after.start)
    ways = before.end_tangent * chord, after.start_tangent * chord

    def curve(share: float) -> Cubic:
        return Cubic(p, p + ways[0] * share, q - ways[1] * share, q)

    low, high = FULL[0], most
    for _ in range(40):
        share = (low + high) / 2
        low, high = (share, high) if curve(share).length < wanted else (low, share)
    return curve((low + high) / 2)


def refuse_crossing(piece: Piece, what: Said, nearest: str = "") -> None:
    """Raise CannotDo when the outline crosses itself after what was done to it."""
    found = self_crossings(piece.outline)
    if found:
        at = found[0].at_a
        name = piece.edges[-1].name
        for edge in piece.edges:
            if at <= edge.length:
                name = edge.name
                break
            at -= edge.length
        raise CannotDo(
            what=what,
            why=f'the outline of "{piece.name}" would cross itself at edge "{name}"',
            nearest=nearest or "a smaller amount",
        )


def keep_fold(edge: Edge, to: Vec, what: Said) -> None:
    """Refuse to move an end of an edge off its line (mm) where that is a fold. Raises CannotDo."""
    axis = (edge.path.end - edge.path.start).unit
    if edge.role is Role.FOLD and abs(axis.cross(to - edge.path.start)) > 10 * JOIN_MM:
        raise CannotDo(
            what=what,
            why=f'the fold "{edge.name}" would no longer lie on its line',
            nearest="a move along the fold, or the whole fold edge moved",
        )
