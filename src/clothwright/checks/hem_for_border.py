"""Is a hem straight and square enough to lie on a printed border?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import BorderEdge, Check, CheckSettings, LookedAt
from clothwright.checks.weigh import band, each, skipped
from clothwright.pattern.finding import Finding, Mend, Where
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.rise import centre_of, inward, rise_of
from clothwright.words import counted, edge_name

ID = "hem-for-border"


def hem_for_border(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look at every edge that a plan lays along a border."""
    yield from each(
        ID,
        _merged(pattern, settings.borders),
        _where,
        lambda border: _border(pattern, border, settings),
    )


def _merged(pattern: Pattern, borders: tuple[BorderEdge, ...]) -> tuple[BorderEdge, ...]:
    """Return each edge as it is called now, with all plans that lay it along a border."""
    plans: dict[tuple[str, str, float], list[str]] = {}
    for b in borders:
        for piece, edge in pattern.edges_now(b.piece, b.edge):
            names = plans.setdefault((piece, edge, b.rise_max), [])
            if b.plan and b.plan not in names:
                names.append(b.plan)
    return tuple(
        BorderEdge(piece=piece, edge=edge, rise_max=rise, plan='", "'.join(names))
        for (piece, edge, rise), names in plans.items()
    )


def _border(pattern: Pattern, border: BorderEdge, settings: CheckSettings) -> Iterator[Finding]:
    piece = pattern.piece(border.piece)
    edge = piece.edge(border.edge)
    if piece.grain is None:
        yield skipped(ID, _where(border), "the piece has no grain line to set the border square to")
        return
    up, path = inward(piece, edge), edge.path
    start, end = path.start, path.end
    tilt = 0.0 if centre_of(piece, edge) else up.dot(end - start)
    agree = min(settings.agree, border.rise_max)
    weight = band(tilt, agree, border.rise_max)
    if weight:
        yield Finding(
            code="grain-not-square-to-border",
            severity=weight,
            where=_where(border),
            measured=abs(tilt),
            expected=0.0,
            unit="mm",
            words=(
                f"{edge_name(piece.name, edge.name)} lies ",
                abs(tilt),
                f" higher at one end than at the other, seen along the grain{_plan(border)}: "
                "laid along the border, the piece would be tilted against its grain line.",
            ),
        )
    rise, dip = _rise_and_dip(piece, edge)
    off = rise if rise >= dip else -dip
    weight = band(off, agree, border.rise_max)
    if weight:
        yield Finding(
            code="hem-leaves-border",
            severity=weight,
            where=_where(border),
            measured=abs(off),
            expected=0.0,
            unit="mm",
            words=(
                f"{edge_name(piece.name, edge.name)} {'rises' if off > 0 else 'dips'} ",
                abs(off),
                f" {'above' if off > 0 else 'below'} a straight line along the border"
                f"{_plan(border)}; borders want straight hems.",
            ),
            mend=Mend(change="square-hem", params={"edge": f"{border.piece}.{border.edge}"}),
        )


def _rise_and_dip(piece: Piece, edge: Edge) -> tuple[float, float]:
    """Return how far an edge rises above and dips below the border's line, mm.

    The line is square to the grain through the hem's end at fold or centre; without those it is
    the straight line from end to end.
    """
    if centre_of(piece, edge):
        rise = rise_of(piece, edge)
        return max(0.0, rise.high), max(0.0, -rise.low)
    path = edge.path
    axis = (path.end - path.start).unit
    up = inward(piece, edge)
    normal = axis.perp if axis.perp.dot(up) > 0 else -axis.perp
    heights = [normal.dot(p - path.start) for p in path.flatten()]
    return max(0.0, *heights), max(0.0, *(-h for h in heights))


def _plan(border: BorderEdge) -> str:
    if not border.plan:
        return ""
    several = '", "' in border.plan
    return f' ({"plans" if several else "plan"} "{border.plan}")'


def _where(border: BorderEdge) -> Where:
    return Where(piece=border.piece, edge=border.edge)


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the edges that some plan lays along a border."""
    edges = len({(b.piece, b.edge) for b in _merged(pattern, settings.borders)})
    return LookedAt(edges, counted(edges, "edge along a border", "edges along a border"))


CHECK = Check(
    id=ID,
    title="Is the hem straight enough for a border?",
    why="A printed border runs straight along the selvedge. A flared or curved hem leaves it at "
    "the side seams, and a hem that is not square to the grain takes the whole piece off it.",
    source="Straight hems only (newspaper and extension advice on border prints, docs/sources.md); "
    "how much rise the eye forgives is common practice and can be set for each border.",
    codes=("hem-leaves-border", "grain-not-square-to-border", f"{ID}-skipped"),
    run=hem_for_border,
    looked=looked,
)
