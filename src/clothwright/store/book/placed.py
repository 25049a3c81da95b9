"""Elements of an SVG with their lines in the file and their place in mm."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import TypeVar
from xml.etree import ElementTree as ET

from clothwright.errors import BadInput, did_you_mean, one_of
from clothwright.geometry.path import Path
from clothwright.geometry.path_data import FARTHEST, path_from_text
from clothwright.geometry.transform import IDENTITY, Transform
from clothwright.geometry.vec import Vec
from clothwright.picture.css import rules_of, style_of
from clothwright.picture.frames import page, transform_of, upright
from clothwright.picture.safe_xml import PlacedXml
from clothwright.units import Unit, parse_length
from clothwright.words import Said

T = TypeVar("T")


class Placed:
    """A drawing whose attributes are read as numbers, lengths, points and lines in mm.

    frames: for every element the move from its own coordinates (y up) to mm (y up).
    """

    def __init__(self, found: PlacedXml, where: str) -> None:
        self.elements = list(found.root.iter())
        self.lines = found.lines
        self.where = where
        self.frames = self._frames(found)

    def _frames(self, found: PlacedXml) -> dict[ET.Element, Transform]:
        """For every element the move from its own coordinates to mm."""
        here = page(found.root, self.where)
        if not here.known:
            raise BadInput(
                where=self.where,
                what="the drawing names no physical size, so that its scale is not known",
                expected='width="...mm" and height="...mm" on its svg element',
            )
        rules = rules_of(found.root)
        at: dict[ET.Element, Transform] = {}

        def down(element: ET.Element, frame: Transform) -> None:
            text = style_of(element, rules).get("transform")
            if text:
                try:
                    frame = upright(transform_of(text)).then(frame)
                except ValueError as error:
                    raise self.fault(
                        element,
                        f"its transform cannot be read: {error}",
                        "translate, scale, rotate or matrix with numbers",
                    ) from None
            at[element] = frame
            for child in element:
                down(child, frame)

        down(found.root, here.frame)
        return at

    def fault(self, e: ET.Element, what: Said, expected: Said) -> BadInput:
        """An error that names file, line and element."""
        named = ((k.removeprefix("data-"), v) for k, v in e.items() if k.startswith("data-"))
        kind, value = next(named, (e.tag.rsplit("}", 1)[-1], ""))
        place = f"{self.where}, line {self.lines[e]}, {kind}" + (f' "{value}"' if value else "")
        return BadInput(where=place, what=what, expected=expected)

    def number(self, e: ET.Element, attribute: str) -> float:
        """A finite number, in the drawing's unit. Raises BadInput."""
        text = e.get(attribute)
        try:
            value = float(text if text is not None else "")
        except ValueError:
            value = math.nan
        if not math.isfinite(value) or abs(value) > FARTHEST:
            raise self.fault(e, f'{attribute} is "{text}"', "a number of mm")
        return value

    def length(self, e: ET.Element, attribute: str) -> float:
        """A length in mm: a bare number, or text with a unit such as "5/8 in". Raises BadInput."""
        text = e.get(attribute, "")
        if re.search(r"[a-z\"']\s*$", text, re.IGNORECASE):
            try:
                return parse_length(text, unit=Unit.mm)
            except BadInput as error:
                raise self.fault(e, f"{attribute}: {error.what}", "a length") from None
        return self.number(e, attribute)

    def point(self, e: ET.Element, x: str, y: str) -> Vec:
        """The point of two attributes, mm, y up. Raises BadInput."""
        p = Vec(self.number(e, x), -self.number(e, y))
        frame = self.frames[e]
        return p if frame == IDENTITY else frame.apply(p)

    def path(self, e: ET.Element, text: str | None = None) -> Path:
        """The one open line of an element's path data, mm, y up. Raises BadInput."""
        try:
            path = path_from_text(e.get("d", "") if text is None else text)
        except ValueError as error:
            raise self.fault(e, str(error), "an open line of lines and curves") from None
        frame: Transform = self.frames[e]
        return path if frame == IDENTITY else path.transformed(frame)

    def one_of(
        self, e: ET.Element, attribute: str, kind: Callable[[str], T], known: list[str], default: T
    ) -> T:
        """One of the known words, or the default when none is given. Raises BadInput."""
        text = e.get(attribute)
        if text is None:
            return default
        try:
            return kind(text)
        except ValueError:
            raise self.fault(
                e,
                f'{attribute} is "{text}".{did_you_mean(text, known)}',
                one_of(known),
            ) from None
