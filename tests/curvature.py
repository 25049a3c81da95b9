"""How much a line or a curve bends, for tests that hold a curve to be fair."""

from __future__ import annotations

from clothwright.geometry.segment import Line, Segment


def curvature(segment: Segment, t: float) -> float:
    """Return 1 / radius in 1/mm, positive when it bends to the left; a straight line does not."""
    if isinstance(segment, Line):
        return 0.0
    d, dd = segment.derivative(t), segment.second_derivative(t)
    speed = d.norm
    return d.cross(dd) / speed**3 if speed > 1e-9 else 0.0
