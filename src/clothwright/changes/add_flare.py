"""Add flare at the hem: swing a side out, or slash and spread; the length stays level."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.layers import longer_in_all
from clothwright.changes.partners import partners
from clothwright.changes.redraw import (
    Redrawn,
    blend,
    from_nearer,
    redrawn,
    refuse_crossing,
    swung_edge,
)
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, cut_in_two
from clothwright.changes.smooth_line import smoothed
from clothwright.changes.tapered import outward
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import IDENTITY, Transform, rotation_deg
from clothwright.geometry.turning import waves_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, edge_name, refs_name

SMOOTH_MM = 50.0
"""mm: a side that is swung out is drawn in one curve this far above and below where it turns."""
LEAVES = (1.0, 0.75, 0.5, 0.25)
"""Shares of a hem that are kept where its end is drawn anew, the first that does not wave."""
WAVES_DEG = 3.0
"""degrees: a hem that turns out and back again by less does not wave. Our own figure."""
MOST = 0.7
"""Share of the length from where it turns that a hem may be swung out at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AddFlare:
    """Parameters of `add-flare`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "the side edges that run down to the hem, on each piece", label="At which sides"
    )
    by: float = param(
        "length",
        "on each piece at its hem; a minus takes flare away at the side",
        label="How much wider the hem",
    )
    line: str = param(
        "level",
        "where the flare begins; left out: at the upper end of the edge",
        default="",
        label="From which line down",
    )
    where: str = param(
        "choice",
        "",
        default="side",
        choices={
            "side": "all at the side, which is swung out",
            "spread": "spread evenly: slashed from the hem to the upper edge",
        },
        label="Where it is added",
    )
    cuts: int = param(
        "count",
        "how often the piece is slashed where the flare is spread",
        default=3,
        least=1,
        most=12,
        label="How many slashes",
    )


def apply(pattern: Pattern, params: AddFlare) -> Outcome:
    """Make the hem of each piece wider by `by`, and keep every length from the top down to it.

    At the side: what lies below the line turns about the place where the line meets the edge, and
    the hem goes on in a curve about it, at the angle to the side that it had. Spread: the piece is
    slashed from the hem to the upper edge and turned open about the places on its stitching line.
    Raises CannotDo where the line does not meet the edge or it would swing too far.
    Source: docs/sources.md, flare.
    """
    refs = list(dict.fromkeys(parse_edge(text) for text in params.edges))
    names = refs_name((r.piece, r.edge) for r in refs)
    for ref in refs:
        pattern.edge(ref)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left the flare at {names} as it was.",))
    changed, grown = pattern, list[tuple[str, float]]()
    for ref in refs:
        piece = changed.piece(ref.piece)
        outward(piece, piece.edge(ref.edge))
        hem = _hem(piece, ref.edge)
        new = (_swung_out if params.where == "side" else _spread)(piece, ref.edge, params)
        refuse_crossing(new, f"{edge_name(ref.piece, ref.edge)} cannot be flared so")
        grown.append((ref.piece, new.edge(hem).length - piece.edge(hem).length))
        changed = changed.with_piece(new)
    changed, trued = own_corners.trued(pattern, changed)
    verb = "Added flare" if params.by > 0 else "Took flare away"
    from_line = f" from the {params.line} line down" if params.line else ""
    how = "" if params.where == "side" else f", spread over {params.cuts} slashes"
    said = (
        f"{verb} at {names}{from_line}: ",
        abs(params.by),
        f" at each hem{how}. The length stays level; the hems of these pieces are together ",
        *longer_in_all(pattern, grown),
        ".",
        *trued,
        *partners(pattern, changed),
    )
    return Outcome(pattern=changed, said=said)


def _hem(piece: Piece, name: str) -> str:
    """Return the edge beside the lower end of an edge."""
    before, after = piece.neighbours(name)
    return before.name if piece.rises(name) else after.name


def _hinge(piece: Piece, edge: Edge, line: str) -> tuple[float, Vec]:
    """Return where an edge turns: mm from its lower end, and the place. Raises CannotDo."""
    path = edge.path if piece.rises(edge.name) else edge.path.reversed()
    if not line:
        return path.length, path.end
    found = line_crossings(path, piece.level(line).at, piece.up.perp)
    if not found or found[-1].at_a < SMOOTH_MM:
        raise CannotDo(
            what=f"{edge_name(piece.name, edge.name)} cannot be flared from the {line} line",
            why="that line does not meet it well above the hem",
            nearest="another line, or none: then it begins at the upper end",
        )
    return found[-1].at_a, found[-1].point


def _turn_deg(piece: Piece, edge: Edge, hinge: Vec, by: float) -> float:
    """Return the turn about the hinge that moves the low end `by` mm away from the piece."""
    low = min(edge.path.ends, key=piece.up.dot)
    leg = hinge.distance(low)
    if abs(by) > MOST * leg:
        raise CannotDo(
            what=(f"{edge_name(piece.name, edge.name)} cannot be flared by ", abs(by)),
            why=("it is only ", leg, " from where it turns to the hem"),
            nearest=("flare of ", AtMost(MOST * leg), " on each piece"),
        )
    turn = math.degrees(2 * math.asin(by / (2 * leg)))
    way = outward(piece, edge).dot(rotation_deg(turn, hinge).apply(low) - low)
    return turn if way * by > 0 else -turn


def _swung_out(piece: Piece, name: str, params: AddFlare) -> Piece:
    edge, hem = piece.edge(name), _hem(piece, name)
    at, hinge = _hinge(piece, edge, params.line)
    move = rotation_deg(_turn_deg(piece, edge, hinge, params.by), hinge)
    low_first = piece.rises(name)
    path = edge.path if low_first else edge.path.reversed()
    side = _turned_below(path, at, move)
    own = side if low_first else side.reversed()
    if params.by > 0:
        drawn = _run_on(piece.edge(hem).path, move, side.start, at_end=low_first)
        at_low = (
            (lambda x: x) if low_first else (lambda x: x + drawn.length - piece.edge(hem).length)
        )
        hemmed = Redrawn(drawn, at_low)
    elif low_first:
        hemmed = swung_edge(piece, hem, end=side.start)
    else:
        hemmed = swung_edge(piece, hem, start=side.start)
    darts = tuple(
        replace(d, point=move.apply(d.point))
        if d.edge == name and (d.b if low_first else edge.length - d.a) < at
        else d
        for d in piece.darts
    )
    new = {name: Redrawn(own, from_nearer(edge.length, own.length)), hem: hemmed}
    return redrawn(replace(piece, darts=darts), new).piece


def _turned_below(path: Path, at: float, move: Transform) -> Path:
    """Return a line from its low end up, turned as far as `at` mm, and smoothed there."""
    if at >= path.length - JOIN_MM:
        return path.transformed(move).with_ends(end=path.end)
    low, high = path.split_at(at)
    low = low.transformed(move)
    whole = low.joined(high.with_ends(start=low.end))
    reach = min(SMOOTH_MM, at / 2, (path.length - at) / 2)
    return smoothed(whole, at - reach, at + reach)


def _run_on(hem: Path, move: Transform, new: Vec, *, at_end: bool) -> Path:
    """Return a hem run on in a curve to its end's new place, at the angle that it had there.

    It leaves the hem at its end, or as far before that as it takes not to wave.
    """
    if not at_end:
        return _run_on(hem.reversed(), move, new, at_end=True).reversed()
    arriving = move.apply_direction(hem.end_tangent)
    ways = []
    for share in LEAVES:
        kept = hem.split_at(share * hem.length)[0] if share < 1.0 else hem
        ways.append(kept.joined(Path((blend(kept.end, kept.end_tangent, new, arriving),))))
        if waves_deg(hem, ways[-1]) <= WAVES_DEG:
            return ways[-1]
    return min(ways, key=lambda way: waves_deg(hem, way))


def _spread(piece: Piece, name: str, params: AddFlare) -> Piece:
    """Slash the piece from hem to upper edge at even places, from the side in, and open each."""
    low_first = piece.rises(name)
    before, after = piece.neighbours(name)
    hem, top = (before, after) if low_first else (after, before)
    if params.by < 0:
        raise CannotDo(
            what=f'"{piece.name}" cannot be slashed and spread by less than nothing',
            why="slashes that are lapped take flare away unevenly",
            nearest="taking it away at the side, or into darts",
        )
    each = params.by / params.cuts
    for k in range(1, params.cuts + 1):
        share = k / (params.cuts + 1)
        at = share * hem.length
        on_hem = hem.length - at if low_first else piece.edge(hem.name).length - hem.length + at
        on_top = share * top.length if low_first else (1 - share) * top.length
        openings = Opening(hem.name, on_hem, on_hem), Opening(top.name, on_top, on_top)
        piece = _opened(piece, openings, each, moves=0 if low_first else 1)
    return piece


def _opened(piece: Piece, openings: tuple[Opening, Opening], by: float, moves: int) -> Piece:
    """Return the piece slashed between two edges and opened by `by` mm at the first of them.

    moves: the part that turns, the one with the side.
    """
    low, high = openings
    at = high.a
    for dart in piece.darts_on(high.edge):
        if dart.a - 1.0 < at < dart.b + 1.0:
            at = dart.a - 1.0 if at - dart.a < dart.b - at else dart.b + 1.0
    hinge, foot = piece.edge(high.edge).path.point_at(at), piece.edge(low.edge).path.point_at(low.a)
    slash = cut_in_two(piece, low, Opening(high.edge, at, at))
    turn = math.degrees(2 * math.asin(min(1.0, by / (2 * hinge.distance(foot)))))
    if moves == 0:
        return rejoined(slash, (rotation_deg(turn, hinge), IDENTITY)).piece
    return rejoined(slash, (IDENTITY, rotation_deg(-turn, hinge))).piece


CHANGE = Change(
    id="add-flare",
    title="Add flare at the hem",
    topic="fullness and openings",
    why="A skirt, a sleeve or a coat that is to swing gets wider at the hem and stays as it is "
    "above; each side is as long as before, so that the hem hangs level.",
    source="slash and spread from a hinge on the stitching line: plane geometry (docs/sources.md: "
    "flare)",
    params=AddFlare,
    apply=apply,
)
