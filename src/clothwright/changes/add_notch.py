"""Put the notch that was forgotten where its partner meets it. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.match_notch import notch_of
from clothwright.errors import CannotDo
from clothwright.pattern.measure import Station, place_on
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Notch, Piece
from clothwright.pattern.slipped import across
from clothwright.pattern.walk import Walk, mark_name, notch_number, walk_seam
from clothwright.units.params import param
from clothwright.words import edge_name


@dataclass(frozen=True, slots=True, kw_only=True)
class AddNotch:
    """Parameters of `add-notch`."""

    seam: str = param("seam", "the seam along which it meets nothing", label="In which seam")
    notch: str = param("point", "the notch that has no partner", label="Partner of which notch")


def apply(pattern: Pattern, params: AddNotch) -> Outcome:
    """Mark on the other side of a seam the notch that a notch has to meet.

    It has that one's name and is single or double as it is. It lies as far along the seam, darts
    folded out, counted from the nearest marks that meet, from where nothing is eased; else in
    proportion. Raises CannotDo for a point that is no notch of the seam, one that has a partner,
    and where both sides are one edge; BadInput for unknown names.
    """
    seam = pattern.seam(params.seam)
    piece, edge, number = notch_of(pattern, params.notch)
    walk = walk_seam(pattern, seam)
    found = _alone(pattern, seam, walk, (piece.name, edge.name, number))
    if found is None:
        raise CannotDo(
            what=f"that notch of {edge_name(piece.name, edge.name)} cannot be given a partner",
            why=f'along seam "{seam.name}" it has one, or it lies on another edge',
            nearest="a notch that meets none",
        )
    station, on_b = found
    place = _belongs(walk, seam, station, on_b=on_b)
    ref, at = place_on(pattern, seam.b if on_b else seam.a, place)
    if (ref.piece, ref.edge) == (piece.name, edge.name):
        raise CannotDo(
            what=f"that notch of {edge_name(piece.name, edge.name)} cannot be given a partner",
            why="both sides of the seam are this one edge",
            nearest="the notch itself moved",
        )
    old = edge.notches[number - 1]
    other = pattern.piece(ref.piece)
    changed = pattern.with_piece(_with_notch(other, ref.edge, replace(old, at=at)))
    said = (
        f"Marked {edge_name(ref.piece, ref.edge)} with a {old.kind.value} notch ", place,
        f' along seam "{seam.name}", to meet {mark_name(station)} of '
        f"{edge_name(piece.name, edge.name)}.",
    )  # fmt: skip
    return Outcome(pattern=changed, said=said)


def _alone(
    pattern: Pattern, seam: Seam, walk: Walk, notch: tuple[str, str, int]
) -> tuple[Station, bool] | None:
    """Return a notch that meets none, as a place of its side, and whether side b lacks it."""
    for refs, stations, on_b in ((seam.a, walk.alone_a, True), (seam.b, walk.alone_b, False)):
        for s in stations:
            if (s.piece, s.edge, notch_number(pattern, refs, s)) == notch:
                return s, on_b
    return None


def _belongs(walk: Walk, seam: Seam, notch: Station, *, on_b: bool) -> float:
    """Return where on the side that lacks it a notch belongs, mm from the seam's start.

    What tells where the ease begins or ends has nothing eased on its other side.
    """
    if on_b and notch.name and notch.name in (seam.ease_from, seam.ease_to):
        first = notch.name == seam.ease_from
        beside = [p for p in walk.pairs if (p.a.at < notch.at) is first]
        a, b = (0.0, 0.0) if first else (walk.a.length, walk.b.length)
        if beside:
            a, b = (m.at for m in (beside[-1] if first else beside[0]))
        return b + notch.at - a
    return across(walk, walk.pairs, notch.at, on_b=on_b)


def _with_notch(piece: Piece, name: str, notch: Notch) -> Piece:
    edge = piece.edge(name)
    return piece.with_edge(edge.with_notches((*edge.notches, notch)))


CHANGE = Change(
    id="add-notch",
    title="Mark the partner of a notch",
    topic="edges and seams",
    why="A notch tells where an edge meets the other one only if that has it, too; one that was "
    "forgotten in tracing is marked where its partner meets it.",
    source="docs/sources.md: walking seams; single notches mark fronts, double ones backs",
    params=AddNotch,
    apply=apply,
)
