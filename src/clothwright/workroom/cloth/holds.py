"""Handles on the drawing of a cloth: the lines of a border, the repeat and where it begins."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth import shown_length
from clothwright.units import Unit
from clothwright.words import show_length

LEAST_REPEAT_MM = 5.0
"""A smaller repeat cannot be taken hold of, and nothing is matched to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """One figure of the print that can be dragged.

    key: the entry it stands for ("border.0.base", "repeat_along"). mm: its value. at: where its
    line lies, mm in the cloth's frame. axis: "x" (a line across the cloth, dragged along it) or
    "y". sign: -1 when the value grows against the axis. least, most: the values it may have, mm.
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


def holds(cloth: Cloth, unit: Unit) -> tuple[Hold, ...]:
    """Return every handle of a cloth, in the order of the keyboard."""
    design, wide, long = cloth.print, cloth.width, shown_length(cloth)
    out = []

    def add(key: str, words: str, mm: float, at: float, axis: str, **more: float) -> None:
        out.append(
            Hold(
                key=key,
                words=words,
                shown=show_length(mm, unit),
                mm=mm,
                at=at,
                axis=axis,
                sign=int(more.get("sign", 1)),
                least=more.get("least", 0.0),
                most=max(mm, more["most"]),
            )
        )

    for n, b in enumerate(design.borders):
        sign = 1 if b.side == "lower" else -1
        base, top = b.line(wide), b.line(wide, b.height)
        add(f"border.{n}.base", f"{b.name}, base line", b.base, base, "y", sign=sign, most=wide)
        add(
            f"border.{n}.height",
            f"{b.name}, height",
            b.height,
            top,
            "y",
            sign=sign,
            least=1.0,
            most=wide - b.base,
        )
    repeats = (("along", "x", long), ("across", "y", wide))
    for way, axis, end in repeats:
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
    return tuple(out)


def handles(cloth: Cloth, on_it: tuple[Hold, ...]) -> Markup:
    """Return the handles as SVG, each a slider with a line and a knob; y turned down.

    Knobs of lines along the cloth stand near its cut end, where a phone shows them, one after
    another; those of lines across it near the upper selvedge, where none hides the next.
    """
    wide, long = cloth.width, shown_length(cloth)
    knob = 0.011 * max(wide, long)
    out = []
    steps = {"x": 0, "y": 0}
    for hold in on_it:
        n = steps[hold.axis]
        steps[hold.axis] += 1
        if hold.axis == "y":
            line = f"M0 {-hold.at:.2f}H{long:.2f}"
            spot = (0.2 * long + knob * 5.0 * n, -hold.at)
        else:
            line = f"M{hold.at:.2f} 0V{-wide:.2f}"
            spot = (hold.at, -wide + knob * (2.5 + 5.0 * n))
        out.append(
            Markup(
                '<g class="hold hold-{}" role="slider" tabindex="0" data-key="{}" data-mm="{:.4f}" '
                'data-axis="{}" data-sign="{}" data-least="{:.2f}" data-most="{:.2f}" '
                'aria-label="{}" aria-valuenow="{:.1f}" aria-valuemin="{:.1f}" '
                'aria-valuemax="{:.1f}" aria-valuetext="{}" aria-orientation="{}">'
                '<path class="reach" d="{}"/><path class="shown" d="{}"/>'
                '<circle class="grip" cx="{:.2f}" cy="{:.2f}" r="{:.2f}"/>'
                '<circle class="knob" cx="{:.2f}" cy="{:.2f}" r="{:.2f}"/></g>'
            ).format(
                hold.axis,
                hold.key,
                hold.mm,
                hold.axis,
                hold.sign,
                hold.least,
                hold.most,
                hold.words,
                hold.mm,
                hold.least,
                hold.most,
                hold.shown,
                "vertical" if hold.axis == "y" else "horizontal",
                line,
                line,
                *spot,
                knob,
                *spot,
                knob,
            )
        )
    return Markup("").join(out)
