"""Words of a DXF file: text, paragraphs line by line, and what is filled in at a block's use."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from clothwright.geometry.vec import Vec, unit_at
from clothwright.intake.drawing import DrawnText
from clothwright.intake.labelled import is_label

WORDS = {"TEXT", "MTEXT", "ATTRIB"}
LONGEST = 400
LINE_EM = 5 / 3
"""Of the height of letters: from a line of a paragraph to the next (DXF reference)."""
WIDE_EM = 0.6
"""Of the height of letters: how wide one is, about."""


def texts_of(entity: Any, at: Callable[[Any], Vec], scale: float) -> Iterator[DrawnText]:
    """Yield the words of an entity, a line each. at: from its places to mm; scale: mm of its unit.

    Words filled in for "size" or another label say what that label does.
    """
    turn, start = float(entity.dxf.get("rotation", 0.0)), at(entity.dxf.insert)
    if entity.dxftype() == "MTEXT":
        lines = str(entity.plain_text()).splitlines()
        tall = float(entity.dxf.get("char_height", 0.0)) * scale
        centred = entity.dxf.get("attachment_point", 1) in (2, 5, 8)
    else:
        lines = [_label_of(entity) + str(entity.dxf.get("text", ""))]
        tall, centred = float(entity.dxf.get("height", 0.0)) * scale, False
    down = unit_at(turn - 90.0) * (LINE_EM * tall)
    for k, line in enumerate(lines):
        words = " ".join(line.split())[:LONGEST]
        if words:
            along = unit_at(turn) * (0.0 if centred else 0.5 * WIDE_EM * tall * len(words))
            yield DrawnText(words=words, at=start + along + down * k, height=tall, turn_deg=turn)


def _label_of(entity: Any) -> str:
    """Return what a block's use calls the words that are filled in, where that is a label."""
    tag = str(entity.dxf.get("tag", "")) if entity.dxftype() == "ATTRIB" else ""
    plain = tag.replace("_", " ")
    return f"{plain}: " if is_label(plain) else ""
