"""Redraw a sleeve cap to the length of its armhole and the ease that is meant."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.alike import pieces_alike
from clothwright.changes.change import Change, Outcome
from clothwright.changes.redraw import refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.cap import cap_bounds, front_first, gain
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Notch, Piece
from clothwright.pattern.walk import Pair, Walk, ease_span, notch_number, walk_seam
from clothwright.units.params import param
from clothwright.words import AtLeast, AtMost, Sentence, edge_name

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


def apply(pattern: Pattern, params: FitCap) -> Outcome:
    """Make a cap higher or flatter until it is as long as its armhole and the ease.

    Its height above the line between its two ends is stretched along the grain; the ends stay, and
    so do the sleeve's width and seams. The notches under the arm go as far from the underarm as
    the armhole's, the ones between keep their share of the ease.

    Raises CannotDo for a seam that is no cap in one piece, or when the cap would become less than
    half or more than 1.6 times as high; BadInput for an unknown seam.
    """
    seam = pattern.seam(params.seam)
    walk = _walk(pattern, seam)
    ref = seam.b[0]
    piece = pattern.piece(ref.piece)
    old = piece.edge(ref.edge)
    want = walk.a.length + _ease(walk, seam, params)
    times = _times(piece, old.path, want, old.path.length + want - walk.b.length)
    path = old.path if times == 1.0 else _stretched(old.path, piece.up, times)
    places = _places(pattern, seam, walk, path.length)
    notches = _notches(old.notches, places, old.path.length, path.length, back=ref.reversed)
    same = all(abs(a.at - b.at) <= SAME_MM for a, b in zip(old.notches, notches, strict=True))
    if times == 1.0 and same:
        said: Sentence = (f"Left {edge_name(piece.name, old.name)} at ", walk.b.length)
        return Outcome(pattern=pattern, said=(*said, ": it fits its armhole."))
    new = piece.with_edge(replace(old, path=path, notches=notches))
    refuse_crossing(new, (f"the cap of {piece.name} cannot be made ", want, " long"))
    before, after = (_height(p, piece.up) for p in (old.path, path))
    said = (f"Fitted {edge_name(piece.name, old.name)} to its armhole: from ", walk.b.length)
    said = (*said, " to ", want, ", which is ", want - walk.a.length, " longer; its height from ")
    return Outcome(pattern=pattern.with_piece(new), said=(*said, before, " to ", after, "."))


def _walk(pattern: Pattern, seam: Seam) -> Walk:
    if seam.kind != "cap" or len(seam.b) != 1:
        raise CannotDo(
            what=f'seam "{seam.name}" cannot be fitted',
            why="it does not set a sleeve cap of one piece into an armhole",
            nearest="a seam that does",
        )
    return walk_seam(pattern, seam)


def _ease(walk: Walk, seam: Seam, params: FitCap) -> float:
    if params.ease is not None:
        return params.ease
    meant, now = ease_span(seam), walk.b.length - walk.a.length
    return min(max(now, meant.least), meant.most)


def _stretched(path: Path, up: Vec, times: float) -> Path:
    """Return a cap with its height above the line between its ends multiplied, along `up`."""
    start, axis = path.start, (path.end - path.start).unit
    lean = up.cross(axis)
    # The height of p along `up` is cross(p - start, axis) / cross(up, axis): linear in p.
    gx, gy = axis.y * (times - 1) / lean, -axis.x * (times - 1) / lean
    rest = -(gx * start.x + gy * start.y)
    move = Transform(
        a=1 + up.x * gx, b=up.y * gx, c=up.x * gy, d=1 + up.y * gy, e=up.x * rest, f=up.y * rest
    )
    return path.transformed(move).with_ends(start=path.start, end=path.end)


def _height(path: Path, up: Vec) -> float:
    axis = (path.end - path.start).unit
    return max(((p - path.start).cross(axis) / up.cross(axis) for p in path.flatten()), default=0.0)


def _times(piece: Piece, path: Path, want: float, length: float) -> float:
    """Return how many times as high the cap must be for its path to be `length` long, mm.

    want: the cap's length in words. Raises CannotDo.
    """
    if abs(length - path.length) <= SAME_MM:
        return 1.0

    def long(times: float) -> float:
        return _stretched(path, piece.up, times).length

    least, most = long(FLAT), long(HIGH)
    if not least <= length <= most:
        gain = want - length
        edge = AtMost(most + gain) if length > most else AtLeast(least + gain)
        raise CannotDo(
            what=(f"the cap of {piece.name} cannot be made ", want, " long"),
            why="it would become too flat or too high for its width",
            nearest=("a cap of ", edge, ", or a sleeve of another width"),
        )
    low, high = FLAT, HIGH
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if long(middle) < length else (low, middle)
    return (low + high) / 2


def _places(pattern: Pattern, seam: Seam, walk: Walk, whole: float) -> dict[int, float]:
    """Return where each notch of the cap (by its number) belongs, mm along the seam."""
    bounds = cap_bounds(walk, seam)
    if bounds is None:
        return {}
    low, high = (walk.pairs[i] for i in bounds)
    found: dict[int, float] = {}
    for pair in (p for p in walk.pairs if p.b.kind):
        number = notch_number(pattern, seam.b, pair.b)
        if pair.a.at <= low.a.at:
            found[number] = pair.a.at
        elif pair.a.at >= high.a.at:
            found[number] = whole - (walk.a.length - pair.a.at)
        else:
            ease = whole - walk.a.length
            found[number] = pair.a.at + ease * _share(pair, low, high)
    return found


def _share(pair: Pair, low: Pair, high: Pair) -> float:
    """Return which share of the ease lies before a mark: as now, where that is sound."""
    whole = gain(high) - gain(low)
    share = (gain(pair) - gain(low)) / whole if whole > 1.0 else -1.0
    front = front_first(low, high) is not False
    sound = 0.2 <= share <= 0.5 if front else 0.5 <= share <= 0.8
    return share if sound else FRONT if front else 1 - FRONT


def _notches(
    notches: tuple[Notch, ...], places: dict[int, float], old: float, new: float, *, back: bool
) -> tuple[Notch, ...]:
    """Return the notches at their places along the seam; others in proportion to the length."""
    moved = []
    for number, notch in enumerate(notches, start=1):
        at = places.get(number)
        if at is None:
            at = notch.at * new / old
        elif back:
            at = new - at
        moved.append(notch if abs(at - notch.at) <= SAME_MM else replace(notch, at=at))
    return tuple(moved)


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
