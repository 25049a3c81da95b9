"""Handles on the drawing of a cloth: the lines of a border, the repeat and where it begins."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth import shown_length
from clothwright.units import Unit
from clothwright.words import show_length

LEAST_REPEAT_MM = 5.0
"""A smaller repeat cannot be taken hold of, and nothing is matched to it."""
KNOB_SHARE = 0.011
"""Radius of a knob, as a share of the drawing's longer side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintHold:
    """One measurement of the print that can be dragged.

    key: the entry it stands for ("border.0.base", "repeat_along"). mm: its value. at: where its
    line lies, mm in the cloth's frame. axis: "x" (a line across the cloth, dragged along it) or
    "y". sign: -1 when the value grows against the axis. least, most: the values it may have, mm.
    line: of an SVG path; x, y: the middle of its knob, mm, y turned down.
    """

    key: str
    words: str
    shown: str
    mm: float
    at: float
    axis: str
    sign: int
    least: float
    most: float
    line: str = ""
    x: float = 0.0
    y: float = 0.0


def knob_radius(cloth: Cloth) -> float:
    """Return how large the knobs on a cloth are drawn, mm."""
    return KNOB_SHARE * max(cloth.width, shown_length(cloth))


def holds(cloth: Cloth, unit: Unit) -> tuple[PrintHold, ...]:
    """Return every handle of a cloth, in the order of the keyboard; values in words of `unit`."""
    design, wide, long = cloth.print, cloth.width, shown_length(cloth)
    out: list[PrintHold] = []

    def add(
        key: str,
        words: str,
        mm: float,
        at: float,
        axis: str,
        *,
        most: float,
        least: float = 0.0,
        sign: int = 1,
    ) -> None:
        shown = show_length(mm, unit)
        out.append(
            PrintHold(
                key=key,
                words=words,
                shown=shown,
                mm=mm,
                at=at,
                axis=axis,
                sign=sign,
                least=least,
                most=max(mm, most),
            )
        )

    for n, b in enumerate(design.borders):
        sign = 1 if b.side == "lower" else -1
        base, top, room = b.line(wide), b.line(wide, b.height), wide - b.base
        key, name = f"border.{n}", b.name
        add(f"{key}.base", f"{name}, base line", b.base, base, "y", sign=sign, most=wide)
        add(f"{key}.height", f"{name}, height", b.height, top, "y", sign=sign, least=1.0, most=room)
    for way, axis, end in (("along", "x", long), ("across", "y", wide)):
        size = design.repeat(way)
        if size is None or size < LEAST_REPEAT_MM:
            continue
        start = design.origin(way)
        add(f"origin_{way}", f"repeat {way}, where it begins", start, start, axis, most=end)
        own = design.repeat_along if way == "along" else design.repeat_across
        key = f"repeat_{way}"
        if own is None:
            n = next(i for i, b in enumerate(design.borders) if b.repeat)
            key = f"border.{n}.repeat"
        add(key, f"repeat {way}, its size", size, start + size, axis, least=5.0, most=end)
    return _set_out(cloth, out)


def _set_out(cloth: Cloth, on_it: Iterable[PrintHold]) -> tuple[PrintHold, ...]:
    """Return handles with their lines and knobs, none on another.

    Knobs of lines along the cloth stand near its cut end, where a phone shows them, one after
    another; those of lines across it near the upper selvedge, where none hides the next.
    """
    wide, long = cloth.width, shown_length(cloth)
    radius = knob_radius(cloth)
    out = []
    steps = {"x": 0, "y": 0}
    for hold in on_it:
        n = steps[hold.axis]
        steps[hold.axis] += 1
        if hold.axis == "y":
            line = f"M0 {-hold.at:.2f}H{long:.2f}"
            x, y = 0.2 * long + radius * 5.0 * n, -hold.at
        else:
            line = f"M{hold.at:.2f} 0V{-wide:.2f}"
            x, y = hold.at, -wide + radius * (2.5 + 5.0 * n)
        out.append(replace(hold, line=line, x=x, y=y))
    return tuple(out)
