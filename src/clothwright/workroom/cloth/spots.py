"""Flaws of a cloth on its drawing: each can be moved, and made larger or smaller."""

from __future__ import annotations

from markupsafe import Markup

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.drawing.cloth import shown_length
from clothwright.units import Unit
from clothwright.words import show_length

APART = 3.0
"""The knobs stand so many of their radii beside a flaw, so that a finger hits the one meant."""

Box = tuple[float, float, float, float]


def box_of(flaw: Flaw) -> Box:
    """Return the least and most of a flaw's corners: x0, y0, x1, y1 in the cloth's frame, mm."""
    xs, ys = [x for x, _ in flaw.ring], [y for _, y in flaw.ring]
    return min(xs), min(ys), max(xs), max(ys)


def place_words(flaw: Flaw, unit: Unit) -> str:
    """Say where a flaw lies, at its corner nearest to the cut end and the lower selvedge."""
    x, y, _, _ = box_of(flaw)
    return (
        f"{show_length(x, unit)} from the cut end, {show_length(y, unit)} from the lower selvedge"
    )


def size_words(flaw: Flaw, unit: Unit) -> str:
    """Say how large a flaw is, along by across."""
    x0, y0, x1, y1 = box_of(flaw)
    return f"{show_length(x1 - x0, unit)} along by {show_length(y1 - y0, unit)} across"


def spots(cloth: Cloth, unit: Unit) -> Markup:
    """Return two knobs for every flaw as SVG (y turned down): its place, then its size."""
    wide, long = cloth.width, shown_length(cloth)
    radius = 0.011 * max(wide, long)
    out = []
    for n, flaw in enumerate(cloth.flaws):
        x0, y0, x1, y1 = box_of(flaw)
        ring = " ".join(f"{x:.4f},{y:.4f}" for x, y in flaw.ring)
        shape = "M" + "L".join(f"{x:.2f} {-y:.2f}" for x, y in flaw.ring) + "Z"
        left, right = _beside(x0, x1, radius, long)
        middle = (y0 + y1) / 2
        for do, words, said, knob, edge in (
            ("move", f"{flaw.name}, its place", place_words(flaw, unit), (left, middle), x0),
            ("size", f"{flaw.name}, its size", size_words(flaw, unit), (right, y1), x1),
        ):
            leader = f"M{edge:.2f} {-knob[1]:.2f}L{knob[0]:.2f} {-knob[1]:.2f}"
            reach = Markup('<path class="reach" d="{}"/>').format(shape) if do == "move" else ""
            out.append(
                Markup(
                    '<g class="spot spot-{}" role="button" tabindex="0" data-key="flaw.{}.{}" '
                    'data-flaw="{}" data-do="{}" data-ring="{}" data-long="{:.2f}" '
                    'data-wide="{:.2f}" data-name="{}" aria-label="{}: {}" '
                    'aria-describedby="spot-how">{}<path class="shown" d="{}"/>'
                    '<path class="leader" d="{}"/>'
                    '<circle class="grip" cx="{:.2f}" cy="{:.2f}" r="{:.2f}"/>'
                    '<circle class="knob" cx="{:.2f}" cy="{:.2f}" r="{:.2f}"/></g>'
                ).format(
                    do,
                    n,
                    do,
                    n,
                    do,
                    ring,
                    long,
                    wide,
                    words,
                    words,
                    said,
                    reach,
                    shape,
                    leader,
                    knob[0],
                    -knob[1],
                    radius,
                    knob[0],
                    -knob[1],
                    radius,
                )
            )
    return Markup("").join(out)


def _beside(x0: float, x1: float, radius: float, long: float) -> tuple[float, float]:
    """Return where the knobs of a flaw's place and size stand, both on the cloth and apart."""
    left = max(radius, x0 - APART * radius)
    right = min(long - radius, max(x1, left) + APART * radius)
    if right - left < 2 * APART * radius:
        left = max(radius, right - 2 * APART * radius)
        right = max(right, left + 2 * APART * radius)
    return left, right
