"""The findings of the checks line by line, and as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.pattern.finding import Finding, Severity
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Replay, Workbook, check_settings, replay
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.planning.rule_mistakes import refuse_wrong_rules
from clothwright.workroom.walking.checking import findings_of
from clothwright.workroom.walking.telling import FindingTold, told_of
from clothwright.workroom.walking.trial import CLEAN
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
    told = told_of(found, book, done)
    return WalkReport(
        verdict=verdict(done.pattern, found, unmeasured(book), check_settings(book)),
        lines=tuple(_line(it, book.unit) for it in told),
        data=tuple(_data(t, book.unit) for t in told),
        faulty=any(f.severity is Severity.FAULT for f in found),
        mended=next((t.number for t in told if t.mending and not t.mending.trouble), 0),
    )


def finding_lines(found: Sequence[Finding], book: Workbook, done: Replay) -> tuple[str, ...]:
    """Return a numbered line for each finding, with what would mend it, in her unit.

    done: the changes as applied.
    """
    return tuple(_line(it, book.unit) for it in told_of(found, book, done))


def _line(it: FindingTold, unit: Unit) -> str:
    f = it.finding
    parts = [f"{it.number}. {SEVERITY_WORDS[f.severity]}: {say(f.words, unit)}", it.answer]
    if it.mending and not it.same:
        parts += [it.mending.after.removeprefix(CLEAN).strip(), it.mending.or_else]
    return " ".join(part for part in parts if part)


def _data(it: FindingTold, unit: Unit) -> dict[str, object]:
    f, mending = it.finding, it.mending
    other = mending.other if mending else None
    return {
        "number": it.number,
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
