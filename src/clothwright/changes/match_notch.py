"""Bring a notch to its partner: moved, made of its kind, or changed over with another notch."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.errors import CannotDo, not_known
from clothwright.pattern.measure import Station, gross_at, net_at, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Notch, Piece
from clothwright.pattern.refs import parse_point
from clothwright.pattern.slipped import ALIKE_MM, belongs, slips
from clothwright.pattern.walk import Walk, crossed, mark_name, notch_number, walk_seam
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name

SAME_MM = 1e-3
"""mm: a smaller distance is left alone."""

NotchAt = tuple[str, str, int]
"""Piece, edge, number of the notch on it, from 1."""


class _Move(NamedTuple):
    """A notch that moves and its partner, and by how much along its edge, mm."""

    pair: tuple[Station, Station]
    by: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchNotch:
    """Parameters of `match-notch`."""

    seam: str = param("seam", "the seam along which it meets its partner", label="Which seam")
    notch: str = param("point", "the notch that moves; its partner stays", label="Which notch")
    others: str = param(
        "choice",
        "",
        default="",
        choices={"": "no other", "slipped": "those of that edge that are off by as much"},
        label="Which others move with it",
    )


def apply(pattern: Pattern, params: MatchNotch) -> Outcome:
    """Move a notch as far along its side of a seam as its partner lies along the other.

    Its partner is a notch, or a joint of two edges. Counted between the marks on either side of it
    that meet and stay, darts folded out, from where nothing is eased; else the distance is in
    proportion. Single or double it becomes as its partner is. One that lies in another order
    than its partner changes names and kinds with the notch that stands where it belongs, as where
    front and back of a sleeve were mixed up.

    Raises CannotDo for a point that is no notch of the seam, or one without a partner; BadInput
    for unknown names.
    """
    seam = pattern.seam(params.seam)
    piece, edge, number = notch_of(pattern, params.notch)
    walk = walk_seam(pattern, seam)
    over = _changed_over(pattern, seam, (piece.name, edge.name, number)) if crossed(walk) else None
    if over is not None:
        return over
    for on_b, refs in ((False, seam.a), (True, seam.b)):
        own = [(p.b, p.a) if on_b else (p.a, p.b) for p in walk.pairs]
        numbers = [
            notch_number(pattern, refs, mine)
            if (mine.piece, mine.edge) == (piece.name, edge.name)
            else 0
            for mine, _ in own
        ]
        if number in numbers:
            i = numbers.index(number)
            moved = _together(walk, i, numbers) if params.others else [i]
            back = next(r.reversed for r in refs if (r.piece, r.edge) == (piece.name, edge.name))
            places = {
                numbers[k]: _Move(
                    own[k],
                    (belongs(walk, moved, k, on_b=on_b) - own[k][0].at) * (-1 if back else 1),
                )
                for k in moved
            }
            return _moved(pattern, piece, edge, places)
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


def _together(walk: Walk, i: int, numbers: Sequence[int]) -> list[int]:
    """Return the pairs that slipped as pair i did: notches of its edge that are off by as much."""
    off = slips(walk)
    return [k for k, n in enumerate(numbers) if n and abs(off[k] - off[i]) <= ALIKE_MM]


def notch_of(pattern: Pattern, text: str) -> tuple[Piece, Edge, int]:
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


def _moved(pattern: Pattern, piece: Piece, edge: Edge, moves: Mapping[int, _Move]) -> Outcome:
    """Move notches, by their numbers, along their edge, and make them of their partners' kind."""
    notches, said = list(edge.notches), []
    for number, (pair, by) in moves.items():
        old = edge.notches[number - 1]
        wanted = net_at(piece, edge.name, old.at) + by
        place = gross_at(piece, edge.name, min(max(wanted, 0.0), net_length(piece, edge.name)))
        kind = pair[1].kind or old.kind
        notches[number - 1] = replace(old, at=place if abs(by) > SAME_MM else old.at, kind=kind)
        said.append(_said(pair, by, made=kind is not old.kind))
    words = tuple(part for one in said for part in (*one, " "))[:-1]
    if tuple(notches) == edge.notches:
        return Outcome(pattern=pattern, said=words)
    return Outcome(
        pattern=pattern.with_piece(piece.with_edge(edge.with_notches(notches))), said=words
    )


def _said(pair: tuple[Station, Station], by: float, *, made: bool) -> Sentence:
    own, other = pair
    called = f"{mark_name(own)} of {edge_name(own.piece, own.edge)}"
    partner = f"its partner on {edge_name(other.piece, other.edge)}"
    if other.kind is None:
        partner = f"{mark_name(other)} of {other.piece}"
    kind = f", and made it {other.kind.value} as that is" if made and other.kind else ""
    if abs(by) > SAME_MM:
        return (f"Moved {called} by ", abs(by), f" to meet {partner}{kind}.")
    return (f"Left {called} where it meets {partner}{kind}.",)


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
