"""Does front meet front and hem meet hem, or is a side sewn from its wrong end?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.walk import run_is, run_name
from clothwright.pattern.ways_round import evidence, is_turned_round
from clothwright.words import begun, counted, listed

ID = "seam-ways"


def seam_ways(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look for seams that every sign says should be sewn from the other end of one side."""
    del settings
    yield from each(ID, pattern.seams, lambda s: Where(seam=s.name), lambda s: _seam(pattern, s))


def _seam(pattern: Pattern, seam: Seam) -> Iterator[Finding]:
    if not is_turned_round(pattern, seam):
        return
    yield Finding(
        code="seam-turned-round",
        severity=Severity.FAULT,
        where=Where(seam=seam.name, piece=seam.b[0].piece, edge=seam.b[0].edge),
        measured=float(evidence(pattern, seam).bad),
        expected=0.0,
        unit="count",
        words=(
            f"{run_is(seam.b)} sewn to {run_name(seam.a)} from its wrong end: what belongs to "
            "the front, the hem or the neck on one side meets something else on the other. Sewn "
            "from its other end, all of it meets its like.",
        ),
        mend=Mend(change="turn-seam", params={"seam": seam.name}),
    )


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the seams whose ends anything tells apart; name those of which nothing does."""
    del settings
    ways = {s.name: any(evidence(pattern, s)) or s.a == s.b for s in pattern.seams}
    told, others = sum(ways.values()), [name for name, tells in ways.items() if not tells]
    never = "nothing tells from which end these seams are sewn, neither notches nor names: "
    unlooked = (f"{begun(never)}{listed(others)}.",) if others else ()
    return LookedAt(told, counted(told, "seam"), unlooked)


CHECK = Check(
    id=ID,
    title="Is every seam sewn from the right end?",
    why="A sleeve set in back to front has the same length as one set in right, so that only its "
    "notches tell: the single one belongs to the front, the double one to the back.",
    source="Single notches mark fronts, double ones backs (textbook; docs/sources.md, notches).",
    codes=("seam-turned-round", f"{ID}-skipped"),
    run=seam_ways,
    looked=looked,
)
