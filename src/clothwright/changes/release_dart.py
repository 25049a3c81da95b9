"""Sew a dart no more: its width becomes gathers, ease, a pleat, or is left, or cut off."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import find_dart
from clothwright.changes.fullness import WAYS, Fullness, eased_in, without_dart
from clothwright.changes.partners import partners
from clothwright.changes.redraw import (
    Redrawn,
    redrawn,
    refuse_crossing,
    swung_edge,
)
from clothwright.errors import CannotDo
from clothwright.pattern.measure import dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece, Role
from clothwright.units.params import param
from clothwright.words import Sentence, show_fraction

REACH_MM = {"gathered": 50.0, "eased": 60.0, "pleated": 5.0}
"""mm to each side of the dart: gathers in a zone of 10 cm, ease over a hand's breadth, a pleat
where the dart was (common practice)."""
EASES_MM = 13.0
"""mm: what stable cotton takes as ease in a short stretch (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseDart:
    """Parameters of `release-dart`; lengths in mm."""

    dart: str = param("dart", "the dart that is not sewn any more", label="Which dart")
    into: str = param(
        "choice",
        "",
        default="gathered",
        choices={
            "gathered": "gathers between two notches",
            "eased": "ease between two notches",
            "pleated": "a pleat where the dart was",
            "loose": "nothing: the edge is as much longer",
            "cut off": "nothing: as much is cut off at the end of the edge, away from the centre",
        },
        label="What becomes of its width",
    )
    reach: float | None = param(
        "length",
        "to each side of the dart; left out: a hand's breadth in all, a little more for ease",
        default=None,
        least=1.0,
        label="How far the fullness is spread",
    )


def apply(pattern: Pattern, params: ReleaseDart) -> Outcome:
    """Drop a dart's legs; its cap runs straight across, and its width is sewn in another way.

    Gathered, eased or pleated: both sides of the seam get two notches, and the seam says how much
    is sewn in between them. Loose: the edge is longer by the width. Cut off: the edge ends as much
    sooner, and what comes beside it follows. Raises CannotDo where there is no such seam, or no
    end that may be moved. Source: docs/sources.md, darts.
    """
    piece, dart = find_dart(pattern, params.dart)
    lead = f'Dart "{dart.name}" of {piece.name} is not sewn any more; '
    if params.into in WAYS:
        reach = REACH_MM[params.into] if params.reach is None else params.reach
        sort = Fullness(stem=dart.name, reach=reach, join=params.into)
        after, width = eased_in(pattern, piece, dart, sort)
        return Outcome(pattern=after, said=(lead, *_sewn_in(dart, width, sort)))
    width = dart_intake(piece, dart)
    if params.into == "loose":
        new = without_dart(piece, dart)
        longer = net_length(new, dart.edge) - net_length(piece, dart.edge)
        more: Sentence = (f"{dart.edge} is ", longer, " longer.")
    else:
        new, at = _cut_off(piece, dart)
        more = ("its width, ", width, f", is cut off at the {at}.")
    changed = pattern.with_piece(new)
    return Outcome(pattern=changed, said=(lead, *more, *partners(pattern, changed)))


def _sewn_in(dart: Dart, width: float, sort: Fullness) -> Sentence:
    """Say how much is sewn in where, and how full that is."""
    zone = 2 * sort.reach
    if sort.join == "pleated":
        return ("its width, ", width, f", is laid in a pleat in {dart.edge}.")
    out: Sentence = ("its width, ", width, f", is {sort.join} into ", zone, f" of {dart.edge}")
    if sort.join == "gathered":
        more = f", between two notches: {show_fraction(width / zone)} more cloth than seam."
        return (*out, more)
    if width > EASES_MM:
        more = ". That is more than stable cotton takes ("
        return (*out, more, EASES_MM, "): gather it, or try it in a scrap of the cloth first.")
    return (*out, ", between two notches.")


def _cut_off(piece: Piece, dart: Dart) -> tuple[Piece, str]:
    """Return the piece with the edge ending sooner by the dart's width; the corner in words."""
    bare = without_dart(piece, dart)
    width = net_length(bare, dart.edge) - net_length(piece, dart.edge)
    before, after = bare.neighbours(dart.edge)
    edge = bare.edge(dart.edge)
    centre = (Role.FOLD, Role.CENTRE)
    if before.role in centre and after.role in centre:
        raise CannotDo(
            what=f'the width of dart "{dart.name}" of "{piece.name}" cannot be cut off',
            why=f"{edge.name} ends at the centre on both sides",
            nearest="gathers or a pleat",
        )
    near = after.role in centre or (before.role not in centre and dart.a < edge.length - dart.b)
    if near:
        to = edge.path.point_at(width)
        new = {before.name: swung_edge(bare, before.name, end=to)}
        new[edge.name] = _shorter(bare, edge.name, width, at_start=True)
    else:
        to = edge.path.point_at(edge.length - width)
        new = {after.name: swung_edge(bare, after.name, start=to)}
        new[edge.name] = _shorter(bare, edge.name, width, at_start=False)
    out = redrawn(bare, new).piece
    refuse_crossing(out, f'the width of dart "{dart.name}" of "{piece.name}" cannot be cut off')
    return out, f"{before.name if near else after.name} end of {edge.name}"


def _shorter(piece: Piece, name: str, by: float, *, at_start: bool) -> Redrawn:
    """Return an edge cut off by `by` mm at one end; what lay there is gone."""
    path = piece.edge(name).path
    long = path.length
    if at_start:
        return Redrawn(path.between(by, long), lambda at: at - by if at >= by else None)
    return Redrawn(path.between(0.0, long - by), lambda at: at if at <= long - by else None)


CHANGE = Change(
    id="release-dart",
    title="Turn a dart into gathers, ease, a pleat or nothing",
    topic="darts",
    why="What a dart holds may be gathered, eased or pleated in its seam, where the style or the "
    "print asks for it; or left out, where the garment may hang loose.",
    source="gathers and pleats hold what a dart held: textbook on dart control; the ratio: plane "
    "geometry (docs/sources.md: darts)",
    params=ReleaseDart,
    apply=apply,
)
