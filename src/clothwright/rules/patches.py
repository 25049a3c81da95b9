"""Pockets and the like, offered at each place marked for them to be matched there."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.pattern.patches import patch_places
from clothwright.rules.offers import Choice, Outfit
from clothwright.words import edge_name


def patches(outfit: Outfit) -> Iterator[Choice]:
    """Yield each patch at each place marked for it, matched both ways, for two-point rules."""
    printed = {p.name for p in outfit.printed}
    for place in patch_places(outfit.pattern):
        if {place.piece, place.on} <= printed:
            yield Choice(
                key=f"{place.name}.{place.mark}",
                words=(f"{place.piece} on {edge_name(place.on, place.mark)}",),
                values={
                    "piece_a": place.piece,
                    "point_a": place.point,
                    "piece_b": place.on,
                    "point_b": place.on_point,
                    "match": "both",
                },
            )
