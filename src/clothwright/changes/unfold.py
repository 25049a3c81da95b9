"""Unfold half pieces along their fold."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome, param
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import TWIN, unfolded


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfold:
    """Parameters of `unfold`."""

    pieces: tuple[str, ...] = param("pieces", "the half pieces to open out, to be cut single")


def apply(pattern: Pattern, params: Unfold) -> Outcome:
    """Open half pieces along their fold, so that they are cut whole from a single layer.

    Each edge gains a mirrored twin, called by the same name with ~ after it; edges that meet the
    fold (neck, hem) become one edge of twice the length. A seam of a side gains a twin as well; a
    seam of an edge that meets the fold stays, if all its edges are unfolded together.

    Raises CannotDo when a piece has no fold, when its fold is not straight, or when a seam would
    join a whole edge to a half one; BadInput for an unknown piece.
    """
    changed = pattern
    for name in params.pieces:
        piece = pattern.piece(name)
        if piece.fold is None:
            raise CannotDo(
                what=f'"{name}" cannot be unfolded',
                why="it has no fold edge",
                nearest=_with_folds(pattern),
            )
        changed = replace(
            changed,
            pieces=tuple(unfolded(p) if p.name == name else p for p in changed.pieces),
            seams=(),
        )
    seams = _all_seams(pattern, changed, params.pieces)
    listed = ", ".join(params.pieces)
    return Outcome(
        pattern=replace(changed, seams=seams), said=(f"Unfolded {listed}, to be cut single.",)
    )


def _with_folds(pattern: Pattern) -> str:
    names = [p.name for p in pattern.pieces if p.fold is not None]
    return "to unfold " + ", ".join(names) if names else "to leave it: it is whole already"


def _all_seams(before: Pattern, after: Pattern, names: tuple[str, ...]) -> tuple[Seam, ...]:
    """The seams as they were, and the twins of those at both sides."""
    seams: list[Seam] = []
    known = {s.name for s in before.seams}
    for seam in before.seams:
        refs = (*seam.a, *seam.b)
        merged = [r for r in refs if r.piece in names and _is_merged(before.piece(r.piece), r.edge)]
        if merged and len(merged) < len(refs):
            _refuse(before, seam, merged[0], names)
        if merged:
            seams.append(replace(seam, ease=2 * seam.ease, eased_max=2 * seam.eased_max))
            continue
        seams.append(seam)
        if any(r.piece in names for r in refs) and seam.name + TWIN not in known:
            twin = _twin(seam, after)
            seams.append(twin)
    return tuple(seams)


def _is_merged(piece: Piece, name: str) -> bool:
    """True for an edge that meets the fold and becomes one with its twin."""
    at = next(i for i, e in enumerate(piece.edges) if piece.fold and e.name == piece.fold.name)
    n = len(piece.edges)
    return name in (piece.edges[at - 1].name, piece.edges[(at + 1) % n].name)


def _refuse(pattern: Pattern, seam: Seam, merged: EdgeRef, names: tuple[str, ...]) -> None:
    others = {r.piece for r in (*seam.a, *seam.b)} - set(names)
    halves = sorted(n for n in others if pattern.piece(n).fold is not None)
    raise CannotDo(
        what=f'"{merged.piece}" cannot be unfolded alone',
        why=f'its whole edge "{merged.edge}" would be sewn to half an edge in seam "{seam.name}"',
        nearest="to unfold " + ", ".join((*names, *halves)) + " together"
        if halves
        else f'to leave "{merged.piece}" a half piece',
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
    why="On a printed cloth a fold hides what the lower layer shows; a piece laid open can be "
    "placed to the thread. A one-way print or a piece wider than the folded cloth asks for it too.",
    source="common practice",
    params=Unfold,
    apply=apply,
)
