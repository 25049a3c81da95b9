"""Segments that were one before a program or a page's edge cut them, made one again, exactly."""

from __future__ import annotations

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment

SAME_MM = 0.01
"""mm: the segment made lies this near to both it is made of."""


def with_cuts_mended(path: Path, *, closed: bool) -> Path:
    """Return the path with straight lines that run on, and halves of one curve, made one.

    closed: the last segment may be made one with the first.
    """
    out: list[Segment] = []
    for segment in path.segments:
        whole = one_of(out[-1], segment) if out else None
        if whole is None:
            out.append(segment)
        else:
            out[-1] = whole
    if closed and len(out) > 2:
        whole = one_of(out[-1], out[0])
        if whole is not None:
            out = [*out[1:-1], whole]
    return Path(tuple(out)) if len(out) < len(path.segments) else path


def one_of(a: Segment, b: Segment) -> Segment | None:
    """Return the one segment that two were cut from; None when they were not one."""
    if isinstance(a, Line) and isinstance(b, Line):
        return _line(a, b)
    if isinstance(a, Cubic) and isinstance(b, Cubic):
        return _curve(a, b)
    return None


def _line(a: Line, b: Line) -> Line | None:
    whole = Line(a.start, b.end)
    along = whole.tangent(0.0)
    if along.dot(a.tangent(0.0)) < 0.99 or along.dot(b.tangent(0.0)) < 0.99:
        return None
    return whole if abs(along.cross(a.end - a.start)) < SAME_MM else None


def _curve(a: Cubic, b: Cubic) -> Cubic | None:
    """Run de Casteljau's split backwards: the handles at the cut tell where it was."""
    before, after = a.p2.distance(a.p3), b.p0.distance(b.p1)
    if before < 1e-6 or after < 1e-6:
        return None
    t = before / (before + after)
    whole = Cubic(a.p0, a.p0 + (a.p1 - a.p0) / t, b.p3 + (b.p2 - b.p3) / (1 - t), b.p3)
    one, other = whole.split(t)
    near = (
        p.distance(q) < SAME_MM
        for p, q in zip(
            (*one.controls(), *other.controls()), (*a.controls(), *b.controls()), strict=True
        )
    )
    return whole if all(near) else None
