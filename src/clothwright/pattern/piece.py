"""A pattern piece: named edges between named corners, in order round the stitching line.

The stitching line is the truth. Edges run counter-clockwise (y up), so the outside of the piece is
always on the right of travel. All lengths in mm.
"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, named, not_known
from clothwright.geometry.area import polygon_area
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.words import ref_name


class Role(enum.Enum):
    """What happens to an edge when the garment is made."""

    SEAM = "seam"
    HEM = "hem"
    FOLD = "fold"
    CENTRE = "centre"
    BOUND = "bound"
    RAW = "raw"


class Join(enum.Enum):
    """How the cutting line turns a corner.

    EXTENDED: both cutting lines run on until they meet. MITRED: cut short across the corner.
    SQUARED_BEFORE / SQUARED_AFTER: the allowance of the edge before / after the corner ends at
    right angles to its stitching line, where that line, run on, meets the other cutting line.
    FOLDED: at a hem; the neighbour's cutting line is mirrored in the hem line, so that the
    turned-up hem matches what it is sewn to.
    """

    EXTENDED = "extended"
    MITRED = "mitred"
    SQUARED_BEFORE = "squared before"
    SQUARED_AFTER = "squared after"
    FOLDED = "folded"


class NotchKind(enum.Enum):
    """Single marks a front, double a back (common practice; textbook, docs/sources.md)."""

    SINGLE = "single"
    DOUBLE = "double"


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A mark on an edge that meets its partner's mark. `at`: mm along the edge from its start.

    name: notches of the same name meet; unnamed ones meet in order, by kind.
    """

    at: float
    kind: NotchKind = NotchKind.SINGLE
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One named edge of the stitching line.

    allowance: mm from stitching to cutting line, outward, 0 or more (a hem's depth for a hem).
    corner: name of the corner at the edge's START; join: how the cutting line turns there.
    """

    name: str
    path: Path
    role: Role = Role.SEAM
    allowance: float = 0.0
    notches: tuple[Notch, ...] = ()
    corner: str = ""
    join: Join = Join.EXTENDED

    @property
    def length(self) -> float:
        """Length of the stitching line in mm, darts not folded out."""
        return self.path.length

    def with_notches(self, notches: Iterable[Notch]) -> Edge:
        """Return the edge with these notches, in order along it."""
        return replace(self, notches=tuple(sorted(notches, key=lambda n: n.at)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Dart:
    """A wedge sewn out of an edge.

    a, b: mm along the edge where the two legs end (a < b); the edge's own line between them is the
    cap. point: where the dart runs out. pressed: towards the edge's "start" or "end".
    """

    name: str
    edge: str
    a: float
    b: float
    point: Vec
    pressed: str = "start"


@dataclass(frozen=True, slots=True, kw_only=True)
class Grain:
    """The grain line; the arrow runs from `start` to `end`, "up the body" (top of the print)."""

    start: Vec
    end: Vec

    @property
    def direction(self) -> Vec:
        """Direction of the arrow, length 1."""
        return (self.end - self.start).unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A level line (waist, bust, hip, biceps, elbow): through `at`, square to the grain."""

    name: str
    at: Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """An inner mark: a point (`at`) or a line (`path`), with a note that is printed beside it."""

    name: str
    at: Vec | None = None
    path: Path | None = None
    note: str = ""


INTERFACING = "interfacing"
"""What a piece is cut from besides what shows of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """How often to cut: `how` is "once", "pair" (second turned over) or "fold"; times `count`."""

    material: str = "shell"
    how: str = "once"
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A pattern piece. Raises BadInput when its outline is not one closed counter-clockwise chain.

    With an edge of role FOLD it is a half piece; `whole.unfolded` opens it.
    """

    name: str
    edges: tuple[Edge, ...]
    darts: tuple[Dart, ...] = ()
    grain: Grain | None = None
    levels: tuple[Level, ...] = ()
    marks: tuple[Mark, ...] = ()
    cuts: tuple[Cut, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse an outline that cannot be a piece."""
        _check_chain(self)
        _check_names(self)

    @property
    def corners(self) -> Iterator[tuple[str, Vec]]:
        """Each corner's name (may be empty) and point, in order."""
        return ((e.corner, e.path.start) for e in self.edges)

    @property
    def outline(self) -> Path:
        """The closed stitching line, starting at the first edge's start."""
        return join_all([e.path for e in self.edges])

    @property
    def fold(self) -> Edge | None:
        """The fold edge of a half piece, or None."""
        return next((e for e in self.edges if e.role is Role.FOLD), None)

    @property
    def up(self) -> Vec:
        """Direction up the body: the grain arrow, or +y when the piece has no grain line."""
        return self.grain.direction if self.grain else Vec(0.0, 1.0)

    def index(self, edge: str) -> int:
        """Return the place of a named edge. Raises BadInput with the nearest known name."""
        for i, e in enumerate(self.edges):
            if e.name == edge:
                return i
        known = [e.name for e in self.edges]
        raise not_known(f'piece "{self.name}" has no edge "{edge}"', edge, known)

    def edge(self, name: str) -> Edge:
        """Return a named edge. Raises BadInput."""
        return self.edges[self.index(name)]

    def neighbours(self, name: str) -> tuple[Edge, Edge]:
        """Return the edges before and after a named edge, round the piece. Raises BadInput."""
        i = self.index(name)
        return self.edges[i - 1], self.edges[(i + 1) % len(self.edges)]

    def rises(self, name: str) -> bool:
        """Tell whether a named edge ends further up the body than it starts. Raises BadInput."""
        path = self.edge(name).path
        return self.up.dot(path.end - path.start) > 0.0

    def level(self, name: str) -> Level:
        """Return a named level. Raises BadInput."""
        what = f'piece "{self.name}" has no marked line'
        return named(self.levels, name, what, "The piece has no marked lines.")

    def dart(self, name: str) -> Dart:
        """Return a named dart. Raises BadInput."""
        what = f'piece "{self.name}" has no dart'
        return named(self.darts, name, what, "The piece has no darts.")

    def darts_on(self, edge: str) -> tuple[Dart, ...]:
        """Return the darts of an edge in order along it."""
        return tuple(sorted((d for d in self.darts if d.edge == edge), key=lambda d: d.a))

    def with_edge(self, edge: Edge) -> Piece:
        """Return the piece with the edge of the same name replaced (ends must still meet)."""
        i = self.index(edge.name)
        return replace(self, edges=(*self.edges[:i], edge, *self.edges[i + 1 :]))

    def points(self) -> dict[str, Vec]:
        """Return every named point of the stitching line, and point marks.

        Keys: a corner's name; "EDGE start", "EDGE end", "EDGE middle"; "EDGE notch N" (N from 1)
        and "EDGE notch NAME"; a point mark's name, a marked line's "NAME start" and "NAME end"; a
        dart's "NAME point".
        """
        found: dict[str, Vec] = {}
        for e in self.edges:
            if e.corner:
                found[e.corner] = e.path.start
            found[f"{e.name} start"] = e.path.start
            found[f"{e.name} end"] = e.path.end
            found[f"{e.name} middle"] = e.path.point_at(e.length / 2)
            for n, notch in enumerate(e.notches, start=1):
                at = e.path.point_at(notch.at)
                found[f"{e.name} notch {n}"] = at
                if notch.name:
                    found[f"{e.name} notch {notch.name}"] = at
        for m in self.marks:
            if m.at is not None:
                found[m.name] = m.at
            if m.path is not None:
                found |= {f"{m.name} start": m.path.start, f"{m.name} end": m.path.end}
        for d in self.darts:
            found[f"{d.name} point"] = d.point
        return found

    def named_points(self) -> tuple[str, ...]:
        """Return the names of `points()`, corners first; a named notch by its name only."""
        ends = {f"{e.name} {at}" for e in self.edges for at in ("start", "middle", "end")}
        numbered = {
            f"{e.name} notch {n}"
            for e in self.edges
            for n, notch in enumerate(e.notches, start=1)
            if notch.name
        }
        names = [n for n in self.points() if n not in numbered]
        return tuple(sorted(names, key=lambda n: n in ends))

    def point(self, name: str) -> Vec:
        """Return one of `points()`. Raises BadInput with the nearest known name."""
        found = self.points()
        if name in found:
            return found[name]
        raise not_known(f'piece "{self.name}" has no point "{ref_name(name)}"', name, found)


def _check_chain(piece: Piece) -> None:
    where = f'piece "{piece.name}"'
    if len(piece.edges) < 2:
        raise BadInput(where=where, what="has fewer than two edges", expected="a closed outline")
    for before, edge in zip((piece.edges[-1], *piece.edges), piece.edges, strict=False):
        gap = before.path.end.distance(edge.path.start)
        if gap > 10 * JOIN_MM:
            raise BadInput(
                where=where,
                what=(f'edge "{before.name}" ends ', gap, f' from where "{edge.name}" starts'),
                expected="edges that follow each other round the piece",
            )
    if signed_area(piece) <= 0:
        raise BadInput(
            where=where,
            what="its edges run clockwise, or the outline has no area",
            expected="edges listed counter-clockwise round the piece (y up)",
        )


def _check_names(piece: Piece) -> None:
    where = f'piece "{piece.name}"'
    names = [e.name for e in piece.edges]
    for name in names:
        if not name or "." in name or names.count(name) > 1:
            raise BadInput(
                where=where,
                what=f'the edge name "{name}" is empty, has a dot in it, or stands twice',
                expected="a different plain name for every edge",
            )
    for dart in piece.darts:
        length = piece.edge(dart.edge).length
        if not -1e-6 <= dart.a < dart.b <= length + 1e-6:
            raise BadInput(
                where=f'{where}, dart "{dart.name}"',
                what=("its legs end at ", dart.a, " and ", dart.b, " of an edge of ", length),
                expected="two different places on the edge, the first one first",
            )


def signed_area(piece: Piece) -> float:
    """Return the area inside the stitching line in mm2, positive when counter-clockwise."""
    return polygon_area(piece.outline.flatten(1.0))
