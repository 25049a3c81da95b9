"""A picture as an <svg> element to stand in a page, with a class for every role.

It has no colour and no style of its own: what a role looks like is the page's style sheet's.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from html import escape

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.picture.paths import decimal, path_data, rough_path_data
from clothwright.picture.photo_svg import (
    Address,
    no_photos,
    photo_copies,
    photo_images,
    photo_key,
)
from clothwright.picture.picture import DrawnPhoto, Fill, Item, Picture, Stroke, Text

EM_MM = 10.0
"""A drawing to scale is measured in em: one em of it is this many mm of cloth, however large the
style sheet shows an em (`.to-scale`), so that drawings side by side keep one scale."""

Point = tuple[float, float]


def inline_svg(
    picture: Picture,
    *,
    alt: str,
    over: str = "",
    margin: float = 4.0,
    to_scale: bool = True,
    extra: str = "",
    within: tuple[Point, Point] | None = None,
    rough: float = 0.0,
    photos: Address = no_photos,
    key: str = "",
) -> str:
    """Return a picture as an <svg> element whose user unit is one mm (y turned down).

    alt: what it shows, read aloud; "" for a drawing that only repeats its caption. over: more SVG
    drawn on top, for edges that can be taken hold of. margin: mm of clear space round it.
    to_scale: give it a size in em (EM_MM); else it fills its place. extra: more class names.
    within: lower left and upper right corner (mm) to show instead of everything drawn. rough: mm
    that lines of many corners may stray, which makes them shorter to send; 0: not at all. photos:
    the address of each photo. key: letters that tell the drawing from others of the page which show
    the same photos under the same title.
    Raises BadInput when there is nothing to draw.
    """
    if not picture.items and within is None:
        raise BadInput(what="there is nothing to draw", where=picture.title)
    (x0, y0), (x1, y1) = within or picture.bounds()
    wide, tall = x1 - x0 + 2 * margin, y1 - y0 + 2 * margin
    size = (
        f' width="{decimal(wide / EM_MM)}em" height="{decimal(tall / EM_MM)}em"' if to_scale else ""
    )
    names = escape(f"pic {extra}" if extra else "pic")
    box = " ".join(decimal(v) for v in (x0 - margin, -y1 - margin, wide, tall))
    return (
        f'<svg class="{names}" {_told(alt, over)}{size} viewBox="{box}" focusable="false">'
        f"{inner_svg(picture, rough=rough, photos=photos, key=key)}{over}</svg>"
    )


def _told(alt: str, over: str) -> str:
    """Return what is read aloud of it; what can be taken hold of makes it a group."""
    if not over and not alt:
        return 'aria-hidden="true"'
    return f'role="{"group" if over else "img"}" aria-label="{escape(alt)}"'


def inner_svg(
    picture: Picture, *, rough: float = 0.0, photos: Address = no_photos, key: str = ""
) -> str:
    """Return what stands inside the <svg> element of a picture, to be put into another one.

    rough: as for `inline_svg`, mm. photos, key: as there.
    """
    key = photo_key(picture, key)
    images = photo_images(picture, key, photos)
    return images + "".join(_groups(picture, rough, key if images else ""))


def _groups(picture: Picture, rough: float, key: str) -> Iterator[str]:
    """Each run of one role is a group of class r-ROLE. key: of the photos, "" to draw none."""
    for role, run in itertools.groupby(picture.items, key=lambda item: item.role):
        elements = "".join(_elements(tuple(run), rough, key))
        yield f'<g class="r-{role.value}">{elements}</g>'


def _elements(run: Sequence[Item], rough: float, key: str) -> Iterator[str]:
    """Yield the elements of a run of one role; strokes of one thing are one element."""
    for (kind, name), items in itertools.groupby(run, key=lambda item: (type(item), item.group)):
        group = f' data-group="{escape(name)}"' if name else ""
        if kind is Stroke:
            lines = [i for i in items if isinstance(i, Stroke)]
            d = "".join(_data(i.path, rough, closed=i.closed) for i in lines)
            yield f'<path class="line"{group} d="{d}"/>'
            continue
        for item in items:
            if isinstance(item, DrawnPhoto):
                yield photo_copies(item, key) if key else ""
            else:
                yield _text(item, group) if isinstance(item, Text) else _area(item, group, rough)


def _area(item: Fill | Stroke, group: str, rough: float) -> str:
    rings = (item.path, *(item.holes if isinstance(item, Fill) else ()))
    d = "".join(_data(ring, rough, closed=True) for ring in rings)
    return f'<path class="area"{group} d="{d}"/>'


def _data(path: Path, rough: float, *, closed: bool) -> str:
    return rough_path_data(path, rough, closed=closed) if rough else path_data(path, closed=closed)


def _text(text: Text, group: str) -> str:
    x, y = decimal(text.at.x), decimal(-text.at.y)
    turn = f' transform="rotate({decimal(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    return (
        f'<text x="{x}" y="{y}" font-size="{decimal(text.size)}"{anchor}{turn}{group}>'
        f"{escape(text.words)}</text>"
    )
