"""What is wrong with the rules of a workbook's plans, told all at once and before any search."""

from __future__ import annotations

from clothwright.errors import BadInput, raise_all
from clothwright.pattern.pattern import Pattern
from clothwright.rules.stating import mistakes_of
from clothwright.workbook import Workbook


def rule_mistakes(book: Workbook, pattern: Pattern) -> tuple[BadInput, ...]:
    """Return each rule that names what is not there, or asks of a print what it has not.

    pattern: the pieces as changed. A workbook without pieces or cloths has nothing to look up.
    """
    if not pattern.pieces or not book.cloths:
        return ()
    return tuple(m for plan in book.plans for m in mistakes_of(plan, pattern, book.cloths))


def refuse_wrong_rules(book: Workbook, pattern: Pattern) -> None:
    """Nothing when every rule holds. Raises BadInput or Mistakes."""
    raise_all(rule_mistakes(book, pattern))
