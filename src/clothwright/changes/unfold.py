"""Unfold half pieces along their fold."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.trail import Trail, joined, trail_to
from clothwright.pattern.whole import TWIN, unfolded
from clothwright.units.params import param
from clothwright.words import listed


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfold:
    """Parameters of `unfold`."""

    pieces: tuple[str, ...] = param(
        "pieces", "the half pieces to open out, to be cut single", label="Which pieces"
    )


def apply(pattern: Pattern, params: Unfold) -> Outcome:
    """Open half pieces along their fold, so that they are cut whole from a single layer.

    Each edge gains a mirrored twin, called by the same name with ~ after it; edges that meet the
    fold (neck, hem) become one edge of twice the length. A seam of a side gains a twin as well; a
    seam of an edge that meets the fold stays and holds both halves, if all its edges are unfolded
    together; two seams that hold a half each (a waistband's left and right) become one.

    Raises CannotDo when a piece has no fold, when its fold is not straight, or when a seam would
    join a whole edge to a half one; BadInput for an unknown piece.
    """
    for name in params.pieces:
        if pattern.piece(name).fold is None:
            raise CannotDo(
                what=f'"{name}" cannot be unfolded',
                why="it has no fold edge",
                nearest=_with_folds(pattern),
            )
    opening = _Opening(pattern, params.pieces, _apart(pattern, params.pieces))
    pieces = tuple(
        unfolded(p, [e for n, e in opening.apart if n == p.name]) if p.name in params.pieces else p
        for p in pattern.pieces
    )
    changed = replace(pattern, pieces=pieces, seams=())
    seams, merged = _all_seams(opening, changed)
    return Outcome(
        pattern=replace(changed, seams=seams),
        said=(f"Unfolded {', '.join(params.pieces)}, to be cut single.",),
        trail=joined(
            (
                *(trail_to(pattern.piece(n), (changed.piece(n),)) for n in params.pieces),
                Trail(seams=merged),
            )
        ),
    )


class _Opening(NamedTuple):
    """The pieces that are opened, as they were, and edges that stay in two at their fold."""

    before: Pattern
    names: tuple[str, ...]
    apart: frozenset[tuple[str, str]]

    def is_merged(self, ref: EdgeRef) -> bool:
        """True for an edge that meets the fold and becomes one with its twin."""
        fold = self.before.piece(ref.piece).fold
        if ref.piece not in self.names or fold is None or (ref.piece, ref.edge) in self.apart:
            return False
        return ref.edge in (e.name for e in self.before.piece(ref.piece).neighbours(fold.name))

    def joins(self, run: tuple[EdgeRef, ...], *, at_end: bool) -> bool:
        """Tell whether a run meets the fold at its end (or start) and goes on beyond it."""
        ref = run[-1 if at_end else 0]
        return self.is_merged(ref) and _fold_at_end(self.before.piece(ref.piece), ref) is at_end

    def twin_of(self, ref: EdgeRef) -> EdgeRef:
        """The edge on the other side of the body."""
        if ref.piece in self.names:
            return replace(ref, edge=ref.edge + TWIN)
        return replace(ref, reversed=not ref.reversed)


def _apart(before: Pattern, names: tuple[str, ...]) -> frozenset[tuple[str, str]]:
    """Return the edges that stay in two: a neck where the band that goes round it has its ends.

    Such a seam is a ring that begins and ends on a fold of this edge, and its other side does not.
    """
    apart: frozenset[tuple[str, str]] = frozenset()
    seams = [s for s in before.seams if s.pieces <= set(names)]
    while True:
        it, more = _Opening(before, names, apart), set(apart)
        for runs, at_end in (((s.a, s.b), end) for s in seams for end in (False, True)):
            met = [run for run in runs if it.joins(run, at_end=at_end)]
            if len(met) == 1 and all(it.joins(run, at_end=not at_end) for run in runs):
                ref = met[0][-1 if at_end else 0]
                more.add((ref.piece, ref.edge))
        if more == apart:
            return apart
        apart = frozenset(more)


def _with_folds(pattern: Pattern) -> str:
    names = [p.name for p in pattern.pieces if p.fold is not None]
    return "to unfold " + ", ".join(names) if names else "to leave it: it is whole already"


def _all_seams(
    it: _Opening, after: Pattern
) -> tuple[tuple[Seam, ...], tuple[tuple[str, tuple[str, ...]], ...]]:
    """The seams as they were, whole where they meet the fold, and the twins of those at a side.

    Besides, the name of each seam that another has taken in, with the name of that one.
    """
    seams: list[Seam] = []
    done: dict[str, tuple[str, ...]] = {}
    known = {s.name for s in it.before.seams}
    for seam in it.before.seams:
        if seam.name in done:
            continue
        opened = _opened(it, seam)
        if opened != seam:
            seams.append(opened)
            continue
        merged = [r for r in seam.refs if it.is_merged(r)]
        if merged:
            whole, other = _whole(it, seam, merged[0])
            seams.append(whole)
            done |= {other: (seam.name,)} if other else {}
            continue
        seams.append(seam)
        if seam.pieces & set(it.names) and seam.name + TWIN not in known:
            seams.append(_twin(seam, after))
    return tuple(seams), tuple(done.items())


def _opened(it: _Opening, seam: Seam) -> Seam:
    """A seam that goes along both halves of a piece, along the whole edge once, and its twins.

    The seam as it is when it does not, or when it begins and ends at the fold.
    """

    def run(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
        out: list[EdgeRef] = []
        for ref in refs:
            back = replace(ref, reversed=not ref.reversed)
            if ref.piece not in it.names or back not in out:
                out.append(ref)
            elif not it.is_merged(ref):
                out.append(replace(back, edge=ref.edge + TWIN))
            elif out[-1] != back:
                return refs
        return tuple(out)

    return replace(seam, a=run(seam.a), b=run(seam.b))


def _whole(it: _Opening, seam: Seam, ref: EdgeRef) -> tuple[Seam, str]:
    """The seam with both halves of an edge that meets the fold, and the seam it takes in.

    Either every piece of the seam is unfolded, or another seam already holds the other half: one
    that begins at the fold with the same edge where this one ends with it, or the reverse.
    """
    at_end = _fold_at_end(it.before.piece(ref.piece), ref)
    if seam.pieces <= set(it.names):
        return _doubled(it, seam, at_end=at_end), ""
    for other in it.before.seams:
        first, second = (seam, other) if at_end else (other, seam)
        for run in ("a", "b"):
            last, start = getattr(first, run)[-1], getattr(second, run)[0]
            same = (last.piece, last.edge) == (start.piece, start.edge) == (ref.piece, ref.edge)
            if same and last.reversed != start.reversed and other is not seam:
                return _joined(first, second, run, seam.name), other.name
    if all(_is_both_sides(it, name) for name in seam.pieces):
        return _doubled(it, seam, at_end=at_end), ""
    raise _half_sewn(it, seam, ref)


def _is_both_sides(it: _Opening, name: str) -> bool:
    """Tell whether a piece lies on both sides of the body: it is opened, or cut as a pair."""
    piece = it.before.piece(name)
    return name in it.names or (piece.fold is None and any(c.how == "pair" for c in piece.cuts))


def _doubled(it: _Opening, seam: Seam, *, at_end: bool) -> Seam:
    """The seam of one half with that of the other, which goes on from it at the fold."""
    a, b = (_with_other_half(it, run, at_end=at_end) for run in (seam.a, seam.b))
    return replace(seam, a=a, b=b, ease=2 * seam.ease, eased_max=2 * seam.eased_max)


def _fold_at_end(piece: Piece, ref: EdgeRef) -> bool:
    """True when travelling the edge as the seam does ends at the fold."""
    fold = piece.index(piece.fold.name) if piece.fold else 0
    before_fold = piece.edges[fold - 1].name == ref.edge
    return before_fold != ref.reversed


def _with_other_half(
    it: _Opening, run: tuple[EdgeRef, ...], *, at_end: bool
) -> tuple[EdgeRef, ...]:
    """A run that reaches the fold, and on from there along the twins; a merged edge counts once.

    The twin of a piece that is cut as a pair is its other copy, which lies the other way.
    """
    half = run if at_end else tuple(reversed(run))
    twins = (r if it.is_merged(r) else it.twin_of(r) for r in reversed(half))
    joined = (*half, *(r for r in twins if r not in half))
    return joined if at_end else tuple(reversed(joined))


def _joined(first: Seam, second: Seam, run: str, name: str) -> Seam:
    """Two half seams that meet at the fold as one; the edge they share counts once."""
    drop = {"a": 0, "b": 0, run: 1}
    return replace(
        first,
        name=name,
        a=(*first.a, *second.a[drop["a"] :]),
        b=(*first.b, *second.b[drop["b"] :]),
        ease=first.ease + second.ease,
        eased_max=first.eased_max + second.eased_max,
    )


def _half_sewn(it: _Opening, seam: Seam, merged: EdgeRef) -> CannotDo:
    others = sorted(n for n in seam.pieces if not _is_both_sides(it, n))
    halves = [n for n in others if it.before.piece(n).fold is not None]
    return CannotDo(
        what=f'"{merged.piece}" cannot be unfolded alone',
        why=f'its whole edge "{merged.edge}" would be sewn to half an edge in seam "{seam.name}"',
        nearest="to unfold " + ", ".join((*it.names, *halves)) + " together"
        if halves
        else f'to leave "{merged.piece}" a half piece, or to say that {listed(others)} '
        f"{'is' if len(others) == 1 else 'are'} cut as a pair",
    )


def _twin(seam: Seam, after: Pattern) -> Seam:
    """The same seam on the other side of the body; an edge without a twin is another copy's."""

    def twin(ref: EdgeRef) -> EdgeRef:
        name = ref.edge + TWIN
        if any(e.name == name for e in after.piece(ref.piece).edges):
            return replace(ref, edge=name, reversed=not ref.reversed)
        return ref

    return replace(
        seam,
        name=seam.name + TWIN,
        a=tuple(twin(r) for r in seam.a),
        b=tuple(twin(r) for r in seam.b),
    )


CHANGE = Change(
    id="unfold",
    title="Unfold a half piece",
    topic="whole pieces",
    why="On a printed cloth a fold hides what the lower layer shows; a piece laid open can be "
    "placed to the thread. A one-way print or a piece wider than the folded cloth asks for it too.",
    source="common practice",
    params=Unfold,
    apply=apply,
)
