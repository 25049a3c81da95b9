"""Bring a level to the same distance along the seam as on the partner."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.spread import lengthened
from clothwright.errors import BadInput, CannotDo, one_of
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.vec import Vec
from clothwright.pattern.level_spots import LevelSpot, level_spot, notches_on
from clothwright.pattern.measure import gross_at, net_at, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import Sentence, counted

SAME_MM = 1e-3
"""mm: a smaller difference is left alone."""

_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
"""Where between the seam's end and the level the piece is cut: halfway, else clear of darts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchLevel:
    """Parameters of `match-level`."""

    level: str = param(
        "level", "the level, such as waist; both pieces must have it", label="Which line"
    )
    seam: str = param(
        "seam", "the seam along which the distances are compared", label="Along which seam"
    )
    piece: str = param(
        "piece",
        "the piece to change; the other side of the seam stays",
        label="Which piece changes",
    )
    at: str = param(
        "choice",
        "",
        default="start",
        choices={"start": "the start of the seam", "end": "the end of the seam"},
        label="Measured from",
    )
    how: str = param(
        "choice",
        "",
        default="piece",
        choices={
            "piece": "the piece, longer or shorter between that end and the line",
            "line": "only where the line is drawn",
            "marks": "where the line is drawn, and the notches on it",
        },
        label="What is changed",
    )


def apply(pattern: Pattern, params: MatchLevel) -> Outcome:
    """Make the distance from a seam's end to a level the same on both pieces.

    The distance runs along the stitching line, darts folded out. With how = "piece" the piece is
    cut halfway between (clear of darts) and spread or folded out along the grain, as `lengthen`
    does; what lies beyond moves along, so its hem does too. With how = "line" only the level line
    moves, with how = "marks" the notches that lie on it, too: they were traced with it.

    Raises CannotDo when a level does not meet the seam or the piece cannot be cut between;
    BadInput for unknown names.
    """
    seam = pattern.seam(params.seam)
    piece = pattern.piece(params.piece)
    own, other = _sides(seam, params.piece)
    target = _spot(pattern, other, params).distance
    spot = _spot(pattern, own, params)
    need = target - spot.distance
    where = f"the {params.level} line of {piece.name} along {seam.name}"
    if abs(need) <= SAME_MM:
        return Outcome(pattern=pattern, said=(f"Left {where} at ", spot.distance, "."))
    if params.how == "piece":
        new = _spread(pattern, piece, own, target, params)
    else:
        new = _line_moved(pattern, own, target, params)
    notches: tuple[tuple[str, int], ...] = ()
    if params.how == "marks":
        notches = notches_on(piece, params.level)
        new = _with_notches(new, notches, params.level)
    above = piece.up.dot(_corner(pattern, own, params) - spot.point) > 0
    verb = "lower" if (target > spot.distance) == above else "higher"
    said: Sentence = (f"Brought {where} from ", spot.distance, " to ", target)
    if params.how != "piece":
        more = f", and {counted(len(notches), 'notch', 'notches')} on it" if notches else ""
        said = (*said, ": the line lies ", abs(need), f" {verb}{more}.")
    else:
        grown = "lengthened" if need > 0 else "shortened"
        said = (*said, f": {piece.name} {grown} between by ", abs(need), ".")
    return Outcome(pattern=pattern.with_piece(new), said=said)


def _sides(seam: Seam, piece: str) -> tuple[tuple[EdgeRef, ...], tuple[EdgeRef, ...]]:
    """The side of the seam that the piece is on, and the other, which must stay."""
    a, b = (any(r.piece == piece for r in refs) for refs in (seam.a, seam.b))
    if a and b:
        raise CannotDo(
            what=f'"{piece}" cannot be matched along seam "{seam.name}"',
            why="it is on both sides of that seam, which would change alike",
            nearest="the corner at that end of the seam moved instead",
        )
    if a or b:
        return (seam.a, seam.b) if a else (seam.b, seam.a)
    raise BadInput(
        where=f'seam "{seam.name}"',
        what=f'"{piece}" is not part of it',
        expected=one_of(sorted(seam.pieces)),
    )


def _travelled(refs: tuple[EdgeRef, ...], params: MatchLevel) -> tuple[EdgeRef, ...]:
    """Return a side of the seam from the end that is measured from."""
    if params.at == "start":
        return refs
    return tuple(replace(r, reversed=not r.reversed) for r in reversed(refs))


def _spot(pattern: Pattern, refs: tuple[EdgeRef, ...], params: MatchLevel) -> LevelSpot:
    """Where the level meets one side of the seam, measured from the seam's chosen end."""
    travelled = _travelled(refs, params)
    spot = level_spot(pattern, travelled, params.level)
    if spot is not None:
        return spot
    piece = pattern.piece(travelled[0].piece)
    piece.level(params.level)
    raise CannotDo(
        what=f'the {params.level} line of "{piece.name}" cannot be matched',
        why=f'it does not meet seam "{params.seam}"',
        nearest="another seam, or another line",
    )


def _corner(pattern: Pattern, refs: tuple[EdgeRef, ...], params: MatchLevel) -> Vec:
    """Return the seam's chosen end on one of its sides."""
    first = _travelled(refs, params)[0]
    path = pattern.edge(first).path
    return path.end if first.reversed else path.start


def _line_moved(
    pattern: Pattern, refs: tuple[EdgeRef, ...], target: float, params: MatchLevel
) -> Piece:
    spot = _spot(pattern, refs, params)
    piece = pattern.piece(spot.ref.piece)
    edge = piece.edge(spot.ref.edge)
    here = net_at(piece, edge.name, edge.path.nearest(spot.point)[0])
    wanted = here + (target - spot.distance) * (-1 if spot.ref.reversed else 1)
    at = gross_at(piece, edge.name, wanted)
    if not 0.0 <= wanted <= net_length(piece, edge.name):
        raise CannotDo(
            what=f'the {params.level} line of "{piece.name}" cannot be drawn there',
            why=f'edge "{edge.name}" is not so long',
            nearest="the piece lengthened or shortened instead, or the seam matched first",
        )
    point = edge.path.point_at(at)
    levels = tuple(
        replace(lv, at=lv.at + piece.up * piece.up.dot(point - lv.at))
        if lv.name == params.level
        else lv
        for lv in piece.levels
    )
    return replace(piece, levels=levels)


def _with_notches(piece: Piece, notches: tuple[tuple[str, int], ...], level: str) -> Piece:
    """Return a piece with notches, by edge and number, where a level line now meets their edge."""
    for name, number in notches:
        edge = piece.edge(name)
        own = edge.notches[number - 1]
        met = line_crossings(edge.path, piece.level(level).at, piece.up.perp)
        at = min((c.at_a for c in met), key=lambda place: abs(place - own.at), default=own.at)
        moved = (replace(n, at=at) if n is own else n for n in edge.notches)
        piece = piece.with_edge(edge.with_notches(tuple(moved)))
    return piece


def _spread(
    pattern: Pattern, piece: Piece, refs: tuple[EdgeRef, ...], target: float, params: MatchLevel
) -> Piece:
    """Cut between the seam's end and the level; find the amount that brings the level to target."""
    corner, spot = _corner(pattern, refs, params), _spot(pattern, refs, params)
    trouble: CannotDo | None = None
    for share in _SHARES:
        cut = corner.lerp(spot.point, share)
        try:
            return _solved(pattern, refs, target, params, cut)
        except CannotDo as error:
            trouble = trouble or error
    raise CannotDo(
        what=f'"{piece.name}" cannot be changed between the {params.at} of "{params.seam}" and the '
        f"{params.level} level",
        why=trouble.why if trouble else "there is no room",
        nearest=trouble.nearest if trouble else "how = line",
    )


def _solved(
    pattern: Pattern,
    refs: tuple[EdgeRef, ...],
    target: float,
    params: MatchLevel,
    cut: Vec,
) -> Piece:
    """Adjust the amount until the distance is right, by what the last adjustment did."""
    piece = pattern.piece(params.piece)
    by, new, gain = 0.0, piece, 1.0
    now = _spot(pattern, refs, params).distance
    for _ in range(12):
        step = (target - now) / gain
        if abs(step) < 1e-7:
            return new
        by += step
        new = lengthened(piece, cut, by)
        was, now = now, _spot(pattern.with_piece(new), refs, params).distance
        gain = (now - was) / step if abs(now - was) > abs(step) / 10 else gain
    raise CannotDo(
        what=f'"{piece.name}" cannot be changed between that end and the {params.level} line',
        why="the seam there does not grow with the piece",
        nearest="only the line, where it is drawn, moved (how = line)",
    )


CHANGE = Change(
    id="match-level",
    title="Match a level to its partner",
    topic="lengths",
    why="Waist must meet waist and hip meet hip along the seam, or the shaping of one piece sits "
    "above that of the other.",
    source="docs/sources.md: walking seams; lengthening and shortening",
    params=MatchLevel,
    apply=apply,
)
