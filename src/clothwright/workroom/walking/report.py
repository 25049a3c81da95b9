"""The findings of the checks line by line, and as plain data."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.pattern.finding import Finding, Severity
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Workbook, change_of, replay
from clothwright.workroom.planning.rule_mistakes import refuse_wrong_rules
from clothwright.workroom.walking.checking import findings_of
from clothwright.workroom.walking.verdict import Verdict, unmeasured, verdict

SEVERITY_WORDS = {
    Severity.FAULT: "Fault",
    Severity.NOTICE: "Notice",
    Severity.SKIPPED: "Could not be checked",
    Severity.NOTE: "Note",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkReport:
    """What the walk found: a line of words for each finding, the same as data; is one a fault?

    verdict: what it comes to, with what was looked at and what was not.
    """

    verdict: Verdict
    lines: tuple[str, ...]
    data: tuple[dict[str, object], ...]
    faulty: bool


def walk_report(book: Workbook) -> WalkReport:
    """Walk the pieces as changed; lengths in words are in the workbook's unit, in data in mm.

    Raises BadInput, Mistakes when a placing rule names what is not there.
    """
    done = replay(book)
    refuse_wrong_rules(book, done.pattern)
    found = findings_of(book, done)
    return WalkReport(
        verdict=verdict(done.pattern, found, unmeasured(book)),
        lines=tuple(finding_words(f, book.unit) for f in found),
        data=tuple(_data(f, book.unit) for f in found),
        faulty=any(f.severity is Severity.FAULT for f in found),
    )


def finding_words(finding: Finding, unit: Unit) -> str:
    """Return a finding as one line in the maker's unit."""
    mend = f" To mend it: {change_of(finding.mend.change).title}." if finding.mend else ""
    return f"{SEVERITY_WORDS[finding.severity]}: {say(finding.words, unit)}{mend}"


def _data(f: Finding, unit: Unit) -> dict[str, object]:
    return {
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
