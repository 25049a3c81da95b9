"""How much a drawing may hold: more is no pattern, and would be worked on for minutes."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.errors import BadInput
from clothwright.intake.drawing import DrawnLine

MOST_IN_LINE = 50_000
"""Lines and curves of one line."""
MOST_IN_ALL = 400_000
"""... of a whole drawing."""
MOST_SHAPES = 2_000
"""Closed lines large enough to be pieces. 30 pieces in 20 sizes with two lines each are 1200."""
LARGE_MM = 20.0
"""A closed line at least so wide or tall may be a piece."""


def check_bounds(lines: Sequence[DrawnLine], file: str) -> None:
    """Refuse a drawing that holds too much, before anything is sought in it. Raises BadInput."""
    counts = [len(x.path.segments) for x in lines]
    longest = max(counts, default=0)
    if longest > MOST_IN_LINE:
        raise BadInput(
            where=file,
            what=f"one of its lines has {longest:,} points",
            expected=f"at most {MOST_IN_LINE:,} in a line",
            try_="drawing it with curves, or simplifying it",
        )
    if sum(counts) > MOST_IN_ALL:
        raise BadInput(
            where=file,
            what=f"its lines have {sum(counts):,} points together",
            expected=f"at most {MOST_IN_ALL:,}",
            try_="fewer pages or pieces at a time",
        )
    if len(lines) <= MOST_SHAPES:
        return
    large = sum(1 for x in lines if x.closed and max(x.path.bounds().size) >= LARGE_MM)
    if large > MOST_SHAPES:
        raise BadInput(
            where=file,
            what=f"{large:,} closed shapes in it are large enough to be pieces",
            expected=f"at most {MOST_SHAPES:,}",
            try_="leaving out what is no piece, or fewer pieces at a time",
        )
