"""What is told of a whole typed piece, though it can be so: no allowance, marks far outside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from clothwright.geometry.box import box_of_all
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Edge, Level, Mark, Role
from clothwright.units import Unit
from clothwright.words import show_length

FAR_MM = 30.0
"""mm: a mark may lie so far outside the outline, in an allowance (our own figure)."""
MOST_NAMED = 8


def outside_told(
    edges: Sequence[Edge], marks: Sequence[Mark], levels: Sequence[Level], unit: Unit
) -> Iterator[str]:
    """Yield a sentence for every mark and level that lies far beyond the piece's length or width.

    A mark in a hollow of the outline is not looked for.
    """
    low, high = box_of_all(e.path.bounds() for e in edges)
    found = [("mark", m.name, p) for m in marks for p in _ends(m)]
    found += [("level", v.name, Vec(low.x, v.at.y)) for v in levels]
    far: dict[str, float] = {}
    for kind, name, p in found:
        away = max(low.x - p.x, p.x - high.x, low.y - p.y, p.y - high.y)
        key = f'the {kind} "{name}"'
        far[key] = max(away, far.get(key, 0.0))
    for key, away in far.items():
        if away > FAR_MM:
            yield f"{key} lies {show_length(away, unit)} outside the piece"


def _ends(mark: Mark) -> tuple[Vec, ...]:
    """Return a mark's point, or the corners of the box round its line."""
    box = mark.path.bounds() if mark.path is not None else ()
    return (*([mark.at] if mark.at is not None else []), *box)


def bare_told(
    edges: Sequence[Edge], included: bool | None, width: float | None, own: Mapping[str, float]
) -> Iterator[str]:
    """Yield a sentence on edges which no line gives an allowance (mm), if there are any.

    Edges that are bound or left raw have none as a rule (common practice), and a fold never.
    """
    if included is not False or width is not None:
        return
    cut = [e.name for e in edges if e.role not in (Role.FOLD, Role.BOUND, Role.RAW)]
    bare = [n for n in cut if n not in own]
    if not bare:
        return
    more = f" and {len(bare) - MOST_NAMED} more" if len(bare) > MOST_NAMED else ""
    where = f"at {', '.join(bare[:MOST_NAMED])}{more}" if len(bare) < len(cut) else "anywhere"
    yield f'no allowance {where}: no line says how wide, such as "allowance 5/8 in to add"'
