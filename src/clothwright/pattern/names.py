"""A piece, an edge, a point, a dart, a line or a seam, named: is it there, and what is it now?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from clothwright.pattern.trail import Trail, named_points

if TYPE_CHECKING:
    from clothwright.pattern.pattern import Pattern

FOLD = "fold"
"""Names the fold among the lines of a piece."""


class Ref(NamedTuple):
    """What a field names. kind: "piece", "edge", "point", "place", "dart", "line" or "seam".

    piece: "" for a seam; name: "" for a piece.
    """

    kind: str
    piece: str
    name: str

    @property
    def text(self) -> str:
        """As a workbook has it."""
        return ".".join(part for part in (self.piece, self.name) if part)

    @property
    def words(self) -> str:
        """As it is said in a sentence."""
        if self.kind == "piece":
            return f'"{self.piece}"'
        of = f' of "{self.piece}"' if self.piece else ""
        return f'the {self.kind} "{self.name}"{of}'


def is_there(pattern: Pattern, ref: Ref) -> bool:
    """Tell whether a pattern has what is named."""
    if ref.kind == "seam":
        return any(s.name == ref.name for s in pattern.seams)
    piece = next((p for p in pattern.pieces if p.name == ref.piece), None)
    if piece is None or ref.kind == "piece":
        return piece is not None
    if ref.kind == "line":
        marked = (m.name for m in piece.marks if m.path is not None)
        fold = (FOLD,) if piece.fold is not None else ()
        return ref.name in (*(lv.name for lv in piece.levels), *marked, *fold)
    if ref.kind == "dart":
        return any(d.name == ref.name for d in piece.darts)
    edge = ref.kind in ("edge", "place") and any(e.name == ref.name for e in piece.edges)
    return edge or (ref.kind in ("point", "place") and ref.name in named_points(piece))


def later(trail: Trail, ref: Ref) -> Iterator[Ref]:
    """Yield what a name is now, by the trail; a dart by its point."""
    if ref.kind == "seam":
        yield from (Ref("seam", "", n) for n in trail.seam(ref.name))
    elif ref.kind == "piece":
        yield from (Ref("piece", n, "") for n in trail.piece(ref.piece))
    elif ref.kind == "dart":
        for p, n in trail.point(ref.piece, f"{ref.name} point"):
            yield Ref("dart", p, n.removesuffix(" point"))
    else:
        edge = ref.kind == "edge" or (ref.piece, ref.name) in dict(trail.edges)
        found = trail.edge if edge and ref.kind != "point" else trail.point
        yield from (Ref(ref.kind, p, n) for p, n in found(ref.piece, ref.name))


def known_by(trail: Trail) -> Iterator[Ref]:
    """Yield every name that a trail tells of."""
    yield from (Ref("piece", n, "") for n, _ in trail.pieces)
    yield from (Ref("seam", "", n) for n, _ in trail.seams)
    for (piece, name), _ in trail.edges:
        yield from (Ref(kind, piece, name) for kind in ("edge", "place"))
    for (piece, name), _ in trail.points:
        yield from (Ref(kind, piece, name) for kind in ("point", "place"))
        if name.endswith(" point"):
            yield Ref("dart", piece, name.removesuffix(" point"))
