"""Where a front is buttoned: the line of its left and its right half on the cloth, from outside.

The line is drawn anew here: through the marks as the file format has them, cut off at the drawn
outline with shapely. The halves lie on each other there (common practice: at the centre front when
buttons lap, edge on edge where nothing laps).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from shapely import LineString, Polygon

from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from tests.outfits.sewn import Edge, Points, Run, Sewn, drawn, on_cloth

LONG = 5000.0


def closed(pattern: Pattern, placements: Sequence[Mapping[str, object]]) -> Iterator[Sewn]:
    """Yield every opening of a lay whose two halves lie on one cloth, as one that is sewn."""
    for piece in pattern.pieces:
        word = next((w for w in ("front", "back") if w in piece.name.split()), "")
        material = piece.cuts[0].material
        mine = [p for p in placements if (p["piece"], p["material"]) == (piece.name, material)]
        sides = sorted(mine, key=lambda p: bool(p["flipped"]))[:2]
        if not word or piece.cuts[0].how != "pair" or len(sides) < 2 or _inside(pattern, piece):
            continue
        line = _line(pattern, piece)
        if line is not None and sides[0]["cloth"] == sides[1]["cloth"]:
            a, b = (Edge((_run(piece, line, side),)) for side in sides)
            one = (EdgeRef(piece=piece.name, edge=piece.edges[0].name),)
            seam = Seam(name=f"centre {word}", a=one, b=one, kind="closure")
            yield Sewn(seam, 0, a, b, str(sides[0]["cloth"]))


def _inside(pattern: Pattern, piece: Piece) -> bool:
    faces = any(r.piece == piece.name for s in pattern.seams if s.kind == "facing" for r in s.b)
    return faces or "facing" in piece.name


def _line(pattern: Pattern, piece: Piece) -> Points | None:
    """Return the two ends of the line that closes, the lower first; None where nothing opens."""
    sewn = [s for s in pattern.seams if s.kind in ("plain", "cap")]
    if any({r.piece for r in (*s.a, *s.b)} == {piece.name} for s in sewn):
        return None
    used = {r.edge for s in sewn for r in (*s.a, *s.b) if r.piece == piece.name}
    marked = [m.path for m in piece.marks if m.path and m.name in ("centre front", "centre back")]
    buttons = [m.at for m in piece.marks if m.at and m.name.startswith("button")]
    assert piece.grain is not None
    way = np.subtract(tuple(piece.grain.end), tuple(piece.grain.start))
    way = way / np.hypot(*way)
    free = [drawn(piece, e.name) for e in piece.edges if e.name not in used]
    upright = [r for r in free if abs((r[-1] - r[0]) @ (-way[1], way[0])) < 1.0]
    if marked:
        through = np.array(tuple(marked[0].start), float)
    elif len(buttons) > 1:
        through = np.array(tuple(buttons[0]), float)
    elif used and len(upright) == 1:
        ends = upright[0][[0, -1]]
        return ends if (ends[1] - ends[0]) @ way > 0 else ends[::-1]
    else:
        return None
    outline = Polygon(np.vstack([drawn(piece, e.name) for e in piece.edges]))
    cut = outline.intersection(LineString([through - LONG * way, through + LONG * way]))
    parts = [cut] if cut.geom_type == "LineString" else list(cut.geoms)
    longest = max(parts, key=lambda part: part.length)
    ends = np.array(longest.coords)
    return ends[np.argsort(ends @ way)][[0, -1]]


def _run(piece: Piece, line: Points, placement: Mapping[str, object]) -> Run:
    laid, up = on_cloth(piece, line, placement, False)
    length = float(np.hypot(*(line[1] - line[0])))
    return Run(
        shape=str(placement["shape"]),
        start=0.0,
        end=length,
        at=np.array([0.0, length]),
        line=laid,
        up=up,
        darts=(),
        notches=(),
        cloth=str(placement["cloth"]),
    )
