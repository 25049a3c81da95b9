"""Sewing: what is joined to what, in the order in which it is usually done.

The order is common practice, without a source: darts first, long seams before those that cross
them, facings and closures before sleeves, hems last. Where a pattern's instructions differ, they
are followed.
"""

from __future__ import annotations

from clothwright.pattern.pattern import Pattern
from clothwright.sewing import closures, darts, facings, hems, linings, seams, sleeves
from clothwright.sewing.operation import Operation, SewStep

OPERATIONS: tuple[Operation, ...] = (
    darts.OPERATION,
    seams.OPERATION,
    closures.OPERATION,
    facings.OPERATION,
    sleeves.OPERATION,
    linings.OPERATION,
    hems.OPERATION,
)
"""Every operation, in the order of the work."""


def seams_in_order(pattern: Pattern) -> tuple[str, ...]:
    """Return the names of the seams as they are sewn, first to last; a broken one has its place."""
    kinds = [o.sews for o in OPERATIONS]
    return tuple(s.name for s in sorted(pattern.seams, key=lambda s: kinds.index(s.kind)))


def order_of_work(pattern: Pattern) -> tuple[SewStep, ...]:
    """Return every step of sewing a pattern, first to last; lengths in its sentences in mm."""
    return tuple(step for operation in OPERATIONS for step in operation.steps(pattern))
