"""What a line of an SVG is painted with: its pen (colour, width, dashes), or its filling."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from clothwright.intake.pen import WHITE, DrawnPen
from clothwright.picture.frames import inner_length

BLACK = "#000000"
_NAMES = {"black": BLACK, "white": WHITE}
_SHORT = re.compile(r"#([0-9a-f])([0-9a-f])([0-9a-f])")
_PARTS = re.compile(r"rgba?\(\s*([\d.]+%?)[\s,]+([\d.]+%?)[\s,]+([\d.]+%?).*\)")


class Paint(NamedTuple):
    """How lines are painted, as inherited. stroke, fill: "" for none. width, dash: own units."""

    stroke: str = ""
    fill: str = BLACK
    width: float = 1.0
    dash: tuple[float, ...] = ()

    def styled(self, style: Mapping[str, str]) -> Paint:
        """Return it as an element's own style changes it; what cannot be read changes nothing."""
        stroke, fill = style.get("stroke", "inherit"), style.get("fill", "inherit")
        return Paint(
            self.stroke if stroke == "inherit" else colour_of(stroke),
            self.fill if fill == "inherit" else colour_of(fill),
            _first(style.get("stroke-width", ""), self.width),
            _dashes(style.get("stroke-dasharray", "inherit"), self.dash),
        )

    def pen(self, scale: float, layer: str) -> DrawnPen:
        """Return it as the pen of a line. scale: mm for one of its units."""
        drawn = bool(self.stroke)
        return DrawnPen(
            width=self.width * scale if drawn else 0.0,
            dash=tuple(round(d * scale, 4) for d in self.dash) if drawn else (),
            colour=self.stroke or self.fill,
            layer=layer,
            shown=True,
            filled=bool(self.fill) and not drawn,
        )


def colour_of(text: str) -> str:
    """Return a colour of a style as "#rrggbb" or by its name, "" for none.

    >>> colour_of("#F00"), colour_of("rgb(255, 0, 0)"), colour_of("Red"), colour_of("none")
    ('#ff0000', '#ff0000', 'red', '')
    """
    plain = text.strip().lower()
    if plain in ("none", "transparent"):
        return ""
    short, parts = _SHORT.fullmatch(plain), _PARTS.fullmatch(plain)
    if short:
        return "#" + "".join(2 * c for c in short.groups())
    if parts:
        each = (float(p[:-1]) * 2.55 if p.endswith("%") else float(p) for p in parts.groups())
        return "#" + "".join(f"{round(min(c, 255.0)):02x}" for c in each)
    return _NAMES.get(plain, plain)


def _dashes(text: str, before: tuple[float, ...]) -> tuple[float, ...]:
    if text == "inherit":
        return before
    try:
        return tuple(inner_length(t, 0.0) for t in text.replace(",", " ").split())
    except ValueError:
        return ()


def _first(text: str, default: float) -> float:
    try:
        return inner_length(text, 0.0) if text else default
    except ValueError:
        return default
