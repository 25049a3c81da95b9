"""Does every notch meet its partner, of its own kind, across the seam?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.levels_across import line_mends, meetings
from clothwright.checks.weigh import each
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.level_spots import level_spot
from clothwright.pattern.measure import Station, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import NotchKind, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import (
    Pair,
    Walk,
    crossed,
    mark_name,
    mark_named,
    notch_number,
    run_name,
    sentence_start,
    walk_seam,
)
from clothwright.words import counted, edge_name

ID = "notch-partners"

_OFF_MM = 0.05
"""mm a notch may lie beyond its edge's end: rounding."""

JOINT_MM = 3.0
"""mm: a notch so near to a joint of the other side is the mark of it; the notice band."""

Key = tuple[str, str, int]
"""Piece, edge, number of the notch on it."""


class _Lonely(NamedTuple):
    seam: Seam
    station: Station
    other: str


def notch_partners(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Pair the notches of every seam; look for those that are left over, mixed or off the edge.

    An edge may lie in several seams (a neck with its facing and its collar): a notch needs a
    partner in one of them only.
    """
    del settings
    met: set[Key] = set()
    lonely: dict[Key, _Lonely] = {}

    def look(seam: Seam) -> Iterator[Finding]:
        walk = walk_seam(pattern, seam)
        met.update(_met(pattern, seam, walk))
        names = crossed(walk)
        for own, stations, other in (
            (seam.a, walk.alone_a, seam.b),
            (seam.b, walk.alone_b, seam.a),
        ):
            for s in stations:
                if s.name not in names and not _at_joint(pattern, s, other):
                    key = _key(pattern, own, s)
                    lonely.setdefault(key, _Lonely(seam, s, run_name(other)))
        yield from _order(pattern, seam, walk)
        for pair in walk.pairs:
            yield from _kinds(pattern, seam, pair)
        yield from _ease_places(seam, walk)

    yield from each(ID, pattern.seams, lambda s: Where(seam=s.name), look)
    for key, found in lonely.items():
        if key not in met:
            yield _without_partner(pattern, found)
    for piece in pattern.pieces:
        yield from _off_edge(piece)


def _at_joint(pattern: Pattern, s: Station, other: tuple[EdgeRef, ...]) -> bool:
    """Tell whether a notch meets where two edges of the other side join, or its end."""
    across = side(pattern, other)
    joints = [t.at for t in across.stations if t.kind is None]
    return any(abs(s.at - at) <= JOINT_MM for at in joints)


def _met(pattern: Pattern, seam: Seam, walk: Walk) -> Iterator[Key]:
    for pair in walk.pairs:
        for refs, s in ((seam.a, pair.a), (seam.b, pair.b)):
            yield _key(pattern, refs, s)


def _key(pattern: Pattern, refs: tuple[EdgeRef, ...], s: Station) -> Key:
    return s.piece, s.edge, notch_number(pattern, refs, s)


def _order(pattern: Pattern, seam: Seam, walk: Walk) -> Iterator[Finding]:
    names = crossed(walk)
    for s in walk.alone_a:
        if s.name in names:
            other = next(t for t in walk.alone_b if t.name == s.name)
            first, second = notch_mends(pattern, seam, (Pair(s, other),))
            yield Finding(
                code="notch-order",
                severity=Severity.FAULT,
                where=_where(seam, s),
                measured=s.at,
                expected=other.at,
                unit="mm",
                words=(
                    f"{sentence_start(mark_name(s))} comes ",
                    s.at,
                    f" along {run_name(seam.a)} but ",
                    other.at,
                    f" along {run_name(seam.b)}, in another order among the other marks.",
                ),
                mend=first,
                others=(second, Mend(change="turn-seam", params={"seam": seam.name})),
            )


def _kinds(pattern: Pattern, seam: Seam, pair: Pair) -> Iterator[Finding]:
    a, b = pair
    if a.kind is None or b.kind is None or a.kind is b.kind:
        return
    name = f'Notch "{a.name or b.name}"' if a.name or b.name else "A notch"
    first, second = notch_mends(pattern, seam, (pair,))
    yield Finding(
        code="notch-kinds-differ",
        severity=Severity.NOTICE,
        where=_where(seam, b),
        measured=_ticks(b.kind),
        expected=_ticks(a.kind),
        unit="count",
        words=(
            f"{name} is {a.kind.value} on {edge_name(a.piece, a.edge)} but {b.kind.value} on "
            f"{edge_name(b.piece, b.edge)}; single marks a front, double a back.",
        ),
        mend=first,
        others=(second,),
    )


def _misnamed(s: Station) -> bool:
    """Tell whether a notch of one kind stands where the words say that the other belongs."""
    wrong = "front" if s.kind is NotchKind.DOUBLE else "back"
    return wrong in f"{s.piece} {s.edge} {s.name}".split()


def notch_mends(pattern: Pattern, seam: Seam, pairs: Sequence[Pair]) -> tuple[Mend, ...]:
    """Return the changes that bring the notches of side b to their partners, and those of side a.

    One whose name belongs to the other kind moves first; one that lies on a level line of its piece
    stays rather than one that does not. Where all lie on one line that was traced too high or too
    low, it comes back with all notches on it.
    """
    found = []
    for refs, own in ((seam.b, [p.b for p in pairs]), (seam.a, [p.a for p in pairs])):
        if all(s.kind for s in own) and len({(s.piece, s.edge) for s in own}) == 1:
            params = {"seam": seam.name, "notch": notch_point(pattern, refs, own[0])}
            more = {"others": "slipped"} if len(own) > 1 else {}
            mend = Mend(change="match-notch", params=params | more)
            stays = not any(map(_misnamed, own)), all(_on_level(pattern, refs, s) for s in own)
            found.append((stays, mend))
    alone = tuple(mend for _, mend in sorted(found, key=lambda way: way[0]))
    return (*_with_line(pattern, seam, pairs), *alone)


def _with_line(pattern: Pattern, seam: Seam, pairs: Sequence[Pair]) -> Iterator[Mend]:
    """Yield how a level line that all of these notches lie on is moved, on either side."""
    for met in meetings(pattern, seam):
        spots = ((p.a, met.a) for p in pairs), ((p.b, met.b) for p in pairs)
        near = (abs(s.at - spot.distance) <= JOINT_MM for side in spots for s, spot in side)
        if met.off and all(near):
            ways = line_mends(pattern, met, met.b.ref.piece)
            yield from (m for m in ways if m.params["how"] == "marks")


def _on_level(pattern: Pattern, refs: tuple[EdgeRef, ...], s: Station) -> bool:
    """Tell whether a notch lies where a level line of its piece meets the edge."""
    spots = (level_spot(pattern, refs, lv.name) for lv in pattern.piece(s.piece).levels)
    return any(spot is not None and abs(spot.distance - s.at) <= JOINT_MM for spot in spots)


def notch_point(pattern: Pattern, refs: tuple[EdgeRef, ...], s: Station) -> str:
    """Name a notch as a point: by its name where no other of its edge has it, else by number."""
    names = [n.name for n in pattern.piece(s.piece).edge(s.edge).notches]
    alone = s.name and names.count(s.name) == 1
    return f"{s.piece}.{s.edge} notch {s.name if alone else notch_number(pattern, refs, s)}"


def _ticks(kind: NotchKind) -> float:
    return 1.0 if kind is NotchKind.SINGLE else 2.0


def _ease_places(seam: Seam, walk: Walk) -> Iterator[Finding]:
    if not (seam.ease or seam.eased_max):
        return
    for name in (seam.ease_from, seam.ease_to):
        if name and mark_named(walk.b, name) is None:
            yield Finding(
                code="ease-notch-missing",
                severity=Severity.NOTICE,
                where=Where(seam=seam.name, piece=seam.b[0].piece, edge=seam.b[0].edge, point=name),
                words=(
                    f'Seam "{seam.name}" is to be eased up to notch "{name}", which is not on '
                    f"{run_name(seam.b)}; the ease is taken to reach the seam's end.",
                ),
            )


def _without_partner(pattern: Pattern, found: _Lonely) -> Finding:
    seam, s, other = found
    own = seam.a if any((r.piece, r.edge) == (s.piece, s.edge) for r in seam.a) else seam.b
    return Finding(
        code="notch-without-partner",
        severity=Severity.NOTICE,
        where=_where(seam, s),
        measured=0.0,
        expected=1.0,
        unit="count",
        words=(
            f"{sentence_start(mark_name(s))} of {edge_name(s.piece, s.edge)}, ",
            s.at,
            f' along seam "{seam.name}", has no partner on {other}.',
        ),
        mend=Mend(
            change="add-notch",
            params={"seam": seam.name, "notch": notch_point(pattern, own, s)},
        ),
    )


def _off_edge(piece: Piece) -> Iterator[Finding]:
    for edge in piece.edges:
        length = edge.length
        for n, notch in enumerate(edge.notches, start=1):
            if not -_OFF_MM <= notch.at <= length + _OFF_MM:
                over = -notch.at if notch.at < 0 else notch.at - length
                yield Finding(
                    code="notch-off-edge",
                    severity=Severity.FAULT,
                    where=Where(piece=piece.name, edge=edge.name, point=notch.name),
                    measured=over,
                    expected=0.0,
                    unit="mm",
                    words=(
                        f"Notch {notch.name or n} of {edge_name(piece.name, edge.name)} lies ",
                        over,
                        " beyond the end of the edge, which is ",
                        length,
                        " long.",
                    ),
                )


def _where(seam: Seam, s: Station) -> Where:
    return Where(seam=seam.name, piece=s.piece, edge=s.edge, point=s.name)


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the notches along seams that meet one."""
    del settings
    pairs = (p for s in pattern.seams for p in walk_seam(pattern, s).pairs)
    met = sum(1 for p in pairs if p.a.kind or p.b.kind)
    return LookedAt(met, counted(met, "notch that meets its partner", "notches that meet partners"))


CHECK = Check(
    id=ID,
    title="Does every notch meet its partner across the seam?",
    why="Notches are how the hand knows where two edges belong together and which way round.",
    source="Single notches mark fronts, double ones backs (textbook; docs/sources.md, notches).",
    codes=(
        "notch-without-partner",
        "notch-kinds-differ",
        "notch-order",
        "notch-off-edge",
        "ease-notch-missing",
        f"{ID}-skipped",
    ),
    run=notch_partners,
    looked=looked,
)
