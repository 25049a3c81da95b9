"""A picture as an SVG drawing in true millimetres that any browser shows."""

from __future__ import annotations

import base64
import itertools

from clothwright.drawing.style import PRINT, Look
from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.picture.paths import decimal, path_data
from clothwright.picture.photo_svg import photo_copies, photo_images, photo_key
from clothwright.picture.picture import DrawnPhoto, DrawnRole, Fill, Item, Picture, Text
from clothwright.picture.xml_words import escape, quoted

MARGIN_MM = 5.0
LINK = "xlink:href"
"""A reference as SVG 1.1 has it, for programs that do not know the newer one."""
PLACES = 4
"""Decimals of a mm in what may be cut by."""


def svg(
    picture: Picture,
    *,
    look: Look = PRINT,
    width: float | None = None,
    margin: float = MARGIN_MM,
    alt: str = "",
) -> str:
    """Return an SVG whose user unit is one mm of the picture.

    width: shown width in mm; None shows it at full size. Lines keep their width on paper at any
    shown width. margin: clear space round the picture, in mm as shown. alt: what it shows, in
    words. Each run of one role is a group with the role as class and layer name; `data-group`
    names the piece or seam an item belongs to. SVG counts y downward, so y is turned here, once.
    Raises BadInput when the picture is empty.
    """
    if not picture.items:
        raise BadInput(
            what="there is nothing to draw", where=picture.title, expected="at least one item"
        )
    box = picture.bounds()
    scale = 1.0 if width is None else max(width - 2 * margin, 1.0) / max(box.size.x, 1e-6)
    low, high = box = box.grown(margin / scale)
    wide, tall = box.size
    photos = any(isinstance(item, DrawnPhoto) and item.data for item in picture.items)
    links = ' xmlns:xlink="http://www.w3.org/1999/xlink"' if photos else ""
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg"{links} version="1.1" role="img"'
        f' width="{_n(wide * scale)}mm" height="{_n(tall * scale)}mm"'
        f' viewBox="{_n(low.x)} {_n(-high.y)} {_n(wide)} {_n(tall)}">'
    )
    roles = {item.role for item in picture.items}
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        head,
        f"<title>{escape(picture.title or 'Pattern')}</title>",
    ]
    key = photo_key(picture)
    images = photo_images(picture, key, _embedded, LINK)
    lines += [images] if images else []
    if alt:
        lines.append(f"<desc>{escape(alt)}</desc>")
    lines.append(f"<style>\n{_style(look, roles, scale)}</style>")
    lines += _groups(picture, key if images else "")
    lines.append("</svg>\n")
    return "\n".join(lines)


def _style(look: Look, roles: set[DrawnRole], scale: float) -> str:
    rules = [
        "path{fill:none;stroke-linejoin:round}",
        "text{font-family:Vera,Verdana,'DejaVu Sans',sans-serif;white-space:pre}",
    ]
    for role in DrawnRole:
        if role not in roles:
            continue
        pen, name = look.pen(role), role.value
        dash = ""
        if pen.dash:
            dash = ";stroke-dasharray:" + " ".join(_n(each / scale) for each in pen.dash)
        rules.append(
            f".{name} .line{{stroke:{pen.colour};stroke-width:{_n(pen.width / scale)}{dash}}}"
        )
        fill = look.fill(role)
        area = f"fill:{fill};fill-rule:evenodd" if fill else "fill:none"
        area += f";fill-opacity:{_n(look.hides(role))}" if look.hides(role) < 1.0 else ""
        rules.append(f".{name} .area{{{area}}}")
        rules.append(f".{name} text{{fill:{look.ink(role)}}}")
    return "".join(f"{rule}\n" for rule in rules)


def _embedded(photo: DrawnPhoto) -> str:
    """Return what is in a photo's file as an address (RFC 2397), "" where it is not at hand."""
    kind = "png" if photo.data.startswith(b"\x89PNG") else "jpeg"
    packed = base64.b64encode(photo.data).decode()
    return f"data:image/{kind};base64,{packed}" if packed else ""


def _groups(picture: Picture, key: str) -> list[str]:
    """Runs of one role, in drawing order; the second run of a role is "cut-2" and so on."""
    seen: dict[DrawnRole, int] = {}
    lines: list[str] = []
    for role, run in itertools.groupby(picture.items, key=lambda item: item.role):
        seen[role] = seen.get(role, 0) + 1
        name = role.value if seen[role] == 1 else f"{role.value}-{seen[role]}"
        lines.append(f'<g id="{name}" class="{role.value}" data-layer="{role.value}">')
        lines += [_element(item, key) for item in run]
        lines.append("</g>")
    return lines


def _element(item: Item, key: str) -> str:
    if isinstance(item, DrawnPhoto):
        return photo_copies(item, key, LINK) if key else ""
    group = f" data-group={quoted(item.group)}" if item.group else ""
    if isinstance(item, Text):
        return _text(item, group)
    if isinstance(item, Fill):
        rings = " ".join(_path(ring, closed=True) for ring in (item.path, *item.holes))
        return f'<path class="area"{group} d="{rings}"/>'
    return f'<path class="line"{group} d="{_path(item.path, closed=item.closed)}"/>'


def _text(text: Text, group: str) -> str:
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    x, y = _n(text.at.x), _n(-text.at.y)
    turn = f' transform="rotate({_n(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    return (
        f'<text x="{x}" y="{y}" font-size="{_n(text.size)}"{anchor}{turn}{group}>'
        f"{escape(text.words)}</text>"
    )


def _path(path: Path, *, closed: bool) -> str:
    return path_data(path, closed=closed, places=PLACES)


def _n(value: float) -> str:
    return decimal(value, PLACES)
