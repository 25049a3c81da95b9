"""An edge's line: straight, an arc of a given depth, or a fair curve through points."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from clothwright.errors import BadInput
from clothwright.geometry.fit import arc, smooth_through
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.segment import Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.intake.typed.edges import CurveEnd, Depth, EdgeLine, TypedEdge
from clothwright.intake.typed.lines import Lengths, as_typed, known_name
from clothwright.units import Unit
from clothwright.words import show_length

LEAST_LEAN = 0.03
"""Cosine below which a line stands square to the way the curve goes: two ways are then alike."""


@dataclass(slots=True)
class Lines:
    """The lines of edges, made as they are asked for; a curve may follow its neighbour's line.

    edges: by name. at: the points. inside_left: True when the piece lies to the left of an edge as
    it was typed, by its name. mm: what each measure counts as.
    """

    edges: Mapping[str, TypedEdge]
    at: Mapping[str, Vec]
    inside_left: Mapping[str, bool]
    unit: Unit
    mm: Lengths = as_typed
    made: dict[str, Path] = field(default_factory=dict)
    busy: list[str] = field(default_factory=list)

    def line(self, name: str) -> Path:
        """Return an edge's line as typed, from its first point to its last. Raises BadInput."""
        if name not in self.made:
            edge = self.edges[name]
            if name in self.busy:
                raise edge.note.fault(
                    f'"{name}" and "{self.busy[-1]}" are each to follow the other',
                    "square, smooth or level said for one of the two only",
                )
            self.busy.append(name)
            parts: list[Path] = []
            for n, step in enumerate(edge.steps):
                parts.append(self._step(edge, step, n, parts))
            self.busy.pop()
            self.made[name] = join_all(parts)
        return self.made[name]

    def _step(self, edge: TypedEdge, step: EdgeLine, n: int, before: list[Path]) -> Path:
        start, end = self.at[step.start], self.at[step.end]
        if start.distance(end) < 0.05:
            raise edge.note.fault(
                f"{step.start} and {step.end} are at one place", "two points apart"
            )
        if not step.curved:
            return Path((Line(start, end),))
        lone = len(step.depths) == 1 and step.depths[0].at is None
        if lone and not step.via and not step.runs:
            return self._arc(edge, step.depths[0], start, end)
        knots = self._knots(edge, step, start, end)
        first, last = self._ends(edge, step, n, before, knots)
        if len(knots) == 2 and first is None and last is None:
            raise edge.note.fault(
                f"the curve from {step.start} to {step.end} is not measured",
                '"curve 6 mm out at the middle", "through P", or "square to" a neighbour',
                "measuring how far its middle stands off the straight line; or say: straight",
            )
        return smooth_through(knots, first, last)

    def _side(self, edge: TypedEdge, chord: Vec, depth: Depth) -> Vec:
        """Return the way off the straight line that is meant, length 1."""
        left = chord.unit.perp
        return left if self.inside_left[edge.name] is not depth.out else -left

    def _arc(self, edge: TypedEdge, depth: Depth, start: Vec, end: Vec) -> Path:
        """Return the arc whose middle stands off its chord by so much: R = (c² + 4 s²) / (8 s).

        Source: Euclid III 35 (the parts of two chords that cross make equal rectangles).
        """
        chord, sagitta = end - start, self.mm(depth.measure)
        c = chord.norm
        if sagitta < 1e-3:
            return Path((Line(start, end),))
        if sagitta > c / 2:
            raise edge.note.fault(
                f"a curve {show_length(sagitta, self.unit)} deep on a straight line of "
                f"{show_length(c, self.unit)} is more than half a circle",
                "less than half of that line",
                "points measured on the curve: through P and Q",
            )
        radius = (c * c + 4 * sagitta * sagitta) / (8 * sagitta)
        side = self._side(edge, chord, depth)
        centre = start + chord / 2 + side * (sagitta - radius)
        half_deg = math.degrees(2 * math.atan2(2 * sagitta, c))
        sweep = 2 * half_deg * (-1 if side.dot(chord.perp) > 0 else 1)
        made = arc(centre, radius, (start - centre).angle_deg, sweep)
        return made.with_ends(start, end)

    def _knots(self, edge: TypedEdge, step: EdgeLine, start: Vec, end: Vec) -> list[Vec]:
        """Return the points a curve goes through, in order along the straight line for depths."""
        chord = end - start
        inner = [self.at[p] for p in step.via]
        for depth in step.depths:
            far = chord.norm / 2
            if depth.at is not None:
                far = self.mm(depth.at)
                far = chord.norm - far if depth.end == step.end else far
            if not 0 < far < chord.norm:
                raise edge.note.fault(
                    f"the straight line from {step.start} to {step.end} is only "
                    f"{show_length(chord.norm, self.unit)} long",
                    "a place between its ends",
                )
            side = self._side(edge, chord, depth)
            inner.append(start + chord.unit * far + side * self.mm(depth.measure))
        if step.depths:
            inner.sort(key=lambda p: (p - start).dot(chord))
        knots = [start, *inner, end]
        if any(p.distance(q) < JOIN_MM for p, q in pairwise(knots)):
            raise edge.note.fault("two points of the curve are at one place", "points apart")
        return knots

    def _ends(
        self, edge: TypedEdge, step: EdgeLine, n: int, before: list[Path], knots: list[Vec]
    ) -> tuple[Vec | None, Vec | None]:
        """Return the directions of travel at both ends, None where nothing is said."""
        first = last = None
        for run in step.runs:
            at, other = self._where(edge, run, step, n)
            own = None
            if other is None and at == step.start and before:
                own = before[-1].end_tangent
            line = self._direction(run, other, at, own)
            chord = knots[1] - knots[0] if at == step.start else knots[-1] - knots[-2]
            lean = line.dot(chord.unit)
            if abs(lean) < LEAST_LEAN:
                raise run.note.fault(
                    f"{run.how} at {at} may go either way, as the curve's points lie",
                    "a further point on the curve, near to " + at,
                )
            way = line if lean > 0 else -line
            first, last = (way, last) if at == step.start else (first, way)
        return first, last

    def _where(
        self, edge: TypedEdge, run: CurveEnd, step: EdgeLine, n: int
    ) -> tuple[str, str | None]:
        """Return the end that is meant, and the edge followed there (None: none, or itself)."""
        to = run.to and known_name(run.note, self.edges, run.to, "edge")
        if to == edge.name:
            raise run.note.fault("an edge cannot follow itself", "the name of a neighbour")
        ends = [p for p in (step.start, step.end) if not run.at or p == run.at]
        if to:
            ends = [p for p in ends if p in (self.edges[to].start, self.edges[to].end)]
            if len(ends) != 1:
                raise run.note.fault(
                    f'"{to}" does not meet this line at one of its ends',
                    f"a neighbour that ends at {step.start} or {step.end}",
                )
            return ends[0], to
        at = ends[0]
        inner = (at == step.start and n > 0) or (at == step.end and n < len(edge.steps) - 1)
        if run.how in ("level", "upright") or inner:
            return at, None
        near = [k for k, e in self.edges.items() if k != edge.name and at in (e.start, e.end)]
        if len(near) != 1:
            raise run.note.fault(f"no other edge ends at {at}", "an edge said above or below")
        return at, near[0]

    def _direction(self, run: CurveEnd, other: str | None, at: str, own: Vec | None) -> Vec:
        if run.how == "level":
            return Vec(1.0, 0.0)
        if run.how == "upright":
            return Vec(0.0, 1.0)
        if other is not None:
            path = self.line(other)
            own = path.start_tangent if self.edges[other].start == at else path.end_tangent
        if own is None:
            raise run.note.fault(
                f"nothing is known of the line at {at} that this one is to follow",
                "square or smooth where a line ends that was said before",
            )
        return own.perp if run.how == "square" else own


def line_of(lines: Lines, name: str) -> tuple[Path | None, BadInput | None]:
    """Return an edge's line, or why there is none."""
    try:
        return lines.line(name), None
    except BadInput as error:
        lines.busy.clear()
        return None, error
