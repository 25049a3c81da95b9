"""Cloth laid double, as it lies on the table: the fold, the selvedges, what is cut through both."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth_print import print_inside
from clothwright.drawing.tops import up_arrow
from clothwright.drawing.words import grain_arrow, lettered
from clothwright.geometry.path import polyline, rectangle, ring_path
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.folded import Fold, tissues
from clothwright.lay.order import laying_list
from clothwright.lay.problem import Ring
from clothwright.lay.result import Lay
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.words import show_length

LAYER_MM = 5.0
"""mm: the layer below shows so far beyond the fold in the picture."""
LETTERS_MM = 16.0
SIZES = (20.0, 16.0, 13.0, 10.0, 8.0)


def folded_picture(compiled: Compiled, lay: Lay, fold: Fold, unit: Unit) -> Picture:
    """Return the doubled cloth seen from above, mm, with the print of the layer that is seen.

    A cloth without a design lies right sides together: nothing is printed on what is seen. Only
    what is cut double is shown; of a piece on the fold, the half that the tissue shows.
    """
    cloth = compiled.cloth(fold.cloth)
    end = max(lay.used.get(fold.cloth, 0.0), cloth.length or 0.0)
    if fold.axis == "across":
        low, high = Vec(0.0, 0.0), Vec(end, fold.at)
        crease = ((0.0, fold.at), (end, fold.at))
        edge, other = fold.at - fold.depth, max(0.0, 2 * fold.at - cloth.width)
        layer = ((0.0, other), (end, other))
        usable = ((0.0, edge), (end, edge))
    else:
        low, high = Vec(fold.at, 0.0), Vec(fold.at + fold.depth, cloth.width)
        crease = ((fold.at, 0.0), (fold.at, cloth.width))
        layer = ((high.x, 0.0), (high.x, cloth.width))
        usable = layer
    items: list[Item] = [
        Fill(path=rectangle(low, high), role=DrawnRole.CLOTH),
        *print_inside((low, (high.x, low.y), high, (low.x, high.y)), cloth),
        Stroke(path=rectangle(low, high), role=DrawnRole.CLOTH, closed=True),
        Stroke(path=polyline(layer), role=DrawnRole.SELVEDGE),
        Stroke(path=polyline(usable), role=DrawnRole.MEASURE),
    ]
    for name, ring in tissues(fold, lay, cloth.width):
        grain = _grain(compiled, lay, name, fold)
        items.extend(_tissue(name, ring, grain, on_fold=name in fold.on_fold))
    items.append(Stroke(path=polyline(crease), role=DrawnRole.FOLD))
    off = Vec(0.0, LAYER_MM) if fold.axis == "across" else Vec(-LAYER_MM, 0.0)
    outer = [Vec(*p) + off for p in crease]
    items.append(Stroke(path=polyline(outer), role=DrawnRole.CLOTH))
    items.extend((*_words(fold, cloth, low, high, unit), *_tops(fold, cloth, low, high)))
    return Picture(items=tuple(items), title=f"{fold.cloth}, folded {fold.way}")


def _tops(fold: Fold, cloth: Cloth, low: Vec, high: Vec) -> Iterator[Item]:
    """Yield where the print's top points on the layer that is seen and on the one below it."""
    up = cloth.print.up_deg
    if up is None:
        return
    below = -up if fold.axis == "across" else 180.0 - up
    long = 0.2 * (high.y - low.y)
    for words, turn, share in (("above", up, 0.7), ("below", below, 0.25)):
        at = Vec(low.x - 20.0 - long / 2, low.y + share * (high.y - low.y))
        yield from up_arrow(at, turn, long)
        foot = at - Vec(0.0, long / 2 + LETTERS_MM + 4.0)
        yield Text(words=words, at=foot, size=LETTERS_MM, role=DrawnRole.MEASURE, anchor="middle")


def sides(cloth: Cloth) -> str:
    """Return which sides lie on each other: right sides in, but out where a design is to be seen.

    (Home-economics leaflets; docs/sources.md, "folded cloth".)
    """
    return "right sides out" if cloth.print.has_design else "right sides together"


def fold_lines(fold: Fold, along: float, across: float) -> list[Item]:
    """Return the fold as a line on `along` by `across` mm of opened-out cloth, with its word."""
    if fold.axis == "across":
        line, at, angle = ((0.0, fold.at), (along, fold.at)), Vec(along + 8.0, fold.at - 5.0), 0.0
    else:
        line, at, angle = (
            ((fold.at, 0.0), (fold.at, across)),
            Vec(fold.at + 5.0, across + 8.0),
            90.0,
        )
    return [
        Stroke(path=polyline(line), role=DrawnRole.FOLD),
        Text(words="fold", at=at, size=14.0, role=DrawnRole.MEASURE, angle_deg=angle),
    ]


def _grain(compiled: Compiled, lay: Lay, name: str, fold: Fold) -> tuple[Vec, Vec]:
    """Return tail and head of a piece's grain arrow on the side where the tissue lies."""
    step = next(s for s in laying_list(compiled, lay) if s.shape == name)
    ends = (step.tail, step.head)
    if fold.axis == "across" and step.tail.y > fold.at:
        return tuple(Vec(p.x, 2 * fold.at - p.y) for p in ends)  # type: ignore[return-value]
    if fold.axis == "along" and step.tail.x < fold.at:
        return tuple(Vec(2 * fold.at - p.x, p.y) for p in ends)  # type: ignore[return-value]
    return ends


def _tissue(name: str, ring: Ring, grain: tuple[Vec, Vec], *, on_fold: bool) -> list[Item]:
    path = ring_path(ring)
    out: list[Item] = [
        Fill(path=path, role=DrawnRole.PIECE, group=name),
        Stroke(path=path, role=DrawnRole.CUT, closed=True, group=name),
        *grain_arrow(*grain, name),
    ]
    words = f"{name}, on the fold" if on_fold else f"{name.rsplit(' ', 1)[0]}, both at once"
    text = lettered(words, ring, SIZES, avoid=grain, group=name)
    return [*out, text] if text else out


def _words(fold: Fold, cloth: Cloth, low: Vec, high: Vec, unit: Unit) -> list[Item]:
    depth = show_length(fold.depth, unit)
    if fold.axis == "across":
        spots = [
            (f"fold, {sides(cloth)}; {depth} double", Vec(low.x + 8.0, high.y + 14.0), 0.0),
            (
                "selvedges"
                if fold.way == "lengthwise"
                else "lower selvedge; single up to the line",
                Vec(low.x + 8.0, low.y - 24.0),
                0.0,
            ),
        ]
    else:
        spots = [
            (
                f"fold, {sides(cloth)}; {depth} double",
                Vec(low.x - 14.0, low.y + 8.0),
                90.0,
            ),
            ("cut ends", Vec(high.x + 24.0, low.y + 8.0), 90.0),
        ]
    return [
        Text(words=w, at=at, size=LETTERS_MM, role=DrawnRole.MEASURE, angle_deg=a)
        for w, at, a in spots
    ]
