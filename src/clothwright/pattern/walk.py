"""Walking a seam: both stitching lines laid along each other, from notch to notch.

The darts are folded out first. Marks meet by name, else by kind and order; a joint between two
edges of one side (the shoulder tip in an armhole) is a mark too.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from clothwright.pattern.measure import Side, Station, net_at, net_length, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import TWIN
from clothwright.words import begun, refs_name

NEAR = 0.1
"""Share of a side's length: a nameless joint is taken for a mark of the other side only when both
lie this near to each other. Our own choice; named ones need no guess."""

JOINTS_MM = 20.0
"""mm: two joints that have not the same name are taken for partners this near to each other: a side
seam that runs on below a waist. A yoke's line and a pocket's end lie farther apart. Our own."""

_ALONE_NOTCH, _ALONE_JOINT = 1.0, 0.2
_OTHER_KIND, _AT_JOINT, _UNNAMED, _SAME_NAME = 0.6, 0.3, 0.05, 1e-3
_NEVER = 1e9
_SLACK_MM = 0.05


class Span(NamedTuple):
    """Least and most, in mm, by which side b may be longer than side a."""

    least: float
    most: float

    def outside(self, difference: float) -> float:
        """Return how far a difference lies outside, mm; positive when b is too long, 0 inside."""
        if difference > self.most:
            return difference - self.most
        return min(0.0, difference - self.least)


class Pair(NamedTuple):
    """Two marks that meet."""

    a: Station
    b: Station


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The part between two pairs of marks (or a seam's end), mm.

    start, end: what bounds it, in words. meant: by how much b may be longer here.
    """

    start: str
    end: str
    a: float
    b: float
    meant: Span

    @property
    def off(self) -> float:
        """By how many mm b is too long here (negative: too short), ease allowed for."""
        return self.meant.outside(self.b - self.a)


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """The report of one seam.

    alone_a, alone_b: notches (not joints) without a partner on the other side.
    """

    a: Side
    b: Side
    meant: Span
    pairs: tuple[Pair, ...]
    alone_a: tuple[Station, ...]
    alone_b: tuple[Station, ...]
    sections: tuple[Section, ...]

    @property
    def off(self) -> float:
        """By how many mm side b is too long in all (negative: too short), ease allowed for."""
        return self.meant.outside(self.b.length - self.a.length)


def crossed(walk: Walk) -> set[str]:
    """Return the names of marks that both sides have, in another order."""
    return {s.name for s in walk.alone_a if s.name} & {s.name for s in walk.alone_b}


def walk_seam(pattern: Pattern, seam: Seam) -> Walk:
    """Lay both sides of a seam along each other. Raises BadInput for edges that are not there."""
    a, b = _on_the_edge(side(pattern, seam.a)), _on_the_edge(side(pattern, seam.b))
    pairs = _pairs(a, b)
    met = {id(s) for pair in pairs for s in pair}
    return Walk(
        a=a,
        b=b,
        meant=ease_span(seam),
        pairs=pairs,
        alone_a=tuple(s for s in a.stations if s.kind and id(s) not in met),
        alone_b=tuple(s for s in b.stations if s.kind and id(s) not in met),
        sections=_sections(pattern, seam, a, b, pairs),
    )


def ease_span(seam: Seam) -> Span:
    """Return by how much side b is meant to be longer than side a, least and most, mm."""
    if seam.eased_max == 0.0:
        return Span(seam.ease, seam.ease)
    return Span(min(seam.ease, seam.eased_max), max(seam.ease, seam.eased_max))


def run_name(refs: tuple[EdgeRef, ...]) -> str:
    """Return one side of a seam in words: "front (armhole) and back (armhole)"."""
    return refs_name((r.piece, r.edge) for r in refs)


def run_is(refs: tuple[EdgeRef, ...]) -> str:
    """Return one side of a seam with its verb, to say how long it is.

    >>> run_is((EdgeRef(piece="front", edge="neck"),))
    'front, neck is'
    >>> run_is((EdgeRef(piece="front", edge="neck"), EdgeRef(piece="back", edge="neck")))
    'front (neck) and back (neck) together are'
    """
    several = len({(r.piece, r.edge) for r in refs}) > 1
    return f"{run_name(refs)} {'together are' if several else 'is'}"


def mark_name(station: Station) -> str:
    """Return a mark in words.

    >>> from clothwright.pattern.piece import NotchKind
    >>> mark_name(Station(name="waist", kind=NotchKind.SINGLE, at=9.0, piece="front", edge="side"))
    'notch "waist"'
    """
    if station.kind is None:
        return f'the joint "{station.name}"' if station.name else "the joint"
    if station.name:
        return f'notch "{station.name}"'
    return f"the {station.kind.value} notch"


def sentence_start(words: str) -> str:
    """Return words of our own (not a piece's name) with a capital in front."""
    return begun(words)


def notch_number(pattern: Pattern, refs: tuple[EdgeRef, ...], station: Station) -> int:
    """Return which notch of its edge a station of this run is, counted from 1; 0 at a joint."""
    if station.kind is None:
        return 0
    run = 0.0
    for ref in refs:
        piece = pattern.piece(ref.piece)
        length = net_length(piece, ref.edge)
        if (ref.piece, ref.edge) == (station.piece, station.edge):
            at = station.at - run
            at = length - at if ref.reversed else at
            for n, notch in enumerate(piece.edge(ref.edge).notches, start=1):
                alike = (notch.name, notch.kind) == (station.name, station.kind)
                if alike and abs(net_at(piece, ref.edge, notch.at) - at) < _SLACK_MM:
                    return n
        run += length
    return 0


def ease_bounds(seam: Seam, b: Side) -> tuple[float, float]:
    """Return where on side b the ease lies, mm from the seam's start.

    A name that side b does not know counts as the seam's own end.
    """
    low, high = (mark_named(b, name) for name in (seam.ease_from, seam.ease_to))
    start, end = low.at if low else 0.0, high.at if high else b.length
    return (start, end) if start <= end else (end, start)


def mark_named(run: Side, name: str) -> Station | None:
    """Return a mark of a side by its name, or as "notch 2": the second notch from its start."""
    found = next((s for s in run.stations if name and s.name == name), None)
    word, _, number = name.partition(" ")
    if found is None and word == "notch" and number.isdecimal():
        notches = [s for s in run.stations if s.kind is not None]
        return dict(enumerate(notches, start=1)).get(int(number))
    return found


def mark_names(run: Side) -> tuple[str, ...]:
    """Return what every mark of a side is called by `mark_named`, in order."""
    notches = [s for s in run.stations if s.kind is not None]
    marks = [s for s in run.stations if s.name or s.kind is not None]
    return tuple(s.name or f"notch {notches.index(s) + 1}" for s in marks)


def _on_the_edge(whole: Side) -> Side:
    """Leave out notches that lie beyond the ends; another check names them."""
    kept = tuple(s for s in whole.stations if -_SLACK_MM <= s.at <= whole.length + _SLACK_MM)
    return Side(length=whole.length, stations=kept)


def _pairs(a: Side, b: Side) -> tuple[Pair, ...]:
    """Return the cheapest pairing that keeps the order on both sides."""
    rows, columns = a.stations, b.stations
    best: list[list[tuple[float, int, int]]] = [
        [(0.0, 0, 0)] * (len(columns) + 1) for _ in range(len(rows) + 1)
    ]
    for i in range(len(rows) + 1):
        for j in range(len(columns) + 1):
            ways = []
            if i > 0:
                ways.append((best[i - 1][j][0] + _cost_alone(rows[i - 1]), 1, 0))
            if j > 0:
                ways.append((best[i][j - 1][0] + _cost_alone(columns[j - 1]), 0, 1))
            if i > 0 and j > 0:
                cost = _cost(rows[i - 1], columns[j - 1], a.length, b.length)
                ways.append((best[i - 1][j - 1][0] + cost, 1, 1))
            if ways:
                best[i][j] = min(ways)
    found, i, j = [], len(rows), len(columns)
    while i > 0 or j > 0:
        _, di, dj = best[i][j]
        i, j = i - di, j - dj
        if di and dj:
            found.append(Pair(rows[i], columns[j]))
    return tuple(reversed(found))


def _cost_alone(station: Station) -> float:
    return _ALONE_JOINT if station.kind is None else _ALONE_NOTCH


def _cost(s: Station, t: Station, whole_s: float, whole_t: float) -> float:
    """What it costs to let two marks meet; next to nothing when they have the same name."""
    apart = abs(s.at / (whole_s or 1.0) - t.at / (whole_t or 1.0))
    if s.name and s.name == t.name:
        return _SAME_NAME * apart
    if s.name and t.name and not (s.kind is None) ^ (t.kind is None):
        return _NEVER
    if s.kind is None or t.kind is None:
        both = s.kind is t.kind
        named = t.name if s.kind is None else s.name
        far = both and apart * min(whole_s, whole_t) > JOINTS_MM
        if far or apart > NEAR or (named and not both):
            return _NEVER
        return apart if both else _AT_JOINT + apart
    return (_UNNAMED if s.kind is t.kind else _OTHER_KIND) + apart


def _sections(
    pattern: Pattern, seam: Seam, a: Side, b: Side, pairs: tuple[Pair, ...]
) -> tuple[Section, ...]:
    names = [
        seam_end_name(pattern, seam, at_end=False),
        *(_pair_name(p) for p in pairs),
        seam_end_name(pattern, seam, at_end=True),
    ]
    at_a = [0.0, *(p.a.at for p in pairs), a.length]
    at_b = [0.0, *(p.b.at for p in pairs), b.length]
    spans = _section_spans(seam, b, at_b)
    return tuple(
        Section(
            start=names[i],
            end=names[i + 1],
            a=at_a[i + 1] - at_a[i],
            b=at_b[i + 1] - at_b[i],
            meant=spans[i],
        )
        for i in range(len(spans))
        if max(at_a[i + 1] - at_a[i], at_b[i + 1] - at_b[i]) > _SLACK_MM
    )


def _section_spans(seam: Seam, b: Side, at_b: list[float]) -> list[Span]:
    """Share out the ease: none outside its bounds; all of it where one section takes it alone."""
    low, high = ease_bounds(seam, b)
    whole = ease_span(seam)
    inside = [min(at_b[i + 1], high) - max(at_b[i], low) > _SLACK_MM for i in range(len(at_b) - 1)]
    shared = Span(min(0.0, whole.least), max(0.0, whole.most))
    one = whole if inside.count(True) == 1 else shared
    return [one if eased else Span(0.0, 0.0) for eased in inside]


def _pair_name(pair: Pair) -> str:
    first, second = pair
    if first.kind is None or (not first.name and second.name and second.kind):
        return mark_name(second if second.name or second.kind else first)
    return mark_name(first)


def seam_end_name(pattern: Pattern, seam: Seam, *, at_end: bool) -> str:
    """Return one end of a seam in words: its corner's name where it has one."""
    for refs in (seam.a, seam.b):
        name = end_corner(pattern, refs, at_end=at_end)
        if name:
            return f'"{name}"'
    return "the seam's end" if at_end else "the seam's start"


def end_corner(pattern: Pattern, refs: tuple[EdgeRef, ...], *, at_end: bool) -> str:
    """Return the name of the corner where a run starts or ends ("" when it has none)."""
    piece, index = corner_index(pattern, refs, at_end=at_end)
    return pattern.piece(piece).edges[index].corner.removesuffix(TWIN)


def corner_index(pattern: Pattern, refs: tuple[EdgeRef, ...], *, at_end: bool) -> tuple[str, int]:
    """Return (piece, number of the edge that starts there) of the corner where a run ends."""
    ref = refs[-1 if at_end else 0]
    piece = pattern.piece(ref.piece)
    index = piece.index(ref.edge)
    return ref.piece, (index + 1) % len(piece.edges) if at_end != ref.reversed else index
