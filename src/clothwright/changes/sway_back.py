"""Sway back: a wedge folded out of the lower back, from the centre to nothing at the side.

Where the back is cut in panels the wedge goes through all of them, each its share. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, redrawn
from clothwright.changes.upper import armhole_names, upper_of
from clothwright.changes.wedge_across import WedgeAcross, lapped, levelled, refuse_darts, slid_on
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.parts import centre_line, twin_edges
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Grain, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import Sentence, listed, show_angle_deg

MOST_MM = 25.0
"""mm: beyond it a seam across the waist shapes the back better (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwayBack:
    """Parameters of `sway-back`; lengths in mm."""

    piece: str = param("piece", "the back, drawn as one half", label="Which back")
    by: float = param(
        "length",
        "at the centre; a minus lets it in, for a flat or stooping lower back",
        label="How much is folded out",
    )
    level: str = param("level", "where the folds lie across the back", label="At which line")
    above: float = param(
        "length",
        "the wedge lies this far above the line (a minus: below it)",
        default=0.0,
        label="How far above that line",
    )


def apply(pattern: Pattern, params: SwayBack) -> Outcome:
    """Fold a wedge out of the back, `by` mm deep at the centre and nothing at the side.

    The side keeps its length, the centre is so much shorter, half-way across it is half as much. A
    centre seam gets the bend; a fold is drawn straight again. Raises CannotDo, BadInput. Source:
    plane geometry (docs/changes/sway-back.md).
    """
    piece = pattern.piece(params.piece)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {piece.name} as long down its centre.",))
    folds = _shared(_folds(pattern, piece, params), params.by)
    made = [lapped(f) for f in folds]
    bend: Sentence = (
        f" The centre seam turns by {show_angle_deg(made[0][1])} there: sew it shaped.",
    )
    changed, slid = pattern, dict[str, float]()
    for fold, (after, _) in zip(folds[::-1], made[::-1], strict=True):
        if fold.centre.role is Role.FOLD:
            after, bend = _straightened(after, fold.centre.name, params.by)  # noqa: PLW2901
        now = levelled(after, fold, slid)
        slid = slid_on(now, fold)
        changed = changed.with_piece(now)
    lot: Sentence = ()
    if abs(params.by) > MOST_MM:
        lot = (" More than ", MOST_MM, " is better shaped by a seam across the waist.")
    said = (*_said(params, folds), *bend, *partners(pattern, changed), *lot)
    return Outcome(pattern=changed, said=said)


def _said(params: SwayBack, folds: list[WedgeAcross]) -> Sentence:
    """Say what was folded out, through which pieces, and what has to follow."""
    last = folds[-1]
    panels = listed([f.piece.name for f in folds[1:]])
    through = f", through {panels}," if panels else ""
    whose = f"the {last.side.name} of {last.piece.name}" if panels else f"its {last.side.name}"
    return (
        "Folded " if params.by > 0 else "Let ",
        abs(params.by),
        f" {'out of' if params.by > 0 else 'into'} the centre of {params.piece} at the "
        f"{params.level} line, running out{through} to nothing at {whose}: the side is as long "
        "as before, the centre and what closes it ",
        abs(params.by),
        " shorter." if params.by > 0 else " longer.",
        " What is sewn on below follows.",
    )


def _folds(pattern: Pattern, piece: Piece, params: SwayBack) -> list[WedgeAcross]:
    """Find the wedge through the back and each panel of it, up to the side. Raises CannotDo."""
    folds = [_fold(pattern, piece, params)]
    while (beyond := _panel_beyond(pattern, folds[-1])) is not None:
        panel, near = pattern.piece(beyond.piece), beyond.edge
        folds.append(_through(panel, panel.edge(near), params))
    return folds


def _shared(folds: list[WedgeAcross], by: float) -> list[WedgeAcross]:
    """Give each panel its share: the wedge runs out evenly, from the centre to the side."""
    widths = [f.ends[0].distance(f.ends[1]) for f in folds]
    rest = [sum(widths[k:]) for k in range(len(widths) + 1)]
    deep = [by * r / rest[0] for r in rest]
    return [replace(f, by=deep[k], left=deep[k + 1]) for k, f in enumerate(folds)]


def _panel_beyond(pattern: Pattern, fold: WedgeAcross) -> EdgeRef | None:
    """Return the edge of the next panel of the back, sewn to where the wedge leaves; or None.

    It is one on which the armhole goes on below; or the one that has an armhole, beside one that
    has none.
    """
    own = armhole_names(pattern, fold.piece)
    below = {upper_of(pattern, fold.piece, n).below for n in own}
    for seam in pattern.seams_of(fold.piece.name, fold.side.name):
        for ref in seam.refs:
            reaches = armhole_names(pattern, pattern.piece(ref.piece))
            follows = ref.piece in {r.piece for r in below if r} if own else bool(reaches)
            if ref.piece != fold.piece.name and follows:
                return ref
    return None


def _through(panel: Piece, near: Edge, params: SwayBack) -> WedgeAcross:
    """Find where the wedge crosses a panel that it enters by an edge. Raises CannotDo, BadInput."""
    line, ends = _crossed(panel, params)
    if near not in ends:
        raise CannotDo(
            what=f'a wedge cannot be folded out of "{panel.name}"',
            why=f"the {params.level} line does not cross its {near.name}",
            nearest="a line that crosses all panels of the back",
        )
    far = ends[1 - ends.index(near)]
    fold = WedgeAcross(
        piece=panel, centre=near, side=far, line=line, by=params.by, fair=(True, False)
    )
    return refuse_darts(fold)


def _crossed(piece: Piece, params: SwayBack) -> tuple[Vec, list[Edge]]:
    """Return a point of the line across a piece, and the two edges where it begins and ends."""
    line = piece.level(params.level).at + piece.up * params.above
    met = sorted(
        (c.at_b, n)
        for n, e in enumerate(piece.edges)
        for c in line_crossings(e.path, line, piece.up.perp)
    )
    return line, [piece.edges[n] for _, n in (met[0], met[-1])] if len(met) > 1 else []


def _fold(pattern: Pattern, piece: Piece, params: SwayBack) -> WedgeAcross:
    """Find both ends of the wedge on the back itself. Raises CannotDo, BadInput."""
    line, ends = _crossed(piece, params)
    own = _are_centre(pattern, piece, ends)
    if own.count(True) != 1:
        raise CannotDo(
            what=f'a wedge cannot be folded out of "{piece.name}"',
            why=f"the {params.level} line does not run from its centre to its side",
            nearest="a back drawn as one half, and a line that crosses its centre and its side",
        )
    k = own.index(True)
    fold = WedgeAcross(piece=piece, centre=ends[k], side=ends[1 - k], line=line, by=params.by)
    return refuse_darts(fold)


def _are_centre(pattern: Pattern, piece: Piece, ends: list[Edge]) -> list[bool]:
    """Tell of both ends of a line which is the centre: where none is known, the one left open.

    A lining's centre back is sewn to a zip's tape, and is in no seam.
    """
    twins, centre = twin_edges(pattern, piece), centre_line(pattern, piece)
    own = [e.role in (Role.FOLD, Role.CENTRE) or e.name in twins or e.path == centre for e in ends]
    return own if any(own) else [(piece.name, e.name) not in pattern.sewn for e in ends]


def _straightened(piece: Piece, name: str, by: float) -> tuple[Piece, Sentence]:
    """Draw a fold straight from end to end, the grain along it; also what that does, said."""
    edge = piece.edge(name)
    line = polyline(edge.path.ends)
    off = max(line.nearest(p)[1] for p in edge.path.flatten(0.1))
    new = Redrawn(line, lambda at: at * line.length / edge.length)
    grain = piece.grain
    if grain is not None:
        middle, half = grain.start.lerp(grain.end, 0.5), (grain.end - grain.start).norm / 2
        along = (line.end - line.start).unit
        along = along if along.dot(grain.direction) > 0 else -along
        grain = Grain(start=middle - along * half, end=middle + along * half)
    said: Sentence = (
        f" The fold is drawn straight again, and the half {'gains' if by > 0 else 'loses'} ",
        off,
        " of width at the wedge: give that back at the side.",
    )
    return redrawn(piece, {name: new}, grain=grain).piece, said


CHANGE = Change(
    id="sway-back",
    title="Sway back",
    topic="bust, back and shoulder",
    why="Cloth that sags across the small of the back is too long there, at the centre alone: a "
    "wedge is folded out, and the side seam keeps its length.",
    source="what it looks like: USDA, Fitting Dresses; amounts: plane geometry "
    "(docs/changes/sway-back.md)",
    params=SwayBack,
    apply=apply,
)
