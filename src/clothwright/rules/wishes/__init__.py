"""The kinds of wishes, in the order they are offered in where nothing else orders them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from clothwright.rules.wishes import (
    border_figures,
    border_round,
    centred,
    chevrons,
    figures,
    in_line,
    level_round,
    one_way_up,
    pockets,
    turned_along,
)
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Wish

WISHES: tuple[Callable[[Showing], Iterator[Wish]], ...] = (
    border_round.offers,
    border_figures.offers,
    border_round.plain_offers,
    turned_along.offers,
    centred.offers,
    chevrons.offers,
    figures.clear_offers,
    figures.middle_offers,
    figures.whole_offers,
    level_round.offers,
    level_round.sleeve_offers,
    centred.sleeve_offers,
    in_line.middle_offers,
    in_line.shoulder_offers,
    pockets.offers,
    one_way_up.offers,
)
"""What offers the wishes of each kind that make sense for the pieces that show."""
