"""Bring a notch to its partner: moved, made of its kind, or changed over with another notch."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.errors import CannotDo, not_known
from clothwright.pattern.measure import gross_at, net_at, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Notch, Piece
from clothwright.pattern.refs import parse_point
from clothwright.pattern.walk import Pair, crossed, mark_name, notch_number, walk_seam
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name

SAME_MM = 1e-3
"""mm: a smaller distance is left alone."""

NotchAt = tuple[str, str, int]
"""Piece, edge, number of the notch on it, from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchNotch:
    """Parameters of `match-notch`."""

    seam: str = param("seam", "the seam along which it meets its partner", label="Which seam")
    notch: str = param("point", "the notch that moves; its partner stays", label="Which notch")


def apply(pattern: Pattern, params: MatchNotch) -> Outcome:
    """Move a notch as far along its side of a seam as its partner lies along the other.

    Counted between the marks on either side of it that meet, darts folded out: where one side is
    eased there the distance is in proportion. Single or double it becomes as its partner is. One
    that lies in another order than its partner changes names and kinds with the notch that stands
    where it belongs, as where front and back of a sleeve were mixed up.

    Raises CannotDo for a point that is no notch of the seam, or one without a partner; BadInput
    for unknown names.
    """
    seam = pattern.seam(params.seam)
    piece, edge, number = _notch(pattern, params.notch)
    walk = walk_seam(pattern, seam)
    over = _changed_over(pattern, seam, (piece.name, edge.name, number)) if crossed(walk) else None
    if over is not None:
        return over
    for refs, pairs in ((seam.a, walk.pairs), (seam.b, tuple(Pair(p.b, p.a) for p in walk.pairs))):
        for i, pair in enumerate(pairs):
            own = pair.a
            is_it = (own.piece, own.edge) == (piece.name, edge.name)
            if is_it and notch_number(pattern, refs, own) == number and pair.b.kind:
                ends = (walk.a.length, walk.b.length)
                want = _wanted(pairs, i, ends if refs is seam.a else ends[::-1])
                back = next(r.reversed for r in refs if (r.piece, r.edge) == (own.piece, own.edge))
                by = own.at - want if back else want - own.at
                return _moved(pattern, number, pair, by)
    raise CannotDo(
        what=f"that notch of {edge_name(piece.name, edge.name)} cannot be matched",
        why=f'it meets no notch along seam "{seam.name}"',
        nearest="a notch that both sides have",
    )


def _changed_over(pattern: Pattern, seam: Seam, own: NotchAt) -> Outcome | None:
    """Change a notch over with the one of its side after which most marks meet, none crossed."""
    named = _named(pattern, own)
    found: dict[int, Outcome] = {}
    sides = (refs for refs in (seam.a, seam.b) if any((r.piece, r.edge) == own[:2] for r in refs))
    for ref in (r for refs in sides for r in refs):
        notches = pattern.piece(ref.piece).edge(ref.edge).notches
        for number, notch in enumerate(notches, start=1):
            new = _with(_with(pattern, own, notch), (ref.piece, ref.edge, number), named)
            walk = walk_seam(new, seam)
            if notch.name not in ("", named.name) and not crossed(walk):
                called = f'"{named.name}" of {edge_name(own[0], own[1])}'
                other = f'"{notch.name}" of {edge_name(ref.piece, ref.edge)}'
                said = f"Changed notch {called} over with notch {other}"
                out = Outcome(pattern=new, said=(f"{said}: each is marked as the other was.",))
                found.setdefault(len(walk.pairs), out)
    return found[max(found)] if found else None


def _named(pattern: Pattern, at: NotchAt) -> Notch:
    return pattern.piece(at[0]).edge(at[1]).notches[at[2] - 1]


def _with(pattern: Pattern, at: NotchAt, marked: Notch) -> Pattern:
    """Return the pattern with a notch named, and single or double, as another is."""
    piece = pattern.piece(at[0])
    edge = piece.edge(at[1])
    notches = list(edge.notches)
    notches[at[2] - 1] = replace(notches[at[2] - 1], name=marked.name, kind=marked.kind)
    return pattern.with_piece(piece.with_edge(replace(edge, notches=tuple(notches))))


def _notch(pattern: Pattern, text: str) -> tuple[Piece, Edge, int]:
    """Return the piece, the edge and which of its notches a point's name means."""
    name, point = parse_point(text)
    piece = pattern.piece(name)
    places = {
        called: (edge, n)
        for edge in piece.edges
        for n, notch in reversed(tuple(enumerate(edge.notches, start=1)))
        for called in (f"{edge.name} notch {n}", f"{edge.name} notch {notch.name}")
    }
    if point not in places:
        raise not_known(f'piece "{name}" has no notch "{point}"', point, places)
    return piece, *places[point]


def _wanted(pairs: tuple[Pair, ...], i: int, ends: tuple[float, float]) -> float:
    """Return where on its own side mark i belongs, between the marks that meet beside it, mm."""
    low = (pairs[i - 1].a.at, pairs[i - 1].b.at) if i else (0.0, 0.0)
    high = (pairs[i + 1].a.at, pairs[i + 1].b.at) if i + 1 < len(pairs) else ends
    whole = high[1] - low[1]
    share = (pairs[i].b.at - low[1]) / whole if whole > SAME_MM else 0.0
    return low[0] + share * (high[0] - low[0])


def _moved(pattern: Pattern, number: int, pair: Pair, by: float) -> Outcome:
    """Move a notch `by` mm along its edge, and make it of its partner's kind."""
    piece = pattern.piece(pair.a.piece)
    edge = piece.edge(pair.a.edge)
    old = edge.notches[number - 1]
    place = net_at(piece, edge.name, old.at) + by
    place = gross_at(piece, edge.name, min(max(place, 0.0), net_length(piece, edge.name)))
    called = f"{mark_name(pair.a)} of {edge_name(piece.name, edge.name)}"
    kind = pair.b.kind or old.kind
    if abs(by) <= SAME_MM and kind is old.kind:
        return Outcome(pattern=pattern, said=(f"Left {called} where it meets its partner.",))
    notches = list(edge.notches)
    notches[number - 1] = replace(old, at=place if abs(by) > SAME_MM else old.at, kind=kind)
    new = replace(edge, notches=tuple(sorted(notches, key=lambda n: n.at)))
    other = edge_name(pair.b.piece, pair.b.edge)
    said: Sentence = (f"Moved {called} by ", abs(by), f" to meet its partner on {other}")
    if abs(by) <= SAME_MM:
        said = (f"Left {called} where it meets its partner on {other}",)
    made = "" if kind is old.kind else f", and made it {kind.value} as that is"
    return Outcome(pattern=pattern.with_piece(piece.with_edge(new)), said=(*said, f"{made}."))


CHANGE = Change(
    id="match-notch",
    title="Move a notch to its partner",
    topic="edges and seams",
    why="A notch that slipped when a piece was traced or lengthened lets one part of a seam be "
    "eased and the other stretched, though both sides are equally long.",
    source="docs/sources.md: walking seams; single notches mark fronts, double ones backs",
    params=MatchNotch,
    apply=apply,
)
