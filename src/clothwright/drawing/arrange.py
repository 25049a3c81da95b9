"""Pictures of several pieces put side by side, to be printed together."""

from __future__ import annotations

from collections.abc import Iterable

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
    drawn = [picture for picture in pictures if picture.items]
    drawn.sort(key=lambda picture: -_size(picture).y)
    rows: list[list[Picture]] = []
    used = 0.0
    for picture in drawn:
        wide = _size(picture).x
        if rows and used + gap + wide <= widest:
            rows[-1].append(picture)
            used += gap + wide
        else:
            rows.append([picture])
            used = wide
    whole = Picture(title=title)
    y = 0.0
    for row in reversed(rows):
        x = 0.0
        for picture in row:
            low, _ = picture.bounds()
            whole = whole.plus(picture.transformed(translation(Vec(x, y) - low)))
            x += _size(picture).x + gap
        y += max(_size(picture).y for picture in row) + gap
    return whole


def _size(picture: Picture) -> Vec:
    low, high = picture.bounds()
    return high - low
