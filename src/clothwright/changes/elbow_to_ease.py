"""Remove an elbow dart into ease: the dart is not sewn, its seam is eased over the elbow."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import count

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart, with_path_between
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_at, net_length, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Edge, Notch, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence

COTTON_MM = 13.0
WOOL_MM = 25.0
"""mm: what stable cotton and what wool take as ease over the elbow (common practice)."""
REACH_MM = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ElbowToEase:
    """The elbow dart, and how far to each side of it the ease is spread."""

    dart: str = param("dart", "the elbow dart that is not sewn any more", label="Which dart")
    reach: float = param(
        "length",
        "how far above and below the dart the ease is spread",
        default=REACH_MM,
        label="How far the ease is spread",
    )


def apply(pattern: Pattern, params: ElbowToEase) -> Outcome:
    """Drop the dart's legs and ease its seam by the dart's width between two new notches.

    The outline stays but for the cap, which runs straight across. Both sides of the seam get
    notches "elbow 1" and "elbow 2" (the next free numbers, if taken) that bound the ease. In a
    seam that is eased between notches already, the ease then lies between the outermost.
    Raises CannotDo when the darted edge is not sewn, alone, to one other edge, or the notches
    would run off it.
    """
    piece, dart = find_dart(pattern, params.dart)
    if params.reach <= 0:
        raise BadInput(what="the reach is not more than nothing", expected=(60.0, ", for example"))
    seam, mine, other = _seam(pattern, piece, dart)
    path = piece.edge(dart.edge).path
    ends = path.point_at(dart.a), path.point_at(dart.b)
    ease = round(ends[0].distance(ends[1]), 6)
    where = _run_at(piece, dart.edge, dart.a, mine)
    low, high = where - params.reach, where + params.reach
    length = min(net_length(piece, dart.edge), net_length(pattern.piece(other.piece), other.edge))
    if low < 1.0 or high > length - 1.0:
        raise CannotDo(
            what=(
                f'the ease of dart "{dart.name}" of "{piece.name}" cannot be spread ',
                params.reach,
                " to each side",
            ),
            why=("the seam is ", length, " long and the dart lies at ", where, " of it"),
            nearest=("a reach of ", AtMost(max(0.0, min(where, length - where) - 1))),
        )
    eased = _without_dart(piece, dart, ends)
    first, second = _names(pattern, mine, other)
    after = pattern.with_piece(_notched(eased, mine, ((low, first), (high + ease, second))))
    partner = after.piece(other.piece)
    met = [_met_at(pattern, seam, mine, at) for at in (low, high)]
    after = after.with_piece(_notched(partner, other, ((met[0], first), (met[1], second))))
    after = after.with_seam(_eased(after, seam, mine, ease, (first, second)))
    return Outcome(pattern=after, said=_said(piece, dart, ease, params.reach))


def _seam(pattern: Pattern, piece: Piece, dart: Dart) -> tuple[Seam, EdgeRef, EdgeRef]:
    """Return the seam of the darted edge, its own run and the partner's."""
    for seam in pattern.seams_of(piece.name, dart.edge):
        for mine, others in ((seam.a, seam.b), (seam.b, seam.a)):
            alone = len(mine) == 1 == len(others)
            if alone and (mine[0].piece, mine[0].edge) == (piece.name, dart.edge):
                return seam, mine[0], others[0]
    raise CannotDo(
        what=f'dart "{dart.name}" of "{piece.name}" cannot become ease',
        why=f'its edge "{dart.edge}" is not sewn, alone, to one other edge',
        nearest="a seam of one edge to one edge, or moving the dart to another edge",
    )


def _run_at(piece: Piece, edge: str, at: float, ref: EdgeRef) -> float:
    """Return how far along the seam's run a place of an edge lies, darts folded out."""
    net = net_at(piece, edge, at)
    return net_length(piece, edge) - net if ref.reversed else net


def _met_at(pattern: Pattern, seam: Seam, mine: EdgeRef, at: float) -> float:
    """Return the place on the partner's run that a place on the darted run is sewn to.

    What the seam eases already is shared out evenly between the notches that bound it.
    """
    mine_is_b = seam.b[0] == mine
    longer = seam.ease if mine_is_b else -seam.ease
    run = side(pattern, (mine,))
    stations = {station.name: station.at for station in run.stations if station.name}
    start = stations.get(seam.ease_from, 0.0)
    end = stations.get(seam.ease_to, run.length)
    if end - start <= abs(longer):
        return at
    return at - longer * min(1.0, max(0.0, (at - start) / (end - start)))


def _without_dart(piece: Piece, dart: Dart, ends: tuple[Vec, Vec]) -> Piece:
    straight = polyline(ends)
    eased = with_path_between(piece, dart.edge, dart.a, dart.b, straight)
    return replace(eased, darts=tuple(d for d in eased.darts if d.name != dart.name))


def _names(pattern: Pattern, mine: EdgeRef, other: EdgeRef) -> tuple[str, str]:
    """Return two names for notches that neither side of the seam has yet."""
    taken = {n.name for ref in (mine, other) for n in pattern.edge(ref).notches}
    free = (f"elbow {n}" for n in count(1))
    unused = (name for name in free if name not in taken)
    return next(unused), next(unused)


def _notched(piece: Piece, ref: EdgeRef, places: tuple[tuple[float, str], ...]) -> Piece:
    """Put named notches at places counted along the seam's run, darts folded out."""
    edge: Edge = piece.edge(ref.edge)
    length = net_length(piece, ref.edge)
    new = [
        Notch(at=_as_drawn(piece, ref.edge, length - at if ref.reversed else at), name=name)
        for at, name in places
    ]
    notches = tuple(sorted((*edge.notches, *new), key=lambda n: n.at))
    return piece.with_edge(replace(edge, notches=notches))


def _as_drawn(piece: Piece, edge: str, net: float) -> float:
    """Return where on the drawn edge a place lies that was counted with darts folded out."""
    at = net
    for dart in piece.darts_on(edge):
        if dart.a < at:
            at += dart.b - dart.a
    return at


def _eased(after: Pattern, seam: Seam, mine: EdgeRef, ease: float, names: tuple[str, str]) -> Seam:
    """Return the seam with the darted side as side b, longer by the ease between the notches.

    Ease that was meant before is kept, and so is what is accepted at most. It stays within the
    bounds: they are then the outermost of old and new, or the seam's own end where that was meant.
    """
    now = seam if seam.b[0] == mine else _turned(seam)
    was_eased = bool(now.ease or now.eased_max)
    now = replace(
        now, ease=now.ease + ease, eased_max=now.eased_max + ease if now.eased_max else 0.0
    )
    if not was_eased:
        return replace(now, ease_from=names[0], ease_to=names[1])
    run = [station.name for station in side(after, (mine,)).stations]
    low = min(now.ease_from, names[0], key=run.index) if now.ease_from in run else ""
    high = max(now.ease_to, names[1], key=run.index) if now.ease_to in run else ""
    return replace(now, ease_from=low, ease_to=high)


def _turned(seam: Seam) -> Seam:
    """Return the same seam with its sides exchanged: what was longer is now the shorter."""
    return replace(seam, a=seam.b, b=seam.a, ease=-seam.ease, eased_max=-seam.eased_max)


def _said(piece: Piece, dart: Dart, ease: float, reach: float) -> Sentence:
    warning: Sentence = ()
    if ease > WOOL_MM:
        warning = (" That is more than even wool takes (", WOOL_MM, "): sew a dart, or try it.")
    elif ease > COTTON_MM:
        warning = (
            " That is more than stable cotton takes (",
            COTTON_MM,
            "), and about what wool takes: try it in a scrap of the cloth first.",
        )
    return (
        f'Dart "{dart.name}" of {piece.name} is not sewn any more; {dart.edge} is eased by ',
        ease,
        " between two notches, ",
        reach,
        " above and below.",
        *warning,
    )


CHANGE = Change(
    id="elbow-to-ease",
    title="Remove an elbow dart into ease",
    topic="sleeves",
    why="In cloth that eases, the elbow's room needs no dart: the longer seam is shrunk onto the "
    "shorter between two notches.",
    source="period manuals gather or ease the elbow between notches; limits common practice "
    "(docs/changes/elbow-to-ease.md)",
    params=ElbowToEase,
    apply=apply,
)
