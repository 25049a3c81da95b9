"""Draft the bag of a pocket in a seam, and mark its opening on both sides of the seam."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.cut_out import off_fold, with_inside_of
from clothwright.changes.darts import free_name
from clothwright.changes.slash import is_inside
from clothwright.changes.strips import rounded
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Cut, Edge, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name

BEYOND_MM = 25.4
"""mm: how far the bag is sewn to the seam above and below its opening (a course of 1921–22)."""
ROUND_MM = 40.0
"""mm: how far its corners are rounded off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftSeamPocket:
    """Parameters of `draft-seam-pocket`; lengths in mm."""

    edge: str = param("edge", "such as a side seam", label="In which edge")
    top: float = param(
        "length",
        "below the upper end of the edge",
        default=101.6,
        label="How far down it opens",
        least=0.0,
    )
    opening: float = param(
        "length",
        "half round the hand, and a little",
        default=152.4,
        label="How long it opens",
        least=0.0,
    )
    reach: float = param(
        "length", "from the seam inwards", default=152.4, label="How far the bag goes in", least=0.0
    )
    below: float = param(
        "length", "below the opening", default=114.3, label="How far the bag goes down", least=0.0
    )
    material: str = param("text", "what it is cut from", default="lining", label="From which cloth")


def apply(pattern: Pattern, params: DraftSeamPocket) -> Outcome:
    """Add half of a bag, two for each pocket, that lies on the piece along its own seam.

    It is sewn to the seam's allowances from 1 in above the opening to 1 in below. The opening is
    marked by notches on the edge, and on the edge that it is sewn to, equally far along.

    Raises BadInput for unknown names or a pocket of no size, CannotDo where there is no room, or a
    dart is in the way.
    """
    if min(params.opening, params.reach) <= 0.0:
        raise BadInput(what="the pocket has no opening, or no depth", expected="a size")
    ref = parse_edge(params.edge)
    piece = pattern.piece(ref.piece)
    edge = pattern.edge(ref)
    bag = _bag(pattern, piece, edge, params)
    pattern = _notched(pattern, ref, params)
    goes = Companion(piece=bag.name, kind="pocket", of=(Along(piece=piece.name),), by="drafted")
    new = replace(pattern, pieces=(*pattern.pieces, bag), companions=(*pattern.companions, goes))
    said: Sentence = (
        f"Drafted {bag.name}: it opens in {edge_name(ref.piece, ref.edge)} from ",
        params.top,
        " to ",
        params.top + params.opening,
        " below its upper end, and is cut twice for each pocket.",
    )
    return Outcome(pattern=new, said=said)


class _Stretch(NamedTuple):
    """Where the opening is on an edge: mm from its start, low < high; down: it runs down there."""

    low: float
    high: float
    down: bool


def _stretch(piece: Piece, edge: Edge, top: float, length: float) -> _Stretch:
    """Return a stretch that begins `top` below the upper end, as long as asked (mm)."""
    down = piece.up.dot(edge.path.end - edge.path.start) < 0.0
    if down:
        return _Stretch(top, top + length, down)
    return _Stretch(edge.length - top - length, edge.length - top, down)


def _bag(pattern: Pattern, piece: Piece, edge: Edge, params: DraftSeamPocket) -> Piece:
    what = f"{edge_name(piece.name, edge.name)} has no room for a pocket there"
    chord = edge.path.end - edge.path.start
    if abs(piece.up.dot(chord)) < abs(piece.up.cross(chord)) + JOIN_MM:
        raise CannotDo(
            what=what,
            why="it runs across",
            nearest="an edge that runs upright, such as a side seam",
        )
    over = min(BEYOND_MM, params.top)
    at = _stretch(piece, edge, params.top - over, params.opening + over + BEYOND_MM)
    if edge.role is Role.FOLD or at.low < -1e-6 or at.high > edge.length + 1e-6:
        room = edge.length - params.opening - BEYOND_MM
        raise CannotDo(
            what=what,
            why=("the edge is ", edge.length, " long"),
            nearest=("an opening that begins at most ", AtMost(max(room, 0.0)), " down"),
        )
    for dart in piece.darts_on(edge.name):
        if dart.a < at.high and dart.b > at.low:
            raise CannotDo(
                what=what,
                why=f'the dart "{dart.name}" opens there',
                nearest="to move the dart first, or another place",
            )
    sewn = edge.path.between(at.low, at.high)
    upper, lower = sewn.ends if at.down else sewn.ends[::-1]
    along, inward = (upper - lower).unit, (sewn.end - sewn.start).unit.perp
    corners = [lower + inward * params.reach - along * (params.below - BEYOND_MM)]
    corners.append(upper + inward * params.reach - along * (0.35 * params.opening))
    rest = (lower, *corners, upper) if at.down else (upper, *corners[::-1], lower)
    line = rounded(polyline(rest), ROUND_MM)
    outline = piece.outline.flatten(0.5)
    if not all(is_inside(outline, p) for p in line.flatten(1.0)[1:-1]):
        raise CannotDo(
            what=what,
            why="the bag would reach over another edge of the piece",
            nearest="a bag that reaches less far, or not so far down",
        )
    cut = off_fold(piece.cuts[0]) if piece.cuts else Cut()
    edges = (
        Edge(name=edge.name, path=sewn, allowance=edge.allowance),
        Edge(name="bag", path=line, allowance=edge.allowance),
    )
    bag = replace(
        piece,
        name=free_name(tuple(p.name for p in pattern.pieces), f"{piece.name} pocket bag"),
        edges=edges,
        darts=(),
        cuts=(replace(cut, material=params.material, count=2 * cut.count),),
        note="",
    )
    return replace(with_inside_of(bag, piece, line), levels=(), marks=())


def _notched(pattern: Pattern, ref: EdgeRef, params: DraftSeamPocket) -> Pattern:
    """Return the pattern with the opening's ends marked on the edge and on its partner."""
    piece = pattern.piece(ref.piece)
    edge = piece.edge(ref.edge)
    at = _stretch(piece, edge, params.top, params.opening)
    name = _free_notch(edge)
    spots = (at.low, at.high) if at.down else (at.high, at.low)
    own = {f"{name} top": spots[0], f"{name} end": spots[1]}
    whole = net_length(piece, edge.name)
    net = {n: net_at(piece, edge.name, a) for n, a in own.items()}
    pattern = pattern.with_piece(piece.with_edge(_with_notches(edge, own)))
    for seam in pattern.seams_of(ref.piece, ref.edge):
        if seam.kind != "plain" or len(seam.a) != 1 or len(seam.b) != 1 or seam.a == seam.b:
            continue
        mine, other = seam.a[0], seam.b[0]
        if (mine.piece, mine.edge) != (ref.piece, ref.edge):
            mine, other = other, mine
        there = pattern.piece(other.piece)
        partner = there.edge(other.edge)
        if not there.darts_on(partner.name):
            starts = (at.down != mine.reversed) != other.reversed
            from_top = {n: a if at.down else whole - a for n, a in net.items()}
            marks = {n: a if starts else partner.length - a for n, a in from_top.items()}
            pattern = pattern.with_piece(there.with_edge(_with_notches(partner, marks)))
    return pattern


def _with_notches(edge: Edge, at: dict[str, float]) -> Edge:
    new = (Notch(at=min(max(a, 0.0), edge.length), name=n) for n, a in at.items())
    return edge.with_notches((*edge.notches, *new))


def _free_notch(edge: Edge) -> str:
    return free_name(tuple(n.name.removesuffix(" top") for n in edge.notches), "pocket")


CHANGE = Change(
    id="draft-seam-pocket",
    title="Draft a pocket in a seam",
    topic="facings, linings and bands",
    why="Its bag lies along the seam as it is drawn; its opening is marked on both sides of that.",
    source="opening, bag beyond it: a dressmaking course of 1921–22 (docs/sources.md, pockets)",
    params=DraftSeamPocket,
    apply=apply,
)
