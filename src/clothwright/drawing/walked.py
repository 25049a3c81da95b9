"""A seam walked: both stitching lines straightened and laid along each other, mark to mark."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.path import polyline, rectangle
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Walk, walk_seam
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.words import show_difference

LETTERS = 0.032
"""Size of words as a share of what is shown."""
DUST_MM = 0.05
"""mm: less than this is no difference that could be drawn."""
CLOSE_MM = 60.0
"""mm: the least a close look shows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """Where things are drawn, mm: the section shown, both lengths, the size of words.

    whole: the longest of both sides and what side b should be. ended: both sides end together,
    at `whole`; else they start together, at 0.
    """

    low: float
    high: float
    whole: float
    ended: bool
    a: float
    b: float
    u: float

    def place(self, which: str, at: float) -> float:
        """Return where a place of a side, mm from the seam's start, is drawn."""
        return at + (self.whole - (self.a if which == "a" else self.b) if self.ended else 0.0)

    def free_end(self, length: float) -> float:
        """Return where a side of this length has the end that is not laid together."""
        return self.whole - length if self.ended else length

    def shows(self, x: float) -> bool:
        """Tell whether a place lies inside what is shown."""
        return self.low - DUST_MM <= x <= self.high + DUST_MM

    def clip(self, x: float) -> float:
        """Return the place, or the border of what is shown."""
        return min(self.high, max(self.low, x))

    def band(self, which: str) -> tuple[float, float]:
        """Return the heights of a side's strip: its stitching line, then the piece's inside."""
        sign = 1.0 if which == "a" else -1.0
        return sign * 0.6 * self.u, sign * 3.0 * self.u


def walked_picture(
    pattern: Pattern,
    seam: Seam,
    unit: Unit,
    *,
    agree: float = 1.5,
    from_end: bool | None = None,
    close: bool = False,
) -> Picture:
    """Return side a (above) and side b (below) of a seam, straightened, to scale along the seam.

    What the sides are called stands beside it, where words find room (`seam_walked.Walked`).
    Both start together; with from_end they end together (None: where the notches say that the
    difference lies at the start). Darts are folded out, a mark stands where each was. The
    difference, ease allowed for, is one area of role FAULT (MEASURE up to `agree` mm), exactly as
    long as it is, with its figure; ease that is meant is an area of role LEFTOVER. Marks that meet
    are joined by a line, of role FAULT when they lie more than `agree` mm apart without ease.
    close: only the end with the difference, larger. Raises BadInput for edges that are not there.
    """
    walk = walk_seam(pattern, seam)
    ended = lies_at_start(walk, agree) if from_end is None else from_end
    frame = _frame(walk, ended=ended, close=close)
    items: list[Item] = [*_strip(frame, "a"), *_strip(frame, "b")]
    items += _difference(frame, walk, unit, agree)
    items += _marks(frame, walk, agree)
    for which, refs in (("a", seam.a), ("b", seam.b)):
        items += _darts(frame, pattern, refs, which)
    return Picture(items=tuple(items), title=f"{seam.name}, walked")


def lies_at_start(walk: Walk, agree: float) -> bool:
    """Tell whether only the first of several sections differs by more than `agree` mm."""
    off = [i for i, s in enumerate(walk.sections) if abs(s.off) > agree]
    return len(walk.sections) > 1 and off == [0]


def _frame(walk: Walk, *, ended: bool, close: bool) -> _Frame:
    """Return the frame of the whole seam, or of the end where both sides do not lie together."""
    a, b = walk.a.length, walk.b.length
    due = b - walk.off
    whole = max(a, b, due) or 1.0
    low, high = 0.0, whole
    if close:
        shown = min(whole, max(CLOSE_MM, 4.0 * (whole - min(a, b, due))))
        low, high = (0.0, shown) if ended else (whole - shown, whole)
    u = LETTERS * (high - low)
    return _Frame(low=low, high=high, whole=whole, ended=ended, a=a, b=b, u=u)


def _line(start: Vec, end: Vec, role: DrawnRole, group: str) -> Stroke:
    return Stroke(path=polyline((start, end)), role=role, group=group)


def _strip(frame: _Frame, which: str) -> list[Item]:
    """Return one side: a strip of the piece with its stitching line towards the other side."""
    length = frame.a if which == "a" else frame.b
    x0, x1 = (frame.clip(frame.place(which, s)) for s in (0.0, length))
    near, far = frame.band(which)
    if x1 - x0 < DUST_MM:
        return []
    return [
        Fill(path=rectangle((x0, near), (x1, far)), role=DrawnRole.PIECE, group=which),
        _line(Vec(x0, near), Vec(x1, near), DrawnRole.STITCH, which),
    ]


def _difference(frame: _Frame, walk: Walk, unit: Unit, agree: float) -> list[Item]:
    """Return the ease that is meant and what is over or missing, each to scale, with a figure."""
    due = frame.b - walk.off
    out: list[Item] = []
    if abs(due - frame.a) > DUST_MM:
        out.append(_area(frame, (frame.a, due), "b", DrawnRole.LEFTOVER))
    if abs(walk.off) > DUST_MM:
        which = "b" if walk.off > 0 or abs(due - frame.a) > DUST_MM else "a"
        role = DrawnRole.FAULT if abs(walk.off) > agree else DrawnRole.MEASURE
        out.append(_area(frame, (due, frame.b), which, role))
        out.append(_figure(frame, which, show_difference(abs(walk.off), unit), role))
    return out


def _area(frame: _Frame, reach: tuple[float, float], which: str, role: DrawnRole) -> Fill:
    """Return the section between two lengths of a side, over its strip and the gap."""
    near, far = frame.band(which)
    x0, x1 = (frame.clip(frame.free_end(s)) for s in reach)
    group = "ease" if role is DrawnRole.LEFTOVER else "difference"
    return Fill(path=rectangle((x0, -near), (x1, far)), role=role, group=group)


def _figure(frame: _Frame, which: str, words: str, role: DrawnRole) -> Text:
    """Return the figure of the difference, outside its strip at the end it stands at."""
    _, far = frame.band(which)
    y = far + (0.5 if far > 0 else -1.3) * frame.u
    x, anchor = (frame.low, "start") if frame.ended else (frame.high, "end")
    return Text(
        words=words, at=Vec(x, y), size=1.2 * frame.u, role=role, anchor=anchor, group="difference"
    )


def _marks(frame: _Frame, walk: Walk, agree: float) -> list[Item]:
    """Return a tick for every mark, and a line from each to the one it meets."""
    out: list[Item] = []
    for which, side in (("a", walk.a), ("b", walk.b)):
        near, far = frame.band(which)
        for station in side.stations:
            x = frame.place(which, station.at)
            if frame.shows(x):
                role = DrawnRole.MARK if station.kind is None else DrawnRole.NOTCH
                depth = 1.0 if station.kind is None else 0.45
                out.append(_line(Vec(x, near), Vec(x, near + (far - near) * depth), role, which))
    eased = walk.meant != (0.0, 0.0)
    for pair in walk.pairs:
        x0, x1 = frame.place("a", pair.a.at), frame.place("b", pair.b.at)
        if frame.shows(x0) and frame.shows(x1):
            apart = abs(x1 - x0) > agree and not eased
            role = DrawnRole.FAULT if apart else DrawnRole.NOTCH
            start, end = Vec(x0, frame.band("a")[0]), Vec(x1, frame.band("b")[0])
            out.append(_line(start, end, role, "meets"))
    return out


def _darts(frame: _Frame, pattern: Pattern, refs: tuple[EdgeRef, ...], which: str) -> list[Item]:
    """Return a line into the piece where each dart was folded out."""
    out: list[Item] = []
    near, far = frame.band(which)
    run = 0.0
    for ref in refs:
        piece = pattern.piece(ref.piece)
        length = net_length(piece, ref.edge)
        for dart in piece.darts_on(ref.edge):
            at = net_at(piece, ref.edge, dart.a)
            x = frame.place(which, run + (length - at if ref.reversed else at))
            if frame.shows(x):
                out.append(_line(Vec(x, near), Vec(x, far), DrawnRole.DART, dart.name))
        run += length
    return out
