"""Edges of pieces as they are sewn: darts closed, laid end to end over the seams between them.

What changes share that draft one piece from the edges of others. All lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.intake import move_intake
from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import mouth_middle
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.pattern.whole import moved
from clothwright.words import edge_name

REACH_MM = 40.0
"""mm: how much of a seam between two runs tells how the one is laid to the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SewnRun:
    """Edges of a piece that follow each other, counter-clockwise; not all of them.

    piece: with the darts that open on them closed; laid to the run before it where they are joined.
    turned: it was turned over for that.
    """

    piece: Piece
    names: tuple[str, ...]
    turned: bool = False

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The edges themselves, in order."""
        return tuple(self.piece.edge(n) for n in self.names)

    @property
    def before(self) -> Edge:
        """The edge that ends where the run starts."""
        return self.piece.neighbours(self.names[0])[0]

    @property
    def after(self) -> Edge:
        """The edge that starts where the run ends."""
        return self.piece.neighbours(self.names[-1])[1]

    @property
    def path(self) -> Path:
        """The stitching line of the run."""
        return join_all([e.path for e in self.edges])


def edge_runs(pattern: Pattern, edges: Sequence[str]) -> tuple[SewnRun, ...]:
    """Return what "PIECE.EDGE" names as runs, in the order of their first mention, darts closed.

    Raises BadInput for unknown names or none, CannotDo for a fold, or where no edge of a piece is
    left out, or a dart cannot be closed.
    """
    chosen: dict[str, list[str]] = {}
    for text in dict.fromkeys(edges):
        ref = parse_edge(text)
        if pattern.edge(ref).role is Role.FOLD:
            raise CannotDo(
                what=f"nothing can be sewn to {edge_name(ref.piece, ref.edge)}",
                why="it is a fold",
                nearest="another edge",
            )
        chosen.setdefault(ref.piece, []).append(ref.edge)
    if not chosen:
        raise BadInput(what="no edge is named", expected="one edge or more")
    return tuple(
        SewnRun(piece=_closed(pattern.piece(name), names), names=names)
        for name, of in chosen.items()
        for names in _following(pattern.piece(name), of)
    )


def _following(piece: Piece, names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """Yield some edges of a piece in sets that follow each other; the first named one first."""
    n = len(piece.edges)
    chosen = {piece.index(name) for name in names}
    if len(chosen) == n:
        raise CannotDo(
            what=f"every edge of {piece.name} is named",
            why="one has to be left out for a strip to begin and to end at",
            nearest="all edges but one",
        )
    starts = [piece.index(name) for name in names]
    for i in starts:
        while (i - 1) % n in chosen:
            i = (i - 1) % n  # noqa: PLW2901
        run = []
        while i in chosen:
            chosen.remove(i)
            run.append(piece.edges[i].name)
            i = (i + 1) % n  # noqa: PLW2901
        if run:
            yield tuple(run)


# --- darts ----------------------------------------------------------------------------------------


def _closed(piece: Piece, names: Sequence[str]) -> Piece:
    """Return a piece with the darts closed that open on some of its edges."""
    for dart in piece.darts:
        if dart.edge in names:
            piece = without_dart(piece, dart.name, names)
    return piece


def without_dart(piece: Piece, name: str, away: Sequence[str]) -> Piece:
    """Return a piece with a dart closed and gone; what that opens is filled, away from some edges.

    The piece is good for what is drafted along `away`, not to be cut. Raises CannotDo.
    """
    dart = piece.dart(name)
    for edge, at in _places(piece, dart, away):
        try:
            shut = move_intake(piece, dart, edge=edge, at=at).piece
        except ClothwrightError:
            continue
        return replace(shut, darts=tuple(d for d in shut.darts if d.name != name))
    raise CannotDo(
        what=f'the dart "{name}" of {piece.name} cannot be closed',
        why="there is no other edge that the opening could go to",
        nearest="to move the dart to another edge first",
    )


def _places(piece: Piece, dart: Dart, away: Sequence[str]) -> Iterator[tuple[Edge, float]]:
    """Yield places that a dart may be turned to: where it points, then the middles, far ones first.

    The edges beside those of `away` come last.
    """
    mouth = mouth_middle(piece, dart)
    beside = {n.name for name in away for n in piece.neighbours(name)}
    edges = [e for e in piece.edges if e.name not in away and e.role is not Role.FOLD]
    on = [
        (c.at_b, e, c.at_a)
        for e in edges
        for c in line_crossings(e.path, dart.point, dart.point - mouth)
        if c.at_b > 1.0
    ]
    found = [(e, at) for _, e, at in sorted(on, key=lambda o: o[0])[:1]]
    found += [
        (e, e.length * part)
        for e in sorted(edges, key=lambda e: -e.path.middle.distance(mouth))
        for part in (0.5, 0.25, 0.75)
    ]
    yield from sorted(found, key=lambda f: f[0].name in beside)


# --- where runs meet ------------------------------------------------------------------------------


class RunEnd(NamedTuple):
    """An end of a run: its number, whether its last end as it lies, the edge beside in a seam."""

    run: int
    after: bool
    ref: EdgeRef


class RunJoint(NamedTuple):
    """Two ends of runs that a seam of the pattern joins; of a centre seam both are the same."""

    seam: Seam
    a: RunEnd
    b: RunEnd


def run_joints(pattern: Pattern, runs: Sequence[SewnRun]) -> Iterator[RunJoint]:
    """Yield where seams of the pattern join the edges beside the runs, just at the runs' ends."""
    for seam in pattern.seams:
        if seam.kind != "plain":
            continue
        for at_start in (True, False):
            refs = (side[0 if at_start else -1] for side in (seam.a, seam.b))
            ends = [_end_at(runs, ref, at_start=at_start) for ref in refs]
            if ends[0] is not None and ends[1] is not None:
                yield RunJoint(seam, ends[0], ends[1])


def _end_at(runs: Sequence[SewnRun], ref: EdgeRef, *, at_start: bool) -> RunEnd | None:
    """Return the end of a run that lies where a side of a seam starts, or ends."""
    for i, run in enumerate(runs):
        after = (at_start != ref.reversed) != run.turned
        beside = run.after if after else run.before
        if (run.piece.name, beside.name) == (ref.piece, ref.edge):
            return RunEnd(i, after, ref)
    return None


def laid_together(
    pattern: Pattern, runs: Sequence[SewnRun], lap: float = 0.0
) -> tuple[SewnRun, ...]:
    """Return runs in the order they follow each other as sewn, laid on to the first one's drawing.

    lap: mm by which they overlap at the far end of the seam between them. Round a ring, such as an
    armhole, the longest seam stays open. A piece that is drawn for the
    other half is turned over. Raises CannotDo where no seam joins a run to the others.
    """
    joints = [j for j in run_joints(pattern, runs) if j.a.run != j.b.run]
    joints.sort(key=lambda j: pattern.edge(j.a.ref).length)
    chain, left = {0: runs[0]}, set(range(1, len(runs)))
    order = [0]
    while left:
        found = next((f for f in _next_to(order, left, joints)), None)
        if found is None:
            name = runs[min(left)].piece.name
            raise CannotDo(
                what=f"one piece cannot run along both {runs[0].piece.name} and {name}",
                why="no seam joins them where these edges end",
                nearest="a piece for each of them",
            )
        at, new = found
        chain[new.run] = _laid(chain[at.run], at, runs[new.run], new, lap)
        left.remove(new.run)
        order = [*order, new.run] if at.after else [new.run, *order]
    return tuple(chain[i] for i in order)


def _next_to(
    order: Sequence[int], left: set[int], joints: Sequence[RunJoint]
) -> Iterator[tuple[RunEnd, RunEnd]]:
    """Yield a free end of what is laid, and the end of another run that is joined to it."""
    for joint in joints:
        for one, two in ((joint.a, joint.b), (joint.b, joint.a)):
            if two.run in left and one.run == (order[-1] if one.after else order[0]):
                yield one, two


def _laid(still: SewnRun, at: RunEnd, run: SewnRun, end: RunEnd, lap: float) -> SewnRun:
    """Return a run moved so that its end lies on the other's, and the seam beside it along it.

    still: as laid already. lap: mm by which it lies over it at the far end of that seam.
    """
    if at.after == end.after:
        over = moved(run.piece, reflection((0.0, 0.0), (0.0, 1.0)))
        run = SewnRun(piece=over, names=run.names[::-1], turned=True)
    corner, along = _corner(still, after=at.after)
    own, way = _corner(run, after=not at.after)
    long = still.after.length if at.after else still.before.length
    angle = math.degrees(2 * math.asin(min(1.0, lap / (2 * long)))) * (1 if at.after else -1)
    turn = rotation_deg(turn_between_deg(way, along) + angle, own)
    return replace(run, piece=moved(run.piece, turn.then(translation(corner - own))))


def _corner(run: SewnRun, *, after: bool) -> tuple[Vec, Vec]:
    """Return an end of a run, and which way the edge beside it goes from there."""
    path = run.after.path if after else run.before.path.reversed()
    return path.start, path.point_at(min(REACH_MM, path.length)) - path.start


def main_run(runs: Sequence[SewnRun], name: str) -> SewnRun:
    """Return the run whose grain is that of all: that piece's, unless only another has a fold.

    name: of the piece that the others are laid to.
    """
    ends = ((runs[0], runs[0].before), (runs[-1], runs[-1].after))
    folds = [run for run, beside in ends if beside.role is Role.FOLD]
    own = next(r for r in runs if r.piece.name == name)
    return own if own in folds or not folds else folds[0]


def joined_path(runs: Sequence[SewnRun]) -> Path:
    """Return the stitching lines of runs that are laid together as one path."""
    out = runs[0].path
    for run in runs[1:]:
        gap = out.end.distance(run.path.start)
        out = out.joined(run.path.with_ends(start=out.end) if gap > JOIN_MM / 10 else run.path)
    return out
