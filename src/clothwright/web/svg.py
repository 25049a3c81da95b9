"""A picture drawn into the page: inline SVG with a class for every role.

It has no colour and no style of its own. What a role looks like stands in static/css/lines.css
alone, so both themes and print follow.
"""

from __future__ import annotations

import itertools
import re

from markupsafe import Markup, escape

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.outputs.svg import path_data
from clothwright.picture.picture import Fill, Item, Picture, Stroke, Text

EM_MM = 10.0
"""A drawing to scale is measured in em: one em of it is this many mm of cloth, however large the
style sheet shows an em (`.to-scale`), so that drawings side by side keep one scale."""


def inline(
    picture: Picture,
    *,
    alt: str,
    over: Markup | str = "",
    margin: float = 4.0,
    to_scale: bool = True,
    extra: str = "",
    within: tuple[Vec, Vec] | None = None,
) -> Markup:
    """Return a picture as an <svg> element whose user unit is one mm (y turned down).

    alt: what it shows, read aloud; "" for a drawing that only repeats its caption. over: more SVG
    drawn on top, for edges that can be taken hold of. margin: mm of clear space round it.
    to_scale: give it a size in em (EM_MM); else it fills its place. extra: more class names.
    within: lower left and upper right corner to show instead of everything drawn.
    Raises BadInput when there is nothing to draw.
    """
    if not picture.items and within is None:
        raise BadInput(what="there is nothing to draw", where=picture.title)
    low, high = within or picture.bounds()
    low, high = low - Vec(margin, margin), high + Vec(margin, margin)
    wide, tall = high.x - low.x, high.y - low.y
    names = Markup(f" {escape(extra)}") if extra else ""
    size = f' width="{_n(wide / EM_MM)}em" height="{_n(tall / EM_MM)}em"' if to_scale else ""
    told = (
        Markup('role="group" aria-label="{}"').format(alt)
        if over
        else (
            Markup('role="img" aria-label="{}"').format(alt)
            if alt
            else Markup('aria-hidden="true"')
        )
    )
    head = Markup('<svg class="pic{}" {}{} viewBox="{} {} {} {}" focusable="false">').format(
        names, told, Markup(size), _n(low.x), _n(-high.y), _n(wide), _n(tall)
    )
    return head + Markup("").join(_groups(picture)) + Markup(over) + Markup("</svg>")


def brief_path(path: Path, *, closed: bool = False) -> str:
    """Return a path as SVG writes it, to 0.01 mm: finer than a screen can show."""
    return re.sub(r"-?\d+\.\d+", lambda m: _n(float(m[0])), path_data(path, closed=closed))


def _groups(picture: Picture) -> list[Markup]:
    """Each run of one role is a group of class r-ROLE."""
    out: list[Markup] = []
    for role, run in itertools.groupby(picture.items, key=lambda item: item.role):
        items = Markup("").join(_element(item) for item in run)
        out.append(Markup('<g class="r-{}">{}</g>').format(role.value, items))
    return out


def _element(item: Item) -> Markup:
    group = Markup(' data-group="{}"').format(item.group) if item.group else Markup("")
    if isinstance(item, Text):
        return _text(item, group)
    if isinstance(item, Fill):
        rings = "".join(brief_path(ring, closed=True) for ring in (item.path, *item.holes))
        return Markup('<path class="area"{} d="{}"/>').format(group, rings)
    return _line(item, group)


def _line(stroke: Stroke, group: Markup) -> Markup:
    return Markup('<path class="line"{} d="{}"/>').format(
        group, brief_path(stroke.path, closed=stroke.closed)
    )


def _text(text: Text, group: Markup) -> Markup:
    x, y = _n(text.at.x), _n(-text.at.y)
    turn = f' transform="rotate({_n(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    return Markup('<text x="{}" y="{}" font-size="{}"{}{}{}>{}</text>').format(
        x, y, _n(text.size), Markup(anchor), Markup(turn), group, text.words
    )


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
