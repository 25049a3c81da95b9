"""Every finding with its number and what mends it: what page, paper and command line tell alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clothwright.checks import CHECKS
from clothwright.pattern.finding import Finding, Severity
from clothwright.workbook import Replay, Workbook
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.walking.alike import offered
from clothwright.workroom.walking.by_hand import unmended
from clothwright.workroom.walking.trial import BEHIND

OF_LENGTHS = frozenset(
    code
    for check in CHECKS
    if check.id in ("seam-ways", "seam-lengths", "notch-partners", "fullness-places", "cap-ease")
    for code in check.codes
)
"""Findings that both sides of their seam, laid along each other, show."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingTold:
    """A finding as it is told. number: its place among all, from 1. mending: what mends it.

    same: the number of an earlier finding that the same change mends, 0 for none. unmended: what to
    do where no change does; "" where one does, and for a note.
    """

    number: int
    finding: Finding
    mending: Mending | None
    same: int
    unmended: str

    @property
    def answer(self) -> str:
        """Say what mends it, or what to do where nothing does; "" for nothing to say."""
        if self.same:
            return f"What mends {self.same} mends this, too."
        if self.mending is None or self.unmended:
            return self.unmended
        return f"To mend it: {self.mending.asks}"


def told_of(found: Sequence[Finding], book: Workbook, done: Replay) -> tuple[FindingTold, ...]:
    """Return findings as they are told, numbered in their order. done: the changes as applied."""
    return tuple(_told(found, book, done))


def _told(found: Sequence[Finding], book: Workbook, done: Replay) -> Iterator[FindingTold]:
    first: dict[str, int] = {}
    for number, f in enumerate(found, start=1):
        mending = offered(f, book, done)
        same = 0
        if mending is not None and not mending.trouble:
            what = f"{mending.change} {dict(mending.params)} {mending.alike}"
            before = first.setdefault(what, number)
            same = before if before != number else 0
        heavy = f.severity in (Severity.FAULT, Severity.NOTICE)
        why = mending.trouble if mending else unmended(f, done.pattern) if heavy else ""
        if why and f.code == BEHIND:
            why = "That takes more than one change."
        yield FindingTold(number=number, finding=f, mending=mending, same=same, unmended=why)
