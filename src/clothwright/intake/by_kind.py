"""Outlines of a drawing that says itself what each line is: boundary, sew line, notch, grain.

Only a boundary goes round a piece. Sew lines and the fold are joined to the stitching line; where
an edge has no allowance, and so no sew line, the boundary itself closes it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.path import Path, ring
from clothwright.geometry.region import inside
from clothwright.geometry.vec import Vec
from clothwright.intake.chains import chains
from clothwright.intake.drawing import CUT, FOLD, STITCH, DrawnLine
from clothwright.intake.outlines import Found, outlines, turned

ON_MM = 0.3
"""mm: an end of a sew line this near to the boundary lies on it."""


def outlines_by_kind(lines: Sequence[DrawnLine]) -> Found:
    """Sort lines (mm) of which each has a kind into outlines and all others."""
    found = outlines([x for x in lines if x.kind == CUT])
    rest = [x for x in lines if x.kind != CUT]
    nested = []
    for outline, known in zip(found.outlines, found.nested, strict=True):
        own = [x for x in rest if x.kind in (STITCH, FOLD) and _lies_in(x, outline)]
        stitching = stitching_of(outline.path, own)
        if stitching is not None:
            used = {id(x) for x in own if x.kind == STITCH}
            rest = [x for x in rest if id(x) not in used]
            known = (replace(stitching, label=""), *known)  # noqa: PLW2901
        nested.append(tuple(known))
    others = (*found.others, *rest)
    return Found(found.outlines, others, found.notes, tuple(nested))


def stitching_of(outline: Path, lines: Sequence[DrawnLine]) -> DrawnLine | None:
    """Return the closed stitching line that sew lines and the fold make; None when they do not."""
    if not any(x.kind == STITCH for x in lines):
        return None
    closed, loose = chains([x for x in lines if not x.closed])
    closed += [x for x in lines if x.closed and x.kind == STITCH]
    if not closed:
        closed, _ = chains([*loose, *_bridges(outline, loose)])
    if not closed:
        return None
    largest = max(closed, key=lambda x: x.path.length)
    return replace(turned(largest), kind=STITCH)


def _lies_in(line: DrawnLine, outline: DrawnLine) -> bool:
    """Tell whether a line lies in an outline or on it; by the boxes, quick, and its middle."""
    if not outline.path.bounds().holds(line.path.bounds(), ON_MM):
        return False
    if line.label and outline.label:
        return line.label == outline.label
    middle = line.path.middle
    return outline.path.nearest(middle)[1] <= ON_MM or inside(middle, ring(outline.path))


def _bridges(outline: Path, loose: Sequence[DrawnLine]) -> list[DrawnLine]:
    """Return the parts of the boundary between loose ends that lie on it, where no line runs."""
    ends = [p for x in loose for p in x.path.ends]
    lone = [p for k, p in enumerate(ends) if _is_lone(p, [*ends[:k], *ends[k + 1 :]])]
    ats = sorted(at for at, away in map(outline.nearest, lone) if away <= ON_MM)
    if len(ats) < 2 or len(ats) % 2:
        return []
    out = []
    for a, b in zip(ats, (*ats[1:], ats[0]), strict=True):
        part = outline.onward(a, b)
        middle = part.middle
        near = min(x.path.nearest(middle)[1] for x in loose)
        out.append((near, DrawnLine(path=part, closed=False, kind=STITCH)))
    one, other = out[::2], out[1::2]
    best = max((one, other), key=lambda group: min(near for near, _ in group))
    return [line for _, line in best]


def _is_lone(p: Vec, others: Sequence[Vec]) -> bool:
    return all(p.distance(q) > 0.5 for q in others)
