"""How the parts of an SVG lie: the size of its page, pages within it, transforms, lengths."""

from __future__ import annotations

import math
import re
from typing import NamedTuple
from xml.etree import ElementTree as ET

from clothwright.errors import BadInput
from clothwright.geometry.transform import IDENTITY, Transform

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
_LENGTH = re.compile(
    r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+(?![a-z]))?)\s*([a-z]*|%)\s*", re.IGNORECASE
)
_MOVE = re.compile(r"\s*,?\s*([a-zA-Z]+)\s*\(([^()]*)\)")
_COUNTS = {
    "matrix": (6,),
    "translate": (1, 2),
    "scale": (1, 2),
    "rotate": (1, 3),
    "skewX": (1,),
    "skewY": (1,),
}


class PageSize(NamedTuple):
    """How wide and tall a page is, in its own units."""

    wide: float
    tall: float


class PageFrame(NamedTuple):
    """The page of a drawing.

    frame: from its units (y up) to mm (y up); nothing when it names no physical size (not `known`).
    """

    frame: Transform
    box: PageSize
    known: bool


def page(root: ET.Element, where: str) -> PageFrame:
    """Return the page of an svg element. Where it lies does not matter, its scale does.

    A size in pixels, in percent or without a unit is no physical size: programs differ in how many
    pixels they count to the inch. Raises BadInput.
    """
    wide, tall = _mm(root.get("width", "")), _mm(root.get("height", ""))
    try:
        box = view_box(root)
        if wide is None and tall is None:
            drawn = box or PageSize(_or(root.get("width"), 100.0), _or(root.get("height"), 100.0))
            return PageFrame(IDENTITY, drawn, False)
        if box is None:
            px = UNITS_MM["px"]
            size = PageSize((wide or tall or 0.0) / px, (tall or wide or 0.0) / px)
            return PageFrame(Transform(a=px, d=px), size, True)
        shape = box.tall / box.wide
        size = PageSize(wide or (tall or 0.0) / shape, tall or (wide or 0.0) * shape)
        frame, box = fitted(root, size)
    except ValueError as error:
        raise BadInput(
            where=where, what=str(error), expected="a size, and a viewBox of four numbers"
        ) from None
    across, down = (frame.a, frame.d) if frame else (1.0, 1.0)
    if abs(across - 1) < SAME and abs(down - 1) < SAME:
        return PageFrame(IDENTITY, box, True)
    return PageFrame(Transform(a=across, d=down), box, True)


def _or(text: str | None, default: float) -> float:
    try:
        return inner_length(text or "", default) or default
    except ValueError:
        return default


def view_box(element: ET.Element) -> PageSize | None:
    """Return the size of the viewBox, None without one. Raises ValueError in words."""
    text = element.get("viewBox")
    if text is None or not text.strip():
        return None
    numbers = _view_numbers(text)
    return PageSize(numbers[2], numbers[3])


def corner_of(element: ET.Element) -> tuple[float, float]:
    """Return where the viewBox begins (x, y down); 0, 0 without one. Raises ValueError in words."""
    text = element.get("viewBox")
    numbers = _view_numbers(text) if text is not None and text.strip() else [0.0, 0.0]
    return numbers[0], numbers[1]


def _view_numbers(text: str) -> list[float]:
    try:
        numbers = [float(n) for n in text.replace(",", " ").split()]
    except ValueError:
        numbers = []
    if len(numbers) != 4 or not all(map(math.isfinite, numbers)) or min(numbers[2:]) <= 0:
        raise ValueError(f'its viewBox is "{text}"')
    return numbers


def fitted(element: ET.Element, size: PageSize) -> tuple[Transform | None, PageSize]:
    """Return the move (y down) that fits an element's viewBox into a size, and the box inside.

    As preserveAspectRatio says (SVG 2, chapter 8); without a viewBox nothing is scaled. None when
    there is no room to be seen in. Raises ValueError in words.
    """
    if size.wide <= 0 or size.tall <= 0:
        return None, size
    text = element.get("viewBox")
    if text is None or not text.strip():
        return IDENTITY, size
    x, y, wide, tall = _view_numbers(text)
    across, down = size.wide / wide, size.tall / tall
    how = (element.get("preserveAspectRatio") or "xMidYMid meet").split()
    how = how[1:] if how[:1] == ["defer"] else how
    align = how[0] if how else "xMidYMid"
    if align != "none":
        across = down = max(across, down) if "slice" in how else min(across, down)
    shares = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    left = shares.get(align[1:4], 0.5) if align != "none" else 0.0
    top = shares.get(align[5:8], 0.5) if align != "none" else 0.0
    move = Transform(
        a=across,
        d=down,
        e=(size.wide - wide * across) * left - x * across,
        f=(size.tall - tall * down) * top - y * down,
    )
    return move, PageSize(wide, tall)


def inner_length(text: str, whole: float) -> float:
    """Return a length inside a drawing in its own units (px); percents are of `whole`.

    Raises ValueError in words for what is no length.

    >>> inner_length("1in", 0), inner_length("50%", 30)
    (96.0, 15.0)
    """
    found = _LENGTH.fullmatch(text)
    if not found:
        raise ValueError(f'"{text}" is not a number or a length')
    value, unit = float(found[1]), found[2].lower()
    if not math.isfinite(value):
        raise ValueError(f'"{text}" is no finite length')
    if unit == "%":
        return value / 100 * whole
    if unit not in UNITS_MM:
        raise ValueError(f'"{text}" has a unit that depends on the letters\' size')
    return value if unit in ("", "px") else value * UNITS_MM[unit] / UNITS_MM["px"]


def _mm(text: str) -> float | None:
    """A physical length in mm, None for any other."""
    found = _LENGTH.fullmatch(text)
    if not found or found[2].lower() not in UNITS_MM or found[2].lower() in ("", "px"):
        return None
    value = float(found[1]) * UNITS_MM[found[2].lower()]
    return value if 0 < value < math.inf else None


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
        try:
            numbers = [float(n) for n in found[2].replace(",", " ").split()]
        except ValueError:
            numbers = []
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
