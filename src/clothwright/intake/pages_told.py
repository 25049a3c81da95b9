"""How the pages of a file lie together, told and drawn, with how well their lines meet."""

from __future__ import annotations

from clothwright.geometry.fit import arc
from clothwright.geometry.path import rectangle
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import Drawing, Pages, Sheet
from clothwright.picture.picture import DrawnRole, Item, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.words import begun, counted, listed, show_difference

MOST_LINES = 400
"""Lines in the small picture of the pages, the longest."""
GOOD_MM = 0.3
"""mm: lines that miss each other by more are a doubt."""


def pages_words(pages: Pages, unit: Unit) -> tuple[str, ...]:
    """Say how the pages were joined and how well, in sentences."""
    how = begun(pages.how)
    if pages.apart:
        return (f"{how}: they lie side by side, and nothing runs on from one to another.",)
    if pages.whole:
        return (
            f"{how}.",
            "Where each belongs is told by the lines that they share.",
            *_others_words(pages),
        )
    miss = show_difference(pages.miss, unit)
    if miss == "none":
        out = [f"{how}.", "Lines that run on from page to page meet."]
    else:
        where = f", between pages {_between(pages)}" if pages.miss_at else ""
        lines = "Lines that run on from page to page miss each other by"
        out = [f"{how}.", f"{lines} {miss} at most{where}."]
    if pages.loose:
        ends = f"{counted(pages.loose, 'end')} of lines at the joints"
        out.append(
            f"{ends} {'runs' if pages.loose == 1 else 'run'} on nowhere: "
            "the pages may lie in another order, or closer together."
        )
    return (*out, *_doubt_words(pages), *_others_words(pages))


def _doubt_words(pages: Pages) -> tuple[str, ...]:
    """Say which pages might as well lie in each other's place."""
    if not pages.doubts:
        return ()
    some = listed([str(n) for n in pages.doubts])
    return (
        f"Pages {some} might as well lie in each other's place: their lines meet either way. Look "
        "at what is drawn and written on them. If it is not where it belongs, say how all pages "
        "lie.",
    )


def _others_words(pages: Pages) -> tuple[str, ...]:
    """Say which pages with lines have no place among the others."""
    out = []
    if pages.beside:
        one = len(pages.beside) == 1
        some = f"{'page' if one else 'pages'} {listed([str(n) for n in pages.beside])}"
        out.append(
            f"No line runs on from the others to {some}: where {'it lies' if one else 'they lie'} "
            "is a guess. When it is wrong, say how all pages lie."
        )
    if pages.covers:
        one = len(pages.covers) == 1
        out.append(
            f"{'Page' if one else 'Pages'} {listed([str(n) for n in pages.covers])} "
            f"{'was' if one else 'were'} taken for {'a cover' if one else 'covers'}, and the lines "
            "there left out."
        )
    return tuple(out)


def pages_are_sure(pages: Pages) -> bool:
    """Tell whether nothing about how the pages lie has to be looked at."""
    if pages.beside or pages.covers or pages.doubts or pages.apart:
        return False
    return pages.whole or (pages.miss <= GOOD_MM and not pages.loose)


def _between(pages: Pages) -> str:
    """Name the two pages at whose joint lines miss most."""
    at = pages.miss_at or Vec(0.0, 0.0)
    near = sorted(pages.sheets, key=lambda s: _away(s, at))[:2]
    return listed([str(n) for n in sorted(s.number for s in near)])


def _away(sheet: Sheet, p: Vec) -> float:
    x = max(sheet.low.x - p.x, 0.0, p.x - sheet.high.x)
    y = max(sheet.low.y - p.y, 0.0, p.y - sheet.high.y)
    return max(x, y) + 1e-4 * p.distance((sheet.low + sheet.high) / 2)


def pages_picture(drawing: Drawing, pages: Pages) -> Picture:
    """Return the pages as they lie, their numbers, and what is drawn on them."""
    lines = sorted(drawing.lines, key=lambda x: -x.path.length)[:MOST_LINES]
    items: list[Item] = [Stroke(path=x.path, role=DrawnRole.CUT, closed=x.closed) for x in lines]
    boxes = (rectangle(s.low, s.high) for s in pages.sheets)
    items += [Stroke(path=box, role=DrawnRole.PAGE, closed=True) for box in boxes]
    for s in pages.sheets:
        size = 0.2 * min(s.high.x - s.low.x, s.high.y - s.low.y)
        at = s.low + Vec(0.3 * size, 0.3 * size)
        items.append(Text(words=str(s.number), at=at, size=size, role=DrawnRole.PAGE))
    if pages.miss_at is not None and pages.miss > GOOD_MM:
        wide = max(s.high.x for s in pages.sheets) - min(s.low.x for s in pages.sheets)
        ring = arc(pages.miss_at, 0.02 * wide, 0.0, 360.0)
        items.append(Stroke(path=ring, role=DrawnRole.FAULT, closed=True))
    return Picture(items=tuple(items))


def pages_alt(pages: Pages) -> str:
    """Say in a line which page lies where, for who does not see the picture."""
    rows = "; ".join(" ".join(str(n) if n else "none" for n in row) for row in pages.rows)
    return f"The pages as they lie{', row by row: ' + rows if rows else ''}"[:400]
