"""Names that an SVG gives to its groups and shapes: layers, labels, titles, ids."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

from clothwright.intake.size_names import size_in

_LABELS = ("{http://www.inkscape.org/namespaces/inkscape}label", "data-name", "aria-label", "id")
_NUMBERED = re.compile(
    r"(path|rect|polygon|polyline|line|circle|ellipse|g|group|shape|use|svg|layer|element)?"
    r"[-_]?[0-9][-_0-9]*",
    re.IGNORECASE,
)
"""Names that a program gave and nobody chose, such as path123."""
_ESCAPED = re.compile(r"_x([0-9a-f]{2,8})_", re.IGNORECASE)
_AGAIN = re.compile(r"_[0-9]+_$")
"""What a program puts behind an id that it has given before: ids stand once in a file."""


def labels_of(element: ET.Element) -> list[str]:
    """Return the names that an element has, the one a person most likely gave it first."""
    titles = (child.text for child in element if child.tag.rsplit("}", 1)[-1] == "title")
    names = (*(element.get(key) for key in _LABELS), next(titles, ""))
    return [typed for name in names if (typed := _as_typed(name or ""))]


def label_of(element: ET.Element) -> str:
    """Return the name a person gave to an element, "" for none.

    A size is none: it says which of the sizes, and not of what.
    """
    chosen = (n for n in labels_of(element) if not _NUMBERED.fullmatch(n) and not size_in(n))
    return next(chosen, "")


def _as_typed(name: str) -> str:
    """Return a name as it was typed: an id holds no spaces and begins with no digit.

    Such signs stand as their number in hexadecimal, `_x0020_` for a space (ISO/IEC 9075-14:
    4 or 6 digits; fewer are found, too).
    """
    words = " ".join(_ESCAPED.sub(_sign, name).split())
    bare = words.strip("_")
    return bare if size_in(bare) else _AGAIN.sub("", words)


def _sign(found: re.Match[str]) -> str:
    number = int(found[1], 16)
    known = number <= 0x10FFFF and not 0xD800 <= number <= 0xDFFF
    return chr(number) if known and chr(number).isprintable() else " "
