"""What is known of a cloth, in sentences for the table; and its length at other widths."""

from __future__ import annotations

from clothwright.cloth.cloth import Cloth, after_washing
from clothwright.cloth.cloth import to_buy as before_washing
from clothwright.cloth.contradictions import contradictions
from clothwright.cloth.prints import UP_DEG
from clothwright.cloth.widths import convert
from clothwright.errors import BadInput
from clothwright.units import INCH, YARD, Unit
from clothwright.words import begun, say, show_fraction, show_length, to_buy

OTHER_WIDTHS_IN = (36.0, 45.0, 54.0, 60.0)
"""Usual widths to ask about, inches; each lies in a column of the published table."""
UPS = {
    "end": "away from the cut end",
    "start": "towards the cut end",
    "upper": "towards the upper selvedge",
    "lower": "towards the lower selvedge",
}
"""Where the top of the ground's figure points."""
WAYS = {UP_DEG[name]: words for name, words in UPS.items()}
"""The same by the turn, in degrees, of a shape whose top points there."""
DROPS = {
    "half-drop": "Every second column of the print, side by side, lies half a repeat along.",
    "brick": "Every second row of the print, one after another, lies half a repeat across.",
}
DOWNS = {
    "selvedge": "Its bottom faces that selvedge: hems laid on it face there too.",
    "middle": "Its bottom faces the middle of the cloth: hems laid on it face there too.",
    "either": "No up or down: pieces may lie either way.",
}


def cloth_words(cloth: Cloth, unit: Unit) -> tuple[str, ...]:
    """Return what the maker should know about a cloth, a sentence each."""

    def s(mm: float) -> str:
        return show_length(mm, unit)

    usable = cloth.width - cloth.margin_lower - cloth.margin_upper
    out = [f"Pieces may use {s(usable)} of its {s(cloth.width)} width."]
    if cloth.outline:
        out.append("It is a remnant: pieces stay inside its own outline.")
    if cloth.shrink_along or cloth.shrink_across:
        out.append(_shrink_words(cloth, unit))
    else:
        out.append(
            "No shrinkage is given. Wash a sample as you will wash the garment, and measure it."
        )
    if cloth.nap:
        out.append("All tops point one way; no piece is turned round to save cloth.")
    out += _print_words(cloth, unit)
    out += [f"Nothing is cut within {s(f.margin)} of the {f.name}." for f in cloth.flaws]
    return tuple(out)


def _shrink_words(cloth: Cloth, unit: Unit) -> str:
    washed = after_washing(cloth)
    words = (
        f"It will lose {show_fraction(cloth.shrink_along)} along and "
        f"{show_fraction(cloth.shrink_across)} across: {show_length(washed.width, unit)} wide"
    )
    if washed.length is not None:
        return f"{words} and {show_length(washed.length, unit)} long when it is cut."
    times = before_washing(1.0, cloth.shrink_along)
    return f"{words} when it is cut. Buy {times:.3g} times the length you need."


def _print_words(cloth: Cloth, unit: Unit) -> list[str]:
    design, out = cloth.print, list[str]()
    for b in design.borders:
        name = begun(b.name)
        out.append(
            f"{name}: from {show_length(b.base, unit)} to {show_length(b.base + b.height, unit)}"
            f", counted from the {b.side} selvedge. {DOWNS[b.down]}"
        )
        top = b.base + b.height
        if top > cloth.width:
            out.append(f"{name} reaches beyond the other selvedge; check its measurements.")
    for way, other in (("along", "cut end"), ("across", "lower selvedge")):
        size = design.repeat(way)
        if size is not None:
            out.append(
                f"The pattern repeats every {show_length(size, unit)} {way} the cloth, first "
                f"{show_length(design.origin(way), unit)} from the {other}. Matching can cost up "
                "to one repeat a piece."
            )
    if design.up in UPS:
        out.append(
            f"The print stands with its top {UPS[design.up]}, and so does every piece cut "
            "from it: none is turned upside down or laid on its side."
        )
    out += [DROPS[design.drop]] if design.drop in DROPS else []
    if design.axes_along or design.axes_across:
        out.append("A pair can mirror, and a centre front can lie, on the dotted lines.")
    out += [say(c.warning(cloth.name), unit) for c in contradictions(design)]
    return out


def other_widths(cloth: Cloth, unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return how much of other widths this length is worth, as (width, length); () if unknown.

    By the published table of `cloth.widths`: a guide for plain cloth only.
    """
    if cloth.length is None or cloth.outline:
        return ()
    out = []
    for inches in OTHER_WIDTHS_IN:
        try:
            yards = convert(cloth.length / YARD, cloth.width / INCH, inches)
        except BadInput:
            continue
        out.append((show_length(inches * INCH, unit), to_buy(yards * YARD, unit)))
    return tuple(out)
