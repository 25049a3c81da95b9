"""A length of cloth on the table, right side up.

Frame: x runs along the selvedge from the cut end, y across from the outer edge of the lower
selvedge; mm. All figures are as the cloth lies now; `after_washing` gives it as it will be cut.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated

from clothwright.cloth.prints import Print
from clothwright.units.kinds import (
    Amount,
    Clearance,
    Extent,
    Length,
    Name,
    NoFewer,
    Shrinkage,
    Stretch,
)

Ring = tuple[tuple[Length, Length], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw:
    """A hole, stain or join to be kept out of every piece. margin: mm kept clear around it."""

    name: Name
    margin: Clearance = 5.0
    ring: Annotated[Ring, NoFewer(3)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """One length of cloth.

    width: mm between the outer edges of the selvedges. length: mm, or None when it is to be bought.
    margin_lower, margin_upper: mm of each selvedge that may not be used; margin_start, margin_end:
        mm lost at the cut ends.
    outline: the cloth's own ring when it is a remnant.
    nap: True when pile, shading or a one-way design wants all tops one way.
    shrink_along, shrink_across: shares (0.05 = 5 %) it will still lose before cutting.
    """

    name: Name
    material: str = "shell"
    width: Extent
    length: Extent | None = None
    margin_lower: Clearance = 10.0
    margin_upper: Clearance = 10.0
    margin_start: Clearance = 0.0
    margin_end: Clearance = 0.0
    outline: Ring | None = None
    nap: bool = False
    shrink_along: Shrinkage = 0.0
    shrink_across: Shrinkage = 0.0
    stretch: Stretch = 0.0
    price_per_m: Annotated[float, Amount("number", least=0.0)] | None = None
    note: str = ""
    flaws: tuple[Flaw, ...] = ()
    print: Print = Print()


def after_washing(cloth: Cloth) -> Cloth:
    """Return the cloth as it will lie for cutting, shrunk by its own shares, print and all.

    A sample washed and measured beats any table of shrinkages.
    """
    along, across = 1.0 - cloth.shrink_along, 1.0 - cloth.shrink_across
    if along == 1.0 and across == 1.0:
        return cloth

    def ring(points: Ring) -> Ring:
        return tuple((x * along, y * across) for x, y in points)

    return replace(
        cloth,
        width=cloth.width * across,
        length=None if cloth.length is None else cloth.length * along,
        margin_lower=cloth.margin_lower * across,
        margin_upper=cloth.margin_upper * across,
        margin_start=cloth.margin_start * along,
        margin_end=cloth.margin_end * along,
        outline=None if cloth.outline is None else ring(cloth.outline),
        flaws=tuple(replace(f, ring=ring(f.ring)) for f in cloth.flaws),
        print=cloth.print.shrunk(along, across),
        shrink_along=0.0,
        shrink_across=0.0,
    )


def to_buy(need: float, shrink_along: float) -> float:
    """Return the length to buy in mm for a length needed at the table: need / (1 - s).

    >>> round(to_buy(3 * 914.4, 0.05) / 914.4, 3)
    3.158
    """
    return need / (1.0 - shrink_along)
