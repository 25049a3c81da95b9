"""Do facings, linings and bands still fit what they go with, or was one left behind?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.companions import companions
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.together import LeftBehind, left_behind, proposed
from clothwright.words import Sentence, counted, edge_name, listed

ID = "companions-follow"


def companions_follow(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare each companion's edges with what they lie along; one finding for each companion."""
    behind = [b for b in left_behind(pattern, settings.agree) if not is_sewn(pattern, b)]
    pieces = tuple(dict.fromkeys(b.companion.piece for b in behind))
    yield from each(
        ID,
        pieces,
        lambda name: Where(piece=name),
        lambda name: _piece([b for b in behind if b.companion.piece == name], settings),
    )


def is_sewn(pattern: Pattern, behind: LeftBehind) -> bool:
    """Tell whether a seam joins the edge to what it lies along: then walking it tells."""
    own = behind.companion.piece, behind.edge
    sewn = {
        (r.piece, r.edge)
        for seam in pattern.seams_of(*own)
        for r in (*seam.a, *seam.b)
        if (r.piece, r.edge) != own
    }
    return any((a.piece, a.edge_of) in sewn for a in behind.companion.of)


def _piece(behind: list[LeftBehind], settings: CheckSettings) -> Iterator[Finding]:
    worst = max(behind, key=lambda b: abs(b.measured - b.expected))
    weight = length_band(worst.measured - worst.expected, settings)
    others = [b.edge for b in behind if b is not worst]
    yield Finding(
        code="companion-left-behind",
        severity=weight or Severity.NOTICE,
        where=Where(piece=worst.companion.piece, edge=worst.edge),
        measured=worst.measured,
        expected=worst.expected,
        unit="mm",
        words=_words(worst, others),
    )


def _words(b: LeftBehind, others: list[str]) -> Sentence:
    off = b.measured - b.expected
    of = listed([edge_name(a.piece, a.edge_of) for a in b.companion.of])
    also = f" (so is its {listed(others)})" if others else ""
    return (
        f"{edge_name(b.companion.piece, b.edge)} is ", abs(off),
        f" {'longer' if off > 0 else 'shorter'} than it has to be beside {of}{also}: the "
        f"{b.companion.kind} was left behind. Change it like the piece it goes with.",
    )  # fmt: skip


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count what is known to go with a piece; name what only seems to."""
    del settings
    known = len({c.piece for c in companions(pattern)})
    maybe = [c.piece for c in proposed(pattern)]
    never = "These seem to go with other pieces; nobody has said so, and they were not compared"
    unlooked = (f"{never}: {listed(maybe)}.",) if maybe else ()
    words = counted(known, "piece that goes with another", "pieces that go with others")
    return LookedAt(known, words if known or not maybe else "", unlooked)


CHECK = Check(
    id=ID,
    title="Do facings, linings and bands still fit what they go with?",
    why="A sleeve made longer with its lining forgotten hangs from the lining; a facing cut for "
    "the old neck does not reach.",
    source="Whatever is altered is altered in lining and facing at the same place, by the same "
    "amount (dressmaking manuals; docs/sources.md, lengthening). Bands as for seam lengths.",
    codes=("companion-left-behind", f"{ID}-skipped"),
    run=companions_follow,
    looked=looked,
)
