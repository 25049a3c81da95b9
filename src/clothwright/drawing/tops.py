"""Which way is up: a filled arrow on a cloth's print, and on the pieces that are cut from it.

The same arrow says it in every drawing: on the cloth the top of the ground and of each border, on a
piece its own top, which is its grain arrow's head.
"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.cloth.cloth import Cloth
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec, unit_at
from clothwright.picture.picture import DrawnRole, Fill, Item, Stroke

CLOTH_ARROW = 0.09
"""How long the arrow on a cloth is, as a share of its width."""
HEAD_MM = 22.0
"""How long the filled head on a piece's grain line is, on a lay."""


def up_arrow(middle: Vec, turn_deg: float, long: float) -> tuple[Item, ...]:
    """Return an arrow `long` mm about a point, turned by so many degrees, its head filled."""
    u = unit_at(turn_deg)
    foot, head = middle - u * (long / 2), middle + u * (long / 2)
    stem = polyline((foot, head - u * (0.2 * long)))
    return (
        Stroke(path=stem, role=DrawnRole.GRAIN),
        _filled_head(head, u, 0.36 * long),
    )


def piece_top(tail: Vec, head: Vec, group: str) -> tuple[Fill, ...]:
    """Return the filled head of a piece's grain line as it lies; () without a length."""
    way = (head - tail).unit
    return (_filled_head(head, way, HEAD_MM, group),) if way.norm else ()


def _filled_head(tip: Vec, way: Vec, long: float, group: str = "") -> Fill:
    """Return a filled arrow head `long` mm with its tip at a point. way: of length 1."""
    foot, side = tip - way * long, way.perp * (0.4 * long)
    ring = polyline((tip, foot + side, foot - side, tip))
    return Fill(path=ring, role=DrawnRole.GRAIN, group=group)


def cloth_tops(cloth: Cloth, x: float) -> Iterator[Item]:
    """Yield an arrow for the ground and for each border that has a top, about x (mm along)."""
    long = CLOTH_ARROW * cloth.width
    if cloth.print.up_deg is not None:
        yield from up_arrow(Vec(x, plain_middle(cloth)), cloth.print.up_deg, long)
    for border in cloth.print.borders:
        if border.up_deg is not None:
            low, high = border.span(cloth.width)
            middle = Vec(x, (low + high) / 2)
            yield from up_arrow(middle, border.up_deg, min(long, 0.8 * border.height))


def has_top(cloth: Cloth) -> bool:
    """Tell whether anything on a cloth has a top."""
    return cloth.print.up != "either" or any(b.up_deg is not None for b in cloth.print.borders)


def plain_middle(cloth: Cloth) -> float:
    """Return the middle of the widest strip without a border, mm across."""
    at, best = 0.0, (0.0, 0.0)
    for low, high in (
        *sorted(b.span(cloth.width) for b in cloth.print.borders),
        (cloth.width,) * 2,
    ):
        best = max(best, (at, low), key=lambda span: span[1] - span[0])
        at = max(at, high)
    return sum(best) / 2
