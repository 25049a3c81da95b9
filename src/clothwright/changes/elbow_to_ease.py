"""Remove an elbow dart into ease: the dart is not sewn, its seam is eased over the elbow."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome, param
from clothwright.changes.darts import find_dart, with_path_between
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Edge, Notch, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Sentence

COTTON_MM = 13.0
WOOL_MM = 25.0
"""mm: what stable cotton and what wool take as ease over the elbow (common practice)."""
REACH_MM = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ElbowToEase:
    """The elbow dart, and how far to each side of it the ease is spread."""

    dart: str = param("dart", "the elbow dart that is not sewn any more, as PIECE.DART")
    reach: float = param(
        "length", "how far above and below the dart the ease is spread", default=REACH_MM
    )


def apply(pattern: Pattern, params: ElbowToEase) -> Outcome:
    """Drop the dart's legs and ease its seam by the dart's width between two new notches.

    The outline stays but for the cap, which runs straight across. Both sides of the seam get
    notches "elbow 1" and "elbow 2" that bound the ease. Raises CannotDo when the darted edge is not
    sewn, alone, to one other edge, or the notches would run off it.
    """
    piece, dart = find_dart(pattern, params.dart)
    if params.reach <= 0:
        raise BadInput(what="the reach is not more than nothing", expected="60 mm, for example")
    seam, mine, other = _seam(pattern, piece, dart)
    path = piece.edge(dart.edge).path
    ends = path.point_at(dart.a), path.point_at(dart.b)
    ease = round(ends[0].distance(ends[1]), 6)
    where = _run_at(piece, dart.edge, dart.a, mine)
    low, high = where - params.reach, where + params.reach
    length = min(net_length(piece, dart.edge), net_length(pattern.piece(other.piece), other.edge))
    if low < 1.0 or high > length - 1.0:
        raise CannotDo(
            what=f'the ease of dart "{dart.name}" of "{piece.name}" cannot be spread '
            f"{params.reach:.0f} mm to each side",
            why=f"the seam is {length:.0f} mm long and the dart lies at {where:.0f} mm of it",
            nearest=f"a reach of {max(0.0, min(where, length - where) - 2):.0f} mm",
        )
    eased = _without_dart(piece, dart, ends)
    after = pattern.with_piece(_notched(eased, mine, ((low, "elbow 1"), (high + ease, "elbow 2"))))
    partner = after.piece(other.piece)
    after = after.with_piece(_notched(partner, other, ((low, "elbow 1"), (high, "elbow 2"))))
    after = after.with_seam(_eased(seam, mine, ease))
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
        nearest="a seam of one edge to one edge, or moving the dart (rotate-dart)",
    )


def _run_at(piece: Piece, edge: str, at: float, ref: EdgeRef) -> float:
    """Return how far along the seam's run a place of an edge lies, darts folded out."""
    net = net_at(piece, edge, at)
    return net_length(piece, edge) - net if ref.reversed else net


def _without_dart(piece: Piece, dart: Dart, ends: tuple[Vec, Vec]) -> Piece:
    straight = polyline(ends)
    eased = with_path_between(piece, dart.edge, dart.a, dart.b, straight)
    return replace(eased, darts=tuple(d for d in eased.darts if d.name != dart.name))


def _notched(piece: Piece, ref: EdgeRef, places: tuple[tuple[float, str], ...]) -> Piece:
    """Put named notches at places counted along the seam's run."""
    edge: Edge = piece.edge(ref.edge)
    length = edge.length
    new = [Notch(at=length - at if ref.reversed else at, name=name) for at, name in places]
    notches = tuple(sorted((*edge.notches, *new), key=lambda n: n.at))
    return piece.with_edge(replace(edge, notches=notches))


def _eased(seam: Seam, mine: EdgeRef, ease: float) -> Seam:
    """Return the seam with the darted side as side b, longer by the ease between the notches."""
    turned = seam if seam.b[0] == mine else replace(seam, a=seam.b, b=seam.a, ease=-seam.ease)
    return replace(turned, ease=turned.ease + ease, ease_from="elbow 1", ease_to="elbow 2")


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
    why="In cloth that eases, the elbow's room needs no dart: the longer seam is shrunk onto the "
    "shorter between two notches.",
    source="period manuals gather or ease the elbow between notches; limits common practice "
    "(docs/changes/elbow-to-ease.md)",
    params=ElbowToEase,
    apply=apply,
)
