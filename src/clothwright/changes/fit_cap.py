"""Redraw a sleeve cap to the length of its armhole and the ease that is meant."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.alike import pieces_alike
from clothwright.changes.change import Change, Outcome
from clothwright.changes.redraw import Place, Redrawn, redrawn, refuse_crossing, swung_edge
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.cap import cap_bounds, front_first, gain
from clothwright.pattern.measure import run_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import Pair, Walk, ease_span, notch_number, walk_seam
from clothwright.units.params import param
from clothwright.words import AtLeast, AtMost, Sentence, edge_name, listed, refs_name

SAME_MM = 1e-3
"""mm: a smaller difference is left alone."""

FLAT, HIGH = 0.5, 1.6
"""How many times as high a cap may become: beyond that it is another sleeve. Our own figures."""

FRONT = 0.45
"""Share of the ease that the front takes where the cap's own notches do not tell: the back takes
the larger one (a teacher's: 3/8 to 1/2 against 1/2 to 5/8 in; docs/sources.md, cap ease)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FitCap:
    """Parameters of `fit-cap`."""

    seam: str = param("seam", "the seam of the cap into its armhole", label="Which seam")
    ease: float | None = param(
        "length",
        "how much longer than its armhole the cap is to be; left out: as the seam says",
        default=None,
        least=0.0,
        label="Ease of the cap",
    )


class _Part(NamedTuple):
    """An edge of the cap, and how high its two ends lie above the underarm, mm along the grain."""

    ref: EdgeRef
    low: float
    high: float


def apply(pattern: Pattern, params: FitCap) -> Outcome:
    """Make a cap higher or flatter until it is as long as its armhole and the ease.

    Its height above the line between its two ends is stretched along the grain; the ends stay, and
    so do the sleeve's width and seams. A cap in several pieces is stretched as one: each takes its
    share, and their seams run up as much higher on either side. The notches under the arm go as
    far from the underarm as the armhole's, the ones between keep their share of the ease.

    Raises CannotDo for a seam that is no cap, or when the cap would become less than half or more
    than 1.6 times as high; BadInput for an unknown seam.
    """
    seam = pattern.seam(params.seam)
    walk = _walk(pattern, seam)
    parts = _parts(pattern, seam)
    want = walk.a.length + _ease(walk, seam, params)
    names = refs_name([(r.piece, r.edge) for r in seam.b])
    times = _times(pattern, parts, want, walk.b.length)
    new = _marked(_raised(pattern, parts, times), pattern, seam, walk)
    if new == pattern:
        said: Sentence = (f"Left {names} at ", walk.b.length)
        return Outcome(pattern=pattern, said=(*said, ": it fits its armhole."))
    for piece in dict.fromkeys(r.piece for r in seam.b):
        refuse_crossing(new.piece(piece), (f"the cap of {piece} cannot be made ", want, " long"))
    if times == 1.0:
        return Outcome(pattern=new, said=_notches_moved(pattern, new, seam))
    before, after = (_height(p, parts) for p in (pattern, new))
    said = (f"Fitted {names} to its armhole: from ", walk.b.length)
    said = (*said, " to ", want, ", which is ", want - walk.a.length, " longer; its height from ")
    return Outcome(pattern=new, said=(*said, before, " to ", after, "."))


def _walk(pattern: Pattern, seam: Seam) -> Walk:
    if seam.kind != "cap":
        raise CannotDo(
            what=f'seam "{seam.name}" cannot be fitted',
            why="it does not set a sleeve cap into an armhole",
            nearest="a seam that does",
        )
    return walk_seam(pattern, seam)


def _parts(pattern: Pattern, seam: Seam) -> list[_Part]:
    """Return the edges of a cap with how high they lie above the line between its two ends.

    From one end on each goes on where the one before it ends; what the last end lies higher than
    the first is shared over the width.
    """
    rise, wide = [0.0], [0.0]
    for ref in seam.b:
        piece = pattern.piece(ref.piece)
        path = piece.edge(ref.edge).path
        way = (path.end - path.start) * (-1.0 if ref.reversed else 1.0)
        rise.append(rise[-1] + way.dot(piece.up))
        wide.append(wide[-1] + abs(way.cross(piece.up)))
    tilt = rise[-1] / wide[-1] if wide[-1] > SAME_MM else 0.0
    above = [r - tilt * w for r, w in zip(rise, wide, strict=True)]
    ends = zip(seam.b, above, above[1:], strict=False)
    return [_Part(r, *((b, a) if r.reversed else (a, b))) for r, a, b in ends]


def _ease(walk: Walk, seam: Seam, params: FitCap) -> float:
    if params.ease is not None:
        return params.ease
    meant, now = ease_span(seam), walk.b.length - walk.a.length
    return min(max(now, meant.least), meant.most)


def _stretched(path: Path, up: Vec, part: _Part, times: float) -> Path:
    """Return a part of a cap with its height above the underarm multiplied, along `up`."""
    start, axis = path.start - up * part.low, path.end - up * part.high
    axis = (axis - start).unit
    lean = up.cross(axis)
    # The height of p along `up` is cross(p - start, axis) / cross(up, axis): linear in p.
    gx, gy = axis.y * (times - 1) / lean, -axis.x * (times - 1) / lean
    rest = -(gx * start.x + gy * start.y)
    move = Transform(
        a=1 + up.x * gx, b=up.y * gx, c=up.x * gy, d=1 + up.y * gy, e=up.x * rest, f=up.y * rest
    )
    more = (up * (h * (times - 1)) for h in (part.low, part.high))
    ends = [end + by for end, by in zip(path.ends, more, strict=True)]
    return path.transformed(move).with_ends(*ends)


def _height(pattern: Pattern, parts: list[_Part]) -> float:
    """Return how high a cap is, mm, above the line between its ends."""
    found = [0.0]
    for part in parts:
        piece = pattern.piece(part.ref.piece)
        path, up = piece.edge(part.ref.edge).path, piece.up
        base = path.start - up * part.low
        axis = path.end - up * part.high - base
        found += [(p - base).cross(axis) / up.cross(axis) for p in path.flatten()]
    return max(found)


def _raised(pattern: Pattern, parts: list[_Part], times: float) -> Pattern:
    """Return the pattern with a cap `times` as high, the edges beside its parts with them."""
    if times == 1.0:
        return pattern
    for part in parts:
        piece = pattern.piece(part.ref.piece)
        edge = piece.edge(part.ref.edge)
        path = _stretched(edge.path, piece.up, part, times)
        before, after = piece.neighbours(edge.name)
        new = {edge.name: Redrawn(path, _in_proportion(edge.length, path.length))}
        if part.low:
            new[before.name] = swung_edge(piece, before.name, end=path.start)
        if part.high:
            new[after.name] = swung_edge(piece, after.name, start=path.end)
        pattern = pattern.with_piece(redrawn(piece, new).piece)
    return pattern


def _in_proportion(old: float, new: float) -> Place:
    return lambda at: at * new / old


def _times(pattern: Pattern, parts: list[_Part], want: float, now: float) -> float:
    """Return how many times as high the cap must be to be `want` long, mm; `now`: as it is.

    Raises CannotDo.
    """
    if abs(want - now) <= SAME_MM:
        return 1.0
    edges = [(pattern.piece(p.ref.piece), p) for p in parts]

    def long(times: float) -> float:
        lines = ((piece.edge(p.ref.edge).path, piece.up, p) for piece, p in edges)
        return sum(_stretched(*line, times).length - line[0].length for line in lines) + now

    least, most = long(FLAT), long(HIGH)
    if not least <= want <= most:
        sleeve = listed(list(dict.fromkeys(p.ref.piece for p in parts)))
        raise CannotDo(
            what=(f"the cap of {sleeve} cannot be made ", want, " long"),
            why="it would become too flat or too high for its width",
            nearest=(
                "a cap of ",
                AtMost(most) if want > most else AtLeast(least),
                ", or a sleeve of another width",
            ),
        )
    low, high = FLAT, HIGH
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if long(middle) < want else (low, middle)
    return (low + high) / 2


def _marked(raised: Pattern, pattern: Pattern, seam: Seam, walk: Walk) -> Pattern:
    """Return a pattern whose cap was made higher with its notches where they belong."""
    run = 0.0
    whole = run_length(raised, seam.b)
    places = _places(pattern, seam, walk, whole)
    for ref in seam.b:
        piece = raised.piece(ref.piece)
        edge = piece.edge(ref.edge)
        notches = list(edge.notches)
        for n, notch in enumerate(edge.notches, start=1):
            at = places.get((ref.piece, ref.edge, n))
            if at is not None:
                at = min(max(at - run, 0.0), edge.length)
                at = edge.length - at if ref.reversed else at
                if abs(at - notch.at) > SAME_MM:
                    notches[n - 1] = replace(notch, at=at)
        run += edge.length
        if tuple(notches) != edge.notches:
            raised = raised.with_piece(piece.with_edge(replace(edge, notches=tuple(notches))))
    return raised


def _notches_moved(pattern: Pattern, new: Pattern, seam: Seam) -> Sentence:
    """Say how far the notches of a cap were moved, where only they were."""
    said: Sentence = ()
    for ref in seam.b:
        edges = (p.piece(ref.piece).edge(ref.edge).notches for p in (pattern, new))
        for n, (was, now) in enumerate(zip(*edges, strict=True), start=1):
            if now.at != was.at:
                called = f'notch "{was.name}"' if was.name else f"notch {n}"
                where = edge_name(ref.piece, ref.edge)
                said = (*said, f"Moved {called} of {where} by ", abs(now.at - was.at), ". ")
    return (*said, "The cap stays as long and as high as it is.")


def _places(
    pattern: Pattern, seam: Seam, walk: Walk, whole: float
) -> dict[tuple[str, str, int], float]:
    """Return where each notch of the cap belongs, mm along the seam: by piece, edge, number."""
    bounds = cap_bounds(walk, seam)
    if bounds is None:
        return {}
    low, high = (walk.pairs[i] for i in bounds)
    found = {}
    for pair in (p for p in walk.pairs if p.b.kind):
        number = notch_number(pattern, seam.b, pair.b)
        if pair.a.at <= low.a.at:
            at = pair.a.at
        elif pair.a.at >= high.a.at:
            at = whole - (walk.a.length - pair.a.at)
        else:
            ease = whole - walk.a.length
            at = pair.a.at + ease * _share(pair, low, high)
        found[pair.b.piece, pair.b.edge, number] = at
    return found


def _share(pair: Pair, low: Pair, high: Pair) -> float:
    """Return which share of the ease lies before a mark: as now, where that is sound."""
    whole = gain(high) - gain(low)
    share = (gain(pair) - gain(low)) / whole if whole > 1.0 else -1.0
    front = front_first(low, high) is not False
    sound = 0.2 <= share <= 0.5 if front else 0.5 <= share <= 0.8
    return share if sound else FRONT if front else 1 - FRONT


def _alike(pattern: Pattern, params: FitCap) -> tuple[FitCap, ...]:
    """Return the same for the caps of what lies on the sleeve, each into its own armhole."""
    laid = set(pieces_alike(pattern, [r.piece for r in pattern.seam(params.seam).b]))
    caps = (s for s in pattern.seams if s.kind == "cap" and s.name != params.seam)
    return tuple(replace(params, seam=s.name) for s in caps if {r.piece for r in s.b} <= laid)


CHANGE = Change(
    id="fit-cap",
    title="Fit a sleeve cap to its armhole",
    topic="sleeves",
    why="An armhole that was cut lower, wider or smaller no longer takes the cap that was drawn "
    "for it: it would pucker over the top, or pull under the arm.",
    source="docs/sources.md: cap ease; the stretching is plane geometry",
    params=FitCap,
    apply=apply,
    alike=_alike,
)
