"""What can be pressed in a drawing: links over its lines, buttons on its corners, for a finger."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from clothwright.picture.paths import path_data
from clothwright.picture.picture import Stroke


def line_link(
    line: Stroke,
    *more: Stroke,
    href: str,
    swap: str,
    words: str,
    key: str,
    chosen: bool,
) -> Markup:
    """Return a link over a line (mm, y up), an SVG element to be drawn on top of its picture.

    more: lines where a press means it, too. swap: parts of the page that it changes. words: what
    it is, read aloud. key: what it is called in the document. chosen: it is the one shown.
    """
    return Markup(
        '<a class="edge" href="{}" data-swap="{}" aria-label="{}" data-edge="{}"{}>'
        '<path class="reach" d="{}"/><path class="shown" d="{}"/></a>'
    ).format(
        href,
        swap,
        words,
        key,
        Markup(' aria-current="true"') if chosen else "",
        _data((*more, line)),
        _data((line,)),
    )


def base_line(line: Stroke) -> Markup:
    """Return a closed line (mm, y up) to be pressed anywhere, for a corner to be made there."""
    return Markup('<path class="base" data-base="" d="{}"/>').format(_data((line,)))


def corner_button(at: tuple[float, float], *, words: str, on: bool) -> Markup:
    """Return a button on a corner of a line. at: mm, y up. on: it is a corner now. words: aloud."""
    x, y = at
    place = f"M {x:.2f} {-y:.2f} h 0.01"
    return Markup(
        '<a class="corner" role="button" href="#q-corners" aria-pressed="{}"'
        ' data-edge="k{:.0f}-{:.0f}" data-corner="{:.3f},{:.3f}" aria-label="{}">'
        '<path class="reach" d="{}"/>'
        '<path class="shown" d="{}"/><path class="hole" d="{}"/></a>'
    ).format("true" if on else "false", x, y, x, y, words, place, place, place)


def _data(lines: Iterable[Stroke]) -> str:
    return "".join(path_data(line.path, closed=line.closed) for line in lines)
