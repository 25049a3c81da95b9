"""Lengths, angles and shares as the maker writes them, read once, where they come in.

Inside, every length is a float in millimetres; how one is shown is the business of `words`.

>>> parse_length("17 1/2", unit=Unit.inch)
444.5
"""

from clothwright.units.reading import is_count, parse_angle_deg, parse_fraction, parse_length
from clothwright.units.unit import INCH, LONGEST_MM, YARD, Unit, parse_unit

__all__ = [
    "INCH",
    "LONGEST_MM",
    "YARD",
    "Unit",
    "is_count",
    "parse_angle_deg",
    "parse_fraction",
    "parse_length",
    "parse_unit",
]
