"""Pulling on a piece: its levels, edges and darts as handles, and the change that a pull is.

Every pull is one of the changes of the list with a length that can be typed afterwards.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.walk import run_name, walk_seam
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import AtMost, Sentence
from clothwright.words.exact import length_text
from clothwright.workbook import change_of

FARTHEST_MM = 400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """A handle. key: tells it from others of the piece. words: what pulling it does.

    at: where it is taken hold of, mm; way: the direction, length 1, in which the length grows.
    kind, params: the change, without its length `by`.
    """

    key: str
    words: str
    at: Vec
    way: Vec
    kind: str
    params: Mapping[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamNow:
    """A seam that a pull touches: by how many mm side b is too long, before and with it."""

    name: str
    a: str
    b: str
    before: float
    now: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulled:
    """What a pull would do. piece: as it would be. kind, params: the change, complete."""

    piece: Piece
    said: Sentence
    seams: tuple[SeamNow, ...]
    kind: str
    params: Mapping[str, object]


def seam_now(seam: Seam, before: float, now: float) -> SeamNow:
    """Return how a seam stands, before and now (mm by which side b is too long)."""
    return SeamNow(name=seam.name, a=run_name(seam.a), b=run_name(seam.b), before=before, now=now)


def pulls_of(piece: Piece) -> tuple[Pull, ...]:
    """Return every handle of a piece: levels from the top, edges in order, darts."""
    out = [
        Pull(
            key=f"level {level.name}",
            words=f"Lengthen or shorten at the {level.name} line",
            at=level.at,
            way=piece.up * -1.0,
            kind="lengthen",
            params={"pieces": [piece.name], "level": level.name},
        )
        for level in sorted(piece.levels, key=lambda lv: -piece.up.dot(lv.at))
    ]
    for edge in piece.edges:
        if edge.role is Role.FOLD:
            continue
        middle = edge.path.length / 2
        out.append(
            Pull(
                key=f"edge {edge.name}",
                words=f"Move the edge {edge.name}, out or in",
                at=edge.path.point_at(middle),
                way=edge.path.tangent_at(middle).perp * -1.0,
                kind="move-edge",
                params={"edge": f"{piece.name}.{edge.name}"},
            )
        )
    for dart in piece.darts:
        path = piece.edge(dart.edge).path
        mouth = (path.point_at(dart.a) + path.point_at(dart.b)) / 2
        out.append(
            Pull(
                key=f"dart {dart.name}",
                words=f"Shorten or lengthen the dart {dart.name}",
                at=dart.point,
                way=(mouth - dart.point).unit,
                kind="shorten-dart",
                params={"dart": f"{piece.name}.{dart.name}"},
            )
        )
    return tuple(out)


def pulled(pattern: Pattern, piece: str, key: str, mm: float, unit: Unit) -> Pulled:
    """Return what pulling a handle by `mm` would do. Raises BadInput, CannotDo.

    Only the seams of pieces that would change are walked.
    """
    found = next((p for p in pulls_of(pattern.piece(piece)) if p.key == key), None)
    if found is None:
        raise BadInput(where=piece, what=f'there is no handle "{key[:60]}"', expected="one shown")
    if not abs(mm) <= FARTHEST_MM:  # also what is no number
        raise BadInput(
            where=found.words,
            what="that is farther than a hand pulls",
            expected=("up to ", AtMost(FARTHEST_MM)),
        )
    params = {**found.params, "by": length_text(round(mm, 6), unit)}
    change = change_of(found.kind)
    outcome = change.apply(
        pattern, read_params(change.params, params, unit=unit, where=found.words)
    )
    after = outcome.pattern
    touched = {
        p.name for p in after.pieces if p is not next(q for q in pattern.pieces if q.name == p.name)
    }
    seams = tuple(
        seam_now(s, walk_seam(pattern, s).off, walk_seam(after, s).off)
        for s in pattern.seams
        if touched & s.pieces
    )
    return Pulled(
        piece=after.piece(piece),
        said=outcome.said,
        seams=tuple(sorted(seams, key=lambda s: -abs(s.now - s.before))),
        kind=found.kind,
        params=params,
    )
