"""A line and an area of each role, to show what they look like."""

from __future__ import annotations

from clothwright.geometry.path import polyline, rectangle
from clothwright.picture.picture import DrawnRole, Fill, Picture, Stroke


def sample_line(role: DrawnRole) -> Picture:
    """Return a straight line of a role, 180 mm long."""
    return Picture(items=(Stroke(path=polyline(((0, 0), (180, 0))), role=role),))


def sample_area(role: DrawnRole) -> Picture:
    """Return an area of a role with its line, 70 x 45 mm."""
    box = rectangle((0, 0), (70, 45))
    return Picture(items=(Fill(path=box, role=role), Stroke(path=box, role=role, closed=True)))
