"""Seven outfits whose print is looked at from outside: drafted by code, invented, nobody's.

Each has a plan to lay and the pieces, cloths and prints that make one thing hard: a check over a
bust dart and a sleeve, stripes on the bias, two borders and a curved hem, a border and a
ground of two repeats, a large figure in half-drop, brick, a figure with one way up on cloth with
nap.
"""

from __future__ import annotations

from collections.abc import Callable

from clothwright.workbook import Workbook
from tests.outfits.bodices import brick_blouse, checked_shirt, large_figure_dress, one_way_vest
from tests.outfits.skirts import bias_skirt, two_border_skirt, two_repeat_skirt

OUTFITS: dict[str, Callable[[], Workbook]] = {
    "checked shirt": checked_shirt,
    "bias skirt": bias_skirt,
    "two borders": two_border_skirt,
    "two repeats": two_repeat_skirt,
    "large figure": large_figure_dress,
    "brick blouse": brick_blouse,
    "one-way vest": one_way_vest,
}
