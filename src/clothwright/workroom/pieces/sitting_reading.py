"""How a waiting file is read: how its pages lie, what its layers mean, as the maker says it."""

from __future__ import annotations

from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.intake import Answers
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.workroom.pieces.inbox import Waiting
from clothwright.workroom.pieces.sitting import Look, Outline, look

SAME_MM = 3.0
"""mm: an outline whose box moves by less when a file is read anew is the same one."""


def with_reading(one: Waiting, bought: Pattern, unit: Unit, how: Answers) -> Waiting:
    """Return the drawing read in another way. Raises BadInput when it cannot be read so.

    What was answered about the outlines is kept when they are still the same ones.
    """
    before = look(one, bought, unit)
    after = look(replace(one, how=how), bought, unit)
    if after.drawing is None:
        raise BadInput(what=after.trouble.rstrip(".") or "it cannot be read so")
    kept = one.said if _same(before, after) else {}
    size = one.size if one.size in after.sizes else ""
    return replace(one, how=how, said=kept, size=size)


def may_be_read_otherwise(seen: Look) -> bool:
    """Tell whether another answer may make pieces of a drawing: pages, or numbers for layers."""
    return seen.drawing is not None and (
        seen.drawing.pages is not None or bool(seen.drawing.layers)
    )


def _same(before: Look, after: Look) -> bool:
    if len(before.outlines) != len(after.outlines):
        return False
    return all(_alike(a, b) for a, b in zip(before.outlines, after.outlines, strict=True))


def _alike(a: Outline, b: Outline) -> bool:
    """Tell whether two outlines lie at one place: corners that were pressed hold for both."""
    if a.candidate is None or b.candidate is None:
        return False
    one, other = a.candidate.outline.path.bounds(), b.candidate.outline.path.bounds()
    return all(p.distance(q) < SAME_MM for p, q in zip(one, other, strict=True))
