"""Pictures of several pieces put side by side, to be printed together."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import Picture

GAP_MM = 15.0


def side_by_side(
    pictures: Iterable[Picture], *, widest: float, title: str = "", gap: float = GAP_MM
) -> Picture:
    """Return one picture with all of them in rows no wider than `widest` mm, `gap` mm apart.

    The tallest come first, so that a row wastes little; pictures are moved, never turned. One that
    is wider than `widest` has a row of its own. Empty pictures are left out. The lower left of
    what is drawn is (0, 0).
    """
    drawn = [_Sized(picture, *picture.bounds()) for picture in pictures if picture.items]
    drawn.sort(key=lambda one: -one.size.y)
    rows: list[list[_Sized]] = []
    used = 0.0
    for one in drawn:
        wide = one.size.x
        if rows and used + gap + wide <= widest:
            rows[-1].append(one)
            used += gap + wide
        else:
            rows.append([one])
            used = wide
    placed: list[Picture] = []
    y = 0.0
    for row in reversed(rows):
        x = 0.0
        for one in row:
            placed.append(one.picture.transformed(translation(Vec(x, y) - one.low)))
            x += one.size.x + gap
        y += max(one.size.y for one in row) + gap
    return Picture(title=title).plus(*placed)


class _Sized(NamedTuple):
    """A picture with its lower left and upper right."""

    picture: Picture
    low: Vec
    high: Vec

    @property
    def size(self) -> Vec:
        """How wide and tall it is, mm."""
        return self.high - self.low
