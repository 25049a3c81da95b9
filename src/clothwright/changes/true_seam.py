"""True a seam's end: equal lengths, and a fair line across it as sewn."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.redraw import (
    redrawn,
    refuse_crossing,
)
from clothwright.changes.seam_tip import (
    SAME_MM,
    SeamTip,
    lift_of,
    line_across,
    own_edge,
    seam_tip,
)
from clothwright.errors import CannotDo
from clothwright.geometry.turning import waves_deg
from clothwright.pattern.ends import end_words
from clothwright.pattern.measure import gain_of, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import (
    Said,
    Sentence,
    edge_name,
    listed,
    seam_name,
    show_angle_deg,
)

SAME_DEG = 1e-3
"""degrees: a smaller bend is left alone."""

WIDEST_DEG = 45.0
"""degrees: a cross line that bends more than this is meant to be a corner, not an untrue line."""

FAIR_DEG = 1.0
"""Degrees to and fro that redrawing may add to the line across. Our own choice."""

WAVE_DEG = 10.0
"""Degrees to and fro beyond which no line is drawn. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueSeam:
    """Parameters of `true-seam`; lengths in mm."""

    seam: str = param("seam", "the seam, such as shoulder seam", label="Which seam")
    at: str = param(
        "choice",
        "counted as the seam is listed",
        default="end",
        choices={"start": "its start", "end": "its end"},
        label="Which end of it",
    )
    reach: float = param(
        "length",
        "how far from the seam the lines that run across it (neck, hem, armhole) may be redrawn",
        default=60.0,
        label="How far from the seam",
    )


class _Off(NamedTuple):
    """What was off: mm by which side b was too long, the bend, and how far the ends were lifted."""

    length: float
    bend_deg: float
    lift: float


def apply(pattern: Pattern, params: TrueSeam) -> Outcome:
    """Make both sides of a seam equally long and the line across its end fair, as sewn.

    Half of the difference in length (the ease taken into account) is added to one side and half
    taken from the other, at that end, along each edge's own line. Then the two lines that run
    across the seam there are redrawn over `reach` mm: each turns by half the bend, so that both
    inside angles add up to 180 degrees and the curve goes on without a corner. Where it would
    wave, as a hem on a flare would, both corners are lifted or dropped alike along the seam until
    it bends one way. Beyond `reach` nothing changes. Notches keep their distance from the nearer
    end of their edge.

    Raises CannotDo when the line across is a fold, bends by more than 45 degrees, or has a dart
    within a few mm; BadInput for an unknown seam.
    Source: docs/sources.md, walking seams (180 degrees across neck and hem: common practice).
    """
    seam = pattern.seam(params.seam)
    what = f'seam "{seam.name}" cannot be trued at its {params.at}'
    excess = side(pattern, seam.b).length - side(pattern, seam.a).length - seam.ease
    if abs(excess) <= SAME_MM:
        excess = 0.0
    corners = [
        seam_tip(pattern, ref, params.at, _share(seam, ref, excess, what))
        for ref in (_ref(seam.a, params.at), _ref(seam.b, params.at))
    ]
    bend = sum(c.inside_deg for c in corners) - 180.0
    if abs(bend) > WIDEST_DEG:
        raise CannotDo(
            what=what,
            why=f"the lines across it meet at {show_angle_deg(180 + bend)}, which is a corner",
            nearest="the other end, or a corner moved first",
        )
    lift, changed = 0.0, pattern
    if excess or abs(bend) > SAME_DEG:
        changed = _trued(pattern, corners, bend / 2, params, what)
        if _wave_deg(pattern, changed, corners) > FAIR_DEG and _gains_alike(seam, corners):
            lift = sum(lift_of(c, bend / 2, params.reach, what) for c in corners) / 2
            lifted = [replace(c, by=c.by - lift) for c in corners]
            changed = _trued(pattern, lifted, bend / 2, params, what)
        _refuse_wave(_wave_deg(pattern, changed, corners), what)
    off = _Off(length=excess, bend_deg=bend, lift=lift)
    return Outcome(pattern=changed, said=_said(seam, params, off, corners))


def _refuse_wave(waves: float, what: Said) -> None:
    """Refuse a line that turns to and fro: too much was to be made up within too short a reach."""
    if waves > WAVE_DEG:
        raise CannotDo(
            what=what,
            why=f"the line across it would turn to and fro by {show_angle_deg(waves)}",
            nearest="a longer reach, or the two sides made to match first",
        )


def _gains_alike(seam: Seam, corners: list[SeamTip]) -> bool:
    """Tell whether both sides stay as long as each other when both corners are lifted."""
    return sum(gain_of(seam, c.ref) for c in corners) == 0


def _ref(refs: tuple[EdgeRef, ...], at: str) -> EdgeRef:
    return refs[-1 if at == "end" else 0]


def _share(seam: Seam, ref: EdgeRef, excess: float, what: Said) -> float:
    """By how many mm an end edge grows to take up half of what side b is too long."""
    gain = gain_of(seam, ref)
    if gain == 0 and excess:
        raise CannotDo(
            what=what,
            why=f'"{edge_name(ref.piece, ref.edge)}" lies on both of its sides, which change alike',
            nearest="the edge between its notches changed instead",
        )
    return -excess / 2 / gain if excess else 0.0


def _trued(
    pattern: Pattern, corners: list[SeamTip], less_deg: float, params: TrueSeam, what: Said
) -> Pattern:
    """Bring every corner to its place, its inside angle less by `less_deg`."""
    ends = {(c.ref.piece, c.ref.edge, c.at_end): c for c in corners}
    for c in ends.values():  # a seam between two copies of a piece has one end only
        here = seam_tip(pattern, c.ref, params.at, c.by)
        new = {here.across.name: line_across(here, here.leaving(less_deg), params.reach, what)}
        if c.by:
            new[c.ref.edge] = own_edge(here, what)
        piece = redrawn(here.piece, new).piece
        refuse_crossing(piece, what, "a shorter reach")
        pattern = pattern.with_piece(piece)
    return pattern


def _wave_deg(before: Pattern, after: Pattern, corners: list[SeamTip]) -> float:
    """How much more the lines across turn to and fro than they did, at most, degrees."""
    edges = [EdgeRef(c.piece.name, c.across.name) for c in corners]
    return max(waves_deg(before.edge(e).path, after.edge(e).path) for e in edges)


def _said(seam: Seam, params: TrueSeam, off: _Off, corners: list[SeamTip]) -> Sentence:
    across = dict.fromkeys(edge_name(c.ref.piece, c.across.name) for c in corners)
    pieces = dict.fromkeys(c.ref.piece for c in corners)
    tip = corners[0]
    end = end_words(tip.piece, tip.ref.edge, "end" if tip.at_end else "start")
    where = f"{seam_name(seam.name)} at {end} of {listed(tuple(pieces))}"
    if not off.length and abs(off.bend_deg) <= SAME_DEG:
        return (f"Left {where} as it is: it is true.",)
    said: list[Sentence] = []
    if off.length:
        said.append(("a difference of ", abs(off.length), " is shared between both sides"))
    if abs(off.bend_deg) > SAME_DEG:
        size, names = show_angle_deg(abs(off.bend_deg)), listed(tuple(across))
        said.append((f"a bend of {size} is taken out of {names} within ", params.reach))
    if off.lift:
        verb = "lifted" if off.lift > 0 else "dropped"
        said.append(
            (f"both ends are {verb} by ", abs(off.lift), ", so that the line does not wave")
        )
    marks = [": ", *["; "] * (len(said) - 1)]
    parts = (part for mark, words in zip(marks, said, strict=True) for part in (mark, *words))
    return (f"Trued {where}", *parts, ".")


CHANGE = Change(
    id="true-seam",
    title="True a seam's end",
    topic="edges and seams",
    why="Where a seam ends, the neck, armhole or hem must run on across it without a peak or a "
    "dent, and neither side may stand out beyond the other.",
    source="docs/sources.md: seam crossings run fair (common practice)",
    params=TrueSeam,
    apply=apply,
)
