"""A piece as it is printed: cutting and stitching lines, notches, darts, grain, levels, words."""

from __future__ import annotations

from functools import lru_cache

from clothwright.drawing.words import CHAR, along_edge, place_words, upright
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import IDENTITY, Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_mouth
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Cut, Dart, Edge, NotchKind, Piece, Role
from clothwright.pattern.whole import levels_at
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.words import show_length

NOTCH_MM = 6.0
"""mm: length of a notch tick from the cutting line inwards (never past the stitching line)."""
PAIR_MM = 6.0
"""mm: distance between the two ticks of a double notch."""
TEXT_MM = 5.0
"""mm: size of ordinary words on a full-size piece."""


@lru_cache(maxsize=256)
def piece_picture(piece: Piece, unit: Unit, *, words: bool = True, fill: bool = False) -> Picture:
    """Return the piece in its own frame, mm; `words` adds names and figures, `fill` its inside.

    The pieces drawn last are remembered.
    """
    cut = cutting_line(piece)
    items: list[Item] = []
    if fill:
        items.append(Fill(path=cut.outline, role=DrawnRole.PIECE, group=piece.name))
    items += [*_levels(piece), *stitching_lines(piece, piece.name), _cutting(piece)]
    for edge in piece.edges:
        items.extend(_notches(piece, edge))
    for dart in piece.darts:
        items.extend(_dart(piece, dart))
    items.extend(_marks(piece, words=words))
    items.extend(_grain(piece))
    if words:
        items.extend(_labels(piece, unit))
    return Picture(items=tuple(items), title=piece.name)


def cut_words(cut: Cut) -> str:
    """Say how often to cut; never "1 in shell", which reads as inches.

    >>> cut_words(Cut(material="shell", how="fold"))
    'cut 1 on the fold from shell'
    """
    if cut.how == "fold":
        return f"cut {cut.count} on the fold from {cut.material}"
    if cut.how == "pair":
        return f"cut {2 * cut.count} (a pair) from {cut.material}"
    return f"cut {cut.count} from {cut.material}"


def _cutting(piece: Piece) -> Stroke:
    return Stroke(
        path=cutting_line(piece).outline, role=DrawnRole.CUT, closed=True, group=piece.name
    )


def stitching_lines(piece: Piece, group: str, move: Transform = IDENTITY) -> list[Stroke]:
    """Return stitching lines that differ from the cutting line, mm; a fold edge has its own line.

    group: what they belong to. move: from the piece's frame to where it lies.
    """
    roles = {Role.FOLD: DrawnRole.FOLD, Role.HEM: DrawnRole.HEM}
    return [
        Stroke(path=e.path.transformed(move), role=roles.get(e.role, DrawnRole.STITCH), group=group)
        for e in piece.edges
        if e.allowance > 0 or e.role is Role.FOLD
    ]


def _levels(piece: Piece) -> list[Item]:
    out: list[Item] = []
    for level in piece.levels:
        line = levels_at(piece, level)
        if line is None:
            continue
        out.append(Stroke(path=line, role=DrawnRole.LEVEL, group=piece.name))
        at = line.point_at(min(20.0, line.length / 4))
        out.append(
            Text(
                words=level.name,
                at=at + piece.up * 1.5,
                size=3.5,
                role=DrawnRole.LEVEL,
                angle_deg=upright(piece.up.perp.angle_deg + 180),
                group=piece.name,
            )
        )
    return out


def _notches(piece: Piece, edge: Edge) -> list[Stroke]:
    out: list[Stroke] = []
    for notch in edge.notches:
        shifts = (-PAIR_MM / 2, PAIR_MM / 2) if notch.kind is NotchKind.DOUBLE else (0.0,)
        for shift in shifts:
            at = min(max(notch.at + shift, 0.0), edge.length)
            point = edge.path.point_at(at)
            outward = -edge.path.tangent_at(at).perp
            outer = point + outward * edge.allowance
            depth = min(NOTCH_MM, edge.allowance) if edge.allowance > 0 else NOTCH_MM
            out.append(
                Stroke(
                    path=polyline((outer, outer - outward * depth)),
                    role=DrawnRole.NOTCH,
                    group=piece.name,
                )
            )
    return out


def _dart(piece: Piece, dart: Dart) -> list[Item]:
    a, b = dart_mouth(piece, dart)
    mid = a.lerp(b, 0.5)
    lines = [polyline((a, dart.point)), polyline((b, dart.point)), polyline((mid, dart.point))]
    across = (dart.point - mid).unit.perp
    tick = polyline((dart.point - across * 3, dart.point + across * 3))
    return [
        *(Stroke(path=p, role=DrawnRole.DART, group=piece.name) for p in lines[:2]),
        Stroke(path=lines[2], role=DrawnRole.LEVEL, group=piece.name),
        Stroke(path=tick, role=DrawnRole.DART, group=piece.name),
    ]


def _marks(piece: Piece, *, words: bool) -> list[Item]:
    out: list[Item] = []
    for mark in piece.marks:
        if mark.path is not None:
            out.append(Stroke(path=mark.path, role=DrawnRole.MARK, group=piece.name))
        at = mark.at or (mark.path.start if mark.path is not None else None)
        if mark.at is not None:
            p = mark.at
            out += [
                Stroke(path=polyline((p - u * 4, p + u * 4)), role=DrawnRole.MARK, group=piece.name)
                for u in (Vec(1, 0), Vec(0, 1))
            ]
        if words and at is not None:
            out.append(
                Text(
                    words=mark.note or mark.name,
                    at=at + Vec(3, 3),
                    size=3.5,
                    role=DrawnRole.MARK,
                    group=piece.name,
                )
            )
    return out


def _grain(piece: Piece) -> list[Item]:
    if piece.grain is None:
        return []
    a, b, u = piece.grain.start, piece.grain.end, piece.grain.direction
    head = polyline((b - u * 9 + u.perp * 3.5, b, b - u * 9 - u.perp * 3.5))
    tail = polyline((a + u * 9 + u.perp * 3.5, a, a + u * 9 - u.perp * 3.5))
    return [
        Stroke(path=p, role=DrawnRole.GRAIN, group=piece.name)
        for p in (polyline((a, b)), head, tail)
    ]


def _labels(piece: Piece, unit: Unit) -> list[Item]:
    out: list[Item] = _edge_labels(piece, unit)
    lines = [(piece.name, 1.8)] + [(cut_words(c), 1.0) for c in piece.cuts]
    if piece.note:
        lines.append((piece.note, 0.8))
    place = _room(piece, lines)
    size, x, y = place[1], place[0].x, place[0].y
    for words, big in lines:
        y -= size * big * 1.35
        out.append(
            Text(
                words=words,
                at=Vec(x, y),
                size=size * big,
                role=DrawnRole.LABEL,
                anchor="middle",
                group=piece.name,
            )
        )
    return out


def _room(piece: Piece, lines: list[tuple[str, float]]) -> tuple[Vec, float]:
    """Return a top-middle point and the largest type size at which the words lie inside."""
    ring = piece.outline.flatten(0.5)[:-1]
    wide = max(CHAR * len(w) * big for w, big in lines)
    tall = sum(1.35 * big for _, big in lines)
    avoid = (piece.grain.start, piece.grain.end) if piece.grain is not None else ()
    size = TEXT_MM
    for _ in range(6):
        spot = place_words(ring, wide * size, tall * size, Vec(1.0, 0.0), avoid)
        if spot is not None:
            return spot + Vec(0.0, tall * size / 2), size
        size *= 0.75
    low, high = piece.outline.bounds()
    return (low + high) / 2 + Vec(0.0, tall * size / 2), size


def _edge_labels(piece: Piece, unit: Unit) -> list[Item]:
    """Write each edge's allowance (or "fold") small along the edge, inside the allowance."""
    out: list[Item] = []
    for edge in piece.edges:
        if edge.length < 40:
            continue
        if edge.role is Role.FOLD:
            words = "place on the fold"
        elif edge.role is Role.HEM and edge.allowance > 0:
            words = f"{edge.name}: turn up {show_length(edge.allowance, unit)}"
        elif edge.allowance > 0:
            words = f"{edge.name} · {show_length(edge.allowance, unit)}"
        else:
            words = edge.name
        role = DrawnRole.FOLD if edge.role is Role.FOLD else DrawnRole.STITCH
        out.append(along_edge(edge, words, 3.2, gap=2.2, role=role, group=piece.name))
    return out
