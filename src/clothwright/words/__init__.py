"""How lengths, names, lists and sentences are said, in her unit; the only place that rounds.

>>> show_length(444.5, Unit.inch)
'17 1/2 in'
>>> say(("Shortened ", "front", " by ", 25.4), Unit.cm)
'Shortened front by 2.5 cm'
"""

from clothwright.errors import Said, Sentence
from clothwright.units import Unit
from clothwright.words.saying import (
    listed,
    say,
    show_angle_deg,
    show_fraction,
    show_length,
    told,
)

__all__ = [
    "Said",
    "Sentence",
    "Unit",
    "listed",
    "say",
    "show_angle_deg",
    "show_fraction",
    "show_length",
    "told",
]
