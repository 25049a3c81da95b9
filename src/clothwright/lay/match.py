"""How the print meets along every seam that it crosses, in mm at the stitching line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import Copy, Half, seam_halves
from clothwright.lay.result import Lay, Placement
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.words import is_met, show_difference

STEP_MM = 10.0
"""mm between the places along a seam where the print is compared."""
ALONG_MM = 2.0
"""mm between the places along a seam where it is drawn, at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One place along a seam: mm from its start on side a, and the print's difference b - a.

    along, across: mm on the cloth's two axes, wrapped to half a repeat; None where the design says
    nothing that way. border: difference in height above a border's base line, None outside it.
    """

    at: float
    along: float | None
    across: float | None
    border: float | None
    notch: str = ""

    @property
    def worst(self) -> float:
        """The larger of the differences that count here, mm, positive."""
        return max((abs(v) for v in self._parts if v is not None), default=0.0)

    @property
    def counts(self) -> bool:
        """True where the design says anything about this place."""
        return any(v is not None for v in self._parts)

    @property
    def _parts(self) -> tuple[float | None, float | None, float | None]:
        return self.along, self.across, self.border


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamMatch:
    """How the print meets along one seam on one side of the body.

    alike: False when the two pieces lie in different directions, so that the design cannot run on
    from one to the other; then there are no spots. shapes: the copies joined, side a then side b.
    crosswise: True when the pieces lie across the cloth, so that the body's height runs across it.
    """

    seam: str
    half: int
    shapes: tuple[str, ...]
    alike: bool
    spots: tuple[Spot, ...]
    crosswise: bool = False

    @property
    def worst(self) -> float:
        """Largest difference in mm."""
        return max((s.worst for s in self.spots), default=0.0)

    @property
    def level(self) -> float | None:
        """Largest difference in height on the body, mm; None where the design has no height."""
        return _largest(
            v for s in self.spots for v in ((s.across, s.border) if self.crosswise else (s.along,))
        )

    @property
    def upright(self) -> float | None:
        """Largest difference to the side on the body, mm; None where the design has none."""
        return _largest(
            v for s in self.spots for v in ((s.along,) if self.crosswise else (s.across, s.border))
        )

    @property
    def mean(self) -> float:
        """Mean difference in mm over the places where the design says anything."""
        counted = [s.worst for s in self.spots if s.counts]
        return sum(counted) / len(counted) if counted else 0.0


def _largest(values: Iterable[float | None]) -> float | None:
    return max((abs(v) for v in values if v is not None), default=None)


def placement_move(copy: Copy, placement: Placement, *, twin: bool = False) -> Transform:
    """Return the move from the piece as drawn (or its mirrored half) to the cloth."""
    over = Transform(1.0, 0.0, 0.0, -1.0) if placement.flipped else Transform()
    own = copy.fold.then(copy.to_frame) if twin and copy.fold is not None else copy.to_frame
    return (
        own.then(over)
        .then(rotation_deg(placement.turn_deg))
        .then(translation((placement.x, placement.y)))
    )


def match_seams(pattern: Pattern, compiled: Compiled, lay: Lay) -> tuple[SeamMatch, ...]:
    """Return how the print meets on every plain seam or cap between pieces of a designed cloth.

    Seams whose two sides both lie clear of a border on a cloth with nothing else are left out.
    """
    placed = {p.shape: p for p in lay.placements}
    found: list[SeamMatch] = []
    for seam in pattern.seams:
        if seam.kind not in ("plain", "cap"):
            continue
        for half, (a, b) in enumerate(seam_halves(compiled.copies, seam)):
            if not all(h.shape in placed for h in (*a, *b)):
                continue
            cloths = {placed[h.shape].region for h in (*a, *b)}
            cloth = compiled.cloth(placed[a[0].shape].region)
            if len(cloths) == 1 and cloth.print.has_design:
                join = _Join(seam=seam, half=half, a=a, b=b, cloth=cloth)
                match = _match(pattern, compiled, placed, join)
                if match is not None:
                    found.append(match)
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Join:
    """One seam on one side of the body: the halves along its two sides, and their cloth."""

    seam: Seam
    half: int
    a: Sequence[Half]
    b: Sequence[Half]
    cloth: Cloth


def along_seam(
    pattern: Pattern, compiled: Compiled, lay: Lay, match: SeamMatch
) -> tuple[tuple[float, Vec, Vec], ...]:
    """Return (mm from the seam's start, place on side a, place on side b), both on the cloth."""
    placed = {p.shape: p for p in lay.placements}
    seam = pattern.seam(match.seam)
    a, b = seam_halves(compiled.copies, seam)[match.half]
    one = _Walk.of(pattern, compiled, placed, seam.a, a)
    two = _Walk.of(pattern, compiled, placed, seam.b, b)
    n = max(2, math.ceil(one.length / ALONG_MM))
    return tuple(
        (one.length * i / n, one.point(one.length * i / n), two.point(two.length * i / n))
        for i in range(n + 1)
    )


def seam_places(
    pattern: Pattern,
    compiled: Compiled,
    placed: Mapping[str, Placement],
    seam: Seam,
    *,
    places: int = 60,
) -> tuple[tuple[tuple[str, Vec, str, Vec], ...], ...]:
    """Return, for each side of the body, which places of which copies are sewn together.

    Each row walks the seam from its start in `places` even steps, darts folded out: copy and
    place on side a, copy and place on side b, where `placed` has them. Copies that are missing
    in `placed` leave their side of the body out.
    """
    out = []
    for a, b in seam_halves(compiled.copies, seam):
        if not all(h.shape in placed for h in (*a, *b)):
            continue
        one = _Walk.of(pattern, compiled, placed, seam.a, a)
        two = _Walk.of(pattern, compiled, placed, seam.b, b)
        shares = [k / places for k in range(places + 1)]
        out.append(
            tuple(
                (
                    a[one.run(s * one.length)].shape,
                    one.point(s * one.length),
                    b[two.run(s * two.length)].shape,
                    two.point(s * two.length),
                )
                for s in shares
            )
        )
    return tuple(out)


def _match(
    pattern: Pattern, compiled: Compiled, placed: Mapping[str, Placement], join: _Join
) -> SeamMatch | None:
    shapes = tuple(h.shape for h in (*join.a, *join.b))
    walks = [
        _Walk.of(pattern, compiled, placed, refs, hs)
        for refs, hs in ((join.seam.a, join.a), (join.seam.b, join.b))
    ]
    spots = _spots(pattern, join.seam, walks[0], walks[1], join.cloth)
    if not any(s.counts for s in spots):
        return None
    turns = {round(placed[s].turn_deg) % 360 for s in shapes}
    alike = len(turns) == 1
    return SeamMatch(
        seam=join.seam.name,
        half=join.half,
        shapes=shapes,
        alike=alike,
        spots=spots if alike else (),
        crosswise=min(turns) % 180 == 90,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Walk:
    """One side of a seam, to be walked along its stitching line on the cloth."""

    length: float
    runs: tuple[tuple[float, Piece, EdgeRef, Transform], ...]

    @classmethod
    def of(
        cls,
        pattern: Pattern,
        compiled: Compiled,
        placed: Mapping[str, Placement],
        refs: Sequence[EdgeRef],
        halves: Sequence[Half],
    ) -> _Walk:
        """Lay out the runs of one side with each run's own move to the cloth."""
        runs, total = [], 0.0
        for ref, half in zip(refs, halves, strict=True):
            piece = pattern.piece(ref.piece)
            copy = compiled.copy(half.shape)
            move = placement_move(copy, placed[half.shape], twin=half.twin)
            runs.append((total, piece, ref, move))
            total += net_length(piece, ref.edge)
        return cls(length=total, runs=tuple(runs))

    def run(self, net: float) -> int:
        """Return which run the place `net` mm from the seam's start belongs to."""
        return next(
            (k for k in reversed(range(len(self.runs))) if net >= self.runs[k][0] - 1e-9), 0
        )

    def point(self, net: float) -> Vec:
        """Return where the place `net` mm from the seam's start lies on the cloth."""
        start, piece, ref, move = self.runs[self.run(net)]
        edge = piece.edge(ref.edge)
        along = net - start
        if ref.reversed:
            along = net_length(piece, ref.edge) - along
        gross = along
        for dart in piece.darts_on(ref.edge):
            if gross > dart.a:
                gross += dart.b - dart.a
        return move.apply(edge.path.point_at(gross))


def _spots(pattern: Pattern, seam: Seam, a: _Walk, b: _Walk, cloth: Cloth) -> tuple[Spot, ...]:
    n = max(2, math.ceil(a.length / STEP_MM))
    ats = [(a.length * i / n, b.length * i / n, "") for i in range(n + 1)]
    side_a, side_b = side(pattern, seam.a), side(pattern, seam.b)
    for sa in side_a.stations:
        partner = next((s for s in side_b.stations if sa.name and s.name == sa.name), None)
        if partner is not None:
            ats.append((sa.at, partner.at, sa.name))
    return tuple(_spot(at, a.point(at), b.point(bt), name, cloth) for at, bt, name in sorted(ats))


def _spot(at: float, pa: Vec, pb: Vec, notch: str, cloth: Cloth) -> Spot:
    """Compare two places: the ground's repeat everywhere, a border's only inside its band."""
    design = cloth.print
    band = _band(pa, pb, design.borders, cloth.width)
    repeat_along = design.repeat_along or (band.repeat if band is not None else None)
    return Spot(
        at=at,
        along=_wrapped(pb.x - pa.x, repeat_along),
        across=_wrapped(pb.y - pa.y, design.repeat_across),
        border=None if band is None else min(band.height, max(-band.height, pb.y - pa.y)),
        notch=notch,
    )


def _wrapped(difference: float, repeat: float | None) -> float | None:
    if repeat is None:
        return None
    return (difference + repeat / 2) % repeat - repeat / 2


def _band(pa: Vec, pb: Vec, borders: Sequence[Border], width: float) -> Border | None:
    """Return the border in whose band either place lies."""
    for border in borders:
        base, top = border.line(width), border.line(width, border.height)
        low, high = min(base, top), max(base, top)
        if low <= pa.y <= high or low <= pb.y <= high:
            return border
    return None


def worst_of_each(matches: Sequence[SeamMatch]) -> list[SeamMatch]:
    """Return the worse of both sides of the body for every seam, the worst seam first."""
    worst: dict[str, SeamMatch] = {}
    for m in matches:
        if m.seam not in worst or m.worst > worst[m.seam].worst:
            worst[m.seam] = m
    return sorted(worst.values(), key=lambda m: -m.worst)


def apart_words(match: SeamMatch, unit: Unit) -> str:
    """Say how far the print is apart in height and to the side, each at its worst place."""
    parts = ((match.level, "vertically"), (match.upright, "sideways"))
    apart = [f"{show_difference(mm, unit)} {way}" for mm, way in parts if mm and not is_met(mm)]
    return f"apart by at most {', '.join(apart)}" if apart else "meets"
