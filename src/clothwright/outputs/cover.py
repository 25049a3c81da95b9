"""The first page of a tiled pattern: where each page goes, what to measure, how to join."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from clothwright.geometry.box import Box, box_of_all
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.outputs.fonts import shortened, wrapped
from clothwright.outputs.marks import SQUARE_IN, SQUARE_MM, Joint, measuring_square
from clothwright.outputs.pages import Grid, Tile
from clothwright.outputs.paper import Paper
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.words import show_length

TITLE, HEAD, BODY, FINE = 7.0, 4.0, 3.1, 2.6
"""Type sizes in mm."""

LARGEST_COVER_MM = 431.8
"""The longer side of Tabloid and, nearly, of A3: the largest sheets people print at home."""

SMALL_COVER = Paper(name="first page", width=210.0, height=279.0)
LIST_MM = 55.0
"""Width of a list of pieces and their pages."""

LEADING = 1.35
GUTTER = 6.0
SLACK_MM = 0.5
"""How far 100 mm may be off on paper: half a per cent, 5 mm on a skirt a metre long."""


class CoverFacts(NamedTuple):
    """What the first page tells: the pattern, its pages and how they meet."""

    picture: Picture
    grid: Grid
    tiles: tuple[Tile, ...]
    joints: tuple[Joint, ...]
    pieces: Mapping[str, tuple[Tile, ...]]
    unit: Unit


def cover_paper(paper: Paper) -> Paper:
    """The sheet for the first page: the pattern's own, or a small one when that is large.

    Nobody wants to pay for a plotted page of advice; 210 × 279 mm goes on A4 and on Letter.
    """
    return paper if max(paper.width, paper.height) <= LARGEST_COVER_MM else SMALL_COVER


def cover(facts: CoverFacts) -> tuple[Picture, ...]:
    """Return the first page as a picture in mm from the lower left corner of its `cover_paper`.

    On paper too small for everything the page map has a page of its own, the second.
    """
    paper, margin = cover_paper(facts.grid.paper), facts.grid.margin
    left, right = margin, paper.width - margin
    heading, below = _heading(facts, left, paper.height - margin, right - left)
    foot = margin + SQUARE_IN + GUTTER
    squares = _squares(Vec(left, margin))
    column = (left + SQUARE_IN + GUTTER, foot - GUTTER, right)
    if _fits(_steps(facts), column):
        box = Box(Vec(left, foot), Vec(right, below))
        map_and_list, listed = _map_with_list(facts, box)
        both = (*_steps(facts), *_pages_of_pieces(facts))
        advice = both if not listed and _fits(both, column) else _steps(facts)
        return (heading.plus(map_and_list, squares, _column(advice, *column)[0]),)
    words = _column(_steps(facts), left, below, right)[0]
    whole = Box(Vec(left, margin), Vec(right, paper.height - margin))
    return heading.plus(squares, words), _page_map(facts, whole)


def _heading(facts: CoverFacts, left: float, top: float, wide: float) -> tuple[Picture, float]:
    paper, unit = facts.grid.paper, facts.unit
    size = " × ".join(show_length(x, unit) for x in facts.picture.bounds().size)
    count = len(facts.tiles)
    pages = "1 page" if count == 1 else f"{count} pages"
    title = facts.picture.title or "Pattern"
    lines = [
        (shortened(title, TITLE, wide), TITLE),
        (f"Full size, {size}, on {pages} of {paper.said(unit)} after this one.", BODY),
    ]
    items: list[Item] = []
    y = top
    for words, size_mm in lines:
        for line in wrapped(words, size_mm, wide):
            y -= size_mm * LEADING
            items.append(Text(words=line, at=Vec(left, y), size=size_mm))
        y -= 1.5
    return Picture(items=tuple(items)), y - GUTTER / 2


def _squares(corner: Vec) -> Picture:
    """Both test squares, one in the other, sharing the lower left corner."""
    inner = measuring_square(corner, SQUARE_MM)
    outer = measuring_square(corner, SQUARE_IN, ticks=False)
    lines = (
        ("Measure both ways before you go on", HEAD),
        ("inner square: 100 mm (10 cm)", BODY),
        ("outer square: 4 in", BODY),
        (f"Off by more than {SLACK_MM:g} mm (1/64 in)? Then the printer", FINE),
        ("shrank or stretched the page. Choose 100 % or", FINE),
        ("“actual size”, not “fit”, and print this page again.", FINE),
        ("Half a millimetre here is 5 mm on a metre.", FINE),
    )
    items: list[Item] = []
    y = corner.y + 62.0
    for words, size in lines:
        items.append(Text(words=words, at=Vec(corner.x + 9.0, y), size=size, role=DrawnRole.LABEL))
        y -= size * 1.7
    return outer.plus(inner, Picture(items=tuple(items)))


def _steps(facts: CoverFacts) -> tuple[tuple[str, float], ...]:
    join = (
        "Cut each page along its solid line at the left and at the top; a page without a solid "
        "line there keeps its edge.",
        "Lay the cut edge on the broken line of the page before it. Half-diamonds with the same "
        "number become whole ones. Glue or tape.",
        "Join each row from left to right, then the rows from the top down.",
    )
    alone = ("Nothing to join: the pattern is on one page.",)
    steps = join if facts.joints else alone
    care = (
        "Cut away from yourself, fingers off the ruler’s edge. Close the blade whenever you put it "
        "down. Keep your cloth scissors for cloth."
    )
    return (
        ("Joining the pages", HEAD),
        *((f"{i}. {words}", BODY) for i, words in enumerate(steps, start=1)),
        ("Care", HEAD),
        (care, BODY),
    )


def _fits(paragraphs: tuple[tuple[str, float], ...], column: tuple[float, float, float]) -> bool:
    """Tell whether words fit beside the squares, in a column from left, top to right."""
    left, top, right = column
    return right - left >= 55.0 and _column(paragraphs, *column)[1] >= top - SQUARE_IN


def _map_with_list(facts: CoverFacts, box: Box) -> tuple[Picture, bool]:
    """The page map, and beside it the pages of each piece where a narrow map leaves the room."""
    low, high = box
    pieces = _pages_of_pieces(facts)
    left = low.x + _map_size(facts, box).x + 2 * GUTTER
    if pieces and high.x - left >= LIST_MM:
        words, y = _column(pieces, left, high.y, high.x)
        if y >= low.y:
            beside = Box(low, Vec(left - 2 * GUTTER, high.y))
            return _page_map(facts, beside).plus(words), True
    return _page_map(facts, box), False


def _pages_of_pieces(facts: CoverFacts) -> tuple[tuple[str, float], ...]:
    """Which pages to print again when one piece is wanted; left out where there is no room."""
    lines = tuple(
        (f"{name}: {', '.join(tile.name for tile in on)}", FINE)
        for name, on in sorted(facts.pieces.items(), key=lambda piece: piece[1][0].place)
    )
    return (("Pages of each piece", HEAD), *lines) if len(lines) > 1 else ()


def _column(
    paragraphs: tuple[tuple[str, float], ...], left: float, top: float, right: float
) -> tuple[Picture, float]:
    items: list[Item] = []
    y = top
    for words, size in paragraphs:
        if size == HEAD and items:
            y -= 2.0
        for line in wrapped(words, size, right - left):
            y -= size * LEADING
            items.append(Text(words=line, at=Vec(left, y), size=size))
        y -= 0.45 * size
    return Picture(items=tuple(items)), y


def _page_map(facts: CoverFacts, box: Box) -> Picture:
    """The printed pages as boxes with their names, the pieces in them reduced."""
    frame, shown = _map_frame(facts), _map_size(facts, box)
    scale = shown.x / frame.size.x
    shift = box.of_size(shown).low - frame.low * scale
    move = Transform(scale, 0.0, 0.0, scale, shift.x, shift.y)
    return _silhouettes(facts.picture, move).plus(_map_pages(facts, move, scale))


def _map_frame(facts: CoverFacts) -> Box:
    """The box round all the grid, in the pattern's mm."""
    grid = facts.grid
    first, last = grid.tile(0, 0), grid.tile(grid.rows - 1, grid.columns - 1)
    return box_of_all((first.box, last.box))


def _map_size(facts: CoverFacts, box: Box) -> Vec:
    """Size of the map when it is as large as the box allows, mm."""
    size = _map_frame(facts).size
    return size * min(box.size.x / size.x, box.size.y / size.y)


def _silhouettes(picture: Picture, move: Transform) -> Picture:
    lines = (
        picture.only((DrawnRole.CUT, DrawnRole.FOLD))
        if picture.only((DrawnRole.CUT,)).items
        else picture
    )
    shapes: list[Item] = []
    outlines: list[Item] = []
    for item in lines.items:
        if isinstance(item, Stroke):
            path = item.path.transformed(move)
            outlines.append(Stroke(path=path, role=DrawnRole.PIECE, closed=item.closed))
            if item.closed and item.role is DrawnRole.CUT:
                shapes.append(Fill(path=path, role=DrawnRole.PAGE))
    return Picture(items=(*shapes, *outlines))


def _map_pages(facts: CoverFacts, move: Transform, scale: float) -> Picture:
    printed = {tile.place for tile in facts.tiles}
    size = min(6.0, 0.3 * min(facts.grid.tile_width, facts.grid.tile_height) * scale)
    items: list[Item] = []
    for tile in facts.grid.tiles():
        low, high = (move.apply(p) for p in facts.grid.own(tile))
        ring = polyline((low, Vec(high.x, low.y), high, Vec(low.x, high.y), low))
        if tile.place in printed:
            items.append(Stroke(path=ring, role=DrawnRole.TRIM, closed=True))
            at = low.lerp(high, 0.5) - Vec(0.0, 0.36 * size)
            items.append(Text(words=tile.name, at=at, size=size, anchor="middle"))
    return Picture(items=tuple(items))
