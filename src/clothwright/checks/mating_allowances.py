"""Have edges that are sewn together the same allowance?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.finding import Finding, Mend, Where
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.words import edge_name

ID = "mating-allowances"

MEET_MM = 10.0
"""mm: edges that lie along each other for less than this touch only because of ease or a
difference in length; our own figure."""


class _Section(NamedTuple):
    """Where an edge lies along its side of a seam, from 0 to 1 of the side's length."""

    ref: EdgeRef
    start: float
    end: float


def mating_allowances(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare the allowances of edges that lie along each other in a seam."""

    def look(seam: Seam) -> Iterator[Finding]:
        for a, b in _mates(pattern, seam):
            yield from _compare(pattern, seam, a, b, settings)

    yield from each(ID, pattern.seams, lambda s: Where(seam=s.name), look)


def _mates(pattern: Pattern, seam: Seam) -> Iterator[tuple[EdgeRef, EdgeRef]]:
    a, b = _sections(pattern, seam.a), _sections(pattern, seam.b)
    whole = max(_whole(pattern, seam.a), _whole(pattern, seam.b))
    seen: set[tuple[EdgeRef, EdgeRef]] = set()
    for s in a:
        for t in b:
            shared = (min(s.end, t.end) - max(s.start, t.start)) * whole
            if shared >= min(MEET_MM, whole / 2) and (s.ref, t.ref) not in seen:
                seen.add((s.ref, t.ref))
                yield s.ref, t.ref


def _whole(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> float:
    return sum(net_length(pattern.piece(r.piece), r.edge) for r in refs)


def _sections(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> list[_Section]:
    whole = _whole(pattern, refs) or 1.0
    run, found = 0.0, []
    for ref in refs:
        length = net_length(pattern.piece(ref.piece), ref.edge)
        found.append(_Section(ref, run / whole, (run + length) / whole))
        run += length
    return found


def _compare(
    pattern: Pattern, seam: Seam, a: EdgeRef, b: EdgeRef, settings: CheckSettings
) -> Iterator[Finding]:
    wide, narrow = sorted((a, b), key=lambda r: -pattern.edge(r).allowance)
    much, little = pattern.edge(wide).allowance, pattern.edge(narrow).allowance
    weight = length_band(much - little, settings)
    if weight is None:
        return
    names = tuple(edge_name(r.piece, r.edge) for r in (wide, narrow))
    yield Finding(
        code="allowances-differ",
        severity=weight,
        where=Where(seam=seam.name, piece=narrow.piece, edge=narrow.edge),
        measured=little,
        expected=much,
        unit="mm",
        words=(
            f"{names[0]} has an allowance of ",
            much,
            f", {names[1]} of ",
            little,
            "; with their cut edges together the stitching lines would not meet.",
        ),
        mend=Mend(
            change="set-allowance",
            params={"edges": (f"{narrow.piece}.{narrow.edge}",), "amount": much},
        ),
    )


CHECK = Check(
    id=ID,
    title="Have edges that are sewn together the same allowance?",
    why="Edges are pinned with their cut edges level. Where one allowance is wider, the seam is "
    "sewn off one of the stitching lines and the garment comes out a different size.",
    source="Common practice; bands as for seam lengths.",
    codes=("allowances-differ", f"{ID}-skipped"),
    run=mating_allowances,
)
