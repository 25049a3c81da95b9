"""A picture drawn into the page: inline SVG with a class for every role.

It has no colour and no style of its own. What a role looks like stands in static/css/lines.css
alone, so both themes and print follow.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from markupsafe import Markup, escape

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.picture.picture import Fill, Item, Picture, Stroke, Text
from clothwright.web.brief import brief, brief_path, rough_path

EM_MM = 10.0
"""A drawing to scale is measured in em: one em of it is this many mm of cloth, however large the
style sheet shows an em (`.to-scale`), so that drawings side by side keep one scale."""


def inline(
    picture: Picture,
    *,
    alt: str,
    over: Markup | str = "",
    on_first: Markup | str = "",
    margin: float = 4.0,
    to_scale: bool = True,
    extra: str = "",
    within: tuple[Vec, Vec] | None = None,
    rough: float = 0.0,
) -> Markup:
    """Return a picture as an <svg> element whose user unit is one mm (y turned down).

    alt: what it shows, read aloud; "" for a drawing that only repeats its caption. over: more SVG
    drawn on top, for edges that can be taken hold of. on_first: more SVG drawn on the first role
    and under all others: a photo on its cloth. margin: mm of clear space round it.
    to_scale: give it a size in em (EM_MM); else it fills its place. extra: more class names.
    within: lower left and upper right corner to show instead of everything drawn. rough: mm that
    lines of many corners may stray, which makes them shorter to send; 0: not at all.
    Raises BadInput when there is nothing to draw.
    """
    if not picture.items and within is None:
        raise BadInput(what="there is nothing to draw", where=picture.title)
    low, high = within or picture.bounds()
    low, high = low - Vec(margin, margin), high + Vec(margin, margin)
    wide, tall = high.x - low.x, high.y - low.y
    names = Markup(f" {escape(extra)}") if extra else ""
    size = f' width="{brief(wide / EM_MM)}em" height="{brief(tall / EM_MM)}em"' if to_scale else ""
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
        names, told, Markup(size), brief(low.x), brief(-high.y), brief(wide), brief(tall)
    )
    groups = _groups(picture, rough)
    groups.insert(1, Markup(on_first))
    return head + Markup("").join(groups) + Markup(over) + Markup("</svg>")


def inner(picture: Picture, *, rough: float = 0.0) -> Markup:
    """Return what stands inside the <svg> element of a picture, to be put into another one."""
    return Markup("").join(_groups(picture, rough))


def _groups(picture: Picture, rough: float) -> list[Markup]:
    """Each run of one role is a group of class r-ROLE."""
    out: list[Markup] = []
    for role, run in itertools.groupby(picture.items, key=lambda item: item.role):
        items = Markup("").join(_elements(tuple(run), rough))
        out.append(Markup('<g class="r-{}">{}</g>').format(role.value, items))
    return out


def _elements(run: Sequence[Item], rough: float) -> list[Markup]:
    """Return the elements of a run of one role; strokes of one thing are one element."""
    out: list[Markup] = []
    for (kind, name), items in itertools.groupby(run, key=lambda item: (type(item), item.group)):
        group = Markup(' data-group="{}"').format(name) if name else Markup("")
        if kind is Stroke:
            lines = [i for i in items if isinstance(i, Stroke)]
            d = "".join(_d(i.path, rough, closed=i.closed) for i in lines)
            out.append(Markup('<path class="line"{} d="{}"/>').format(group, d))
            continue
        out += [_one(item, group, rough) for item in items]
    return out


def _one(item: Item, group: Markup, rough: float) -> Markup:
    if isinstance(item, Text):
        return _text(item, group)
    rings = (item.path, *(item.holes if isinstance(item, Fill) else ()))
    d = "".join(_d(ring, rough, closed=True) for ring in rings)
    return Markup('<path class="area"{} d="{}"/>').format(group, d)


def _d(path: Path, rough: float, *, closed: bool) -> str:
    return rough_path(path, rough, closed=closed) if rough else brief_path(path, closed=closed)


def _text(text: Text, group: Markup) -> Markup:
    x, y = brief(text.at.x), brief(-text.at.y)
    turn = f' transform="rotate({brief(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    return Markup('<text x="{}" y="{}" font-size="{}"{}{}{}>{}</text>').format(
        x, y, brief(text.size), Markup(anchor), Markup(turn), group, text.words
    )
