"""Cut an edge over folded pleats: folded and cut in one line, it runs on across every layer."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.redraw import Redrawn, redrawn, refuse_crossing
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform, reflection, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.fullness import fuller, planned_words
from clothwright.pattern.pattern import FOLDED, Pattern, Seam
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.pleats import PleatFold, folds_of
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name, listed

DOWN_MM = 60.0
LEAST_MM = 5.0
"""mm: a fold line shorter than this cannot be pinned."""
FLAT_MM = 0.5
"""mm: a part seen between two folds that is narrower than this counts as none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldPleats:
    """The seam whose pleats are folded, which way the folds run, and how far they are marked."""

    seam: str = param("seam", "the seam that has pleats or tucks", label="Which seam")
    along: str = param(
        "choice",
        "",
        default="grain",
        choices={"grain": "along the grain", "edge": "square to the edge"},
        label="Which way the folds run",
    )
    down: float = param(
        "length",
        "how far each fold is marked",
        default=DOWN_MM,
        label="How far down",
        least=LEAST_MM,
    )


def apply(pattern: Pattern, params: FoldPleats) -> Outcome:
    """Redraw the folded side of a seam so that it is one line when every pleat is folded.

    The pleats lie evenly between the seam's marks. What is seen between them keeps its shape and is
    lifted or lowered so that it meets in one line; the cloth within a fold is cut as what lies over
    it. The ends of the edge stay. Each fold is marked by its two lines. Raises CannotDo where the
    pleats are not counted, do not fit, or lie over a dart or the end of an edge.
    """
    seam = pattern.seam(params.seam)
    found = folds_of(pattern, seam)
    if not found:
        raise _no_folds(seam)
    changed, folded = pattern, 0.0
    for ref, folds in found.items():
        one = _recut(changed.piece(ref.piece), ref, folds, params, seam)
        changed = changed.with_piece(one.piece)
        folded += one.grown
    now = _with_ease(seam, folded)
    changed = changed if now == seam else changed.with_seam(now)
    return Outcome(pattern=changed, said=_said(seam, tuple(found)))


class _Done(NamedTuple):
    """A piece with its edge recut. grown: mm by which the cloth that its folds take has grown."""

    piece: Piece
    grown: float


def _recut(
    piece: Piece, ref: EdgeRef, folds: tuple[PleatFold, ...], params: FoldPleats, seam: Seam
) -> _Done:
    edge = piece.edge(ref.edge)
    what = f"the pleats of {edge_name(ref.piece, ref.edge)} cannot be folded"
    if any(m.name.startswith(f"{seam.name} fold ") for m in piece.marks):
        raise CannotDo(
            what=what, why="its folds are marked already", nearest="to leave it as it is"
        )
    lie = _Lie.of(piece, edge.path, params.along)
    if lie is None:
        why = "the grain runs along this edge, not down from it"
        raise CannotDo(what=what, why=why, nearest="folds square to the edge")
    parts = _visible(edge.path, folds, lie)
    path = join_all([p for p in _laid(parts, folds, lie, what) if p.length > 1e-9])
    path = path.with_ends(start=edge.path.start, end=edge.path.end)
    out = redrawn(
        piece,
        {edge.name: Redrawn(path, _places(edge.path, folds, parts, path))},
        marks=(*piece.marks, *_marks(seam, parts, folds, lie, params.down)),
    ).piece
    refuse_crossing(out, what)
    seen = sum(p.path.length for p in parts)
    was = sum(f.end - f.start for f in folds)
    return _Done(out, path.length - seen - was)


class _Lie(NamedTuple):
    """Which way folds run: down from the edge; along: square to that, as the edge runs."""

    down: Vec
    along: Vec

    @classmethod
    def of(cls, piece: Piece, path: Path, way: str) -> _Lie | None:
        """Return it; None where the grain runs along the edge."""
        chord = (path.end - path.start).unit
        if way == "edge":
            return cls(chord.perp, chord)
        inward = chord.perp
        down = piece.up if piece.up.dot(inward) > 0 else -piece.up
        along = -down.perp
        return cls(down, along) if along.dot(chord) > math.sin(math.radians(30.0)) else None


class _Part(NamedTuple):
    """A part of the edge that is seen, redrawn on the flat. start, end: on the old edge.

    move: from the old edge to it.
    """

    path: Path
    start: float
    end: float
    move: Transform


def _visible(path: Path, folds: tuple[PleatFold, ...], lie: _Lie) -> list[_Part]:
    """Return what is seen before, between and after the folds, lifted to meet in one line."""
    cuts = [0.0, *(at for f in folds for at in (f.start, f.end)), path.length]
    pairs = list(zip(cuts[::2], cuts[1::2], strict=True))
    steps = [path.point_at(f.end) - path.point_at(f.start) for f in folds]
    rises, widths = [lie.down.dot(s) for s in steps], [lie.along.dot(s) for s in steps]
    whole = lie.along.dot(path.end - path.start) - sum(widths)
    slope = sum(rises) / whole
    out, gone, lost = [], 0.0, 0.0
    for k, (start, end) in enumerate(pairs):
        move = _sheared(path.start, lie, slope, slope * -gone - lost)
        if end - start > FLAT_MM:
            out.append(_Part(path.between(start, end).transformed(move), start, end, move))
        else:
            at = move.apply(path.point_at(start))
            out.append(_Part(Path((Line(at, at),)), start, end, move))
        if k < len(folds):
            gone, lost = gone + widths[k], lost + rises[k]
    return out


def _sheared(origin: Vec, lie: _Lie, slope: float, by: float) -> Transform:
    """Return p + down * (slope * along·(p - origin) + by)."""
    (dx, dy), (ax, ay) = lie.down, lie.along
    base = by - slope * lie.along.dot(origin)
    return Transform(
        1.0 + slope * dx * ax,
        slope * dy * ax,
        slope * dx * ay,
        1.0 + slope * dy * ay,
        dx * base,
        dy * base,
    )


def _laid(parts: list[_Part], folds: tuple[PleatFold, ...], lie: _Lie, what: str) -> Iterator[Path]:
    """Yield the whole edge in order: what is seen, and in each fold what lies under it."""
    for k, fold in enumerate(folds):
        before, after = parts[k].path, parts[k + 1].path
        yield before
        width = lie.along.dot(after.start - before.end)
        over = before.reversed() if fold.to_end else after
        under = _reach(over, lie, width / 2, what)
        edge_at, other_at = (before.end, after.start) if fold.to_end else (after.start, before.end)
        mirror = reflection(edge_at, edge_at + lie.down)
        shift = translation(lie.along * (width if fold.to_end else -width))
        near = under.transformed(mirror)
        far = under.transformed(shift)
        if fold.to_end:
            yield near
            yield far.with_ends(start=other_at).reversed()
        else:
            yield far.with_ends(start=other_at)
            yield near.reversed()
    yield parts[-1].path


def _reach(over: Path, lie: _Lie, width: float, what: str) -> Path:
    """Return the beginning of a line as far as the cloth under it reaches. Raises CannotDo."""
    have = abs(lie.along.dot(over.end - over.start))
    if have < width - FLAT_MM:
        raise CannotDo(
            what=what,
            why=("the fold reaches ", width, " under a part that shows only ", have),
            nearest=("folds that lie ", AtMost(have), " deep or less, or fewer of them"),
        )
    low, high = 0.0, over.length
    for _ in range(60):
        mid = (low + high) / 2
        if abs(lie.along.dot(over.point_at(mid) - over.start)) < width:
            low = mid
        else:
            high = mid
    return over.between(0.0, min(high, over.length))


def _places(
    path: Path, folds: tuple[PleatFold, ...], parts: list[_Part], new: Path
) -> Callable[[float], float]:
    """Return where a place on the old edge is on the new one."""

    def seen(part: _Part, at: float) -> float:
        return new.nearest(part.move.apply(path.point_at(at)))[0]

    def place(at: float) -> float:
        k = next((k for k, f in enumerate(folds) if f.start < at < f.end), None)
        if k is None:
            return seen(next(p for p in parts if p.start <= at <= p.end), at)
        low, high = seen(parts[k], folds[k].start), seen(parts[k + 1], folds[k].end)
        share = (at - folds[k].start) / (folds[k].end - folds[k].start)
        return low + share * (high - low)

    return place


def _marks(
    seam: Seam, parts: list[_Part], folds: tuple[PleatFold, ...], lie: _Lie, down: float
) -> Iterator[Mark]:
    """Yield the two lines of each fold: the one that is folded, and where it is laid."""
    for k, fold in enumerate(folds):
        ends = (parts[k].path.end, parts[k + 1].path.start)
        for at, folded in zip(ends, (fold.to_end, not fold.to_end), strict=True):
            name = f"{seam.name} fold {fold.number}" + ("" if folded else " place")
            line = polyline((at, at + lie.down * down))
            yield Mark(name=name, path=line, note="fold" if folded else "lay the fold here")


def _with_ease(seam: Seam, grown: float) -> Seam:
    """Return the seam with the cloth that its folds take now."""
    more = grown if fuller(seam) == seam.b else -grown
    most = seam.eased_max + more if seam.eased_max else 0.0
    return replace(seam, ease=round(seam.ease + more, 6), eased_max=round(most, 6))


def _no_folds(seam: Seam) -> CannotDo:
    what = f'the pleats of seam "{seam.name}" cannot be folded'
    if seam.join not in FOLDED or not seam.folds:
        why = "it is not said how many pleats or tucks it has"
        return CannotDo(what=what, why=why, nearest="to say so on the page of the seams")
    why = "they do not fit between the marks, or lie over a dart or the end of an edge"
    return CannotDo(what=what, why=why, nearest="fewer pleats, or other marks")


def _said(seam: Seam, refs: tuple[EdgeRef, ...]) -> Sentence:
    edges = listed([edge_name(r.piece, r.edge) for r in refs])
    pleats = planned_words(seam).removeprefix("in ")
    return (f"Cut {edges} over {pleats}, folded, in one line.",)


CHANGE = Change(
    id="fold-pleats",
    title="Cut the edge over folded pleats",
    topic="fullness and openings",
    why="Where pleats meet an edge that slants or curves, their folds come out short or long below "
    "it; folded and cut in one line, every layer ends at the seam.",
    source="plane geometry: fold, cut, unfold (docs/sources.md, folds)",
    params=FoldPleats,
    apply=apply,
)
