"""Every tolerance of the geometry, with its unit and its reason."""

from __future__ import annotations

JOIN_MM = 1e-4
"""mm, absolute: two ends nearer than this are the same point (far below a pencil line, far above
the rounding of a drawing file with four decimals)."""

LENGTH_MM = 1e-4
"""mm, absolute: error allowed in one segment's arc length; hundreds of them stay
inside 0.05."""

CURVE_MM = 0.01
"""mm, absolute: how far a fitted parallel curve may lie from the true one."""

SAGITTA_MM = 0.02
"""mm, absolute: the largest distance between a curve and the chord that stands for it when a
curve must become a polygon."""
