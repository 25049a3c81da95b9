"""Differences: what is met or nothing is not told as a number."""

from fractions import Fraction

from clothwright.units import Unit
from clothwright.words.saying import show_length

MET_MM = 0.1
"""A rule is met, and two lengths are the same, up to this (mm); the promise of exact rules."""


def is_met(mm: float) -> bool:
    """Return whether a difference (mm) is none at all for who cuts and sews.

    >>> is_met(-0.04), is_met(0.3)
    (True, False)
    """
    return abs(mm) <= MET_MM


def show_difference(mm: float, unit: Unit, *, none: str = "none", sign: bool = False) -> str:
    """Return a difference (mm) in her unit: `none` when it is met, never "0.00".

    What is there but too small for her unit is told as less than its smallest step: 1/16 in, or
    1 mm. ``sign`` puts a plus before more than nothing. Raises BadInput when it is not a number.

    >>> show_difference(0.02, Unit.inch), show_difference(0.5, Unit.inch)
    ('none', 'less than 1/16 in')
    >>> show_difference(3.2, Unit.inch, sign=True), show_difference(0.3, Unit.cm)
    ('+1/8 in', 'less than 1 mm')
    """
    if is_met(mm):
        return none
    if abs(mm) < _half_step_mm(unit):
        return "less than 1 mm" if unit.is_metric else "less than 1/16 in"
    return show_length(mm, _fine(unit), sign=sign)


def _half_step_mm(unit: Unit) -> float:
    """Half of the smallest step a difference is shown in, mm."""
    if unit is Unit.mm:
        return 0.05
    return 0.5 if unit.is_metric else float(Fraction(1, 32) * Unit.inch.exact_mm)


def _fine(unit: Unit) -> Unit:
    """The unit small differences are told in to who measures in yards or metres."""
    return {Unit.yard: Unit.inch, Unit.foot: Unit.inch, Unit.m: Unit.cm}.get(unit, unit)
