"""A collar on the neck as it is sewn: what is asked, the flat one, the under one. In mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.changes.bands_round import closing_piece
from clothwright.changes.cut_out import with_inside_of
from clothwright.changes.drafted import refs_along, runs_back
from clothwright.changes.drawn_in import drawn_in
from clothwright.changes.runs import (
    SewnRun,
    edge_runs,
    joined_path,
    laid_together,
    main_run,
)
from clothwright.changes.strips import rounded, strip_along, strip_piece
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform
from clothwright.pattern.parts import front_or_back
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param

COLLAR, UNDER, STAND = "collar", "under collar", "collar stand"
NECK, FRONT, OUTER, MIDDLE = "neck", "front end", "outer edge", "middle"


KINDS = {
    "flat": "flat: it lies on the garment",
    "stand": "upright: a band",
    "shirt": "a stand, and a collar sewn to it that falls over it",
}
ENDS = {"square": "cut straight", "round": "rounded off"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftCollar:
    """Parameters of `draft-collar`; lengths in mm."""

    edges: tuple[str, ...] = param(
        "edges", "of all the pieces that it goes round", label="Which neck edges"
    )
    closes: str = param(
        "piece",
        "left out, where there is no fold, or on the front",
        default="",
        label="On which piece it opens",
    )
    style: str = param("choice", "", default="flat", choices=KINDS, label="What kind of collar")
    depth: float = param(
        "length", "in the middle, without the stand", default=63.5, label="How deep", least=0.0
    )
    stand: float = param(
        "length",
        "of an upright band, or under a shirt collar",
        default=31.75,
        label="How high it stands",
        least=0.0,
    )
    rise: float = param(
        "length",
        "the stand's front curves up by it, closer to the neck",
        default=12.7,
        label="How much the front rises",
        least=0.0,
    )
    lap: float = param(
        "length",
        "of a flat collar: its pieces overlap at the shoulder tip, and it rolls a little",
        default=12.7,
        label="Overlap at the shoulder",
        least=0.0,
    )
    front: float | None = param(
        "length",
        "a shirt collar begins so far from the stand's end; left out: at the notch for the centre",
        default=None,
        label="What the stand laps over in front",
        least=0.0,
    )
    point: float = param(
        "length",
        "of a shirt collar, beyond the neck",
        default=25.4,
        label="How far the points reach",
        least=0.0,
    )
    ends: str = param("choice", "", default="square", choices=ENDS, label="Its front ends")
    turn: float = param(
        "length",
        "at its outer edge; more for thick cloth",
        default=3.175,
        label="How much smaller the under collar is",
        least=0.0,
    )
    allowance: float = param(
        "length", "all round it", default=9.525, label="Its allowance", least=0.0
    )
    material: str = param("text", "what it is cut from", default="shell", label="From which cloth")


@dataclass(frozen=True, slots=True, kw_only=True)
class Neck:
    """The neck as it is sewn, from the middle of the collar to where it opens.

    loose: the runs as drawn; runs: laid together. first: it is the first run that begins in the
    middle. lap: how much the shoulders overlap at their tips. main: whose grain it has.
    """

    loose: tuple[SewnRun, ...]
    runs: tuple[SewnRun, ...]
    first: bool
    lap: float
    main: Piece

    @property
    def path(self) -> Path:
        """Its line, from the middle on."""
        line = joined_path(self.runs)
        return line if self.first else line.reversed()

    @property
    def length(self) -> float:
        """How long it is, mm."""
        return self.path.length

    @property
    def beyond_centre(self) -> float:
        """How far it runs on beyond a notch called centre, near where it opens, mm; 0 without."""
        return min(self._centres.values(), default=0.0)

    @property
    def centre(self) -> str:
        """What that notch is called, "" without."""
        return min(self._centres, key=lambda name: self._centres[name], default="")

    @property
    def _centres(self) -> dict[str, float]:
        path = self.path
        marks = (
            (n.name, e.path.point_at(n.at))
            for r in self.runs
            for e in r.edges
            for n in e.notches
            if n.name.lower().startswith("centre")
        )
        past = {name: path.length - path.nearest(at)[0] for name, at in marks}
        return {name: by for name, by in past.items() if 0.0 < by < path.length / 2}

    @property
    def move(self) -> Transform:
        """From a drawing with the middle at (0, 0), the opening to the right, to where it lies."""
        start, up = self.path.start, self.main.up
        along, chord = -up.perp, self.path.end - start
        if abs(along.dot(chord)) < abs(up.dot(chord)) + JOIN_MM:
            along = chord.unit
            up = -along.perp if self.first else along.perp
        along = along if along.dot(chord) > 0.0 else -along
        return Transform(along.x, along.y, up.x, up.y, start.x, start.y)

    @property
    def allowance(self) -> float:
        """The widest allowance of its edges, mm."""
        return max(e.allowance for run in self.runs for e in run.edges)

    def pairs(self, piece: Piece) -> list[tuple[str, EdgeRef]]:
        """Return the edges of a collar along the neck, each with the edge it is sewn to."""
        refs = [EdgeRef(r.piece.name, n, r.turned) for r in self.runs for n in r.names]
        if piece.name == STAND:
            return [(NECK, r) for r in refs]
        return [(e.name, r) for e, r in zip(piece.edges, refs, strict=False)]

    def seam(self, piece: Piece, name: str, *, whole: bool) -> Seam:
        """Return the seam of a collar to the neck. whole: its neck edge is one."""
        back = runs_back(self.runs)
        b = [EdgeRef(piece.name, e, back) for e, _ in self.pairs(piece)]
        b = b[::-1] if back else b
        if whole:
            in_middle = piece.edge(NECK).path.start.is_near(self.path.start, 0.1)
            b = [EdgeRef(piece.name, NECK, in_middle != (self.first != back))]
        return Seam(name=name, a=refs_along(self.runs), b=tuple(b))


def neck_of(pattern: Pattern, edges: Sequence[str], closes: str, lap: float) -> Neck:
    """Return the neck, from a fold at one end only on, else open on a front, or as is named.

    lap: mm at the shoulder tips. Raises what `edge_runs`, `laid_together` and `closing_piece` do.
    """
    loose = edge_runs(pattern, edges)
    runs = laid_together(pattern, loose, lap=lap)
    fronts = [r.piece.name for r in loose if front_or_back(pattern.piece(r.piece.name)) == "front"]
    last = closing_piece(loose, closes or (fronts[0] if fronts else ""))
    folds = runs[0].before.role is Role.FOLD, runs[-1].after.role is Role.FOLD
    at_end = runs[-1].piece.name == last if len(runs) > 1 else not folds[1]
    if folds[0] != folds[1] and not closes:
        at_end = folds[0]
    main = main_run(runs, loose[0].piece.name).piece
    return Neck(loose=loose, runs=runs, first=at_end, lap=lap, main=main)


# --- flat -----------------------------------------------------------------------------------------


def flat_piece(pattern: Pattern, neck: Neck, asked: DraftCollar) -> Piece:
    """Return a collar that lies on the pieces: the parallel of the neck."""
    strip = strip_along(pattern, neck.loose, asked.depth, lap=neck.lap)
    own = strip_piece(strip, COLLAR, allowance=asked.allowance, material=asked.material)
    *necks, after, outer, before = own.edges
    ends = [FRONT, MIDDLE] if neck.first else [MIDDLE, FRONT]
    named = [
        *necks,
        replace(after, name=ends[0]),
        replace(outer, name=OUTER),
        replace(before, name=ends[1]),
    ]
    fold = any(e.name == MIDDLE and e.role is Role.FOLD for e in named)
    edges = tuple(_collar_edge(e, asked.allowance) for e in named)
    cut = Cut(material=asked.material, how="fold" if fold else "pair")
    middle = strip.runs[0 if neck.first else -1].piece
    piece = with_inside_of(replace(own, edges=edges), middle, strip.inner)
    return replace(piece, cuts=(cut,), levels=(), marks=())


def _collar_edge(edge: Edge, allowance: float) -> Edge:
    if edge.role is Role.FOLD and edge.name == MIDDLE:
        return edge
    if edge.name not in (FRONT, OUTER, MIDDLE):
        return edge if edge.allowance else replace(edge, allowance=allowance)
    notches = edge.notches if edge.name not in (FRONT, MIDDLE) else ()
    return replace(edge, role=Role.SEAM, allowance=allowance, notches=notches)


def rounded_ends(piece: Piece, radius: float) -> Piece:
    """Return a collar with the corner between front end and outer edge rounded off (radius: mm)."""
    front, outer = piece.edge(FRONT), piece.edge(OUTER)
    ahead = _front_first(piece)
    one, two = (front, outer) if ahead else (outer, front)
    line = rounded(one.path.joined(two.path), radius)
    k = len(front.path.segments)
    segments = line.segments
    parts = (segments[:k], segments[k:]) if ahead else (segments[:-k], segments[-k:])
    paths = {one.name: Path(parts[0]), two.name: Path(parts[1])}
    edges = tuple(replace(e, path=paths.get(e.name, e.path)) for e in piece.edges)
    return replace(piece, edges=edges)


def _front_first(piece: Piece) -> bool:
    """Tell whether the front end comes just before the outer edge, counter-clockwise."""
    return piece.neighbours(OUTER)[0].name == FRONT


def edge_refs(piece: Piece) -> tuple[EdgeRef, ...]:
    """Return a collar's front end and outer edge as a side of a seam, from the neck on."""
    back = not _front_first(piece)
    return tuple(EdgeRef(piece.name, n, back) for n in (FRONT, OUTER))


def from_middle(piece: Piece, name: str) -> EdgeRef:
    """Return an edge that ends at the middle of a collar, as it is sewn from there."""
    _, after = piece.neighbours(name)
    return EdgeRef(piece.name, name, reversed=after.name == MIDDLE)


def under_piece(collar: Piece, turn: float) -> Piece:
    """Return the under collar: the same neck, its outer edge inside by the turn of cloth (mm)."""
    what = f"the under collar cannot be so much smaller than {collar.name}"
    made = replace(collar, name=UNDER)
    if turn <= 0.0:
        return made
    made = drawn_in(made, (OUTER,), turn, what=what, less="a smaller difference")
    front, outer = made.edge(FRONT), made.edge(OUTER)
    if not front.path.is_straight or outer.length <= turn:
        return made
    ahead = _front_first(made)
    line = outer.path.between(turn, outer.length) if ahead else None
    line = line or outer.path.between(0.0, outer.length - turn)
    corner = line.start if ahead else line.end
    if corner.distance(front.path.end if ahead else front.path.start) > 2 * turn:
        return made
    end = polyline((front.path.start, corner) if ahead else (corner, front.path.end))
    paths = {FRONT: end, OUTER: line}
    edges = tuple(replace(e, path=paths.get(e.name, e.path)) for e in made.edges)
    return replace(made, edges=edges)
