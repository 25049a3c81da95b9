"""The print meets as in a mirror at a seam: a chevron."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.motions import AXES, Motions
from clothwright.cloth.prints import Print
from clothwright.errors import Sentence, joined
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.rules.corners import corner_words, edge_ending_at
from clothwright.rules.joins import SewnTogether, joined_at
from clothwright.rules.kinds.meets import seam_points, which_seam
from clothwright.rules.mirror import MirrorLine, can_lie, mirrors, places, turned_so, why_not
from clothwright.rules.offers import Choice, Outfit
from clothwright.rules.plan import PlacingRule
from clothwright.rules.printed import on_ground, printed_on_both
from clothwright.rules.room import APART, apart_words, evenly, room
from clothwright.rules.rule import Ask, Foreseen, Form, RuleKind, Turns, named
from clothwright.rules.table import CuttingTable, Lying, WrongRule
from clothwright.units.params import param
from clothwright.words import is_met, show_angle_deg

BIAS_DEG = 45.0
STRIPES = 5
"""Stripes counted from the point, after which a chevron of unequal angles is told to be out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chevron(PlacingRule):
    """Two pieces, or the two of a pair, show each other's print as in a mirror at a seam.

    The mirror is one that the print has: its height stays, its sides change. bias: both are cut on
    the true bias, one leaning each way. within: mm by which they may be apart.
    """

    piece_a: str = param("piece", "the piece of the first point")
    point_a: str = param("own point", "", label="A point of one piece")
    piece_b: str = param("piece", "the other piece, or the same one cut as a pair")
    point_b: str = param("own point", "", label="The point it comes to lie on")
    bias: bool = param("flag", "", default=False, label="Both are cut on the bias")
    within: float = room(APART)


def said(rule: Chevron) -> Sentence:
    """Return the rule in words."""
    one = f"{rule.piece_a}, {rule.point_a}"
    two = "its twin" if rule.piece_a == rule.piece_b else f"{rule.piece_b}, {rule.point_b}"
    bias = ", both on the bias" if rule.bias else ""
    return (f"the print meets as in a mirror at {one}, and {two}{bias}", *apart_words(rule.within))


# --- how they lie ---------------------------------------------------------------------------------


def _on_bias(design: Print) -> tuple[MirrorLine, float] | None:
    """Return the mirror for pieces on the bias, and how far the first one is turned, degrees."""
    up = design.up_deg
    order = ("along", "across") if up in (90.0, 270.0) else ("across", "along")
    mirror = next(mirrors(on_ground(design), order), None)
    return None if mirror is None else (mirror, ((up or 0.0) + BIAS_DEG) % 360.0)


def turns(rule: Chevron, copy: Copy, cloth: Cloth) -> Turns | None:
    """Return the one turn of a copy on the bias: the second leans as the first in the mirror."""
    if not rule.bias or copy.piece.name not in (rule.piece_a, rule.piece_b):
        return None
    found = _on_bias(cloth.print)
    if found is None:
        return None
    mirror, turn = found
    second = copy.piece.name != rule.piece_a
    return Turns((mirror.turn(turn) if second != copy.turned_over else turn,))


# --- what it asks ---------------------------------------------------------------------------------


def asks(rule: Chevron, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the mirror position and the same height for the halves that meet. Raises WrongRule."""
    joins = tuple(joined_at(at, rule.piece_a, rule.point_a, rule.piece_b, rule.point_b))
    if not joins:
        raise WrongRule(
            field="piece_b",
            what=f'no two of "{rule.piece_a}" and "{rule.piece_b}" meet in a seam',
            expected="two pieces, or one that is cut as a pair",
        )
    for join in joins:
        design = printed_on_both(at, join, field="point_a").motions
        mirror = _mirror_of(rule, join, design)
        yield turned_so(mirror, join.tag, join.a.id, join.b.id)
        may, tag = evenly(rule.within), f"chevron {{}} {join.tag}"
        yield from places(mirror.motion, design, AXES, join.both, may=may, tag=tag)


def _mirror_of(rule: Chevron, join: SewnTogether, design: Motions) -> MirrorLine:
    """Return the mirror of the print that the two are seen in. Raises WrongRule without one.

    One that runs up the pieces comes first, then one across them, for which one lies end for end.
    """
    level, upright = join.a.body_axes
    found = tuple(mirrors(design, (upright, level)))
    if rule.bias:
        found = tuple(mirror for mirror, _ in filter(None, (_on_bias(join.a.cloth.print),)))
    if not found:
        raise WrongRule(
            field="piece_a",
            what=f'the print of "{join.a.cloth.name}" has no mirror line that runs up the pieces',
            expected="a mirror line in the cloth's print, or the print meeting without a mirror",
        )
    mirror = next((m for m in found if can_lie(m, join.a, join.b)), None)
    if mirror is None:
        raise WrongRule(
            field="bias" if rule.bias else "piece_b",
            what=joined(
                f'"{rule.piece_a}" and "{rule.piece_b}" cannot mirror each other: ',
                why_not(found[0], join.a),
                *(" on both sides of the body",) * rule.bias,
            ),
            expected="pieces that lie on no other grain, or the print meeting in height alone",
        )
    return mirror


# --- what is known beforehand ---------------------------------------------------------------------


def foreseen(rule: Chevron, at: CuttingTable) -> Iterator[Foreseen]:
    """Yield whether all corners of a border that goes round are alike, and how far stripes are out.

    Where the two edges cross the stripes at unequal angles, no chevron is true.
    """
    yield from _corners(rule, at)
    edges = _edges(rule, at.pattern)
    joins = joined_at(at, rule.piece_a, rule.point_a, rule.piece_b, rule.point_b)
    join = next(joins, None)
    if edges is None or join is None:
        return
    pitches = tuple(_pitch(e, x) for e, x in zip(edges, (join.a, join.b), strict=True))
    if not all(math.isfinite(p[0]) for p in pitches):
        return
    (one, angle_a), (two, angle_b) = pitches
    if is_met(STRIPES * (one - two)):
        return
    yield Foreseen(
        words=(
            f"The seam crosses the stripes at {show_angle_deg(angle_a)} on one side and at "
            f"{show_angle_deg(angle_b)} on the other: the fifth stripe from there is ",
            STRIPES * abs(one - two),
            " out.",
        )
    )


def _corners(rule: Chevron, at: CuttingTable) -> Iterator[Foreseen]:
    """Yield what is known of two bands that meet in a corner: both lie along one border."""
    ends = ((rule.piece_a, rule.point_a), (rule.piece_b, rule.point_b))
    edges = [edge_ending_at(at.pattern.piece(piece), point) for piece, point in ends]
    first = at.of(rule.piece_a)[0]
    repeat = next((b.repeat for b in first.cloth.print.borders if b.repeat), None)
    if repeat and first.crosswise and edges[0] and edges[1] and rule.piece_a != rule.piece_b:
        yield Foreseen(words=corner_words(edges[0], edges[1], repeat))


def _pitch(edge: tuple[Piece, Edge], lying: Lying) -> tuple[float, float]:
    """Return after how many mm along a seam's edge the next stripe comes, and their angle."""
    design, (piece, line) = lying.cloth.print, edge
    along = line.path.end - line.path.start
    on_cloth = along.angle_deg - piece.up.angle_deg
    on_cloth = (-on_cloth if lying.copy.turned_over else on_cloth) + lying.turns_deg[0]
    repeat, lie_deg = design.repeat_across, 0.0
    if not repeat or (design.repeat_along and lying.crosswise):
        repeat, lie_deg = design.repeat_along, 90.0
    sine = abs(math.sin(math.radians(on_cloth - lie_deg)))
    if not repeat or sine < 1e-6:
        return math.inf, 0.0
    return repeat / sine, math.degrees(math.asin(min(1.0, sine)))


def _edges(rule: Chevron, pattern: Pattern) -> tuple[tuple[Piece, Edge], tuple[Piece, Edge]] | None:
    """Return the edges of the seam that has both points on it, None where there is no such seam."""
    ends = ((rule.piece_a, rule.point_a), (rule.piece_b, rule.point_b))
    for seam in pattern.seams:
        for sides in ((seam.a, seam.b), (seam.b, seam.a)):
            found = []
            for side, (name, point) in zip(sides, ends, strict=True):
                piece = pattern.piece(name)
                mine = [piece.edge(r.edge) for r in side if r.piece == name]
                at = piece.points().get(point)
                near = [e for e in mine if at is not None and e.path.nearest(at)[1] < 1.0]
                found += [(piece, e) for e in near[:1]]
            if len(found) == 2:
                return found[0], found[1]
    return None


# --- its form -------------------------------------------------------------------------------------


def _points(outfit: Outfit) -> Iterator[Choice]:
    """Yield the points that meet in seams, and those where the two of a pair meet."""
    yield from seam_points(outfit)
    for seam in outfit.pattern.seams:
        names = seam.pieces
        for piece in (p for p in outfit.printed if names == {p.name}):
            edge = piece.edge(seam.a[0].edge)
            for end in ("start", "middle", "end"):
                point = f"{edge.name} {end}"
                yield Choice(
                    key=f"{piece.name}.{point}",
                    words=(f"{piece.name}, {point}, where its two meet",),
                    values={
                        "piece_a": piece.name,
                        "point_a": point,
                        "piece_b": piece.name,
                        "point_b": point,
                    },
                    group=seam.name,
                )


RULE = RuleKind(
    id="chevron",
    params=Chevron,
    said=said,
    forms=(
        Form(
            id="chevron",
            title="The print meets as in a mirror at a seam",
            help="Slanting stripes meet in a chevron; left and right show one figure, turned over.",
            asks=(
                which_seam(_points, "no seam joins pieces that are cut from a cloth with a print"),
                *named("bias", "within"),
            ),
            repeats=True,
        ),
        Form(
            id="chevron-points",
            title="The print meets as in a mirror at two points",
            help="For pieces without a seam between them; the same point twice: the two of a pair.",
            asks=(
                Ask(name="a", field="point_a"),
                Ask(name="b", field="point_b"),
                *named("bias", "within"),
            ),
            repeats=True,
        ),
    ),
    asks=asks,
    foreseen=foreseen,
    turns=turns,
    rank=1,
    turned_by="bias",
    on_print=True,
    dropped=lambda r: (
        f"do not match {r.piece_a} and {r.piece_b} as in a mirror",
        f"the print does not meet in a chevron at {r.piece_a}, {r.point_a}",
    ),
)
