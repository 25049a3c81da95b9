"""What lies on a piece: where a pocket or a flap is marked on it, and which piece is sewn there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.geometry.box import box_round
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import rotation_deg, translation
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.buttons import is_hole
from clothwright.pattern.companions import companions
from clothwright.pattern.patches import held_by_seams
from clothwright.pattern.pattern import Companion, Pattern
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.together import kind_of

LYING = ("pocket", "flap", "patch")
"""Words that name what is sewn flat on a piece (trade words)."""
CLOSED_MM = 1.0
"""mm: a line whose ends lie so near to each other goes all round. Our own bound."""
ASKEW_DEG = 45.0
"""Degrees: a patch sewn on is turned by no more from how it is drawn. Our own bound."""
SIDE = 0.15
"""Share of an outline: a straight line this long is one of its sides. Our own bound."""


class MarkedPlace(NamedTuple):
    """A piece that is sewn on another, along a line that is marked there."""

    patch: Piece
    on: Piece
    mark: Mark
    line: Path

    @property
    def is_round(self) -> bool:
        """Tell whether the whole outline is marked, not one of its edges."""
        return goes_round(self.line)


class PatchSize(NamedTuple):
    """How wide and how long a patch or its place is, mm."""

    wide: float
    long: float

    def off(self, other: PatchSize) -> PatchSize:
        """Return by how much this one is larger than another."""
        return PatchSize(self.wide - other.wide, self.long - other.long)


def goes_round(line: Path) -> bool:
    """Tell whether a line ends where it begins."""
    return line.start.distance(line.end) <= CLOSED_MM


def lying_kind(name: str) -> str:
    """Return which of `LYING` a name speaks of, "" for none."""
    words = name.lower().replace("-", " ").split()
    return next((k for k in LYING if k in words), "")


def drawn_places(piece: Piece) -> Iterator[tuple[Mark, Path]]:
    """Yield the lines on a piece that show where something is sewn on."""
    for mark in piece.marks:
        if mark.path is not None and lying_kind(mark.name):
            yield mark, mark.path


def held_by(piece: Piece, mark: Mark) -> Vec | None:
    """Return the place by which a mark goes whole, wherever the piece is cut; None if it does not.

    Whole goes where something is sewn on, with the points marked on its line, and a buttonhole: a
    pocket keeps its size (common practice). A line that runs to the outline is one of the piece.
    """
    if mark.path is not None and is_hole(mark):
        return mark.path.middle
    for drawn, line in drawn_places(piece):
        if any(piece.outline.nearest(end)[1] <= CLOSED_MM for end in (line.start, line.end)):
            continue
        near = mark.at is not None and line.nearest(mark.at)[1] <= CLOSED_MM
        if drawn is mark or (near and lying_kind(mark.name) == lying_kind(drawn.name)):
            return middle_along(line, piece.up)
    return None


def loose_patches(pattern: Pattern) -> tuple[Piece, ...]:
    """Return the pockets, flaps and patches that no seam holds by an edge."""
    held = held_by_seams(pattern)
    told = {c.piece for c in _lying(pattern)}
    return tuple(
        p
        for p in pattern.pieces
        if p.name not in held and (p.name in told or _is_patch(pattern, p))
    )


def _lying(pattern: Pattern) -> Iterator[Companion]:
    """Yield the companions that are sewn flat on what they go with, by today's names."""
    if any(c.kind in LYING for c in pattern.companions):
        yield from (c for c in companions(pattern) if c.kind in LYING)


def _is_patch(pattern: Pattern, piece: Piece) -> bool:
    kind = lying_kind(piece.name)
    return kind == "patch" or (bool(kind) and kind_of(pattern, piece) in LYING)


def places(pattern: Pattern) -> tuple[MarkedPlace, ...]:
    """Return each place with what is sewn there; of several the one that fits it best.

    A flap goes along an open line, what else there is on a line all round.
    """
    onto: dict[str, set[str]] = {}
    for c in _lying(pattern):
        onto.setdefault(c.piece, set()).update(a.piece for a in c.of)
    ways = [
        place
        for patch in loose_patches(pattern)
        for on in pattern.pieces
        if on is not patch and on.name in onto.get(patch.name, {on.name})
        for mark, line in drawn_places(on)
        if _may_lie(pattern, place := MarkedPlace(patch, on, mark, line))
    ]
    found: list[MarkedPlace] = []
    for place in sorted(ways, key=lambda it: sum(map(abs, too_large(it)))):
        if not any(_is_taken(place, other) for other in found):
            found.append(place)
    order = {p.name: n for n, p in enumerate(pattern.pieces)}
    return tuple(sorted(found, key=lambda it: (order[it.on.name], order[it.patch.name])))


def _is_taken(place: MarkedPlace, other: MarkedPlace) -> bool:
    """Tell whether a piece lies on that one already, or something else in that place.

    One pocket may go on the left and on the right front.
    """
    spot, there = ((it.on.name, it.mark.name) for it in (place, other))
    return spot == there or (place.patch.name, place.on.name) == (other.patch.name, other.on.name)


def _may_lie(pattern: Pattern, place: MarkedPlace) -> bool:
    kind = lying_kind(place.patch.name) or next(
        (c.kind for c in _lying(pattern) if c.piece == place.patch.name), ""
    )
    return kind == lying_kind(place.mark.name) and (place.is_round or kind == "flap")


def too_large(place: MarkedPlace) -> PatchSize:
    """Return by how much a patch is wider and longer than its place, mm; a flap only wider.

    Both are measured as they are drawn, or turned so that straight sides lie along each other:
    the place may have turned with a part of its piece.
    """
    if not place.is_round:
        return PatchSize(_upper(place.patch) - place.line.length, 0.0)
    own = size_along(place.patch.outline, place.patch.up)
    ways = (own.off(size_along(place.line, up)) for up in _ups(place))
    return min(ways, key=lambda off: abs(off.wide) + abs(off.long))


def parting(place: MarkedPlace) -> float:
    """Return how far a patch and its place part at a corner of either, mm, laid box on box.

    Where one side of a patch is shorter than the other, it is as wide and as long as its place all
    the same. 0 for a flap, of which one edge alone is marked.
    """
    if not place.is_round:
        return 0.0
    own = _boxed(place.patch.outline, place.patch.up)
    return min(
        max(_farthest(own, there), _farthest(there, own))
        for there in (_boxed(place.line, up) for up in _ups(place))
    )


def _boxed(line: Path, up: Vec) -> Path:
    """Return a line turned so that a direction is y, the middle of the box round it at zero."""
    standing = line.transformed(rotation_deg(turn_between_deg(up, Vec(0.0, 1.0))))
    return standing.transformed(translation(box_round(standing.flatten(0.1)).middle * -1.0))


def _farthest(corners: Path, line: Path) -> float:
    return max(line.nearest(corner)[1] for corner in corners_of(corners))


def _upper(patch: Piece) -> float:
    """Return the length of a piece's uppermost edge, mm."""
    return max(patch.edges, key=lambda e: patch.up.dot(e.path.middle)).length


def size_along(line: Path, up: Vec) -> PatchSize:
    """Return how far a line reaches across and along a direction, mm."""
    return PatchSize(*box_round(_standing(line, up)).size)


def middle_along(line: Path, up: Vec) -> Vec:
    """Return the middle of the box round a line that stands along a direction."""
    across, along = box_round(_standing(line, up)).middle
    return up.perp * -across + up * along


def _standing(line: Path, up: Vec) -> list[Vec]:
    """Return a line's points turned so that a direction is y."""
    return [Vec(-up.cross(p), up.dot(p)) for p in line.flatten(0.1)]


def _ups(place: MarkedPlace) -> Iterator[Vec]:
    """Yield which way up a patch may lie on its piece."""
    up = place.on.up
    yield up
    for mine in _sides(place.patch.outline):
        for there in _sides(place.line):
            turn_deg = turn_between_deg(mine, there)
            turn_deg -= 180.0 * round(turn_deg / 180.0)
            way = rotation_deg(turn_deg).apply_direction(place.patch.up)
            if abs(turn_between_deg(up, way)) <= ASKEW_DEG:
                yield way


def _sides(line: Path) -> tuple[Vec, ...]:
    least = SIDE * line.length
    lines = (s for s in line.segments if isinstance(s, Line) and s.length >= least)
    return tuple((s.end - s.start).unit for s in lines)


def corners_of(line: Path) -> tuple[Vec, ...]:
    """Return where a line that goes round turns by more than 15 degrees, and where it begins."""
    pairs = zip(line.segments, line.segments[1:], strict=False)
    turned = (
        b.start for a, b in pairs if abs(turn_between_deg(a.tangent(1.0), b.tangent(0.0))) > 15
    )
    return (line.start, *turned)
