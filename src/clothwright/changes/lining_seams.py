"""The seams of a lining: as the outside is sewn, and to the facings. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.changes.bands import rank
from clothwright.changes.faced import Faced, FacingEnd, LeftEdge
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.refs import EdgeRef

LINING = "lining"
EVEN_MM = 0.5
"""mm: a difference less than this between a lining and a facing is not meant."""


class FacingBeside(NamedTuple):
    """A facing on a piece, that piece, and the edge of its lining where the two meet."""

    faced: Faced
    piece: str
    left: LeftEdge


def lining_seams(
    pattern: Pattern,
    names: Mapping[str, str],
    own: Mapping[str, Piece],
    beside: Sequence[FacingBeside],
) -> Iterator[Seam]:
    """Yield the seams of the outside as those of the lining, where both sides are lined.

    Where a facing covers a part of one side alone, that part is sewn to the other side, too.
    """
    ends = {(b.piece, e.on): (b.faced.facing.name, e) for b in beside for e in b.faced.ends}
    for seam in pattern.seams:
        if seam.kind not in ("plain", "cap"):
            continue
        a, b = (_on(side, names, own) for side in (seam.a, seam.b))
        covered = [any((r.piece, r.edge) in ends for r in side) for side in (seam.a, seam.b)]
        if a and b and covered == [True, False]:
            a = _with_ends(seam.a, names, own, ends)
        if a and b and covered == [False, True]:
            b = _with_ends(seam.b, names, own, ends)
        if a and b:
            yield replace(seam, name=f"{seam.name} {LINING}", a=a, b=b)


def _on(
    side: Sequence[EdgeRef], names: Mapping[str, str], own: Mapping[str, Piece]
) -> tuple[EdgeRef, ...]:
    """Return a side of a seam on the linings, none where a piece of it is not lined."""
    if any(r.piece not in names for r in side):
        return ()
    return tuple(
        replace(r, piece=names[r.piece])
        for r in side
        if any(e.name == r.edge for e in own[r.piece].edges)
    )


def _with_ends(
    side: Sequence[EdgeRef],
    names: Mapping[str, str],
    own: Mapping[str, Piece],
    ends: Mapping[tuple[str, str], tuple[str, FacingEnd]],
) -> tuple[EdgeRef, ...]:
    """Return a side of a seam on the linings and on the facings that cover the rest of it."""
    out: list[EdgeRef] = []
    for ref in side:
        mine = list(_on((ref,), names, own))
        if (ref.piece, ref.edge) in ends:
            facing, end = ends[ref.piece, ref.edge]
            part = EdgeRef(facing, end.edge, reversed=end.back != ref.reversed)
            mine = [part, *mine] if end.at_start != ref.reversed else [*mine, part]
        out += mine
    return tuple(out)


def centre_seams(shell: Piece, lining: Piece) -> Iterator[Seam]:
    """Yield the seam of a lining that is no longer on the fold that its piece is on."""
    if shell.fold is not None and any(e.name == shell.fold.name for e in lining.edges):
        edge = lining.edge(shell.fold.name)
        if edge.role is Role.CENTRE:
            before, after = lining.neighbours(edge.name)
            ref = EdgeRef(lining.name, edge.name, reversed=rank(before) > rank(after))
            yield Seam(name=f"{lining.name} {edge.name}", a=(ref,), b=(ref,))


def seams_to_facings(
    names: Mapping[str, str], pieces: Mapping[str, Piece], beside: Sequence[FacingBeside]
) -> Iterator[Seam]:
    """Yield the seams of facings and linings; where a lining is shorter, that is what is meant."""
    for facing in dict.fromkeys(b.faced.facing.name for b in beside):
        own = [b for b in beside if b.faced.facing.name == facing]
        piece, edges = own[0].faced.facing, own[0].faced.edges
        own.sort(key=lambda b: b.left.at)
        a = [EdgeRef(facing, e) for e in edges]
        b = [EdgeRef(names[o.piece], o.left.edge, reversed=o.left.back) for o in own]
        first, last = piece.neighbours(edges[0])[0], piece.neighbours(edges[-1])[1]
        if rank(first) > rank(last):
            a, b = ([replace(r, reversed=not r.reversed) for r in s[::-1]] for s in (a, b))
        long = sum(piece.edge(e).length for e in edges)
        less = sum(pieces[o.piece].edge(o.left.edge).length for o in own) - long
        less = round(less, 6) if abs(less) > EVEN_MM else 0.0
        yield Seam(name=f"{facing} {LINING}", a=tuple(a), b=tuple(b), kind="lining", ease=less)
