"""Divide a dart into several smaller ones side by side in the same edge."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import (
    find_dart,
    free_name,
    pressed_by_custom,
)
from clothwright.changes.intake import check_clear, move_intake
from clothwright.changes.pivot import drawn_to, pivot_of
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_angle_deg, dart_mouth, mouth_middle
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.units.params import param
from clothwright.words import AtMost, listed, show_angle_deg

APART_MM, SHORT_MM = 25.4, 38.1
"""mm: darts of a cluster lie 1 in apart and stop 1 1/2 in before the bust point (course of a
government training institute; docs/sources.md)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DivideDart:
    """Parameters of `divide-dart`; lengths in mm."""

    dart: str = param("dart", "the dart that is divided", label="Which dart")
    into: int = param("count", "how many darts", default=2, least=2, most=6, label="Into how many")
    apart: float = param(
        "length",
        "from one to the next, where they are sewn",
        default=APART_MM,
        least=5.0,
        label="How far apart",
    )
    short: float = param(
        "length",
        "how far before the point that they turn about they all stop",
        default=SHORT_MM,
        least=0.0,
        label="How far they stop before the bust point",
    )


def apply(pattern: Pattern, params: DivideDart) -> Outcome:
    """Give a dart's angle to several darts in equal parts, side by side in the same edge.

    They turn about the bust point (or the dart's own point); their points lie on a line square to
    the dart, `short` before it and `apart` from each other; legs are made equal. What the edge is
    sewn at stays. Raises CannotDo where there is no room. Source: docs/sources.md, darts.
    """
    piece, dart = find_dart(pattern, params.dart)
    pivot = pivot_of(piece, dart)
    mouth = mouth_middle(piece, dart)
    depth = mouth.distance(pivot)
    if params.short > depth - 20.0:
        raise CannotDo(
            what=(f'the parts of dart "{dart.name}" of "{piece.name}" cannot stop so early'),
            why=("the dart is ", depth, " long up to where it turns"),
            nearest=("stopping ", AtMost(max(0.0, depth - 20.0)), " before that place"),
        )
    drawn = drawn_to(piece, dart, pivot)
    offsets = [(i - (params.into - 1) / 2) * params.apart for i in range(params.into)]
    after, names = _opened(drawn, drawn.dart(dart.name), offsets)
    out = (mouth - pivot).unit
    guide, along = pivot + out * params.short, _along(drawn, drawn.dart(dart.name), out)
    for i in _from_pressed(drawn, drawn.dart(dart.name), offsets):
        after = drawn_to(after, after.dart(names[i]), guide + along * offsets[i])
    angle = show_angle_deg(dart_angle_deg(drawn, drawn.dart(dart.name)) / params.into)
    said = (
        f'Divided dart "{dart.name}" of {piece.name} into {listed(names)}, {angle} each at the '
        "place they turn about, ",
        params.apart,
        " apart; they stop ",
        params.short,
        " before it.",
    )
    return Outcome(pattern=pattern.with_piece(after), said=said)


def _along(piece: Piece, dart: Dart, out: Vec) -> Vec:
    """Return the direction square to the dart that goes the way its edge goes."""
    a, b = dart_mouth(piece, dart)
    across = b - a
    return out.perp if out.perp.dot(across) > 0 else -out.perp


def _opened(piece: Piece, dart: Dart, offsets: list[float]) -> tuple[Piece, list[str]]:
    """Open the parts at their places, the outermost first; return their names in order."""
    names = [""] * len(offsets)
    order = sorted(_from_pressed(piece, dart, offsets), key=lambda i: -abs(offsets[i]))
    for done, i in enumerate(order):
        rest, off = piece.dart(dart.name), offsets[i]
        edge, last = piece.edge(rest.edge), done == len(order) - 1
        taken = tuple(d.name for d in piece.darts)
        names[i] = dart.name if last else free_name(taken, dart.name)
        if off == 0.0:
            continue
        at = rest.a + off if off < 0 else rest.b + off
        if not 5.0 < at < edge.length - 5.0:
            raise CannotDo(
                what=f'dart "{dart.name}" of "{piece.name}" cannot be divided so far apart',
                why=f'its edge "{edge.name}" ends there',
                nearest="fewer darts, or a smaller distance between them",
            )
        share = 1.0 / (len(order) - done)
        moved = move_intake(piece, rest, edge=edge, at=at, share=share, name=names[i])
        piece = moved.piece
        check_clear(piece, names[i])
    return piece, names


def _from_pressed(piece: Piece, dart: Dart, offsets: list[float]) -> list[int]:
    """Count the parts from the side a dart is pressed to, so that a mirrored piece has the same."""
    path = piece.edge(dart.edge).path
    pressed = pressed_by_custom(piece, path, dart.a, dart.b, dart.point)
    numbers = list(range(len(offsets)))
    return numbers if pressed == "start" else numbers[::-1]


CHANGE = Change(
    id="divide-dart",
    title="Divide a dart into smaller ones side by side",
    topic="darts",
    why="Two or three small darts lie softer than a deep one, and are a trimming of their own.",
    source="1 in apart, 1 1/2 in short of the bust point: course of a government school; "
    "angles: plane geometry (docs/sources.md: darts)",
    params=DivideDart,
    apply=apply,
)
