"""Do lines run fair: no corner inside an edge, none over a closed dart, no wave in a hem?"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.dart_mends import missing_dart, slipped_dart, spare_dart
from clothwright.checks.weigh import band, each
from clothwright.pattern.bends import Bend, bend_at_dart, bends_in, waves_in
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.measure import corner_angle_deg, net_at
from clothwright.pattern.opposite import SewnPlace, opposite
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.words import counted, edge_name, show_angle_deg

ID = "fair-lines"

BEND_DEG, BEND_MOST_DEG = 10.0, 15.0
"""degrees a line may bend at one place: more is a notice, then a fault. A straight line drawn over
a dart of ordinary width bends by 9 when it is sewn; our own figures."""

MEANT_DEG = 45.0
"""degrees: a sharper corner is drawn on purpose (a pointed yoke) and only noted; our own figure."""

SHAPE_DEG = 25.0
"""degrees: a line that is sewn to nothing and bends or turns back by more has a shape (a V neck, a
shirt's tail): nothing is said of it; our own figure."""

WAVE_MM, WAVE_DEG = 80.0, 8.0
"""A hem that turns one way and by 8 degrees back within 80 mm waves: less is not seen. Our own
figures: a line that was trued over a reach of 60 mm turns back within it."""

NEAR_MM = 8.0
"""mm: a corner on the other side of the seam no farther off than this lies on this one."""


def fair_lines(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Look along every edge, and over every dart as if it were sewn."""

    def look(piece: Piece) -> Iterator[Finding]:
        for dart in piece.darts:
            seams = pattern.seams_of(piece.name, dart.edge)
            spare = (spare_dart(pattern, s, dart, piece, settings.agree) for s in seams)
            ways = (*(m for m in spare if m), *slipped_dart(piece, dart))
            yield from _at_dart(piece, dart, (*ways, _smoothed(piece, dart.edge, dart.a)))
        yield from _lines(pattern, piece)

    yield from each(ID, pattern.pieces, lambda p: Where(piece=p.name), look)


def _lines(pattern: Pattern, piece: Piece) -> Iterator[Finding]:
    for edge in piece.edges:
        for bend in sorted(bends_in(piece, edge), key=lambda b: _nearer(edge, b.at)):
            if not _meets_its_like(pattern, piece, edge, bend):
                yield from _inside(pattern, piece, edge, bend)
        if edge.role is Role.HEM:
            yield from _wave(piece, edge)


def _at_dart(piece: Piece, dart: Dart, ways: tuple[Mend, ...]) -> Iterator[Finding]:
    """Look along an edge with a dart sewn shut. ways: what may mend it."""
    bend = bend_at_dart(piece, dart)
    weight = band(bend.deg, BEND_DEG, BEND_MOST_DEG) if bend else None
    if bend is None or weight is None:
        return
    yield Finding(
        code="line-bent-at-dart",
        severity=weight,
        where=Where(piece=piece.name, edge=dart.edge, point=f"{dart.name} point"),
        measured=abs(bend.deg),
        expected=0.0,
        unit="deg",
        words=(
            f'With dart "{dart.name}" sewn shut, {edge_name(piece.name, dart.edge)} makes '
            f"{_shape(bend)} of {show_angle_deg(abs(bend.deg))} there. Fold the dart, draw the "
            "line fair over it, and cut along it; or let the dart run deeper, as it was drafted.",
        ),
        mend=ways[0],
        others=ways[1:],
    )


def _smoothed(piece: Piece, edge: str, at: float) -> Mend:
    """Return the change that draws an edge fair at a place, mm along it as drawn.

    It finds the sharpest place itself: which one is said only where there are several.
    """
    params: dict[str, object] = {"edge": f"{piece.name}.{edge}"}
    if len(bends_in(piece, piece.edge(edge))) + len(piece.darts_on(edge)) > 1:
        params["at"] = round(net_at(piece, edge, at), 2)
    return Mend(change="smooth-line", params=params)


def _shape(bend: Bend) -> str:
    return "a point" if bend.deg > 0 else "a dent"


def _inside(pattern: Pattern, piece: Piece, edge: Edge, bend: Bend) -> Iterator[Finding]:
    free = not pattern.seams_of(piece.name, edge.name)
    weight = band(bend.deg, BEND_DEG, BEND_MOST_DEG)
    if weight is None or edge.role is Role.FOLD or (free and abs(bend.deg) > SHAPE_DEG):
        return
    meant = abs(bend.deg) > MEANT_DEG
    if free and weight is Severity.FAULT:
        weight = Severity.NOTICE
    ways = () if meant else _drawn_fair(pattern, piece, edge, bend)
    yield Finding(
        code="line-bent",
        severity=Severity.NOTE if meant else weight,
        where=Where(piece=piece.name, edge=edge.name),
        measured=abs(bend.deg),
        expected=0.0,
        unit="deg",
        words=(
            f"{edge_name(piece.name, edge.name)} has {_shape(bend)} of "
            f"{show_angle_deg(abs(bend.deg))}, ", _nearer(edge, bend.at), " from its nearer end",
            ", taken to be meant." if meant else ": smooth the line there.",
        ),
        mend=next(iter(ways), None),
        others=ways[1:],
    )  # fmt: skip


def _drawn_fair(pattern: Pattern, piece: Piece, edge: Edge, bend: Bend) -> tuple[Mend, ...]:
    """Return what may take a bend out: the dart that belongs there, else the line smoothed."""
    ref = EdgeRef(piece.name, edge.name)
    lacks = (missing_dart(pattern, s, ref) for s in pattern.seams_of(piece.name, edge.name))
    slipped = (m for d in piece.darts_on(edge.name) for m in slipped_dart(piece, d))
    darts = (*(m for m in lacks if m), *slipped) if bend.deg > 0 else ()
    return darts or (_smoothed(piece, edge.name, bend.at),)


def _nearer(edge: Edge, at: float) -> float:
    """Return how far a place on an edge is from the nearer end of it, mm."""
    return min(at, edge.length - at)


def _meets_its_like(pattern: Pattern, piece: Piece, edge: Edge, bend: Bend) -> bool:
    """Tell whether what the edge is sewn to has the same corner: a point that goes into a notch."""
    places = (
        opposite(pattern, seam, piece.name, edge.name, bend.at, from_end=end)
        for seam in pattern.seams_of(piece.name, edge.name)
        for end in (False, True)
        if seam.a != seam.b
    )
    return any(abs(_bend_near(pattern, place) + bend.deg) <= BEND_DEG for place in places)


def _bend_near(pattern: Pattern, place: SewnPlace) -> float:
    """Return how the other side of a seam bends near a place, degrees; 0 where it runs on.

    At the end of an edge it is the corner that it makes with the next edge of the seam.
    """
    piece = pattern.piece(place.piece)
    edge = piece.edge(place.edge)
    near = [b for b in bends_in(piece, edge) if abs(b.at - place.at) <= NEAR_MM]
    if near:
        return max(near, key=lambda b: abs(b.deg)).deg
    for at_end in (False, True):
        if abs((edge.length if at_end else 0.0) - place.at) <= NEAR_MM:
            return _bend_at_joint(piece, edge, at_end=at_end)
    return 0.0


def _bend_at_joint(piece: Piece, edge: Edge, *, at_end: bool) -> float:
    """Return the corner that an edge's end makes with its own mirror image, or its like beside."""
    index = (piece.index(edge.name) + at_end) % len(piece.edges)
    return 180.0 - 2 * corner_angle_deg(piece, index)


def _wave(piece: Piece, edge: Edge) -> Iterator[Finding]:
    waves = [
        w for w in waves_in(piece, edge) if w.length <= WAVE_MM and WAVE_DEG < w.deg <= SHAPE_DEG
    ]
    if not waves:
        return
    worst = max(waves, key=lambda w: w.deg)
    yield Finding(
        code="hem-waves",
        severity=Severity.NOTICE,
        where=Where(piece=piece.name, edge=edge.name),
        measured=worst.deg,
        expected=0.0,
        unit="deg",
        words=(
            f"{edge_name(piece.name, edge.name)} turns out and back again by "
            f"{show_angle_deg(worst.deg)} {_whereabouts(piece, edge, worst.at)}: it would wave. "
            "Lift or drop its corner and draw one even curve.",
        ),
    )  # fmt: skip


def _whereabouts(piece: Piece, edge: Edge, at: float) -> str:
    """Return where on an edge a place is, in words, by the edge beside it."""
    if _nearer(edge, at) > edge.length / 3:
        return "about half-way along"
    step = 1 if at > edge.length / 2 else -1
    return f"near {piece.edges[(piece.index(edge.name) + step) % len(piece.edges)].name}"


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the edges."""
    del settings
    edges = sum(len(p.edges) for p in pattern.pieces)
    return LookedAt(edges, counted(edges, "edge"))


CHECK = Check(
    id=ID,
    title="Do the lines run fair, over closed darts too?",
    why="A dart closed into a seam, a dart set back too far or two lines joined without blending "
    "leave a corner that shows as a peak or a dent when the seam is pressed open.",
    source="Lines make a fair curve when placed as sewn (common practice, docs/sources.md, walking "
    "seams); the figures are our own and stand in the check.",
    codes=("line-bent-at-dart", "line-bent", "hem-waves", f"{ID}-skipped"),
    run=fair_lines,
    looked=looked,
)
