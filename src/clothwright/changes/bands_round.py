"""Bands all round a garment: edges of half pieces and their twins, end to end. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.drafted import refs_along, runs_back, with_free_names
from clothwright.changes.runs import (
    SewnRun,
    edge_runs,
    joined_path,
    laid_together,
    main_run,
    run_joints,
)
from clothwright.errors import BadInput, one_of
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform, reflection, scaling, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import side
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Notch, NotchKind, Piece, Role
from clothwright.pattern.refs import EdgeRef

LEFT, RIGHT, ROUND = "left half", "right half", "round"
"""What is sewn to the pieces as drawn, to their twins, and to all of a ring."""


class BandPart(NamedTuple):
    """A part of the band's lower line, from its start on, and the runs that it is sewn to.

    twin: it is sewn to the other ones of the pieces.
    """

    name: str
    path: Path
    runs: tuple[SewnRun, ...]
    twin: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BandRound:
    """The lower line of a band, from where it closes round to there.

    main: the piece whose grain it has, as it lies. under_last: the wearer's under end is the last.
    order: the pieces as they were named.
    """

    parts: tuple[BandPart, ...]
    main: Piece
    under_last: bool
    order: tuple[str, ...]

    @property
    def length(self) -> float:
        """How long it is, mm."""
        return sum(p.path.length for p in self.parts)

    @property
    def is_ring(self) -> bool:
        """Whether it goes once round edges that end at each other, as round an armhole."""
        return self.parts[0].name == ROUND

    def cut(self, material: str) -> Cut:
        """Return how it is cut: once, but as a pair round a ring of pieces that are."""
        pair = self.is_ring and any(c.how == "pair" for c in self.main.cuts)
        return Cut(material=material, how="pair" if pair else "once")

    def seams(self, band: str, ease: float = 0.0) -> Iterator[Seam]:
        """Yield the seams of a piece of that name; `ease` (mm) is shared out."""
        for p in self._by_name():
            own = EdgeRef(band, p.name, reversed=runs_back(p.runs) == p.twin)
            yield Seam(
                name=f"{band} {p.name}",
                a=(own,),
                b=refs_along(p.runs),
                ease=round(ease * p.path.length / self.length, 6),
            )

    def companion(self, band: str, kind: str) -> Companion:
        """Return what a piece of that name goes with."""
        of = tuple(
            Along(edge=p.name, piece=r.piece, edge_of=r.edge)
            for p in self._by_name()
            for r in refs_along(p.runs)
        )
        return Companion(piece=band, kind=kind, of=of, by="drafted")

    def added(self, pattern: Pattern, piece: Piece, kind: str, ease: float = 0.0) -> Pattern:
        """Return a pattern with a piece sewn along it, eased by `ease` mm, and its companion."""
        return replace(
            pattern,
            pieces=(*pattern.pieces, piece),
            seams=with_free_names(pattern.seams, self.seams(piece.name, ease)),
            companions=(*pattern.companions, self.companion(piece.name, kind)),
        )

    def _by_name(self) -> list[BandPart]:
        at = self.order.index
        return sorted(self.parts, key=lambda p: (p.twin, at(p.runs[0].piece.name), p.name))


def band_round(pattern: Pattern, edges: Sequence[str], closes: str = "") -> BandRound:
    """Return what edges are all round, darts closed: of a ring once, else with the pieces' twins.

    closes: the piece that it closes on, "" for the last; with folds at both ends it does so at the
    seam beside that. Raises what `edge_runs`, `laid_together` and `closing_piece` do.
    """
    loose = edge_runs(pattern, edges)
    runs = laid_together(pattern, loose)
    last = closing_piece(loose, closes)
    parts = _parts(pattern, runs, last)
    under_last = parts[-1].runs[0].piece.name == last if len(parts) != 2 else parts[-1].name == LEFT
    return BandRound(
        parts=parts,
        main=main_run(runs, loose[0].piece.name).piece,
        under_last=under_last,
        order=tuple(run.piece.name for run in loose),
    )


def closing_piece(runs: Sequence[SewnRun], name: str) -> str:
    """Return the piece that something round them closes on: the one named, "" for the last.

    Raises BadInput for one that has no part in it.
    """
    names = [run.piece.name for run in runs]
    if name and name not in names:
        raise BadInput(
            what=f'it is to close on "{name}", of which no edge is named', expected=one_of(names)
        )
    return name or names[-1]


def _parts(pattern: Pattern, runs: tuple[SewnRun, ...], last: str) -> tuple[BandPart, ...]:
    line = joined_path(runs)
    ends = {(0, False), (len(runs) - 1, True)}
    if any({j.a[:2], j.b[:2]} == ends for j in run_joints(pattern, runs)):
        return (BandPart(ROUND, line.reversed(), runs),)
    own = BandPart(LEFT, line.reversed(), runs)
    folds = runs[0].before.role is Role.FOLD, runs[-1].after.role is Role.FOLD
    over = _over(line.start, line.start_tangent), _over(line.end, line.end_tangent)
    if all(folds) and len(runs) > 1:
        at = len(runs) - 1 if runs[-1].piece.name == last else 1
        before, after = (
            BandPart(f"right {r[0].piece.name}", joined_path(r).transformed(m), r, twin=True)
            for r, m in ((runs[at:], over[1]), (runs[:at], over[0]))
        )
        return before, own, after
    at_start = folds[1] or (not folds[0] and runs[0].piece.name == last and len(runs) > 1)
    twin = BandPart(RIGHT, line.transformed(over[1 if at_start else 0]), runs, twin=True)
    return (twin, own) if at_start else (own, twin)


def _over(at: Vec, tangent: Vec) -> Transform:
    """Return the mirror in the line across an end of the edges."""
    return reflection(at, at + tangent.perp)


def eased(band: BandRound, ease: float) -> BandRound:
    """Return a band shorter by what is eased on to it (mm), all in proportion. Raises BadInput."""
    if not 0.0 <= ease < band.length / 2:
        raise BadInput(
            what=("the edges cannot be eased by ", ease),
            expected=("nothing, or less than half of ", band.length),
        )
    if ease == 0.0:
        return band
    centre = next(p for p in band.parts if not p.twin).path.middle
    share = scaling(1.0 - ease / band.length)
    share = translation(-centre).then(share).then(translation(centre))
    return replace(
        band, parts=tuple(p._replace(path=p.path.transformed(share)) for p in band.parts)
    )


def straightened(band: BandRound) -> BandRound:
    """Return the parts end to end on a level line, or along an edge that runs upright.

    The part that is sewn to the pieces as drawn lies where they are.
    """
    drawn = next(k for k, p in enumerate(band.parts) if not p.twin)
    path, along = band.parts[drawn].path, band.main.up.perp
    chord = path.end - path.start
    if abs(along.dot(chord)) < abs(band.main.up.dot(chord)) + JOIN_MM:
        along = chord.unit
    along = along if along.dot(chord) > 0.0 else -along
    start = path.start.lerp(path.end, 0.5) - along * (path.length / 2)
    start -= along * sum(p.path.length for p in band.parts[:drawn])
    out, run = [], 0.0
    for p in band.parts:
        line = polyline((start + along * run, start + along * (run + p.path.length)))
        run += p.path.length
        out.append(p._replace(path=line))
    return replace(band, parts=tuple(out))


def lower_edges(
    pattern: Pattern,
    band: BandRound,
    laps: tuple[tuple[str, float], tuple[str, float]],
    allowance: float,
) -> tuple[Edge, ...]:
    """Return the lower edges of a band, with straight laps (mm) of these names before and after.

    Notches mark the seams that it goes over. What is sewn to the garment has the garment's
    allowance (mm), if it has any.
    """
    own = max(e.allowance for p in band.parts for run in p.runs for e in run.edges)
    parts = {p.name for p in band.parts}
    lines = [(p.name, p.path, _joints(pattern, p)) for p in band.parts]
    (first, before), (last, after) = laps
    if before > 0.0:
        path = band.parts[0].path
        start = path.start - path.start_tangent * before
        lines.insert(0, (first, polyline((start, path.start)), ()))
    if after > 0.0:
        path = band.parts[-1].path
        lines.append((last, polyline((path.end, path.end + path.end_tangent * after)), ()))
    return tuple(
        Edge(
            name=name,
            path=path,
            allowance=own or allowance if name in parts and allowance else allowance,
            notches=notches,
        )
        for name, path, notches in lines
    )


def line_of(edges: Sequence[Edge]) -> Path:
    """Return edges that follow each other as one line."""
    return join_all([e.path for e in edges])


def _joints(pattern: Pattern, part: BandPart) -> tuple[Notch, ...]:
    """Return a notch where each seam and notch of the edges it is sewn to lies, called as that."""
    other = side(pattern, refs_along(part.runs))
    with_it = runs_back(part.runs) != part.twin
    found = []
    for joint in other.stations:
        at = joint.at / other.length * part.path.length
        at = at if with_it else part.path.length - at
        found.append(Notch(at=at, name=joint.name, kind=joint.kind or NotchKind.SINGLE))
    return tuple(sorted(found, key=lambda n: n.at))
