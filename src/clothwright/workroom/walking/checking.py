"""Check the pieces as changed; a change that could not be done is a finding too."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from clothwright.checks import run_checks
from clothwright.checks.check import CheckSettings
from clothwright.drawing.walk_table import WalkTable, walk_table
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import Pattern
from clothwright.sewing import seams_in_order
from clothwright.words import begun
from clothwright.workbook import Replay, Workbook, change_name, check_settings, replay


def findings_of(book: Workbook, done: Replay | None = None) -> tuple[Finding, ...]:
    """Return every finding on the pieces as changed, in the order in which they matter.

    The gravest first; of one weight, what is cut or sewn first, and there the largest difference.
    A finding's number is its place here, from 1, on every page and paper.
    done: the workbook's changes as applied, where they are at hand.
    """
    done = done or replay(book)
    undone = tuple(
        Finding(
            code="change-not-done",
            severity=Severity.FAULT,
            where=Where(),
            measured=float(t.number),
            words=(f"{begun(change_name(t.number, t.step.change))} could not be done: {t.error}",),
        )
        for t in done.told
        if t.error
    )
    found = checked(done.pattern, check_settings(book))
    weighed = sorted(enumerate(found), key=_matters(done.pattern, found))
    return undone + tuple(f for _, f in weighed)


def _matters(
    pattern: Pattern, found: tuple[Finding, ...]
) -> Callable[[tuple[int, Finding]], tuple[int, int, float, int]]:
    """Return what findings are sorted by: weight, when it is sewn, how much it is off.

    A piece comes before its seams, since it is cut first; an edge in no seam after them.
    """
    weights = list(dict.fromkeys(f.severity for f in found))  # the checks give the gravest first
    sewn = seams_in_order(pattern)
    turn = {name: n for n, name in enumerate(sewn, start=1)}

    def key(numbered: tuple[int, Finding]) -> tuple[int, int, float, int]:
        place, f = numbered
        where = f.where
        seams: tuple[str, ...] = (where.seam,) if where.seam else ()
        if not seams and where.edge:
            seams = tuple(s.name for s in pattern.seams_of(where.piece, where.edge))
        last = len(sewn) + 1 if where.seam or where.edge else 0
        when = min((turn.get(s, last) for s in seams), default=last)
        lengths = f.unit == "mm" and f.measured is not None and f.expected is not None
        off = abs((f.measured or 0.0) - (f.expected or 0.0)) if lengths else 0.0
        return weights.index(f.severity), when, -off, place

    return key


def seam_table(book: Workbook, done: Replay, wanted: str = "") -> WalkTable:
    """Return the walk table of the pieces as changed, in the workbook's unit.

    done: the changes as applied. wanted: the seam to look at; without it the first one told of,
    else the first.
    """
    agree = check_settings(book).agree
    return walk_table(done.pattern, findings_of(book, done), wanted, book.unit, agree)


@lru_cache(maxsize=64)
def checked(pattern: Pattern, settings: CheckSettings) -> tuple[Finding, ...]:
    """Return what the checks find; the patterns checked last are remembered, by content."""
    return run_checks(pattern, settings)
