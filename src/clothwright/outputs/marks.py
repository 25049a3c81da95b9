"""What a page carries besides the pattern: joining lines and marks, its name, its test square.

All of it is a picture like any other, in the pattern's own millimetres, drawn under the pattern.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.outputs.fonts import shortened, wrapped
from clothwright.outputs.pages import Tile
from clothwright.outputs.trace import Trace
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text

SQUARE_MM = 100.0
SQUARE_IN = 4 * 25.4
HALF_DIAMOND_MM = 6.0
CLEAR_MM = 9.0
"""Kept between the test square and the joining lines where there is room."""

BESIDE_MM, BESIDE_WEIGHT = 3.0, 20.0
"""A line this near a side of the square counts so much more than one that runs through it."""

SHARES = ((0.22, 0.30, 0.14, 0.38), (0.78, 0.70, 0.86, 0.62))
"""Where along a joined edge its two marks may stand; the one that meets the pattern least is
taken, the first when all are clear."""

SMALL, PLAIN, LARGE = 2.6, 3.2, 14.0
"""Type sizes in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Two pages that meet: `under` stays whole, `over` is cut at its edge and laid on it.

    sideways: the pages lie side by side (`over` on the right), else one below the other.
    """

    number: int
    under: Tile
    over: Tile
    sideways: bool
    shares: tuple[float, ...]

    @property
    def ends(self) -> tuple[Vec, Vec]:
        """The ends of the joined edge: from below up, or from left to right."""
        low, high = self.over.low, self.over.high
        return (low, Vec(low.x, high.y)) if self.sideways else (Vec(low.x, high.y), high)


def joints_of(tiles: tuple[Tile, ...], trace: Trace) -> tuple[Joint, ...]:
    """Number every edge that two printed pages share, in reading order of the page underneath."""
    by_place = {tile.place: tile for tile in tiles}
    room = Vec(HALF_DIAMOND_MM, HALF_DIAMOND_MM)
    found: list[Joint] = []
    for _, row in groupby(tiles, key=lambda tile: tile.row):
        in_row = tuple(row)
        near = trace.near(in_row[0].low - room, in_row[-1].high + room)
        for tile in in_row:
            for sideways, place in (
                (True, (tile.row, tile.column + 1)),
                (False, (tile.row + 1, tile.column)),
            ):
                if over := by_place.get(place):
                    number = len(found) + 1
                    joint = Joint(
                        number=number, under=tile, over=over, sideways=sideways, shares=()
                    )
                    found.append(replace(joint, shares=_quiet_shares(joint, near)))
    return tuple(found)


def _quiet_shares(joint: Joint, trace: Trace) -> tuple[float, ...]:
    first, last = joint.ends
    reach = Vec(HALF_DIAMOND_MM, HALF_DIAMOND_MM)

    def ink(share: float) -> float:
        at = first.lerp(last, share)
        return round(trace.length_in(at - reach, at + reach), 3)

    return tuple(min(choices, key=ink) for choices in SHARES)


def page_marks(tile: Tile, joints: Sequence[Joint]) -> Picture:
    """Return the joining lines and half-diamonds of one page.

    Solid line: cut here. Broken line: lay the next page's cut edge here. Two half-diamonds on each
    joined edge become whole ones; the number in both halves is the same on no other edge.
    """
    items: list[Item] = []
    for joint in joints:
        if joint.under.place == tile.place:
            items += _joint_marks(joint, under=True)
        elif joint.over.place == tile.place:
            items += _joint_marks(joint, under=False)
    return Picture(items=tuple(items))


def _joint_marks(joint: Joint, *, under: bool) -> list[Item]:
    ends = joint.ends
    if joint.sideways:
        inward = Vec(-1.0, 0.0) if under else Vec(1.0, 0.0)
    else:
        inward = Vec(0.0, 1.0) if under else Vec(0.0, -1.0)
    line = polyline(ends)
    items: list[Item] = [Stroke(path=line, role=DrawnRole.PAGE if under else DrawnRole.TRIM)]
    words = f"lay {joint.over.name} here" if under else f"lay on {joint.under.name}"
    for share in joint.shares:
        items += _half_diamond(ends[0].lerp(ends[1], share), inward, str(joint.number), words)
    return items


def _half_diamond(at: Vec, inward: Vec, number: str, words: str) -> list[Item]:
    along = Vec(abs(inward.y), abs(inward.x))
    side = along * HALF_DIAMOND_MM
    shape = polyline((at - side, at + inward * HALF_DIAMOND_MM, at + side, at - side))
    middle = at + inward * (0.36 * HALF_DIAMOND_MM) - Vec(0.0, 0.36 * PLAIN)
    # The words run along the edge and stand off it whichever side of them it is on.
    up = along.perp
    stand_off = 1.2 if up.dot(inward) > 0 else 1.2 + 0.75 * SMALL
    beside = at + side + along * 1.2 + inward * stand_off
    return [
        Fill(path=shape, role=DrawnRole.PAGE),
        Text(words=number, at=middle, size=PLAIN, role=DrawnRole.PAGE, anchor="middle"),
        Text(words=words, at=beside, size=SMALL, role=DrawnRole.PAGE, angle_deg=along.angle_deg),
    ]


def measuring_square(corner: Vec, side: float = SQUARE_MM, *, ticks: bool = True) -> Picture:
    """Return a square to be measured, its lower left at `corner`, a tick every 10 mm like a tape.

    The lines' middles are `side` mm apart.
    """
    right, up = Vec(side, 0.0), Vec(0.0, side)
    ring = polyline((corner, corner + right, corner + right + up, corner + up, corner))
    items: list[Item] = [Stroke(path=ring, role=DrawnRole.TEST, closed=True)]
    for step in range(1, 10) if ticks else ():
        size = 4.0 if step == 5 else 2.0
        along = step * side / 10
        items += (
            _tick(corner + Vec(along, 0.0), Vec(0.0, size)),
            _tick(corner + Vec(0.0, along), Vec(size, 0.0)),
        )
    return Picture(items=tuple(items))


def _tick(at: Vec, by: Vec) -> Stroke:
    return Stroke(path=polyline((at, at + by)), role=DrawnRole.TEST)


def page_square(
    tile: Tile, overlap: float, trace: Trace, *, title: str, page_of: str, pieces: str = ""
) -> Picture:
    """Return the 100 mm test square of a page, where it meets the pattern least, with its name.

    page_of: what stands under the name, such as "page 7 of 25". pieces: what the page shows.
    """
    corner = _quiet_corner(tile, overlap, trace.near(tile.low, tile.high))
    widest = SQUARE_MM - 16.0
    lines = (
        ("This square is 100 mm both ways. Print at", SMALL),
        ("100 %, then measure it. Not a sewing line.", SMALL),
    )
    items: list[Item] = [
        _words(tile.name, corner + Vec(8.0, 62.0), LARGE),
        _words(page_of, corner + Vec(8.0, 54.0), PLAIN),
        _words(shortened(title, PLAIN, widest), corner + Vec(8.0, 48.0), PLAIN),
    ]
    for i, (words, size) in enumerate(lines):
        items.append(_words(words, corner + Vec(8.0, 14.0 - 4.2 * i), size))
    for i, words in enumerate(wrapped(pieces, PLAIN, widest)[:4]):
        items.append(_words(words, corner + Vec(8.0, 41.0 - 4.6 * i), PLAIN))
    return measuring_square(corner).plus(Picture(items=tuple(items)))


def _words(words: str, at: Vec, size: float) -> Text:
    return Text(words=words, at=at, size=size, role=DrawnRole.TEST)


def _quiet_corner(tile: Tile, overlap: float, trace: Trace) -> Vec:
    """Where in a tile the square lies over the least length of line; lower left when it is even."""
    low_x, high_x = _room(tile.low.x, tile.high.x - overlap)
    low_y, high_y = _room(tile.low.y + overlap, tile.high.y)
    size = Vec(SQUARE_MM, SQUARE_MM)
    corners = [
        Vec(low_x + fx * (high_x - low_x), low_y + fy * (high_y - low_y))
        for fy in (0.0, 1.0, 0.5, 0.25, 0.75)
        for fx in (0.0, 1.0, 0.5, 0.25, 0.75)
    ]

    def ink(corner: Vec) -> float:
        whole = trace.length_in(corner, corner + size)
        sides = sum(trace.length_in(*side) for side in _side_strips(corner))
        return round(whole + BESIDE_WEIGHT * sides, 3)

    return min(corners, key=ink)


def _side_strips(corner: Vec) -> tuple[tuple[Vec, Vec], ...]:
    """Narrow boxes round the square's four sides, where another line would be measured instead."""
    near, s = Vec(BESIDE_MM, BESIDE_MM), SQUARE_MM
    ends = (((0, 0), (s, 0)), ((0, s), (s, s)), ((0, 0), (0, s)), ((s, 0), (s, s)))
    return tuple((corner + a - near, corner + b + near) for a, b in ends)


def _room(low: float, high: float) -> tuple[float, float]:
    """Between where and where a square's lower or left side may lie, clear of both ends."""
    spare = high - low - SQUARE_MM
    clear = min(CLEAR_MM, max(0.0, spare / 2))
    return low + clear, high - SQUARE_MM - clear if spare > 0 else low
