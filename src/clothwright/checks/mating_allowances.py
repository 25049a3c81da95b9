"""Have edges that are sewn together the same allowance?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.finding import Finding, Mend, Where
from clothwright.pattern.mates import mates
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.words import counted, edge_name

ID = "mating-allowances"


def mating_allowances(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare the allowances of edges that lie along each other in a seam."""

    def look(seam: Seam) -> Iterator[Finding]:
        for a, b in mates(pattern, seam):
            yield from _compare(pattern, seam, a, b, settings)

    yield from each(ID, pattern.seams, lambda s: Where(seam=s.name), look)


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


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the edges that lie along each other."""
    del settings
    pairs = sum(1 for s in pattern.seams for _ in mates(pattern, s))
    return LookedAt(pairs, counted(pairs, "pair of edges", "pairs of edges"))


CHECK = Check(
    id=ID,
    title="Have edges that are sewn together the same allowance?",
    why="Edges are pinned with their cut edges level. Where one allowance is wider, the seam is "
    "sewn off one of the stitching lines and the garment comes out a different size.",
    source="Common practice; bands as for seam lengths.",
    codes=("allowances-differ", f"{ID}-skipped"),
    run=mating_allowances,
    looked=looked,
)
