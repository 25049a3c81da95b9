"""A new straight hem square to the grain, with the darts it meets closed while it is cut.

What cropping and squaring share. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.darts import with_true_cap
from clothwright.changes.redraw import Place, Recut, Redrawn, redrawn, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings, meet
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import IDENTITY, Transform, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import dart_corners
from clothwright.pattern.piece import Dart, Edge, Grain, Mark, Piece
from clothwright.pattern.rise import centre_of
from clothwright.words import AtLeast, Said

SHORTEST_MM = 1.0
"""mm of a neighbouring edge that must be left."""

GRAIN_MM = 20.0
"""mm of grain line that is kept at least; a shorter one is moved up whole instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """The new hem: through p along `along`; `up` is the side that stays. A frame of its own."""

    p: Vec
    up: Vec

    @property
    def along(self) -> Vec:
        return self.up.perp

    def height(self, q: Vec) -> float:
        return self.up.dot(q - self.p)

    def seen(self, back: Transform) -> _Line:
        return _Line(p=back.apply(self.p), up=back.apply_direction(self.up))


class _Panel(NamedTuple):
    """The part of the hem between two darts: the new hem in that part as the piece lies flat."""

    line: _Line
    before: Dart | None
    after: Dart | None


def new_hem(piece: Piece, hem: str, p: Vec, what: Said) -> Recut:
    """Return the piece with a hem edge made straight and square to the grain through p.

    The edges beside it are cut off there, or run on straight if they are too short. Darts that
    open at the hem are closed first and opened again: both legs end at the new hem, at equal
    distance from the point, and the cap is trued for the way the dart is pressed. The part with
    the fold or centre edge (else with the grain line) stays; the others turn with their dart.
    What lies wholly below the new hem is left out and told.

    what: begins the sentence of the CannotDo that is raised when the line would cut through a
    dart of another edge, or would cut an edge off altogether.
    """
    edge = piece.edge(hem)
    before, after = piece.neighbours(hem)
    line = _Line(p=p, up=piece.up)
    panels = _panels(piece, edge, line)
    above = _cut_neighbour(before, panels[0].line, what, reverse=False)
    below = _cut_neighbour(after, panels[-1].line, what, reverse=True)
    _check_others(piece, {hem, before.name, after.name}, line, what)
    path, darts = _hem_path(edge, panels, above.path.end, below.path.start)
    kept, lost = _darts_left(piece, edge, (panels[0].line, line, panels[-1].line), what)
    new = {
        hem: Redrawn(path, _nearer_end(edge.length, path.length)),
        before.name: above,
        after.name: below,
    }
    opened = {d.name: d for d in darts}
    placed = tuple(opened.get(d.name) or _placed(d, new) for d in kept)
    marks, lost_marks = _marks_left(piece, line)
    levels = tuple(lv for lv in piece.levels if line.height(lv.at) >= -JOIN_MM)
    lost_levels = [f"the {lv.name} line of {piece.name}" for lv in piece.levels if lv not in levels]
    out, gone = redrawn(
        piece, new, darts=placed, marks=marks, levels=levels, grain=_grain_left(piece, line)
    )
    for dart in darts:
        out = with_true_cap(out, dart.name)
    refuse_crossing(out, what, "a line that meets the edges beside the hem only")
    return Recut(out, (*gone, *lost, *lost_marks, *lost_levels))


def _nearer_end(old: float, new: float) -> Place:
    """Hem notches keep their distance from the nearer end; one that finds no room is gone."""

    def place(at: float) -> float | None:
        if abs(at - old / 2) < JOIN_MM:
            return new / 2
        moved = at if at < old / 2 else at + new - old
        return moved if 0.0 <= moved <= new else None

    return place


def _panels(piece: Piece, hem: Edge, line: _Line) -> tuple[_Panel, ...]:
    """The hem's parts between its darts, each with the new hem turned back with its dart."""
    darts = [d for d in piece.darts_on(hem.name) if line.height(d.point) > SHORTEST_MM]
    moves: list[Transform] = [IDENTITY] * (len(darts) + 1)
    stays = _fixed_panel(piece, hem, darts)
    for i in range(stays + 1, len(darts) + 1):
        moves[i] = _closing(hem, darts[i - 1], second=True).then(moves[i - 1])
    for i in range(stays - 1, -1, -1):
        moves[i] = _closing(hem, darts[i], second=False).then(moves[i + 1])
    bounds: list[Dart | None] = [None, *darts, None]
    return tuple(
        _Panel(line.seen(move.inverse()), bounds[i], bounds[i + 1]) for i, move in enumerate(moves)
    )


def _closing(hem: Edge, dart: Dart, *, second: bool) -> Transform:
    """Turn the part after the dart (second) or before it about the point until the legs meet."""
    a, b = hem.path.point_at(dart.a) - dart.point, hem.path.point_at(dart.b) - dart.point
    turn = turn_between_deg(b, a)
    return rotation_deg(turn if second else -turn, dart.point)


def _fixed_panel(piece: Piece, hem: Edge, darts: list[Dart]) -> int:
    """The part that keeps its place: beside the fold or centre edge, else under the grain line."""
    end = centre_of(piece, hem)
    if end:
        return len(darts) if end == "end" else 0
    middle = _grain_middle(piece, hem)
    return sum(1 for d in darts if _is_past(hem, d, middle))


def _grain_middle(piece: Piece, hem: Edge) -> Vec:
    if piece.grain is None:
        return hem.path.point_at(hem.length / 2)
    return piece.grain.start.lerp(piece.grain.end, 0.5)


def _is_past(hem: Edge, dart: Dart, q: Vec) -> bool:
    """True when q lies on the side of the dart's centre line where the hem goes on."""
    a, b = hem.path.point_at(dart.a), hem.path.point_at(dart.b)
    out = ((a - dart.point).unit + (b - dart.point).unit).unit
    return out.cross(q - dart.point) > 0


def _cut_neighbour(edge: Edge, line: _Line, what: Said, *, reverse: bool) -> Redrawn:
    """Cut an edge off at the new hem, or run it on; reverse: the edge starts at the hem."""
    path = edge.path.reversed() if reverse else edge.path
    if line.height(path.start) <= SHORTEST_MM:
        raise CannotDo(
            what=what,
            why=f'its edge "{edge.name}" would be cut off altogether',
            nearest=("a line ", AtLeast(SHORTEST_MM - line.height(path.start) + 0.1), " lower"),
        )
    crossings = line_crossings(path, line.p, line.along)
    found = next((c for c in crossings if c.at_a > JOIN_MM), None)
    length = path.length
    if found is not None:
        at = found.at_a
        new = path if at >= length - JOIN_MM else path.between(0.0, at)
        new = new.with_ends(end=found.point)
    else:
        new = _run_on(path, line, edge, what)
        at = length
    grown = new.length - length
    if reverse:
        return Redrawn(new.reversed(), lambda x: x + grown if x >= length - at - JOIN_MM else None)
    return Redrawn(new, lambda x: x if x <= at + JOIN_MM else None)


def _run_on(path: Path, line: _Line, edge: Edge, what: Said) -> Path:
    direction = path.end_tangent
    to = meet(path.end, direction, line.p, line.along)
    if to is None or (to - path.end).dot(direction) < 0 or -direction.dot(line.up) < 0.1:
        raise CannotDo(
            what=what,
            why=f'its edge "{edge.name}", run on straight, would not reach that line',
            nearest="a higher line",
        )
    last = path.segments[-1]
    if isinstance(last, Line):
        return Path((*path.segments[:-1], Line(last.p0, to)))
    return Path((*path.segments, Line(path.end, to)))


def _check_others(piece: Piece, done: set[str], line: _Line, what: Said) -> None:
    for edge in piece.edges:
        if edge.name in done:
            continue
        low = min(line.height(q) for q in edge.path.flatten(0.1))
        if low < -JOIN_MM:
            raise CannotDo(
                what=what,
                why=f'its edge "{edge.name}" would be cut into',
                nearest=("a line ", AtLeast(-low), " lower"),
            )


def _hem_path(
    hem: Edge, panels: tuple[_Panel, ...], start: Vec, end: Vec
) -> tuple[Path, tuple[Dart, ...]]:
    """The new hem with straight caps, and its darts."""
    points = [start]
    darts = []
    run = 0.0
    for panel in panels:
        if panel.before is not None:
            points.append(_on_leg(hem, panel.before, panel.before.b, panel.line))
            width = points[-2].distance(points[-1])
            darts.append(replace(panel.before, a=run, b=run + width))
            run += width
        if panel.after is not None:
            points.append(_on_leg(hem, panel.after, panel.after.a, panel.line))
        else:
            points.append(end)
        run += points[-2].distance(points[-1])
    return polyline(points), tuple(darts)


def _on_leg(hem: Edge, dart: Dart, at: float, line: _Line) -> Vec:
    leg = hem.path.point_at(at) - dart.point
    found = meet(dart.point, leg, line.p, line.along)
    return dart.point + leg if found is None else found


def _darts_left(
    piece: Piece, hem: Edge, lines: tuple[_Line, _Line, _Line], what: Said
) -> tuple[list[Dart], list[str]]:
    """Darts that stay, and those cut off; refuse to cut through a dart of another edge."""
    before, after = piece.neighbours(hem.name)
    of_edge = {before.name: lines[0], after.name: lines[2]}
    kept, lost = [], []
    for dart in piece.darts:
        line = of_edge.get(dart.edge, lines[1])
        heights = [line.height(q) for q in dart_corners(piece, dart)]
        if dart.edge == hem.name:
            stays = line.height(dart.point) > SHORTEST_MM
        elif min(heights) < -JOIN_MM < JOIN_MM < max(heights):
            raise CannotDo(
                what=what,
                why=f'it would cut through the dart "{dart.name}" of edge "{dart.edge}"',
                nearest=(
                    "a line ",
                    AtLeast(-min(heights)),
                    " lower, or the dart moved to the hem first",
                ),
            )
        else:
            stays = max(heights) > JOIN_MM
        if stays:
            kept.append(dart)
        else:
            lost.append(f'the dart "{dart.name}" of {piece.name}')
    return kept, lost


def _placed(dart: Dart, new: dict[str, Redrawn]) -> Dart:
    if dart.edge not in new:
        return dart
    a, b = (new[dart.edge].place(at) for at in (dart.a, dart.b))
    return replace(dart, a=dart.a if a is None else a, b=dart.b if b is None else b)


def _marks_left(piece: Piece, line: _Line) -> tuple[tuple[Mark, ...], list[str]]:
    """Marks above the new hem; a line mark is cut off there."""
    kept, lost = [], []
    for mark in piece.marks:
        if mark.path is None:
            stays = mark.at is None or line.height(mark.at) >= -JOIN_MM
            new = mark
        else:
            part = _above(mark.path, line)
            stays = part is not None
            new = mark if part is None or part is mark.path else replace(mark, path=part)
        if stays:
            kept.append(new)
        else:
            lost.append(f'the mark "{mark.name}" of {piece.name}')
    return tuple(kept), lost


def _above(path: Path, line: _Line) -> Path | None:
    """The longest part of a path above a line; None when nothing of it is."""
    cuts = [c.at_a for c in line_crossings(path, line.p, line.along)]
    inner = sorted(at for at in cuts if JOIN_MM < at < path.length - JOIN_MM)
    parts = path.split_many(inner) if inner else (path,)
    up = [q for q in parts if line.height(q.point_at(q.length / 2)) > 0]
    return max(up, key=lambda q: q.length, default=None)


def _grain_left(piece: Piece, line: _Line) -> Grain | None:
    """The grain line, cut off above the new hem; moved up whole if too little would be left."""
    grain = piece.grain
    if grain is None:
        return None
    below = GRAIN_MM / 2 - line.height(grain.start)
    if below <= GRAIN_MM / 2:
        return grain
    start = grain.start + line.up * below
    left = line.up.dot(grain.end - start)
    end = grain.end if left >= GRAIN_MM else grain.end + line.up * below
    return Grain(start=start, end=end)
