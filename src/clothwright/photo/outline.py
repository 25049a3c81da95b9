"""The outline of a paper piece in a flat picture, with what is doubtful about it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.photo.doubts import PhotoDoubt, doubts_of
from clothwright.photo.flatness import heights_along
from clothwright.photo.flatten import Flat
from clothwright.photo.inner import inner_lines
from clothwright.photo.region import Area, inside_line, paper
from clothwright.photo.shades import Shades, shades
from clothwright.photo.spread import spread_of, without_spread
from clothwright.photo.trace import Traced, fitted, paper_both_sides, traced

LINE_SHARE = 0.25
"""An area inside a line counts when it fills this part of the paper it is drawn on."""
TRUSTED, TRUSTED_EDGE = 0.8, 0.6
"""Part of an outline that must be seen clearly: of a line, of an edge against a streaky table."""
MOST_GAPS = 8
"""A line with more gaps is none: texture of the table, or a shading."""
MOST_STROKES = 40
BOTH_SIDES = 0.55
"""A drawn line has the same paper on both sides along this part of it at least; the edge of paper
has the table on one side, however dark the table or a shadow looks beside it."""
LINE_MM, EDGE_MM = 0.25, 0.4
"""How well the middle of a pen line, and the edge of paper, is told, 19 times in 20 (an edge may
still come up to 0.3 mm too far out where the table is light, or tissue lies on it)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlined:
    """A piece found in a flat picture; mm, y up, (0, 0) at the picture's lower left.

    path: closed, counter-clockwise. inner: lines drawn inside it. by_line: along the middle of a
    drawn line, else along the edge of the paper. error_mm: 19 times in 20 the outline lies nowhere
    farther than this from where it is on the paper, doubtful places left out.
    """

    path: Path
    inner: tuple[Path, ...]
    doubts: tuple[PhotoDoubt, ...]
    error_mm: float
    by_line: bool


FOLLOWED = ("", "line", "edge")


def check_followed(by: str) -> None:
    """Raise BadInput for what no outline can follow. by: "line", "edge", "" for either."""
    if by not in FOLLOWED:
        what = f'an outline by "{by[:20]}"'
        raise BadInput(where="outline", what=what, expected='"line" or "edge"')


def find_outline(flat: Flat, at: tuple[float, float] | None = None, *, by: str = "") -> Outlined:
    """Return the outline of the piece.

    at: a place inside the piece, mm of the flat picture; None for the largest. by: "line" for the
    middle of a drawn line, "edge" for the edge of cut paper, "" for whichever is there. Raises
    BadInput when no outline is found.
    """
    check_followed(by)
    dim = shades(flat)
    spot = None if at is None else tuple(flat.ground.to_pixels(np.array([at]))[0].tolist())
    region, trace = _found(dim, spot, by)
    if not region.by_line:
        trace = without_spread(dim, trace, spread_of(dim, flat))
    fit = fitted(trace)
    points = np.array(fit.path.flatten(0.5))
    heights = heights_along(flat, trace, by_line=region.by_line)
    error = math.hypot(
        flat.error_over(points, heights.error_mm), LINE_MM if region.by_line else EDGE_MM
    )
    return Outlined(
        path=fit.path,
        inner=inner_lines(dim, region.mask),
        doubts=doubts_of(dim, region, trace, fit, heights, asked=bool(by)),
        error_mm=error,
        by_line=region.by_line,
    )


def _found(dim: Shades, spot: tuple[float, float] | None, by: str) -> tuple[Area, Traced]:
    """The line without gaps, the line with gaps, the paper: the first that is seen clearly."""
    sheet = paper(dim, spot) if by != "line" else None
    tries = [] if by == "edge" else [inside_line(dim, spot, bridge=False)]
    if by != "edge" and not _is_clear(dim, tries[0], sheet, pointed=spot is not None):
        tries.append(inside_line(dim, spot))
    for region in (*tries, sheet):
        trace = _is_clear(dim, region, sheet, pointed=spot is not None)
        if region is not None and trace is not None:
            return region, trace
    raise BadInput(
        what="no outline is found" + (" round this place" if spot else ""),
        expected="a dark line all round the piece, or paper that stands out from the table",
        try_=f"{_OTHER[by]}pointing at its middle, or going over faint lines with a dark pen",
    )


_OTHER = {
    "": "",
    "line": "following the edge of the paper instead, ",
    "edge": "following a drawn line instead, ",
}


def _is_clear(
    dim: Shades, region: Area | None, sheet: Area | None, *, pointed: bool
) -> Traced | None:
    """The traced outline of an area, None when it is not seen clearly or a small part only.

    pointed: the maker has pointed at it; then it may be small.
    """
    if region is None:
        return None
    if (
        not pointed
        and region.by_line
        and sheet
        and region.mask.sum() < LINE_SHARE * sheet.mask.sum()
    ):
        return None
    if len(region.bridged) > MOST_GAPS or len(region.strokes) > MOST_STROKES:
        return None
    if region.mended and sheet and (region.mask & ~sheet.mask).sum() > 0.05 * region.mask.sum():
        return None
    trace = traced(dim, region.mask, by_line=region.by_line)
    least = TRUSTED if region.by_line else TRUSTED_EDGE
    clear = float(trace.good.mean()) >= least and _strong(trace, region.by_line)
    if clear and region.by_line and paper_both_sides(dim, trace) < BOTH_SIDES:
        return None
    return trace if clear else None


def _strong(trace: Traced, by_line: bool) -> bool:
    """Tell whether a line is dark enough, or an edge high enough, to be one at all."""
    return float(np.median(trace.strength)) > (0.08 if by_line else 1.0)
