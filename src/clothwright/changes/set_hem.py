"""Set the depth of a hem and how its corners are cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.pattern.beside import Beside, sewn_flat
from clothwright.pattern.hems import EASES, deepest, turned_up
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Join, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import (
    AtMost,
    Sentence,
    edge_name,
    ref_name,
    refs_name,
    show_fraction,
    split_ref,
)

SAME_MM = 0.5
"""mm: a smaller difference is not told."""

_JOINS = {
    "folded": (Join.FOLDED, Join.FOLDED),
    "extended": (Join.EXTENDED, Join.EXTENDED),
    "squared": (Join.SQUARED_BEFORE, Join.SQUARED_AFTER),
}
"""The joins at the hem's start and at its end; squared: the neighbour's allowance ends square."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetHem:
    """Parameters of `set-hem`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "the hem edges, such as the hems of front and back", label="Which hems"
    )
    depth: float = param(
        "length",
        "from the hem line, where it is turned up, to the cut edge",
        label="Depth of the hem",
    )
    corners: str = param(
        "choice",
        "",
        default="folded",
        choices={
            "folded": "they are mirrored in the hem line, so that the hem lies flat turned up",
            "extended": "the cutting lines run straight on",
            "squared": "the side allowance ends square",
        },
        label="What the ends of the hem do",
    )


def apply(pattern: Pattern, params: SetHem) -> Outcome:
    """Make edges hems of `depth` mm and choose how the cutting line turns at both their corners.

    The stitching line, which is the line where the hem is turned up, does not change.
    Raises CannotDo for a fold, for an edge sewn to another, and when the cutting line would cross
    itself; BadInput for unknown names and a depth below nothing.
    Source: docs/sources.md, hem depths.
    """
    if params.depth < 0:
        raise BadInput(what="the depth is less than nothing", expected="a depth of 0 or more")
    changed = pattern
    for text in params.edges:
        ref = parse_edge(text)
        _check_free(pattern, ref.piece, ref.edge)
        old = changed.piece(ref.piece)
        new = _hemmed(old, ref.edge, params)
        if new != old:
            if self_crossings(cutting_line(new).outline):
                raise CannotDo(
                    what=(f'"{ref_name(text)}" cannot have a hem ', params.depth, " deep"),
                    why="its cutting line would cross itself",
                    nearest="a smaller depth, or a facing instead",
                )
            changed = changed.with_piece(new)
    named = [split_ref(text) for text in params.edges]
    return Outcome(
        pattern=changed,
        said=(
            f"Set the hem of {refs_name(named)} to ",
            params.depth,
            f", corners {params.corners}.",
            *_fullness(changed, named),
            *_left(pattern, changed, named),
        ),
    )


def _fullness(pattern: Pattern, named: Sequence[tuple[str, str]]) -> Sentence:
    """Tell how much too wide the fullest of the hems is turned up, and what to do about it."""
    hems = {(p, e): turned_up(pattern.piece(p), e) for p, e in named}
    (piece, edge), worst = max(hems.items(), key=lambda item: abs(item[1].share))
    if abs(worst.excess) < SAME_MM:
        return ()
    kind = "wider" if worst.excess > 0 else "narrower"
    said: Sentence = (
        f" Once turned up, the {edge} of {piece} is ",
        abs(worst.excess),
        f" ({show_fraction(abs(worst.share))}) {kind} at its cut edge than the garment where it is"
        " sewn",
    )
    if worst.excess < 0:
        return (*said, ": clip it, or face it.")
    if worst.share <= EASES:
        return (*said, ": ease it in.")
    most = AtMost(deepest(pattern.piece(piece), edge, EASES))
    return (*said, ", too full to ease in: make it at most ", most, " deep, or face it.")


def _left(before: Pattern, after: Pattern, named: Sequence[tuple[str, str]]) -> Sentence:
    """Tell of hems that run on from these over a seam and are not as deep."""
    told: dict[tuple[str, str], Sentence] = {}
    beside = Beside(before)
    for seam in sewn_flat(before):
        for across in beside.lines_across(seam):
            tips = [(c.tip.piece, c.tip.edge) for c in (across.a, across.b)]
            for own, other in (tips, tips[::-1]):
                depths = [after.piece(p).edge(e).allowance for p, e in (own, other)]
                if own in named and other not in named and abs(depths[0] - depths[1]) > SAME_MM:
                    it = f"The {other[1]} of {other[0]}"
                    lead = f" {it}, which runs on from it over {seam.name}, is "
                    told[other] = (lead, depths[1], " deep: set it alike.")
    return tuple(part for said in told.values() for part in said)


def _check_free(pattern: Pattern, piece: str, name: str) -> None:
    edge = pattern.piece(piece).edge(name)
    if edge.role is Role.FOLD:
        raise CannotDo(
            what=f'"{edge_name(piece, name)}" cannot be a hem',
            why="it is laid on the fold of the cloth",
            nearest="another edge",
        )
    sewn = [s.name for s in pattern.seams_of(piece, name) if s.kind not in ("hem", "facing")]
    if sewn:
        raise CannotDo(
            what=f'"{edge_name(piece, name)}" cannot be a hem',
            why=f'it is sewn to another edge in seam "{sewn[0]}"',
            nearest="an edge that is not sewn to another, or an allowance set there",
        )


def _hemmed(piece: Piece, name: str, params: SetHem) -> Piece:
    at_start, at_end = _JOINS[params.corners]
    i = piece.index(name)
    edges = list(piece.edges)
    edges[i] = replace(edges[i], role=Role.HEM, allowance=params.depth)
    if edges[i - 1].role is not Role.FOLD:
        edges[i] = replace(edges[i], join=at_start)
    j = (i + 1) % len(edges)
    if edges[j].role is not Role.FOLD:
        edges[j] = replace(edges[j], join=at_end)
    return replace(piece, edges=tuple(edges))


CHANGE = Change(
    id="set-hem",
    title="Set hem depth and corners",
    topic="hems and allowances",
    why="A deep hem on a flared or tapered edge must flare back at its ends, or it will not lie on "
    "the cloth above the fold.",
    source="docs/sources.md: hem depths; a hem mirrors the slope of the side seam",
    params=SetHem,
    apply=apply,
    divides=True,
)
