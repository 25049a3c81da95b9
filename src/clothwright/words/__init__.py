"""How lengths, names, lists, counts, prices and sentences are said, in her unit; only it rounds.

>>> show_length(444.5, Unit.inch)
'17 1/2 in'
>>> say(("Shortened ", "front", " by ", 25.4), Unit.cm)
'Shortened front by 2.5 cm'
"""

from clothwright.errors import AtLeast, AtMost, Between, Said, Sentence, begun, within
from clothwright.units import Unit
from clothwright.words.asking import to_do
from clothwright.words.buying import (
    shop_step_mm,
    shop_unit,
    show_price,
    show_run,
    step_of,
    to_buy,
    to_buy_mm,
)
from clothwright.words.days import show_day
from clothwright.words.differing import MET_MM, is_met, show_difference
from clothwright.words.naming import (
    counted,
    edge_name,
    listed,
    motif_name,
    point_name,
    ref_name,
    refs_name,
    seam_name,
    split_ref,
)
from clothwright.words.saying import (
    say,
    show_angle_deg,
    show_fraction,
    show_length,
    show_number,
    show_size,
    told,
    with_lengths,
)

__all__ = [
    "MET_MM",
    "AtLeast",
    "AtMost",
    "Between",
    "Said",
    "Sentence",
    "Unit",
    "begun",
    "counted",
    "edge_name",
    "is_met",
    "listed",
    "motif_name",
    "point_name",
    "ref_name",
    "refs_name",
    "say",
    "seam_name",
    "shop_step_mm",
    "shop_unit",
    "show_angle_deg",
    "show_day",
    "show_difference",
    "show_fraction",
    "show_length",
    "show_number",
    "show_price",
    "show_run",
    "show_size",
    "split_ref",
    "step_of",
    "to_buy",
    "to_buy_mm",
    "to_do",
    "told",
    "with_lengths",
    "within",
]
