"""The findings of the checks line by line, and as plain data."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say, within
from clothwright.workbook import Workbook, replay
from clothwright.workroom.editing.mending import mending_of
from clothwright.workroom.planning.rule_mistakes import refuse_wrong_rules
from clothwright.workroom.walking.checking import findings_of
from clothwright.workroom.walking.findings import mended_name
from clothwright.workroom.walking.verdict import Verdict, unmeasured, verdict

SEVERITY_WORDS = {
    Severity.FAULT: "Fault",
    Severity.NOTICE: "Notice",
    Severity.SKIPPED: "Could not be checked",
    Severity.NOTE: "Note",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkReport:
    """What the walk found: a numbered line for each finding, the same as data; is one a fault?

    verdict: what it comes to, with what was looked at and what was not. mended: the number of the
    first finding that a change mends, 0 for none.
    """

    verdict: Verdict
    lines: tuple[str, ...]
    data: tuple[dict[str, object], ...]
    faulty: bool
    mended: int


def walk_report(book: Workbook) -> WalkReport:
    """Walk the pieces as changed; lengths in words are in the workbook's unit, in data in mm.

    Raises BadInput, Mistakes when a placing rule names what is not there.
    """
    done = replay(book)
    refuse_wrong_rules(book, done.pattern)
    found = findings_of(book, done)
    return WalkReport(
        verdict=verdict(done.pattern, found, unmeasured(book)),
        lines=tuple(
            f"{n}. {finding_words(f, done.pattern, book.unit)}"
            for n, f in enumerate(found, start=1)
        ),
        data=tuple(_data(n, f, book.unit) for n, f in enumerate(found, start=1)),
        faulty=any(f.severity is Severity.FAULT for f in found),
        mended=next((n for n, f in enumerate(found, start=1) if f.mend), 0),
    )


def finding_words(finding: Finding, pattern: Pattern, unit: Unit) -> str:
    """Return a finding as one line, with what would mend it done on the pieces, in her unit."""
    said = f"{SEVERITY_WORDS[finding.severity]}: {say(finding.words, unit)}"
    if finding.mend is None:
        return said
    mending, _ = mending_of(finding.mend, pattern, unit, mended_name(finding))
    if mending.trouble:
        return f"{said} What would mend it ({within(mending.title)}) cannot be done here."
    return f"{said} To mend it: {mending.does}"


def _data(number: int, f: Finding, unit: Unit) -> dict[str, object]:
    return {
        "number": number,
        "code": f.code,
        "severity": f.severity.value,
        "where": {
            "piece": f.where.piece,
            "edge": f.where.edge,
            "seam": f.where.seam,
            "point": f.where.point,
        },
        "measured": f.measured,
        "expected": f.expected,
        "unit": f.unit,
        "words": say(f.words, unit),
        "mend": None if f.mend is None else {"change": f.mend.change, **dict(f.mend.params)},
    }
