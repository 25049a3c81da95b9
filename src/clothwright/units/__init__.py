"""Lengths, angles and shares as the maker writes and reads them.

Inside, every length is a float in millimetres.  Text is read once, where it comes in, and made
again only to be shown; rounding happens in what is shown and nowhere else.

>>> parse_length("17 1/2", unit=Unit.inch)
444.5
>>> show_length(444.5, Unit.inch)
'17 1/2 in'
>>> say(("Shortened ", "front", " by ", 25.4), Unit.cm)
'Shortened front by 2.5 cm'
"""

from clothwright.units.reading import parse_angle_deg, parse_fraction, parse_length
from clothwright.units.showing import (
    Sentence,
    listed,
    say,
    show_angle_deg,
    show_fraction,
    show_length,
)
from clothwright.units.unit import LONGEST_MM, Unit, parse_unit

__all__ = [
    "LONGEST_MM",
    "Sentence",
    "Unit",
    "listed",
    "parse_angle_deg",
    "parse_fraction",
    "parse_length",
    "parse_unit",
    "say",
    "show_angle_deg",
    "show_fraction",
    "show_length",
]
