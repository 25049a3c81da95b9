"""Notches cut into an outline or standing out of it: V, slit, T and box, known by their shape.

A notch is a short detour: the outline leaves its way, comes back close by and goes on in the same
direction. Figures are our own choice, from common practice (marks of 3 to 8 mm).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.piece import NotchKind

MOUTH_MM = 14.0
"""mm: a notch is no wider where it opens."""
DEPTH_MM = (2.0, 16.0)
"""mm: a notch is no flatter and no deeper than this."""
LONGEST_MM = 60.0
MOST_SEGMENTS = 8
ONWARD_DEG = 20.0
"""degrees: before and after a notch the outline runs in the same direction, up to this."""
LEAVES_DEG = 30.0
"""degrees: at a notch the outline turns off by more than this."""
DOUBLE_MM = 16.0
"""mm: two notches of one shape that are nearer than this are one double notch."""
SLIT_MM = 1.0
"""mm: a notch that opens less is a slit."""


class NotchFind(NamedTuple):
    """A notch that was recognised. at: its place on the outline, mm. shape: what it looks like."""

    at: Vec
    shape: str
    kind: NotchKind = NotchKind.SINGLE


def without_notches(path: Path) -> tuple[Path, tuple[NotchFind, ...]]:
    """Return a closed outline (mm) with its notches straightened out, and the notches found.

    Where a notch stood, the outline runs straight across its mouth (on a curve: in a curve).
    """
    segments = path.segments
    n = len(segments)
    spans: list[tuple[int, int]] = []
    used = [False] * n
    for i in range(n):
        count = next((c for c in range(2, min(MOST_SEGMENTS, n - 2) + 1) if _is(path, i, c)), 0)
        if count and not any(used[(i + k) % n] for k in range(count)):
            spans.append((i, count))
            for k in range(count):
                used[(i + k) % n] = True
    if not spans:
        return path, ()
    found = [_find([segments[(i + k) % n] for k in range(c)]) for i, c in spans]
    return _bridged(segments, dict(spans)), doubled(found)


def _is(path: Path, start: int, count: int) -> bool:
    """Tell whether `count` segments from number `start` on are a notch."""
    n = len(path.segments)
    chain = [path.segments[(start + k) % n] for k in range(count)]
    if sum(s.length for s in chain) > LONGEST_MM:
        return False
    before = path.segments[start - 1].tangent(1.0)
    after = path.segments[(start + count) % n].tangent(0.0)
    a, b = chain[0].start, chain[-1].end
    mouth = a.distance(b)
    if mouth > MOUTH_MM or abs(turn_between_deg(before, after)) > ONWARD_DEG:
        return False
    if abs(turn_between_deg(before, chain[0].tangent(0.0))) < LEAVES_DEG:
        return False
    if abs(turn_between_deg(chain[-1].tangent(1.0), after)) < LEAVES_DEG:
        return False
    across = (b - a).unit if mouth > SLIT_MM else (before + after).unit
    if abs(turn_between_deg(before, across)) > ONWARD_DEG:
        return False
    deep = max(abs(across.cross(p - a)) for s in chain for p in s.flatten(0.1))
    return DEPTH_MM[0] <= deep <= DEPTH_MM[1] and mouth <= 3.0 * deep


def _find(chain: Sequence[Segment]) -> NotchFind:
    a, b = chain[0].start, chain[-1].end
    mouth = a.distance(b)
    points = [p for s in chain for p in s.flatten(0.1)]
    reach = max(p.distance(q) for p in points for q in points)
    if mouth <= SLIT_MM:
        middle = a.lerp(b, 0.5)
        deep = max(points, key=middle.distance)
        wide = max(abs((deep - middle).unit.cross(p - middle)) for p in points)
        shape = "T" if wide > SLIT_MM and reach > 0 else "slit"
    else:
        shape = "V" if len(chain) == 2 else "box"
    return NotchFind(a.lerp(b, 0.5), shape)


def _bridged(segments: Sequence[Segment], spans: dict[int, int]) -> Path:
    """Return the outline with every span of segments replaced by a line across its mouth."""
    n = len(segments)
    inside = {(i + k) % n for i, c in spans.items() for k in range(c)}
    first = next(i for i in range(n) if i not in inside)
    out: list[Segment] = []
    i = 0
    while i < n:
        k = (first + i) % n
        if k in spans:
            after = segments[(k + spans[k]) % n]
            bridge = _bridge(out[-1], after, segments[k].start)
            out += [bridge] if bridge else []
            i += spans[k]
        else:
            out.append(_begun(segments[k], out[-1].end) if out else segments[k])
            i += 1
    return Path(tuple(_merged(out)))


def _begun(segment: Segment, at: Vec) -> Segment:
    """Return a segment that begins where the one before it ends (a slit's lips may differ)."""
    if segment.start.distance(at) < 1e-9:
        return segment
    return Path((segment,)).with_ends(start=at).segments[0]


def _bridge(before: Segment, after: Segment, a: Vec) -> Segment | None:
    b = after.start
    mouth = a.distance(b)
    if mouth <= SLIT_MM:
        return None
    if isinstance(before, Line) and isinstance(after, Line):
        return Line(a, b)
    third = mouth / 3.0
    return Cubic(a, a + before.tangent(1.0) * third, b - after.tangent(0.0) * third, b)


def _merged(segments: Sequence[Segment]) -> list[Segment]:
    """Join straight lines that run on in the same direction."""
    out: list[Segment] = []
    for s in segments:
        last = out[-1] if out else None
        if isinstance(last, Line) and isinstance(s, Line) and _in_line(last, s):
            out[-1] = Line(last.p0, s.p1)
        else:
            out.append(s)
    first, last = out[0], out[-1]
    if (
        len(out) > 2
        and isinstance(first, Line)
        and isinstance(last, Line)
        and _in_line(last, first)
    ):
        out[0] = Line(last.p0, first.p1)
        out.pop()
    return out


def _in_line(a: Line, b: Line) -> bool:
    u = (b.p1 - a.p0).unit
    return abs(u.cross(a.p1 - a.p0)) < 0.02 and u.dot((a.p1 - a.p0).unit) > 0.99


def doubled(found: Sequence[NotchFind]) -> tuple[NotchFind, ...]:
    """Return notches with neighbours of one shape put together as double ones."""
    out: list[NotchFind] = []
    for one in found:
        twin = next((k for k, o in enumerate(out) if o.shape == one.shape and _close(o, one)), None)
        if twin is None:
            out.append(one)
        else:
            middle = out[twin].at.lerp(one.at, 0.5)
            out[twin] = NotchFind(middle, one.shape, NotchKind.DOUBLE)
    return tuple(out)


def _close(a: NotchFind, b: NotchFind) -> bool:
    return 0.5 < a.at.distance(b.at) <= DOUBLE_MM
