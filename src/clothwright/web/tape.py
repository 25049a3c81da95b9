"""The tape measure along the edge of the table, at the scale of what lies on it."""

from __future__ import annotations

from markupsafe import Markup

from clothwright.picture.inline import EM_MM
from clothwright.units import Unit

TALL_MM = 36.0
"""How tall the tape is drawn, in mm of its own scale."""


def tape(unit: Unit, length_mm: float) -> Markup:
    """Return a tape measure of a length (mm), to scale; inches or centimetres as the maker thinks.

    It is an ornament with a use: the numbers are true, and read aloud they would only be noise.
    """
    step, big, bold = (10.0, 5, 10) if unit.is_metric else (25.4, 3, 6)
    ticks, numbers = [], []
    count = int(length_mm / step)
    for n in range(1, count + 1):
        tall = 14 if n % bold == 0 else 11 if n % big == 0 else 7
        ticks.append(f"M{n * step:.1f},0v{tall}")
        if n % bold == 0:
            numbers.append(f'<text x="{n * step:.1f}" y="31" font-size="18">{n}</text>')
    return Markup(
        '<svg class="tape-scale" aria-hidden="true" focusable="false" '
        f'width="{length_mm / EM_MM:.1f}em" height="{TALL_MM / EM_MM:.1f}em" '
        f'viewBox="0 0 {length_mm:.1f} {TALL_MM:g}"><path d="{"".join(ticks)}"/>'
        f"{''.join(numbers)}</svg>"
    )
