"""Do neck, hem and armhole run fair across the seams, the centre and the fold?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings
from clothwright.checks.weigh import band, each
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.measure import corner_angle_deg
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import corner_index
from clothwright.words import Sentence, edge_name, show_angle_deg

ID = "corners-as-sewn"

POINT_DEG = 25.0
"""degrees off square beyond which a neck or waist at the fold is taken for a shape that is meant
(a V neck, a pointed waist) and only noted; our own figure."""

MEANT_DEG = 45.0
"""degrees off fair beyond which a corner across a seam is taken to be meant and only noted; our own
figure."""

REACH_MM = 60.0
"""mm on both sides of a corner over which the suggested mend makes the line fair."""

_OUTER = (Role.HEM, Role.BOUND, Role.RAW)
_MIDDLE = (Role.FOLD, Role.CENTRE)


class _Tip(NamedTuple):
    """One end of an edge, as drawn."""

    piece: str
    edge: str
    at_end: bool


class _Corner(NamedTuple):
    """A piece's corner at one end of a seam: the edge that is sewn and the one beside it."""

    piece: Piece
    at: int
    beside: Edge
    tip: _Tip

    @property
    def angle_deg(self) -> float:
        return corner_angle_deg(self.piece, self.at)


def corners_as_sewn(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Add up the inside angles on both sides of each seam's ends; look at the ends of folds."""
    joints = frozenset(_joints(pattern))
    sewn = {(r.piece, r.edge) for s in pattern.seams for r in (*s.a, *s.b)}
    seams = tuple(s for s in pattern.seams if s.kind in ("plain", "cap"))

    def look(seam: Seam) -> Iterator[Finding]:
        for at_end in (False, True):
            a = _corner(pattern, seam.a, at_end=at_end)
            b = _corner(pattern, seam.b, at_end=at_end)
            if _runs_on(a, b, joints, sewn):
                yield from _fair(seam, a, b, at_end, settings)

    yield from each(ID, seams, lambda s: Where(seam=s.name), look)
    flat_sewn = {(r.piece, r.edge) for s in seams for r in (*s.a, *s.b)}
    yield from each(
        ID,
        pattern.pieces,
        lambda piece: Where(piece=piece.name),
        lambda piece: _square(piece, flat_sewn, settings),
    )


def _corner(pattern: Pattern, refs: tuple[EdgeRef, ...], *, at_end: bool) -> _Corner:
    ref = refs[-1 if at_end else 0]
    name, index = corner_index(pattern, refs, at_end=at_end)
    piece = pattern.piece(name)
    own_starts_here = piece.edges[index].name == ref.edge and at_end == ref.reversed
    beside = piece.edges[index - 1] if own_starts_here else piece.edges[index]
    return _Corner(piece, index, beside, _Tip(name, beside.name, own_starts_here))


def _joints(pattern: Pattern) -> Iterator[frozenset[_Tip]]:
    """Ends of edges that follow each other along one side of a seam, or close it to a ring."""
    for seam in pattern.seams:
        for run in (seam.a, seam.b):
            for r, s in zip(run, (*run[1:], run[0]), strict=True):
                tips = _Tip(r.piece, r.edge, not r.reversed), _Tip(s.piece, s.edge, s.reversed)
                yield frozenset(tips)


def _runs_on(
    a: _Corner, b: _Corner, joints: frozenset[frozenset[_Tip]], sewn: set[tuple[str, str]]
) -> bool:
    """Tell whether the edges beside a seam's end are one line once it is sewn."""
    roles = a.beside.role, b.beside.role
    if any(r in _MIDDLE for r in roles):
        return False
    if all(r in _OUTER for r in roles) or a.tip == b.tip:
        return True
    if frozenset((a.tip, b.tip)) in joints:
        return True
    loose = all((c.tip.piece, c.tip.edge) not in sewn for c in (a, b))
    return loose and roles[0] is roles[1] and a.beside.name == b.beside.name


def _fair(
    seam: Seam, a: _Corner, b: _Corner, at_end: bool, settings: CheckSettings
) -> Iterator[Finding]:
    total = a.angle_deg + b.angle_deg
    off = total - 180.0
    weight = band(off, settings.corner_deg, 2 * settings.corner_deg)
    if weight is None:
        return
    meant = abs(off) > MEANT_DEG
    first, second = (edge_name(c.tip.piece, c.tip.edge) for c in (a, b))
    both = f"{first} and {second}"
    if first == second:
        both = f"both {'halves' if a.tip == b.tip else 'ends'} of {first}"
    shape = "a dent" if off > 0 else "a point"
    yield Finding(
        code="corner-not-fair",
        severity=Severity.NOTE if meant else weight,
        where=Where(
            seam=seam.name, piece=a.piece.name, edge=a.beside.name, point=_corner_name(a, b)
        ),
        measured=total,
        expected=180.0,
        unit="deg",
        words=(
            f'Where seam "{seam.name}" {"ends" if at_end else "starts"}, {both} make {shape} of '
            f"{show_angle_deg(abs(off))}: together {show_angle_deg(total)} instead of a fair "
            f"180°{', taken to be meant' if meant else ''}.",
        ),
        mend=None if meant else Mend(
            change="true-seam",
            params={
                "seam": seam.name, "at": "end" if at_end else "start", "reach": REACH_MM,
            },
        ),
    )  # fmt: skip


def _corner_name(a: _Corner, b: _Corner) -> str:
    return a.piece.edges[a.at].corner or b.piece.edges[b.at].corner


def _square(piece: Piece, sewn: set[tuple[str, str]], settings: CheckSettings) -> Iterator[Finding]:
    """Lines that run on over a fold or centre line must meet it squarely, or they make a point."""
    for i, edge in enumerate(piece.edges):
        if edge.role not in _MIDDLE or (piece.name, edge.name) in sewn:
            continue
        after = (i + 1) % len(piece.edges)
        for index, beside in ((i, piece.edges[i - 1]), (after, piece.edges[after])):
            if beside.role not in _MIDDLE:
                yield from _square_corner(piece, edge, index, beside, settings)


def _square_corner(
    piece: Piece, middle: Edge, index: int, beside: Edge, settings: CheckSettings
) -> Iterator[Finding]:
    angle = corner_angle_deg(piece, index)
    off = angle - 90.0
    weight = band(off, settings.corner_deg, 2 * settings.corner_deg)
    if weight is None:
        return
    is_hem = beside.role is Role.HEM
    if not is_hem:
        weight = Severity.NOTE if abs(off) > POINT_DEG else Severity.NOTICE
    mend = None
    if is_hem and beside.path.is_straight:
        mend = Mend(change="square-hem", params={"edge": f"{piece.name}.{beside.name}"})
    yield Finding(
        code="corner-not-square",
        severity=weight,
        where=Where(
            piece=piece.name, edge=beside.name, point=piece.edges[index].corner
        ),
        measured=angle,
        expected=90.0,
        unit="deg",
        words=_square_words(piece, middle, beside, off, weight),
        mend=mend,
    )  # fmt: skip


def _square_words(
    piece: Piece, middle: Edge, beside: Edge, off: float, weight: Severity
) -> Sentence:
    line = "fold" if middle.role is Role.FOLD else "centre line"
    text = f"{edge_name(piece.name, beside.name)} meets the {line} at {show_angle_deg(90.0 + off)}"
    if weight is Severity.NOTE:
        return (f"{text}: a point at the {line}, taken to be meant.",)
    shape = "a dent" if off > 0 else "a point"
    return (f"{text}, not squarely, which makes {shape} of {show_angle_deg(abs(2 * off))} there.",)


CHECK = Check(
    id=ID,
    title="Do neck, hem and armhole run fair where pieces are joined?",
    why="Two edges that look right alone can make a peak or a dent once they are sewn together; "
    "laid together at the seam they show it before the cloth is cut.",
    source="Common practice: 180 ± 5 degrees across a seam, square (90 ± 5) at fold and centre.",
    codes=("corner-not-fair", "corner-not-square", f"{ID}-skipped"),
    run=corners_as_sewn,
)
