"""Set seam allowances."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import ref_name, refs_name, split_ref

ALL_SEAMS = "all seams"
"""Stands for every edge that is sewn to another: in a seam of the pattern, or of role seam."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAllowance:
    """Parameters of `set-allowance`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges",
        'the edges; a piece\'s name for all its seams; "all seams" for every '
        "edge that is sewn to another",
        label="Which edges",
    )
    amount: float = param(
        "length", "from the stitching line to the cutting line, 0 or more", label="How wide"
    )


def apply(pattern: Pattern, params: SetAllowance) -> Outcome:
    """Give edges an allowance of `amount` mm outside their stitching line.

    Stitching lines do not change. Hems keep their depth under "all seams" and under a piece's
    name; name a hem's edge to change it. A fold takes no allowance.

    Raises CannotDo when the cutting line would cross itself, or for a fold; BadInput for unknown
    names and an amount below nothing.
    Source: docs/sources.md, seam allowances (5/8 in on patterns for home sewing).
    """
    if params.amount < 0:
        raise BadInput(
            what=("an allowance of ", params.amount, " lies inside the stitching line"),
            expected="an amount of 0 or more",
        )
    wanted = _wanted(pattern, params.edges)
    changed = pattern
    count = 0
    for piece in pattern.pieces:
        names = {edge for name, edge in wanted if name == piece.name}
        edges = tuple(
            replace(e, allowance=params.amount)
            if e.name in names and e.allowance != params.amount
            else e
            for e in piece.edges
        )
        count += sum(1 for new, old in zip(edges, piece.edges, strict=True) if new is not old)
        if any(new is not old for new, old in zip(edges, piece.edges, strict=True)):
            new = replace(piece, edges=edges)
            _check_cutting_line(new, params.amount)
            changed = changed.with_piece(new)
    said_names = refs_name(split_ref(text) for text in params.edges)
    if not count:
        return Outcome(
            pattern=pattern, said=(f"Left the allowance of {said_names} at ", params.amount, ".")
        )
    edges_said = "1 edge" if count == 1 else f"{count} edges"
    said = ("Set the allowance of ", said_names, " to ", params.amount, f" ({edges_said} changed).")
    return Outcome(pattern=changed, said=said)


def _wanted(pattern: Pattern, texts: tuple[str, ...]) -> set[tuple[str, str]]:
    found: set[tuple[str, str]] = set()
    for text in texts:
        if text == ALL_SEAMS:
            found |= {key for piece in pattern.pieces for key in _seams_of(pattern, piece)}
        elif any(p.name == text for p in pattern.pieces):
            found |= _seams_of(pattern, pattern.piece(text))
        else:
            ref = parse_edge(text)
            if pattern.edge(ref).role is Role.FOLD:
                raise CannotDo(
                    what=f'"{ref_name(text)}" cannot take an allowance',
                    why="it is laid on the fold of the cloth",
                    nearest="unfold the piece first, or another edge",
                )
            found.add((ref.piece, ref.edge))
    return found


def _seams_of(pattern: Pattern, piece: Piece) -> set[tuple[str, str]]:
    return {
        (piece.name, e.name)
        for e in piece.edges
        if e.role is Role.SEAM
        or (
            e.role is not Role.HEM
            and e.role is not Role.FOLD
            and pattern.seams_of(piece.name, e.name)
        )
    }


def _check_cutting_line(piece: Piece, amount: float) -> None:
    if self_crossings(cutting_line(piece).outline):
        raise CannotDo(
            what=(f'"{piece.name}" cannot have an allowance of ', amount),
            why="its cutting line would cross itself",
            nearest="a smaller amount",
        )


CHANGE = Change(
    id="set-allowance",
    title="Set seam allowances",
    topic="hems and allowances",
    why="Stitching lines are what fits; the allowance is what the hand and the cloth need.",
    source="docs/sources.md: seam allowances",
    params=SetAllowance,
    apply=apply,
    divides=True,
)
