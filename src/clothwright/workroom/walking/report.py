"""The findings of the checks line by line, and as plain data."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.pattern.finding import Finding, Severity
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Replay, Workbook, check_settings, replay
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.planning.rule_mistakes import refuse_wrong_rules
from clothwright.workroom.walking.alike import offered
from clothwright.workroom.walking.checking import findings_of
from clothwright.workroom.walking.tried import CLEAN
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
    mends = [offered(f, book, done) for f in found]
    return WalkReport(
        verdict=verdict(done.pattern, found, unmeasured(book), check_settings(book)),
        lines=tuple(
            f"{n}. {_line(f, mending, book.unit)}"
            for n, (f, mending) in enumerate(zip(found, mends, strict=True), start=1)
        ),
        data=tuple(
            _data(n, f, mending, book.unit)
            for n, (f, mending) in enumerate(zip(found, mends, strict=True), start=1)
        ),
        faulty=any(f.severity is Severity.FAULT for f in found),
        mended=next((n for n, m in enumerate(mends, start=1) if m and not m.trouble), 0),
    )


def finding_words(finding: Finding, book: Workbook, done: Replay) -> str:
    """Return a finding as one line, with what would mend it, in her unit.

    done: the changes as applied.
    """
    return _line(finding, offered(finding, book, done), book.unit)


def _line(finding: Finding, mending: Mending | None, unit: Unit) -> str:
    said = f"{SEVERITY_WORDS[finding.severity]}: {say(finding.words, unit)}"
    if mending is None:
        return said
    after = mending.after.removeprefix(CLEAN).strip()
    parts = [mending.trouble] if mending.trouble else [f"To mend it: {mending.asks}", after]
    return " ".join(part for part in (said, *parts, mending.or_else) if part)


def _data(number: int, f: Finding, mending: Mending | None, unit: Unit) -> dict[str, object]:
    other = mending.other if mending else None
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
        "mend": _mend(mending),
        "other": _mend(other),
    }


def _mend(mending: Mending | None) -> dict[str, object] | None:
    """Return a change that mends something, lengths in mm; None where it takes more than one."""
    if mending is None or mending.trouble or mending.alike:
        return None
    return {"change": mending.mend.change, **dict(mending.mend.params)}
