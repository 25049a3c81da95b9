"""clothwright walk: the walk of every seam, and all that can be checked on paper."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import opened, out, write_json
from clothwright.pattern.finding import Finding, Severity
from clothwright.words import say
from clothwright.workbook import replay
from clothwright.workroom.planning.rule_mistakes import refuse_wrong_rules
from clothwright.workroom.sewing.guiding import finding_words
from clothwright.workroom.walking.checking import findings_of


def walk(workbook: Path, *, json: bool = False) -> int:
    """Walk every seam of the pieces as changed and say what does not agree.

    Leaves with 0 when nothing needs mending, 1 when there is a fault. It does not replace the
    trial garment.

    Parameters
    ----------
    workbook
        The workbook's folder.
    json
        Write the findings as JSON to standard output instead of words.
    """
    book = opened(workbook)
    done = replay(book)
    refuse_wrong_rules(book, done.pattern)
    findings = findings_of(book, done)
    if json:
        data = [finding_data(f, say(f.words, book.unit)) for f in findings]
        write_json({"format": "clothwright-findings/1", "findings": data}, "-")
    elif findings:
        for f in findings:
            out.print(finding_words(f, book.unit), markup=False)
    else:
        out.print("Every seam, notch, corner, dart, allowance and hem agrees on paper.")
        out.print("Make a trial garment before you cut cloth that cannot be replaced.")
    return int(any(f.severity is Severity.FAULT for f in findings))


def finding_data(f: Finding, words: str) -> dict[str, object]:
    """Return a finding as plain data."""
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
        "words": words,
        "mend": None if f.mend is None else {"change": f.mend.change, **dict(f.mend.params)},
    }
