"""How the elements of an SVG lie: the size of the page and every transform, as moves in mm."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree as ET

from clothwright.errors import BadInput
from clothwright.geometry.transform import IDENTITY, Transform
from clothwright.intake.safe_xml import PlacedXml

UNITS_MM = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "q": 0.25,
    "px": 25.4 / 96,
    "": 25.4 / 96,
}
"""mm in each unit of CSS (CSS Values and Units: 1 in = 96 px = 72 pt = 6 pc; 1 q = 1/40 cm)."""
SAME = 1e-6
"""A page whose scale differs from 1 by less has been rounded, not scaled."""
_SIZE = re.compile(r"\s*([0-9.]+(?:e[+-]?\d+)?)\s*([a-z]*)\s*", re.IGNORECASE)
_MOVE = re.compile(r"\s*,?\s*([a-zA-Z]+)\s*\(([^()]*)\)")
_COUNTS = {
    "matrix": (6,),
    "translate": (1, 2),
    "scale": (1, 2),
    "rotate": (1, 3),
    "skewX": (1,),
    "skewY": (1,),
}


def frames(found: PlacedXml, where: str) -> dict[ET.Element, Transform]:
    """Return for every element the move from its own coordinates (y up) to mm (y up).

    Where the page lies does not matter, its scale does. Raises BadInput.
    """
    scale = page_scale(found.root, where)
    at: dict[ET.Element, Transform] = {}

    def down(element: ET.Element, frame: Transform) -> None:
        text = element.get("transform")
        if text:
            try:
                frame = upright(transform_of(text)).then(frame)
            except ValueError as error:
                raise BadInput(
                    where=f"{where}, line {found.lines[element]}",
                    what=f"its transform cannot be read: {error}",
                    expected="translate, scale, rotate or matrix with numbers",
                ) from None
        at[element] = frame
        for child in element:
            down(child, frame)

    down(found.root, IDENTITY if scale == 1.0 else Transform(a=scale, d=scale))
    return at


def page_scale(root: ET.Element, where: str) -> float:
    """Return the mm in one unit of the drawing. Raises BadInput when the page names no size."""
    wide, tall = _mm(root.get("width", "")), _mm(root.get("height", ""))
    if wide is None and tall is None:
        raise BadInput(
            where=where,
            what="the drawing names no size, so that its scale is not known",
            expected='width="...mm" and height="...mm" on its svg element',
        )
    box = root.get("viewBox")
    if box is None:
        return UNITS_MM["px"]
    try:
        _, _, across, down = (float(n) for n in box.replace(",", " ").split())
    except ValueError:
        across = down = 0.0
    if not (0 < across < math.inf and 0 < down < math.inf):
        raise BadInput(
            where=where,
            what=f'its viewBox is "{box}"',
            expected="four numbers, the last two more than nothing",
        )
    scales = [mm / n for mm, n in ((wide, across), (tall, down)) if mm is not None]
    if max(scales) > 1.002 * min(scales):
        raise BadInput(
            where=where,
            what="its width and its height are scaled differently",
            expected="a viewBox of the same shape as the page",
        )
    return 1.0 if abs(scales[0] - 1) < SAME else scales[0]


def _mm(text: str) -> float | None:
    size = _SIZE.fullmatch(text)
    unit = UNITS_MM.get(size[2].lower()) if size else None
    try:
        value = float(size[1]) * unit if size and unit is not None else 0.0
    except ValueError:
        return None
    return value if value > 0 else None


def upright(move: Transform) -> Transform:
    """Return the same move for coordinates whose y points up instead of down."""
    return Transform(move.a, -move.b, -move.c, move.d, move.e, -move.f)


def transform_of(text: str) -> Transform:
    """Read an SVG transform list (y down; the first stands outermost). Raises ValueError in words.

    >>> transform_of("translate(10 20) scale(2)").apply((1, 1))
    Vec(x=12.0, y=22.0)
    """
    whole, end = IDENTITY, 0
    for found in _MOVE.finditer(text):
        if text[end : found.start()].strip():
            break
        name = found[1]
        numbers = [float(n) for n in found[2].replace(",", " ").split()]
        if len(numbers) not in _COUNTS.get(name, ()) or not all(map(math.isfinite, numbers)):
            raise ValueError(f'"{found[0].strip()}"')
        whole = _one(name, numbers).then(whole)
        end = found.end()
    if text[end:].strip():
        raise ValueError(f'"{text[end:].strip()}"')
    if abs(whole.determinant) < 1e-12:
        raise ValueError("it flattens the drawing")
    return whole


def _one(name: str, n: list[float]) -> Transform:
    if name == "matrix":
        return Transform(*n)
    if name == "translate":
        return Transform(e=n[0], f=n[1] if len(n) > 1 else 0.0)
    if name == "scale":
        return Transform(a=n[0], d=n[-1])
    if name == "rotate":
        cos, sin = math.cos(math.radians(n[0])), math.sin(math.radians(n[0]))
        x, y = (n[1], n[2]) if len(n) > 1 else (0.0, 0.0)
        return Transform(cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)
    slope = math.tan(math.radians(n[0]))
    return Transform(c=slope) if name == "skewX" else Transform(b=slope)
