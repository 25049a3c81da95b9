"""Do facings, linings and bands still fit what they go with, or was one left behind?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.companion_mends import companion_mends
from clothwright.checks.weigh import each, length_band
from clothwright.pattern.companions import companion_names
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.since import Drifted, drifted
from clothwright.pattern.together import LeftBehind, left_behind, proposed
from clothwright.pattern.walk import sentence_start
from clothwright.words import Sentence, counted, edge_name, listed

ID = "companions-follow"

NONE_MM = 0.5
"""mm: a gain of no more is none."""


def companions_follow(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare each companion's edges with what they lie along; one finding for each companion."""
    found = left_behind(pattern, settings.agree, settings.bought)
    behind = [b for b in found if not is_sewn(pattern, b)]
    pieces = tuple(dict.fromkeys(b.companion.piece for b in behind))
    yield from each(
        ID,
        pieces,
        lambda name: Where(piece=name),
        lambda name: _piece(pattern, [b for b in behind if b.companion.piece == name], settings),
    )
    if settings.bought is not None:
        yield from _since(settings.bought, pattern, settings, pieces)


def _since(
    bought: Pattern, pattern: Pattern, settings: CheckSettings, told: tuple[str, ...]
) -> Iterator[Finding]:
    """Tell of each lining what its piece gained since it was bought and it did not: the most."""
    found: dict[str, Drifted] = {}
    for d in drifted(bought, pattern, 2 * settings.agree):
        name = d.companion.piece
        most = found.get(name)
        if name not in told and (most is None or _lag(d) > _lag(most)):
            found[name] = d
    for name, d in found.items():
        yield Finding(
            code="companion-left-behind",
            severity=length_band(d.gained - d.followed, settings) or Severity.NOTICE,
            where=Where(piece=name),
            measured=d.followed,
            expected=d.gained,
            unit="mm",
            words=_since_words(d),
        )


def _lag(d: Drifted) -> float:
    return abs(d.gained - d.followed)


def _since_words(d: Drifted) -> Sentence:
    if abs(d.gained) <= NONE_MM:  # the lining alone was changed
        start: Sentence = (
            f"{sentence_start(d.companion.piece)} is ", abs(d.followed),
            f" {_way(d.followed)} {d.place} than as bought, and {d.of} is not: ",
        )  # fmt: skip
        return (*start, "change the piece it goes with alike, or take it back.")
    follows = "not" if abs(d.followed) <= NONE_MM else "not by as much"
    return (
        f"{sentence_start(d.of)} is ", abs(d.gained),
        f" {_way(d.gained)} {d.place} than as bought, and {d.companion.piece} is {follows}: the "
        f"{d.companion.kind} was left behind. Change it like the piece it goes with.",
    )  # fmt: skip


def _way(gained: float) -> str:
    return "larger" if gained > 0 else "smaller"


def is_sewn(pattern: Pattern, behind: LeftBehind) -> bool:
    """Tell whether a seam joins the edge to what it lies along: then walking it tells."""
    own = behind.companion.piece, behind.edge
    sewn = {
        (r.piece, r.edge)
        for seam in pattern.seams_of(*own)
        for r in seam.refs
        if (r.piece, r.edge) != own
    }
    return any((a.piece, a.edge_of) in sewn for a in behind.companion.of)


def _piece(
    pattern: Pattern, behind: list[LeftBehind], settings: CheckSettings
) -> Iterator[Finding]:
    worst = max(behind, key=lambda b: abs(b.measured - b.expected))
    weight = length_band(worst.measured - worst.expected, settings)
    others = [b.edge for b in behind if b is not worst]
    ways = companion_mends(pattern, behind)
    yield Finding(
        code="companion-left-behind",
        severity=weight or Severity.NOTICE,
        where=Where(piece=worst.companion.piece, edge=worst.edge),
        measured=worst.measured,
        expected=worst.expected,
        unit="mm",
        words=_words(worst, others),
        mend=ways[0] if ways else None,
        others=ways[1:],
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
    known = len(companion_names(pattern))
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
