"""Marker sheets: what is printed, laid round a piece of paper and found again in its photos.

Each sheet carries six markers whose places on it are known, a bar of 200 mm to measure, and its
number in words. One layout serves A4 and Letter, so that nobody has to say which was printed.
The patterns of the markers are AprilTag 36h11 (E. Olson, AprilTag: a robust and flexible visual
fiducial system, ICRA 2011): any two differ in at least 11 of 36 cells, however they are turned.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.photo.extra import library
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text

DICTIONARY = "DICT_APRILTAG_36h11"
CELLS = 8
"""Cells along a side of a marker: six of the pattern and the black rim."""
MARKER_MM = 48.0
MARKERS = 6
"""Markers on each sheet; sheet n (from 0) carries the numbers 6 n to 6 n + 5."""
BAR_MM = 200.0
SHEETS = 24
"""How many different sheets there are."""

WIDTH_MM, HEIGHT_MM = 186.0, 256.0
"""What is printed on; fits A4 and Letter with at least 11.7 mm clear all round."""
_PLACES = tuple(
    Vec(x, y)
    for y in (HEIGHT_MM - MARKER_MM, (HEIGHT_MM - MARKER_MM) / 2, 0.0)
    for x in (0.0, WIDTH_MM - MARKER_MM)
)
"""Lower left corner of each marker from the lower left of what is printed, in reading order."""
_BAR_X, _BAR_Y = 84.0, (HEIGHT_MM - BAR_MM) / 2

_UNITS = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen"),
    *("eighteen", "nineteen"),
)


class MarkerCorner(NamedTuple):
    """Where a marker's four corners lie on its sheet: in the order a reader finds them.

    at: upper left, upper right, lower right, lower left; mm from the lower left of what is printed.
    """

    sheet: int
    at: tuple[Vec, Vec, Vec, Vec]


def sheet_words(sheet: int) -> str:
    """Return a sheet's number in words: "one" for sheet 0.

    >>> sheet_words(0), sheet_words(20)
    ('one', 'twenty-one')
    """
    number = sheet + 1
    if number < len(_UNITS):
        return _UNITS[number]
    rest = number % 10
    return f"{('twenty', 'thirty')[number // 10 - 2]}" + (f"-{_UNITS[rest]}" if rest else "")


def marker_corners(number: int) -> MarkerCorner | None:
    """Return where the corners of a marker lie on its sheet, None for a number we do not print."""
    sheet, place = divmod(number, MARKERS)
    if not 0 <= sheet < SHEETS:
        return None
    low = _PLACES[place]
    side = MARKER_MM
    right, up = Vec(side, 0.0), Vec(0.0, side)
    return MarkerCorner(sheet, (low + up, low + up + right, low + right, low))


def marker_bits(number: int) -> NDArray[np.bool_]:
    """Return a marker's cells, (8, 8), row 0 on top, True where it is black, the rim included.

    Raises BadInput when the extra "photo" is not installed.
    """
    cv2 = library("cv2")
    dictionary = cv2.aruco.getPredefinedDictionary(getattr(cv2.aruco, DICTIONARY))
    bits = cv2.aruco.generateImageMarker(dictionary, number, CELLS)
    return np.asarray(bits) < 128


def sheet_picture(sheet: int) -> Picture:
    """Return a sheet (0 to 23) at full size, (0, 0) at the lower left of what is printed, mm.

    Raises BadInput when the extra "photo" is not installed, ValueError for no such sheet.
    """
    if not 0 <= sheet < SHEETS:
        raise ValueError(f"there is no sheet {sheet}")
    items: list[Item] = []
    for place, low in enumerate(_PLACES):
        items += _marker(sheet * MARKERS + place, low)
    return Picture(
        items=(*items, *_bar(), *_words(sheet)), title=f"Marker sheet {sheet_words(sheet)}"
    )


def _marker(number: int, low: Vec) -> list[Item]:
    """A marker as one black square and the outlines of its white patches: no seams inside."""
    cell = MARKER_MM / CELLS
    loops = boundary_loops(~marker_bits(number))
    holes = tuple(
        polyline([low + Vec(x * cell, MARKER_MM - y * cell) for x, y in (*loop, loop[0])])
        for loop in loops
    )
    s = MARKER_MM
    square = polyline([low, low + Vec(s, 0.0), low + Vec(s, s), low + Vec(0.0, s), low])
    return [Fill(path=square, holes=holes, role=DrawnRole.MARK)]


def boundary_loops(inside: NDArray[np.bool_]) -> list[list[tuple[int, int]]]:
    """Return the closed outlines of the True cells as corner points (x, y), y down.

    Cells that touch only at a corner are kept apart. Straight runs have no points inside.
    """
    grid = np.pad(inside, 1)
    rows, columns = inside.shape
    ahead: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for y in range(rows):
        for x in range(columns):
            if not grid[y + 1, x + 1]:
                continue
            # Clockwise as seen (y down): the cell lies to the right of each of its sides.
            sides = (
                (not grid[y, x + 1], (x, y), (x + 1, y)),
                (not grid[y + 1, x + 2], (x + 1, y), (x + 1, y + 1)),
                (not grid[y + 2, x + 1], (x + 1, y + 1), (x, y + 1)),
                (not grid[y + 1, x], (x, y + 1), (x, y)),
            )
            for open_side, start, end in sides:
                if open_side:
                    ahead.setdefault(start, []).append(end)
    loops = []
    while ahead:
        loops.append(_loop(ahead))
    return loops


def _loop(ahead: dict[tuple[int, int], list[tuple[int, int]]]) -> list[tuple[int, int]]:
    start = next(iter(ahead))
    loop, at, came = [], start, (0, 0)
    while True:
        ways = ahead[at]
        # Where two cells touch at a corner, turning right stays with the same cell.
        way = min(ways, key=lambda to: _left_turn(came, (to[0] - at[0], to[1] - at[1])))
        ways.remove(way)
        if not ways:
            del ahead[at]
        step = (way[0] - at[0], way[1] - at[1])
        if step != came:
            loop.append(at)
        at, came = way, step
        if at == start and loop[0] == start:
            break
    if len(loop) > 1 and _straight(loop[-1], loop[0], loop[1]):
        loop.pop(0)
    return loop


def _left_turn(came: tuple[int, int], goes: tuple[int, int]) -> int:
    return goes[0] * came[1] - goes[1] * came[0]


def _straight(a: tuple[int, int], b: tuple[int, int], c: tuple[int, int]) -> bool:
    return (b[0] - a[0]) * (c[1] - b[1]) == (b[1] - a[1]) * (c[0] - b[0])


def _bar() -> list[Item]:
    """The bar: a line with an end tick each, the ticks' middles 200 mm apart."""
    low, high = Vec(_BAR_X, _BAR_Y), Vec(_BAR_X, _BAR_Y + BAR_MM)
    out = Vec(6.0, 0.0)
    lines = [(low, high), (low - out, low + out), (high - out, high + out)]
    lines += [
        (at, at + Vec(4.0 if k % 5 == 0 else 2.0, 0.0))
        for k in range(1, 20)
        for at in [low + Vec(0.0, 10.0 * k)]
    ]
    return [Stroke(path=polyline(pair), role=DrawnRole.MARK) for pair in lines]


def _words(sheet: int) -> list[Item]:
    lines = (
        (98.0, 9.0, f"Sheet {sheet_words(sheet)}"),
        (
            106.0,
            3.2,
            "Measure the bar, from the middle of one end line to the middle of the other.",
        ),
        (
            111.5,
            3.2,
            "It is 200 mm (7 7/8 in) long when the printer is true. Say what you measure.",
        ),
        (117.0, 3.2, "Lay the sheet flat beside the piece, not on it. Keep the markers in view."),
        (122.5, 3.2, "Print at 100 % on plain paper. Leave the white round the markers."),
    )
    return [
        Text(words=w, at=Vec(x, HEIGHT_MM / 2), size=s, anchor="middle", angle_deg=90.0)
        for x, s, w in lines
    ]
