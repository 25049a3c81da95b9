"""Pictures of a waiting drawing: all outlines to scale, and one of them as answered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from clothwright.drawing.named import named_picture
from clothwright.geometry.fit import arc
from clothwright.geometry.path import Path
from clothwright.geometry.region import distances
from clothwright.geometry.vec import Vec
from clothwright.intake.waiting.edges import Corner, corners_of, settled
from clothwright.intake.waiting.seen import Outline
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text

RING_SHARE = 0.02
"""Least radius of a ring, as a share of the piece's longer side."""
NUMBER_SHARE = 0.03
"""Height of a line's number, as a share of its longer side."""
SPOTS = 61
"""Places of a line that are looked at for its number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What an outline becomes as answered so far, mm. base: the line that is cut into edges."""

    picture: Picture
    base: Stroke | None
    corners: tuple[Corner, ...]


def drawn_picture(outlines: Sequence[Outline]) -> Picture:
    """Return every outline as drawn, to scale, with the lines in it; empty when none was drawn."""
    items: list[Item] = []
    for outline in outlines:
        line, candidate = outline.drawn, outline.candidate
        if line is None or candidate is None:
            continue
        if outline.wanted:
            items.append(Fill(path=line.path, role=DrawnRole.PIECE, group=outline.name))
        inner = (*candidate.nested, *candidate.inner)
        items += [
            line,
            *(Stroke(path=x.path, role=DrawnRole.LEVEL, closed=x.closed) for x in inner),
        ]
    return Picture(items=tuple(items))


def preview(outline: Outline) -> Preview:
    """Return what an outline becomes as answered so far, with its corners to press."""
    items: list[Item] = [] if outline.piece is None else list(named_picture(outline.piece).items)
    drawn = outline.drawn
    if drawn is not None:
        if outline.piece is None:
            items.append(Fill(path=drawn.path, role=DrawnRole.PIECE))
        items.append(replace(drawn, role=DrawnRole.PIECE, group="as drawn"))
    items += (*_in_one_another(outline), *_rings(outline))
    corners = corners_of(outline)
    return Preview(
        picture=Picture(items=tuple(items)),
        base=Stroke(path=settled(outline)[1], role=DrawnRole.CUT, closed=True) if corners else None,
        corners=corners,
    )


def _in_one_another(outline: Outline) -> Iterator[Item]:
    """Yield the closed lines inside with the numbers by which it is said whose they are."""
    whole = outline.whole
    lines = [x.path for x in (whole.outline, *whole.nested)] if whole and whole.nested else []
    for n, path in enumerate(lines):
        size = NUMBER_SHARE * max(path.bounds().size)
        yield Stroke(path=path, role=DrawnRole.LEVEL, closed=True)
        at = _place_apart(n, lines)
        yield Text(words=str(n + 1), at=at, size=size, role=DrawnRole.PAGE)


def _place_apart(n: int, lines: Sequence[Path]) -> Vec:
    """Return a place on one of several lines that lies apart from the others, and from theirs."""
    others = [np.array(p.flatten(0.5)) for k, p in enumerate(lines) if k != n]
    spots = [lines[n].point_at(lines[n].length * (k + 0.5) / SPOTS) for k in range(SPOTS)]
    away = np.min([distances(np.array(spots), other) for other in others], axis=0)
    good = [p for p, far in zip(spots, away, strict=True) if far >= 0.8 * away.max()]
    return good[int(len(good) * (n + 0.3) / len(lines))]


def _rings(outline: Outline) -> Iterator[Item]:
    """Yield a ring round every place where the piece's lines are not those that were drawn."""
    if outline.piece is None:
        return
    least = RING_SHARE * max(outline.piece.outline.bounds().size)
    for place in outline.apart:
        ring = arc(place.at, max(least, 1.5 * place.away), 0.0, 360.0)
        yield Stroke(path=ring, role=DrawnRole.FAULT, closed=True)
