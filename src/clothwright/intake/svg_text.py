"""Words of an SVG: text elements as words with their middle, height and direction of reading."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple
from xml.etree import ElementTree as ET

from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText
from clothwright.intake.letters import wide_em
from clothwright.picture.frames import inner_length

LETTERS = 16.0
"""The drawing's units: how large letters are when nothing says so (CSS, `font-size: medium`)."""
MOST_WORDS = 2_000
LONGEST = 300


class _Here(NamedTuple):
    """Where the pen stands and how it writes. The drawing's units, y down as in the file."""

    x: float
    y: float
    size: float
    anchor: str


def texts_of(
    element: ET.Element, frame: Transform, size: float, anchor: str
) -> Iterator[DrawnText]:
    """Yield the words of a text element, a line of text each. frame: from its units (y up) to mm.

    size, anchor: `font-size` and `text-anchor` as it has or inherits them. A number that cannot be
    read counts as 0: words are for reading, never for cutting.
    """
    yield from _parts(element, _Here(0.0, 0.0, size, anchor), frame)


def size_of(style: Mapping[str, str], size: float) -> float:
    """Return how large an element's letters are (px): its own `font-size`, else the inherited."""
    return _number(style.get("font-size", ""), size) or size


def _parts(element: ET.Element, here: _Here, frame: Transform) -> Iterator[DrawnText]:
    here = here._replace(
        x=_number(element.get("x", ""), here.x), y=_number(element.get("y", ""), here.y)
    )
    run = element.text or ""
    for child in element:
        if child.get("x") is None and child.get("y") is None and child.get("dy") is None:
            run += "".join(child.itertext())
        else:
            moved = here._replace(y=here.y + _number(child.get("dy", ""), 0.0))
            yield from _parts(child, moved, frame)
        run += child.tail or ""
    words = " ".join(run.split())[:LONGEST]
    if words:
        yield _placed(words, here, frame)


def _placed(words: str, here: _Here, frame: Transform) -> DrawnText:
    wide = wide_em(words) * here.size
    shift = {"middle": 0.0, "end": -wide / 2}.get(here.anchor, wide / 2)
    at = frame.apply((here.x + shift, -here.y + 0.35 * here.size))
    along = frame.apply_direction((1.0, 0.0))
    height = here.size * math.sqrt(abs(frame.determinant))
    return DrawnText(words=words, at=Vec(*at), height=height, turn_deg=along.angle_deg)


def _number(text: str, default: float) -> float:
    first = text.replace(",", " ").split()
    try:
        return inner_length(first[0], 0.0) if first else default
    except ValueError:
        return default
