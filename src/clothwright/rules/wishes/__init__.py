"""The kinds of wishes, in the order they are offered in where nothing else orders them."""

from __future__ import annotations

from clothwright.rules.wishes import (
    border_figures,
    border_round,
    centred,
    chevrons,
    figures,
    level_round,
    one_way_up,
    pockets,
)
from clothwright.rules.wishes.wish import WishKind

WISHES: tuple[WishKind, ...] = (
    border_round.ROUND,
    border_figures.FIGURES,
    border_round.PLAIN,
    centred.CENTRED,
    chevrons.CHEVRONS,
    figures.CLEAR,
    figures.MIDDLE,
    figures.WHOLE,
    level_round.LEVEL,
    level_round.SLEEVE,
    centred.SLEEVE,
    pockets.POCKETS,
    one_way_up.ONE_WAY,
)
"""Every kind of wish there is."""
