"""Do neck, hem and armhole run fair across the seams, the centre and the fold?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import band, each, length_band
from clothwright.pattern.beside import MIDDLE, Beside, EndCorner, sewn_flat
from clothwright.pattern.ends import end_words
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.measure import corner_angle_deg
from clothwright.pattern.overlaid import LineStep, steps
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.words import Sentence, begun, counted, edge_name, show_angle_deg

ID = "corners-as-sewn"

POINT_DEG = 25.0
"""degrees off square beyond which a neck or waist at the fold is taken for a shape that is meant
(a V neck, a pointed waist) and only noted; our own figure."""

MEANT_DEG = 45.0
"""degrees off fair beyond which a hem's corner at a seam is taken to be meant (a pointed hem, a
vent) and only noted, and beyond which no line can be made fair by redrawing it; our own figure."""

REACH_MM = 60.0
"""mm on both sides of a corner over which the suggested mend makes the line fair."""


def corners_as_sewn(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Add up the inside angles on both sides of each seam's ends; look at the ends of folds."""
    seams = sewn_flat(pattern)
    beside = Beside(pattern)

    def look(seam: Seam) -> Iterator[Finding]:
        for a, b, at_end in beside.lines_across(seam):
            yield from _fair(seam, a, b, at_end, settings)

    yield from each(ID, seams, lambda s: Where(seam=s.name), look)
    flat_sewn = {(r.piece, r.edge) for s in seams for r in s.refs}
    yield from each(
        ID,
        pattern.pieces,
        lambda piece: Where(piece=piece.name),
        lambda piece: _square(piece, flat_sewn, settings),
    )
    for step in steps(pattern):
        yield from _step(step, settings)


def _step(step: LineStep, settings: CheckSettings) -> Iterator[Finding]:
    """Look whether a line runs on over two pieces that lie one on the other."""
    weight = length_band(step.mm, settings)
    if weight is None:
        return
    there, here = ([edge_name(e.piece, e.edge) for e in joint] for joint in (step.laid, step.joint))
    yield Finding(
        code="line-steps",
        severity=weight,
        where=Where(
            piece=step.joint.first.piece, edge=step.joint.first.edge, other=step.joint.second.piece
        ),
        measured=step.mm,
        expected=0.0,
        unit="mm",
        words=(
            f"{begun(here[0])} and {here[1]} do not run on in one line: with the pieces laid "
            f"together where {there[0]} meets {there[1]}, the two lie ", step.mm, " apart. Lay "
            "them on each other and draw one line over both.",
        ),
    )  # fmt: skip


def _fair(
    seam: Seam, a: EndCorner, b: EndCorner, at_end: bool, settings: CheckSettings
) -> Iterator[Finding]:
    total = a.angle_deg + b.angle_deg
    off = total - 180.0
    weight = band(off, settings.corner_deg, 2 * settings.corner_deg)
    if weight is None:
        return
    sharp = abs(off) > MEANT_DEG
    meant = sharp and bool({Role.HEM, Role.RAW} & {a.beside.role, b.beside.role})
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
            f'At {_said(a)} in seam "{seam.name}", {both} make {shape} of '
            f"{show_angle_deg(abs(off))}: together {show_angle_deg(total)} instead of a fair "
            f"180°{', taken to be meant' if meant else ''}.",
        ),
        mend=None if sharp else Mend(
            change="true-seam",
            params={
                "seam": seam.name, "at": "end" if at_end else "start", "reach": REACH_MM,
            },
        ),
    )  # fmt: skip


def _said(a: EndCorner) -> str:
    return end_words(a.piece, a.piece.edges[a.at].name, "start")


def _corner_name(a: EndCorner, b: EndCorner) -> str:
    return a.piece.edges[a.at].corner or b.piece.edges[b.at].corner


def _square(piece: Piece, sewn: set[tuple[str, str]], settings: CheckSettings) -> Iterator[Finding]:
    """Lines that run on over a fold or centre line must meet it squarely, or they make a point."""
    for i, edge in enumerate(piece.edges):
        if edge.role not in MIDDLE or (piece.name, edge.name) in sewn:
            continue
        after = (i + 1) % len(piece.edges)
        for index, beside in ((i, piece.edges[i - 1]), (after, piece.edges[after])):
            if beside.role not in MIDDLE:
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


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the places where a line runs on over a seam."""
    del settings
    beside = Beside(pattern)
    met = sum(1 for s in sewn_flat(pattern) for _ in beside.lines_across(s))
    return LookedAt(met, counted(met, "line that runs over a seam", "lines that run over seams"))


CHECK = Check(
    id=ID,
    title="Do neck, hem and armhole run fair where pieces are joined?",
    why="Two edges that look right alone can make a peak or a dent once they are sewn together; "
    "laid together at the seam they show it before the cloth is cut.",
    source="Common practice: 180 ± 5 degrees across a seam, square (90 ± 5) at fold and centre.",
    codes=("corner-not-fair", "corner-not-square", "line-steps", f"{ID}-skipped"),
    run=corners_as_sewn,
    looked=looked,
)
