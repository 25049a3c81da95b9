"""Remove an elbow dart into the hem: close it wholly, and let the wrist open by as much."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import CORNER_MM, find_dart, find_place, with_path_between
from clothwright.changes.intake import move_intake
from clothwright.changes.partners import partners
from clothwright.changes.redraw import blend
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece, Role
from clothwright.pattern.rise import beside
from clothwright.units.params import param
from clothwright.words import Sentence

SHARE = 0.25
"""Where the hem opens unless said otherwise: this share of it from the darted underarm seam."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ElbowToHem:
    """The elbow dart, where the hem opens, and whether the opening stays a dart."""

    dart: str = param("dart", "the elbow dart that goes", label="Which dart")
    hem: str = param(
        "place",
        "the wrist edge, or a point on it; left out: the piece's hem, a quarter of it from the "
        "darted seam",
        default="",
        label="Where the wrist opens",
    )
    at: float | None = param(
        "length",
        "how far from that edge's start it opens",
        default=None,
        label="How far from the start of that edge",
    )
    keep: str = param(
        "choice",
        "",
        default="width",
        choices={"width": "width at the wrist", "dart": "a dart in the hem"},
        label="What the opening becomes",
    )
    line: str = param(
        "choice",
        "",
        default="smooth",
        choices={"smooth": "smooth, running on from both sides of it", "straight": "straight"},
        label="How the hem runs across the opening",
    )


def apply(pattern: Pattern, params: ElbowToHem) -> Outcome:
    """Close the elbow dart and open the hem: both underarm seams are then sewn at one length.

    The angle of the dart is kept (move_intake), so the wrist gains 2 L sin(angle / 2), L being the
    distance from the dart's point to the hem where it opens. Kept as width, the hem runs over the
    opening in one smooth curve, or straight across it, with a corner at each side.
    Raises CannotDo, BadInput.
    Source: one-piece sleeve drafts and plane geometry (docs/changes/elbow-to-hem.md).
    """
    piece, dart = find_dart(pattern, params.dart)
    edge, at = _place(pattern, piece, dart.edge, params)
    if edge.name == dart.edge:
        raise BadInput(
            what=f'"{edge.name}" is the edge the dart leaves', expected="the wrist edge, a hem"
        )
    moved = move_intake(piece, dart, edge=edge, at=at)
    after, opened = moved.piece, moved.opened
    gained = dart_intake(after, opened)
    if params.keep == "width":
        mouth = _across(after.edge(edge.name).path, opened, params.line)
        after = with_path_between(after, edge.name, opened.a, opened.b, mouth)
        after = replace(after, darts=tuple(d for d in after.darts if d.name != dart.name))
    said: Sentence = (
        f'Closed elbow dart "{dart.name}" of {piece.name} (',
        dart_intake(piece, dart),
        f" wide) into {edge.name}, which opens by ",
        gained,
        " and is now ",
        after.edge(edge.name).length,
        (
            " wide."
            if params.line == "smooth"
            else " wide: square the hem or true its seam, so that it is fair."
        )
        if params.keep == "width"
        else f" along its line, with the opening as a dart of the name {dart.name}.",
    )
    changed = pattern.with_piece(after)
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _across(path: Path, opened: Dart, line: str) -> Path:
    """Return the hem's line over the opening: straight, or tangent to the hem on both sides."""
    ends = path.point_at(opened.a), path.point_at(opened.b)
    edges = CORNER_MM, path.length - CORNER_MM
    if line == "straight" or opened.a <= edges[0] or opened.b >= edges[1]:
        return polyline(ends)
    before, after = path.between(0.0, opened.a), path.between(opened.b, path.length)
    return Path((blend(ends[0], before.end_tangent, ends[1], after.start_tangent),))


def _place(pattern: Pattern, piece: Piece, darted: str, params: ElbowToHem) -> tuple[Edge, float]:
    """Return the hem and the place on it where it opens."""
    if params.hem:
        edge, at = find_place(pattern, piece, params.hem, params.at)
        if params.at is None and params.hem.split(".", 1)[1].strip() == edge.name:
            at = _quarter(piece, edge, darted)
        return edge, at
    hems = [e for e in piece.edges if e.role is Role.HEM]
    if len(hems) != 1:
        raise CannotDo(
            what=f'it is not clear where "{piece.name}" is to open',
            why=f"it has {len(hems)} hem edges",
            nearest="name the wrist edge (hem)",
        )
    if params.at is not None:
        return find_place(pattern, piece, f"{piece.name}.{hems[0].name}", params.at)
    return hems[0], _quarter(piece, hems[0], darted)


def _quarter(piece: Piece, hem: Edge, darted: str) -> float:
    """Return a quarter of the hem from the darted seam, mm. Raises CannotDo when it is apart."""
    if darted == beside(piece, hem, "end").name:
        return hem.length * (1 - SHARE)
    if darted == beside(piece, hem, "start").name:
        return hem.length * SHARE
    raise CannotDo(
        what=f'it is not clear where {hem.name} of "{piece.name}" is to open',
        why=f"{darted}, which the dart leaves, does not meet it",
        nearest="say how far from its start it opens",
    )


CHANGE = Change(
    id="elbow-to-hem",
    title="Remove an elbow dart into the hem",
    topic="sleeves",
    why="The sleeve keeps its bend, and the wrist takes the width: for a loose hem, or to be "
    "gathered or pleated there.",
    source="one-piece sleeve drafts, control moved from elbow to wrist; amounts by plane geometry "
    "(docs/changes/elbow-to-hem.md)",
    params=ElbowToHem,
    apply=apply,
)
