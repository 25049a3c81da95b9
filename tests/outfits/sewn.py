"""Both edges of every seam on the cloth, from the pieces as drawn and a lay as plain data.

Placements come from the documented JSON of a lay (docs/lay-json.md) and lines from the control
points of the drawn pieces; curves, lengths, darts and moves are reckoned here with numpy alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef

Points = NDArray[np.float64]
PARTS = 600
"""Straight bits that stand for one curve; by arc length that is good to 0.001 mm."""


def drawn(piece: Piece, edge: str) -> Points:
    """Return an edge's stitching line as points (n, 2), mm, from its control points."""
    rows: list[Points] = []
    for segment in piece.edge(edge).path.segments:
        c = np.array([tuple(p) for p in segment.controls()], float)
        t = np.linspace(0.0, 1.0, 2 if len(c) == 2 else PARTS)[:, None]
        if len(c) == 2:
            rows.append(c[0] * (1 - t) + c[1] * t)
        else:
            u = 1 - t
            rows.append(u**3 * c[0] + 3 * u * u * t * c[1] + 3 * u * t * t * c[2] + t**3 * c[3])
    line = np.vstack(rows)
    keep = np.r_[True, np.hypot(*np.diff(line, axis=0).T) > 1e-9]
    out: Points = line[keep]
    return out


@dataclass(frozen=True)
class Run:
    """One edge of a side as it lies on the cloth: points by length, from `start` to `end` mm.

    Lengths are net: darts are folded out. up: where the piece's top points on the cloth.
    """

    shape: str
    start: float
    end: float
    at: Points
    line: Points
    up: Points
    darts: tuple[tuple[str, float], ...]
    notches: tuple[tuple[str, float], ...]
    cloth: str


@dataclass(frozen=True)
class Edge:
    """One side of a seam on the cloth."""

    runs: tuple[Run, ...]

    @property
    def length(self) -> float:
        """Net length, mm."""
        return self.runs[-1].end

    def places(self, net: Points) -> tuple[Points, Points, Points]:
        """Return points, directions of travel and tops (n, 2) at net lengths."""
        out = [np.empty((len(net), 2)) for _ in range(3)]
        which = np.zeros(len(net), int)
        for k, run in enumerate(self.runs):
            which[net > run.start - 1e-9 if k == 0 else net > run.start + 1e-9] = k
        for k, run in enumerate(self.runs):
            mine = which == k
            if not mine.any():
                continue
            s = np.clip(net[mine], run.start, run.end)
            cell = np.clip(np.searchsorted(run.at, s, side="left") - 1, 0, len(run.at) - 2)
            while (run.at[cell + 1] - run.at[cell] < 1e-9).any():
                cell = np.where(run.at[cell + 1] - run.at[cell] < 1e-9, cell - 1, cell)
            step = run.line[cell + 1] - run.line[cell]
            length = np.hypot(*step.T)[:, None]
            share = ((s - run.at[cell]) / (run.at[cell + 1] - run.at[cell]))[:, None]
            out[0][mine] = run.line[cell] + share * step
            out[1][mine] = step / length
            out[2][mine] = run.up
        return out[0], out[1], out[2]

    @property
    def knots(self) -> dict[str, float]:
        """Named places where both sides are sewn together: notches, and joints of two edges."""
        return {name: float(at) for run in self.runs for name, at in run.notches if name}

    @property
    def darts(self) -> tuple[tuple[str, float], ...]:
        """Darts by name, with the net length at which each is sewn shut."""
        return tuple(d for run in self.runs for d in run.darts)


def edge_on_cloth(
    pattern: Pattern,
    refs: Sequence[EdgeRef],
    halves: Sequence[tuple[Mapping[str, object], bool]],
) -> Edge:
    """Return one side of a seam: its edges one after another, each with its placement."""
    runs: list[Run] = []
    total = 0.0
    for k, (ref, (placement, twin)) in enumerate(zip(refs, halves, strict=True)):
        run = _run(pattern.piece(ref.piece), ref, placement, twin, total, first=k == 0)
        runs.append(run)
        total = run.end
    return Edge(tuple(runs))


def _run(
    piece: Piece,
    ref: EdgeRef,
    placement: Mapping[str, object],
    twin: bool,
    start: float,
    *,
    first: bool,
) -> Run:
    line = drawn(piece, ref.edge)
    gross = np.r_[0.0, np.cumsum(np.hypot(*np.diff(line, axis=0).T))]
    darts = sorted((d.a, d.b, d.name) for d in piece.darts if d.edge == ref.edge)
    for a, b, _ in darts:  # both ends of a dart's mouth become points of the line
        for at in (a, b):
            extra = np.array([np.interp(at, gross, line[:, k]) for k in (0, 1)])
            spot = int(np.searchsorted(gross, at))
            line, gross = np.insert(line, spot, extra, axis=0), np.insert(gross, spot, at)
    keep = np.ones(len(gross), bool)
    for a, b, _ in darts:
        keep &= (gross <= a) | (gross >= b)

    def net(at: float) -> float:
        return at - sum(min(at, b) - a for a, b, _ in darts if at > a)

    lengths = np.array([net(v) for v in gross[keep]])
    line = line[keep]
    total = net(gross[-1])
    notches = [(n.name, net(n.at)) for n in piece.edge(ref.edge).notches]
    shut = [(name, net(a)) for a, _, name in darts]
    names = [e.name for e in piece.edges]
    k = names.index(ref.edge)
    corner = piece.edges[k].corner
    if ref.reversed:
        lengths, line = total - lengths[::-1], line[::-1]
        notches = [(n, total - at) for n, at in notches]
        shut = [(n, total - at) for n, at in shut]
        corner = piece.edges[(k + 1) % len(names)].corner
    if not first:
        notches.append((corner, 0.0))
    laid, up = on_cloth(piece, line, placement, twin)
    return Run(
        shape=str(placement["shape"]),
        start=start,
        end=start + total,
        at=lengths + start,
        line=laid,
        up=up,
        darts=tuple((n, float(at + start)) for n, at in shut),
        notches=tuple((n, at + start) for n, at in notches),
        cloth=str(placement["cloth"]),
    )


def on_cloth(
    piece: Piece, line: Points, placement: Mapping[str, object], twin: bool
) -> tuple[Points, Points]:
    """Return points of a piece as drawn (or of its mirrored half) on the cloth, and its top.

    The grain arrow is laid along +x, the middle of the drawn stitching line's box on the origin;
    turned over is y to -y; then turned, then moved.
    """
    arrow = piece.grain
    assert arrow is not None
    way = np.subtract(tuple(arrow.end), tuple(arrow.start))
    way = way / np.hypot(*way)
    along = np.array([[way[0], way[1]], [-way[1], way[0]]])
    whole = np.vstack([drawn(piece, e.name) for e in piece.edges]) @ along.T
    middle = (whole.min(axis=0) + whole.max(axis=0)) / 2
    if twin:
        fold = next(e for e in piece.edges if e.role.value == "fold")
        a, b = (np.array(tuple(p)) for p in (fold.path.start, fold.path.end))
        n = (b - a) / np.hypot(*(b - a))
        line = a + 2 * np.outer((line - a) @ n, n) - (line - a)
    frame = line @ along.T - middle
    if placement["flipped"]:
        frame = frame * [1.0, -1.0]
    turn = np.radians(float(str(placement["turn_deg"])))
    c, s = np.cos(turn), np.sin(turn)
    moved = frame @ np.array([[c, s], [-s, c]]) + [placement["x_mm"], placement["y_mm"]]
    return moved, np.array([c, s])


@dataclass(frozen=True)
class Sewn:
    """A seam on one half of the body: both edges on one cloth."""

    seam: Seam
    half: int
    a: Edge
    b: Edge
    cloth: str

    @property
    def shapes(self) -> tuple[str, ...]:
        """The copies joined, side a then side b."""
        return tuple(r.shape for side in (self.a, self.b) for r in side.runs)

    def _marks(self) -> tuple[list[float], list[float]]:
        own, its = self.a.knots, self.b.knots
        rows = sorted((own[n], its[n]) for n in own if n in its)
        xs = [0.0, *(x for x, _ in rows), self.a.length]
        return xs, [0.0, *(y for _, y in rows), self.b.length]

    @property
    def b_darts(self) -> tuple[tuple[str, float], ...]:
        """Darts of side b, by the place of side a at which they are sewn shut."""
        xs, ys = self._marks()
        return tuple((name, float(np.interp(at, ys, xs))) for name, at in self.b.darts)

    def beside(self, net: Points) -> Points:
        """Return where places of side a come to lie on side b: named places on named places."""
        xs, ys = self._marks()
        out: Points = np.interp(net, xs, ys)
        return out


def sewn(pattern: Pattern, lay: Mapping[str, object]) -> tuple[Sewn, ...]:
    """Return every plain seam, cap and patch of a lay (plain data) whose sides lie on one cloth."""
    placements = lay["placements"]
    assert isinstance(placements, list)
    found: list[Sewn] = []
    for seam in pattern.seams:
        if seam.kind not in ("plain", "cap"):
            continue
        lead = seam.a[0].reversed
        for half in (0, 1):
            sides = []
            for refs, mine in ((seam.a, True), (seam.b, False)):
                rows = []
                for ref in refs:
                    same = (ref.reversed == lead) is mine
                    rows.append(
                        _copy(pattern.piece(ref.piece), placements, half if same else 1 - half)
                    )
                sides.append(rows)
            if any(r is None for rows in sides for r in rows):
                continue
            cloths = {str(p["cloth"]) for rows in sides for p, _ in rows}
            if len(cloths) == 1:
                a, b = (
                    edge_on_cloth(pattern, refs, rows)
                    for refs, rows in zip((seam.a, seam.b), sides, strict=True)
                )
                found.append(Sewn(seam, half, a, b, cloths.pop()))
    return (*found, *patches(pattern, placements))


def patches(pattern: Pattern, placements: Sequence[Mapping[str, object]]) -> Iterator[Sewn]:
    """Yield every piece no seam holds, all round, on the piece that has its outline marked."""
    held = {r.piece for s in pattern.seams if s.kind in ("plain", "cap") for r in (*s.a, *s.b)}
    for patch in (p for p in pattern.pieces if p.name not in held):
        corners = np.array([tuple(e.path.start) for e in patch.edges])
        for on in (p for p in pattern.pieces if p is not patch):
            for mark in (m for m in on.marks if m.path is not None):
                assert mark.path is not None
                line = np.array(
                    [tuple(mark.path.start), *(tuple(s.end) for s in mark.path.segments)]
                )
                by = line.min(axis=0) - corners.min(axis=0)
                if max(_away(c + by, line) for c in corners) > 1.0:
                    continue
                for half in (0, 1):
                    under, over = _copy(on, placements, half), _copy(patch, placements, half)
                    if under and over and under[0]["cloth"] == over[0]["cloth"]:
                        refs = tuple(EdgeRef(patch.name, e.name) for e in patch.edges)
                        seam = Seam(name=f"{patch.name} on {on.name}", a=refs, b=refs)
                        a = _round(patch, on, by, *under)
                        b = _round(patch, patch, np.zeros(2), *over)
                        yield Sewn(seam, half, a, b, str(over[0]["cloth"]))


def _away(point: Points, line: Points) -> float:
    """Return how far a point is from a line of straight bits, mm."""
    starts, steps = line[:-1], np.diff(line, axis=0)
    share = np.clip(((point - starts) * steps).sum(axis=1) / (steps**2).sum(axis=1), 0.0, 1.0)
    return float(np.hypot(*(starts + share[:, None] * steps - point).T).min())


def _round(
    patch: Piece, on: Piece, by: Points, placement: Mapping[str, object], twin: bool
) -> Edge:
    """Return the outline of a patch, moved by `by`, as it lies on the cloth of another piece."""
    lines = [drawn(patch, e.name) + by for e in patch.edges]
    starts = np.cumsum([0.0, *(np.hypot(*np.diff(line, axis=0).T).sum() for line in lines)])
    line = np.vstack([lines[0], *(each[1:] for each in lines[1:])])
    at = np.r_[0.0, np.cumsum(np.hypot(*np.diff(line, axis=0).T))]
    laid, up = on_cloth(on, line, placement, twin)
    notches = tuple((e.corner, float(x)) for e, x in zip(patch.edges[1:], starts[1:], strict=False))
    shape, cloth = str(placement["shape"]), str(placement["cloth"])
    return Edge((Run(shape, 0.0, float(at[-1]), at, laid, up, (), notches, cloth),))


def _copy(
    piece: Piece, placements: Sequence[Mapping[str, object]], half: int
) -> tuple[Mapping[str, object], bool] | None:
    """Return the placement that is a half of the body's, and whether its mirrored half is meant."""
    material = piece.cuts[0].material
    mine = [p for p in placements if p["piece"] == piece.name and p["material"] == material]
    if any(e.role.value == "fold" for e in piece.edges):
        return (mine[0], half == 1) if mine else None
    found = [p for p in mine if bool(p["flipped"]) == (half == 1)]
    return (found[0], False) if found else None
