"""Lines of a drawing that can be pressed: a link over each, wide enough for a finger."""

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


def _data(lines: Iterable[Stroke]) -> str:
    return "".join(path_data(line.path, closed=line.closed) for line in lines)
