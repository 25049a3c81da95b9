"""Prominent abdomen: the waist raised at the centre front, its width given back at the side."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import has_true_cap, with_true_cap
from clothwright.changes.partners import partners
from clothwright.changes.redraw import refuse_crossing
from clothwright.changes.tapered import Taper, drawn, widened, with_line
from clothwright.errors import CannotDo
from clothwright.geometry.shift import chained
from clothwright.geometry.transform import translation
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name

STEPS = 12
"""How often the side is drawn at most until the waist is as long as it was."""
MET_MM = 1e-7
"""mm by which the waist may differ then."""
CAP_MM = 1.0
"""mm: a dart's cap that was as near as this to how it is pressed is drawn so again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Abdomen:
    """Parameters of `abdomen`; lengths in mm."""

    edge: str = param(
        "edge", "of the front of a skirt or trousers, drawn as one half", label="Which waist edge"
    )
    by: float = param(
        "length",
        "at the centre front; a minus lowers it, for a hollow figure",
        label="How much it is raised",
    )
    level: str = param(
        "level", "where the side is as it was, such as the hip", label="Down to which line"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ends:
    """The edges of the centre and of the side that a waist runs between."""

    centre: Edge
    side: Edge
    centre_first: bool


def apply(pattern: Pattern, params: Abdomen) -> Outcome:
    """Raise the waist by `by` mm at the centre, softly to nothing at the side, and keep its length.

    What the waist gained or lost so is given back at the side: there in full, nothing at the line.
    The centre goes up along the grain, darts keep their points. Raises CannotDo where the edge
    does not run from a centre to a side, BadInput for names.

    Source: docs/sources.md (alterations of the
    body); lengths plane geometry.
    """
    ref = parse_edge(params.edge)
    piece = pattern.piece(ref.piece)
    ends, where = _ends(pattern, piece, ref.edge), edge_name(ref.piece, ref.edge)
    line = piece.up.dot(piece.level(params.level).at)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {where} as high as it was.",))
    raised = _raised(piece, ref.edge, ends, params.by)
    new, given = _given_back(raised, piece, ref.edge, ends.side.name, line)
    for dart in piece.darts_on(ref.edge):
        if has_true_cap(piece, dart, CAP_MM):
            new = with_true_cap(new, dart.name)
    refuse_crossing(new, (f"{where} cannot be moved by ", abs(params.by)), "a smaller amount")
    changed = pattern.with_piece(new)
    said = _said(params, where, ends.side.name, given)
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _said(params: Abdomen, where: str, side: str, given: float) -> Sentence:
    return (
        f"{'Raised' if params.by > 0 else 'Lowered'} {where} by ",
        abs(params.by),
        " at its centre, running out softly to nothing at its side, and "
        f"{'let out' if given > 0 else 'took in'} {side} by ",
        abs(given),
        f" there, to nothing at the {params.level} line: the waist is as long as before. The darts "
        "keep their points. What closes the centre is as much ",
        "longer." if params.by > 0 else "shorter.",
    )


def _ends(pattern: Pattern, piece: Piece, name: str) -> _Ends:
    """Find the edge beside a waist that is sewn to another piece, and the centre at its other end.

    Raises CannotDo where not just one of the two is.
    """
    before, after = piece.neighbours(name)
    sides = [
        any(
            s.kind == "plain" and s.pieces != {piece.name}
            for s in pattern.seams_of(piece.name, e.name)
        )
        for e in (before, after)
    ]
    tops = (before.path.ends, after.path.ends[::-1])
    upper = all(piece.up.dot(top - foot) > 0.0 for foot, top in tops)
    if sides.count(True) != 1 or not upper:
        raise CannotDo(
            what=f"{edge_name(piece.name, name)} cannot be raised at its centre alone",
            why="it is not the upper end of a centre and of a side seam",
            nearest="the upper edge of a front drawn as one half",
        )
    if sides[0]:
        return _Ends(centre=after, side=before, centre_first=False)
    return _Ends(centre=before, side=after, centre_first=True)


def _raised(piece: Piece, name: str, ends: _Ends, by: float) -> Piece:
    """Return the piece with its waist raised at the centre, level there as it was.

    It rises as the waist does with its darts closed: both legs of a dart by the same.
    """
    path, move = piece.edge(name).path, piece.up * by
    runs = _runs(piece, name, ends)

    def share(at: float) -> float:
        run = min(runs, key=lambda r: max(r.start - at, at - r.end))
        return run.taper.share(path.point_at(min(run.end, max(run.start, at))))

    lines = [drawn(path.between(runs[0].start, runs[0].end), move, runs[0].taper)]
    for last, run in pairwise(runs):
        cap = path.between(last.end, run.start)
        lines.append(cap.transformed(translation(move * share(last.end))))
        lines.append(drawn(path.between(run.start, run.end), move, run.taper))
    return with_line(piece, name, chained(lines), move, share)


class _Run(NamedTuple):
    """A run of a waist between darts, mm along it, and how it rises."""

    start: float
    end: float
    taper: Taper


def _runs(piece: Piece, name: str, ends: _Ends) -> tuple[_Run, ...]:
    """Return the runs of a waist between its darts; heights of the tapers are across the grain."""
    path, up = piece.edge(name).path, piece.up
    centre, side = path.ends if ends.centre_first else path.ends[::-1]
    across = up.perp if up.perp.dot(centre - side) > 0.0 else -up.perp
    spots = [0.0, *(at for d in piece.darts_on(name) for at in (d.a, d.b)), path.length]
    widths = [across.dot(path.point_at(at)) for at in spots]
    behind = [0.0]  # what of the darts lies before each run
    for k in range(1, len(spots) - 1, 2):
        behind.append(behind[-1] + widths[k + 1] - widths[k])
    high, low = across.dot(centre), across.dot(side)
    if ends.centre_first:
        low -= behind[-1]
    else:
        high -= behind[-1]
    return tuple(
        _Run(a, b, Taper(up=across, level=high + gone, top=None, bottom=low + gone))
        for a, b, gone in zip(spots[::2], spots[1::2], behind, strict=True)
    )


def _given_back(
    raised: Piece, old: Piece, waist: str, side: str, line: float
) -> tuple[Piece, float]:
    """Widen the side until the waist is as long as it was; also by how many mm (secant method)."""
    up, wanted = raised.up, net_length(old, waist)
    top = max(up.dot(p) for p in raised.edge(side).path.ends)
    if line >= top:
        raise CannotDo(
            what=f'the waist of "{old.name}" cannot be given back at its side',
            why="the line lies above the upper end of the side",
            nearest="a line below it, such as the hip",
        )
    taper = Taper(up=up, level=top, top=None, bottom=line)
    by, step, piece = 0.0, wanted - net_length(raised, waist), raised
    off = -step
    for _ in range(STEPS):
        if abs(off) < MET_MM:
            break
        piece = widened(raised, side, by + step, taper)
        now = net_length(piece, waist) - wanted
        slope = (now - off) / step
        by, off = by + step, now
        step = -off / slope if abs(slope) > 0.1 else 0.0
        if step == 0.0:
            break
    return piece, by


CHANGE = Change(
    id="abdomen",
    title="Prominent abdomen",
    topic="waist, hips and legs",
    why="A skirt that swings out in front is too short over the abdomen: it is raised at the "
    "centre, and the waist stays as long.",
    source="docs/sources.md: alterations of the body (centre front raised, width given back at the "
    "sides); lengths plane geometry",
    params=Abdomen,
    apply=apply,
)
