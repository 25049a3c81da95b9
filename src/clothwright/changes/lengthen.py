"""Lengthen or shorten pieces at a level line."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.redraw import Redrawn, blend, redrawn, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform, translation
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Grain, Mark, Piece
from clothwright.units.params import param
from clothwright.words import AtLeast, AtMost, Sentence, listed

REACH_MM = 50.0
"""mm above and below the cut over which a curved edge is redrawn, at least (common practice: the
step is blended with a curved ruler over a hand's breadth)."""

LEFT_MM = 1.0
"""mm along the grain that must be left of every run that is shortened."""

DIP_MM = 0.05
"""mm an edge may dip past the cut and still count as lying on one side of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengthen:
    """Parameters of `lengthen`; lengths in mm."""

    pieces: tuple[str, ...] = param(
        "pieces",
        "the pieces to change alike: shell, lining, facing; all with that level",
        label="Which pieces",
    )
    level: str = param("level", "the level line to cut at", label="At which line")
    by: float = param("length", "how much longer; a minus shortens", label="By how much")
    above: float = param(
        "length",
        "cut this far above the level line (a minus: below it)",
        default=0.0,
        label="How far above that line",
    )
    curves: str = param(
        "choice",
        "",
        default="smooth",
        choices={"smooth": "it is blended over the cut", "spread": "it is left as cut and spread"},
        label="What a curved edge does at the cut",
    )


def apply(pattern: Pattern, params: Lengthen) -> Outcome:
    """Cut each piece at the level and spread it along the grain (a minus folds it out).

    Everything below the cut (away from the tip of the grain arrow) moves by exactly `by` along
    the grain; what lies above stays. An edge that crosses the cut is redrawn: straight if it was
    straight, otherwise in one fair curve. Notches and darts above the cut keep their distance
    from the upper end of their edge, those below from the lower end.

    Raises CannotDo when a dart lies across the cut, when nothing lies below it, or when there is
    not so much to take out; BadInput for unknown names.
    Source: docs/sources.md, lengthening and shortening.
    """
    changed = pattern
    for name in params.pieces:
        piece = pattern.piece(name)
        at = piece.level(params.level).at + piece.up * params.above
        new = lengthened(piece, at, params.by, curves=params.curves)
        if new is not piece:
            changed = changed.with_piece(new)
    return Outcome(pattern=changed, said=_said(params))


def _said(params: Lengthen) -> Sentence:
    names = listed(params.pieces)
    if params.by == 0:
        return (f"Left {names} as long as before.",)
    where: Sentence = (f" at the {params.level} line.",)
    if params.above:
        place = "above" if params.above > 0 else "below"
        where = (", cut ", abs(params.above), f" {place} the {params.level} line.")
    verb = "Lengthened" if params.by > 0 else "Shortened"
    return (f"{verb} {names} by ", abs(params.by), *where)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """A cut through `p` square to the grain; what lies below moves `by` down the grain."""

    piece: str
    p: Vec
    up: Vec
    by: float
    curves: str

    def height(self, q: Vec) -> float:
        return self.up.dot(q - self.p)

    def is_below(self, q: Vec) -> bool:
        return self.height(q) < -JOIN_MM

    @property
    def move(self) -> Transform:
        return translation(self.up * -self.by)

    def moved(self, q: Vec) -> Vec:
        return self.move.apply(q) if self.is_below(q) else q

    @property
    def what(self) -> Sentence:
        verb = "lengthened" if self.by > 0 else "shortened"
        return (f'"{self.piece}" cannot be {verb} by ', abs(self.by), " there")


def lengthened(piece: Piece, at: Vec, by: float, *, curves: str = "smooth") -> Piece:
    """Return a piece cut through `at` square to the grain and spread by `by` mm (minus: closed).

    The same object when `by` is 0. Raises CannotDo.
    """
    if by == 0.0:
        return piece
    cut = _Cut(piece=piece.name, p=at, up=piece.up, by=by, curves=curves)
    _check_sides(piece, cut)
    _check_darts(piece, cut)
    _check_room(piece, cut)
    new = {e.name: _redrawn_edge(piece, e, cut) for e in piece.edges}
    darts = tuple(
        replace(d, point=cut.move.apply(d.point)) if _dart_below(piece, d.name, cut) else d
        for d in piece.darts
    )
    grain = piece.grain and Grain(
        start=cut.moved(piece.grain.start), end=cut.moved(piece.grain.end)
    )
    out = redrawn(
        replace(piece, darts=darts),
        {name: r for name, r in new.items() if r.path is not piece.edge(name).path},
        grain=grain,
        levels=tuple(replace(lv, at=cut.moved(lv.at)) for lv in piece.levels),
        marks=tuple(_moved_mark(m, cut) for m in piece.marks),
    ).piece
    refuse_crossing(out, cut.what)
    return out


def _check_sides(piece: Piece, cut: _Cut) -> None:
    heights = [cut.height(q) for e in piece.edges for q in e.path.flatten(1.0)]
    low, high = min(heights), max(heights)
    if low < -JOIN_MM and high > JOIN_MM:
        return
    side, other = ("below", low) if low >= -JOIN_MM else ("above", high)
    raise CannotDo(
        what=cut.what,
        why=f"nothing of the piece lies {side} the cut",
        nearest=(
            "a cut at least ",
            AtLeast(abs(other) + 1),
            " higher" if side == "below" else " lower",
        ),
    )


def _check_darts(piece: Piece, cut: _Cut) -> None:
    """Refuse a cut through a dart: its legs would no longer agree."""
    for dart in piece.darts:
        path = piece.edge(dart.edge).path
        heights = [
            cut.height(q) for q in (path.point_at(dart.a), path.point_at(dart.b), dart.point)
        ]
        low, high = min(heights), max(heights)
        if low < -JOIN_MM and high > JOIN_MM:
            raise CannotDo(
                what=cut.what,
                why=f'the cut would run through the dart "{dart.name}"',
                nearest=(
                    "a cut ",
                    AtLeast(high),
                    " higher or ",
                    AtLeast(-low),
                    " lower, clear of the dart",
                ),
            )


def _check_room(piece: Piece, cut: _Cut) -> None:
    """Refuse to take out more than the shortest of the runs that are redrawn holds."""
    rooms = []
    for edge in piece.edges:
        if cut.is_below(edge.path.start) != cut.is_below(edge.path.end):
            at = line_crossings(edge.path, cut.p, cut.up.perp)[0].at_a
            heights = [cut.height(edge.path.point_at(x)) for x in _run(piece, edge, at)]
            rooms.append((abs(heights[0] - heights[1]), edge.name))
    room, name = min(rooms)
    if -cut.by > room - LEFT_MM + JOIN_MM:
        raise CannotDo(
            what=cut.what,
            why=(f'edge "{name}" runs only ', room, " along the grain there"),
            nearest=(
                "to shorten by ",
                AtMost(max(0.0, room - LEFT_MM)),
                ", or to share it between two places",
            ),
        )


def _dart_below(piece: Piece, name: str, cut: _Cut) -> bool:
    dart = piece.dart(name)
    path = piece.edge(dart.edge).path
    points = (path.point_at(dart.a), path.point_at(dart.b), dart.point)
    return any(cut.is_below(q) for q in points)


def _redrawn_edge(piece: Piece, edge: Edge, cut: _Cut) -> Redrawn:
    path = edge.path
    starts_below, ends_below = cut.is_below(path.start), cut.is_below(path.end)
    if starts_below == ends_below:
        _check_dip(edge, cut, below=starts_below)
        return Redrawn(path.transformed(cut.move) if starts_below else path, lambda at: at)
    found = line_crossings(path, cut.p, cut.up.perp)
    if len(found) != 1:
        raise CannotDo(
            what=cut.what,
            why=f'its edge "{edge.name}" crosses the cut {len(found)} times',
            nearest="a cut that crosses each edge once",
        )
    at = found[0].at_a
    new = _spread(edge.path, _run(piece, edge, at), at, cut)
    grown = new.length - path.length
    return Redrawn(new, lambda x: x if x <= at + JOIN_MM else x + grown)


def _check_dip(edge: Edge, cut: _Cut, *, below: bool) -> None:
    heights = [cut.height(q) for q in edge.path.flatten(0.02)]
    past = max(heights) if below else -min(heights)
    if past > DIP_MM:
        raise CannotDo(
            what=cut.what,
            why=f'both ends of its edge "{edge.name}" lie on one side of the cut, but the edge '
            "crosses it",
            nearest=("a cut ", AtLeast(past), " higher" if below else " lower"),
        )


def _run(piece: Piece, edge: Edge, at: float) -> tuple[float, float]:
    """The stretch of the edge around a place that is smooth and free of darts, mm."""
    marks = [0.0, edge.length]
    for dart in piece.darts_on(edge.name):
        marks += [dart.a, dart.b]
    run = 0.0
    for first, second in zip(edge.path.segments, edge.path.segments[1:], strict=False):
        run += first.length
        if abs(turn_between_deg(first.tangent(1.0), second.tangent(0.0))) > 1.0:
            marks.append(run)
    low = max(m for m in marks if m <= at + JOIN_MM)
    high = min((m for m in marks if m > max(at, low) + JOIN_MM), default=edge.length)
    if high - low <= JOIN_MM:  # the cut runs through the edge's own end: the run before it
        low = max((m for m in marks if m < high - JOIN_MM), default=0.0)
    return low, high


def _spread(path: Path, run: tuple[float, float], at: float, cut: _Cut) -> Path:
    """Redraw a path that crosses the cut at `at`; only what lies in `run` changes its shape."""
    stretch = path.between(*run)
    low, high = run if stretch.is_straight else _band(path, run, at, cut)
    if cut.curves == "spread" and cut.by > 0 and not stretch.is_straight:
        low = high = at
    move = (lambda q: q) if cut.is_below(path.end) else cut.move.apply
    end_move = cut.move.apply if cut.is_below(path.end) else (lambda q: q)
    start, end = move(path.point_at(low)), end_move(path.point_at(high))
    if stretch.is_straight or low == high:
        middle = Path((Line(start, end),))
    else:
        middle = Path((blend(start, path.tangent_at(low), end, path.tangent_at(high)),))
    parts = [middle]
    if low > JOIN_MM:
        before = path.between(0.0, low)
        parts.insert(0, before if cut.is_below(path.end) else before.transformed(cut.move))
    if high < path.length - JOIN_MM:
        after = path.between(high, path.length)
        parts.append(after.transformed(cut.move) if cut.is_below(path.end) else after)
    return Path(tuple(s for part in parts for s in part.segments))


def _band(path: Path, run: tuple[float, float], at: float, cut: _Cut) -> tuple[float, float]:
    """How far from the cut a curve is redrawn: to `reach` mm above and below, within the run."""
    reach = max(REACH_MM, 2 * abs(cut.by))
    low, high = run
    for height in (reach, -reach):
        for c in line_crossings(path, cut.p + cut.up * height, cut.up.perp):
            if low < c.at_a < at:
                low = c.at_a
            elif at < c.at_a < high:
                high = c.at_a
    return low, high


def _moved_mark(mark: Mark, cut: _Cut) -> Mark:
    """Move a mark that lies below; stretch a line mark that crosses the cut along the grain."""
    at = None if mark.at is None else cut.moved(mark.at)
    if mark.path is None:
        return replace(mark, at=at)
    heights = [cut.height(q) for s in mark.path.segments for q in s.controls()]
    low, high = min(heights), max(heights)
    if low >= -JOIN_MM:
        return replace(mark, at=at)
    if high <= JOIN_MM:
        return replace(mark, at=at, path=mark.path.transformed(cut.move))
    return replace(mark, at=at, path=mark.path.transformed(_stretch(cut, low, high)))


def _stretch(cut: _Cut, low: float, high: float) -> Transform:
    """Scale along the grain so that height `high` stays and `low` moves with what lies below."""
    factor = max(0.05, (high - low + cut.by) / (high - low))
    (ux, uy), k = cut.up, factor - 1.0
    top = cut.p + cut.up * high
    along = ux * top.x + uy * top.y
    return Transform(
        1 + k * ux * ux, k * ux * uy, k * ux * uy, 1 + k * uy * uy, -k * along * ux, -k * along * uy
    )


CHANGE = Change(
    id="lengthen",
    title="Lengthen or shorten at a level",
    topic="lengths",
    why="A body is longer or shorter than the pattern between two levels; cut there and spread, or "
    "fold out, and nothing above or below loses its shape.",
    source="docs/sources.md: lengthening and shortening",
    params=Lengthen,
    apply=apply,
)
