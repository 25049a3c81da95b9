"""Pictures of our own that the tests of the outputs share."""

from __future__ import annotations

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.vec import Vec
from clothwright.picture import DrawnRole, Fill, Picture, Stroke, Text


def panel_path(x: float = 0.0, y: float = 0.0) -> Path:
    """A skirt panel 300 mm wide and 420 mm high with a curved hip and a curved hem."""

    def at(dx: float, dy: float) -> Vec:
        return Vec(x + dx, y + dy)

    return Path(
        (
            Cubic(at(0, 8), at(90, 8), at(210, 2), at(300, 20)),
            Line(at(300, 20), at(280, 250)),
            Cubic(at(280, 250), at(272, 320), at(255, 380), at(230, 420)),
            Cubic(at(230, 420), at(150, 410), at(70, 408), at(0, 408)),
            Line(at(0, 408), at(0, 8)),
        )
    )


def panel() -> Picture:
    """One panel with a stitching line, a grain line, a notch and words."""
    outline = panel_path()
    inner = polyline(((16, 40), (262, 46), (250, 260), (214, 396), (16, 390)))
    return Picture(
        title="Panel skirt, demo data",
        items=(
            Fill(path=outline, role=DrawnRole.PIECE, group="front"),
            Stroke(path=outline, role=DrawnRole.CUT, closed=True, group="front"),
            Stroke(path=inner, role=DrawnRole.STITCH, group="front"),
            Stroke(path=polyline(((120, 100), (120, 330))), role=DrawnRole.GRAIN, group="front"),
            Stroke(path=polyline(((286, 190), (271, 189))), role=DrawnRole.NOTCH, group="front"),
            Text(words="front: cut 2, seam 1⅝″, Größe", at=Vec(140, 200), size=6, group="front"),
        ),
    )


def ring(x0: float, y0: float, x1: float, y1: float) -> Path:
    """A rectangle as a closed path."""
    return polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)))


def cut(path: Path) -> Stroke:
    """A closed cutting line."""
    return Stroke(path=path, role=DrawnRole.CUT, closed=True)
