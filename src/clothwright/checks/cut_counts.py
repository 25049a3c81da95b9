"""Are as many cut of each piece as the pieces it is sewn to ask for?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import cut_as, each
from clothwright.pattern.companions import LAID, companions_of
from clothwright.pattern.finding import Finding, Mend, Severity, Where
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import INTERFACING, Cut, Edge, Piece, Role
from clothwright.pattern.places import places
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.symmetry import is_symmetrical
from clothwright.pattern.together import kind_of
from clothwright.pattern.whole import TWIN
from clothwright.words import begun, counted, listed

ID = "cut-counts"

DOUBLED = {"collar", "stand", "cuff", "tie", "strap", "belt", "tab", "flap"}
"""Words that name what is made of two layers (trade words); a fold along it makes them too."""


class Copies(NamedTuple):
    """How often a seam can be sewn along one of its edges.

    share: with the edge's copies shared out over the seams it is in; whole: each seam having them
    all, as an edge has that lies between two layers of a band. alike: left and right are alike.
    """

    ref: EdgeRef
    cut: Cut
    share: float
    whole: float
    alike: bool


def cut_counts(pattern: Pattern, settings: CheckSettings) -> Iterator[Finding]:
    """Compare how often the two sides of each seam are there."""
    del settings
    used = Counter((_layer(s), r.piece, r.edge) for s in pattern.seams for r in s.refs)

    def look(seam: Seam) -> Iterator[Finding]:
        here = Counter((r.piece, r.edge) for r in seam.refs)
        copies = [
            c
            for (piece, edge), times in here.items()
            for c in _copies(pattern, EdgeRef(piece, edge), times, used[_layer(seam), piece, edge])
        ]
        yield from _differ(pattern, seam, copies)

    yield from each(ID, pattern.seams, lambda s: Where(seam=s.name), look)
    yield from each(ID, pattern.pieces, lambda p: Where(piece=p.name), lambda p: _bare(pattern, p))
    yield from each(
        ID, _patches(pattern), lambda p: Where(piece=p.name), lambda p: _few(pattern, p)
    )


def _bare(pattern: Pattern, piece: Piece) -> Iterator[Finding]:
    """Look at a collar, a cuff or a tie that is cut in one layer: nothing lies under its edges."""
    if not DOUBLED & set(piece.name.lower().split()) or not any(
        piece.name in s.pieces for s in pattern.seams
    ):
        return
    layers = sum(c.count for c in piece.cuts if c.material != INTERFACING)
    lined = any(c.kind in LAID[1:] for c in companions_of(pattern, piece.name))
    folded = any("fold" in m.name.lower().split() for m in piece.marks)
    free = sorted(e.name for e in piece.edges if _is_free(pattern, piece, e))
    if layers != 1 or lined or folded or not free or _has_like(pattern, piece):
        return
    yield Finding(
        code="cut-in-one-layer",
        severity=Severity.NOTICE,
        where=Where(piece=piece.name, edge=free[0]),
        measured=1,
        expected=2,
        unit="count",
        words=(
            f"{begun(piece.name)} is cut in one layer, and what it has as allowance at its "
            f"{listed(free)} is sewn to nothing. Cut it twice, name the seam to what lies under "
            "it, or make these edges hems.",
        ),
        mend=cut_as(piece, "fold" if piece.fold else piece.cuts[0].how, 2),
    )


def _has_like(pattern: Pattern, piece: Piece) -> bool:
    """Tell whether a piece of its kind is sewn to it: an upper collar to an under collar."""
    kind, words = kind_of(pattern, piece), DOUBLED & set(piece.name.lower().split())
    sewn = {n for s in pattern.seams if piece.name in s.pieces for n in s.pieces - {piece.name}}
    others = [pattern.piece(name) for name in sewn]
    return any(words & set(o.name.lower().split()) and kind_of(pattern, o) == kind for o in others)


def _is_free(pattern: Pattern, piece: Piece, edge: Edge) -> bool:
    """Tell whether an edge has an allowance to be sewn, and no seam."""
    seam = edge.role is Role.SEAM and edge.allowance > 0.0
    return seam and not pattern.seams_of(piece.name, edge.name)


def _patches(pattern: Pattern) -> tuple[Piece, ...]:
    return tuple({p.patch.name: p.patch for p in places(pattern)}.values())


def _few(pattern: Pattern, patch: Piece) -> Iterator[Finding]:
    """Count a patch against the pieces that it is marked on."""
    on = [p.on for p in places(pattern) if p.patch.name == patch.name]
    have, wanted = _pieces_of(patch), sum(_sides_of(piece) for piece in on)
    if not patch.cuts or have >= wanted:
        return
    yield Finding(
        code="patches-too-few",
        severity=Severity.NOTICE,
        where=Where(piece=patch.name, other=on[0].name),
        measured=have,
        expected=wanted,
        unit="count",
        words=(
            f"{begun(patch.name)} is cut {_times(have)}, and its place is marked on "
            f"{listed([p.name for p in on])}, where it would lie {_times(wanted)}. Cut it as "
            "often, or sew it on one side only.",
        ),
        mend=cut_as(patch, "once", wanted) if is_symmetrical(patch) else cut_as(patch, "pair", 1),
    )


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, counted(count, "time"))


def _pieces_of(piece: Piece) -> int:
    """Return how many come of a piece that is cut, those of the cloth it shows."""
    cut = next((c for c in piece.cuts if c.material != INTERFACING), None)
    return 0 if cut is None else cut.count * (2 if cut.how == "pair" else 1)


def _sides_of(piece: Piece) -> int:
    """Return on how many sides of the body a place marked on a piece lies."""
    return 2 if piece.fold is not None or any(c.how == "pair" for c in piece.cuts) else 1


def _layer(seam: Seam) -> str:
    """A facing or a lining is sewn on as often as the seams of the cloth it lies under."""
    return "flat" if seam.kind in ("plain", "cap") else seam.kind


def _copies(pattern: Pattern, ref: EdgeRef, here: int, used: int) -> Iterator[Copies]:
    """Yield the copies of an edge that is used so often in this seam, and in all of its layer."""
    piece = pattern.piece(ref.piece)
    cut = next((c for c in piece.cuts if c.material != INTERFACING), None)
    if cut is None:
        return
    alike = piece.fold is None and is_symmetrical(piece)
    single = cut.how == "once" and piece.fold is None
    whole = 1.0 if single and not _has_loose_twin(pattern, piece, ref) else 2.0
    yield Copies(ref, cut, whole / used, whole / here, alike)


def _fits(c: Copies, times: float) -> bool:
    """Tell whether an edge can be sewn so many times: bands and cuffs may be cut double."""
    if times in (c.share, c.whole):
        return True
    most = c.whole * c.cut.count
    return c.alike and most >= times and most % times == 0.0


def _has_loose_twin(pattern: Pattern, piece: Piece, ref: EdgeRef) -> bool:
    """Tell whether an opened piece has the edge again on its other half, in no seam of its own."""
    twin = ref.edge + TWIN
    return any(e.name == twin for e in piece.edges) and not pattern.seams_of(piece.name, twin)


def _differ(pattern: Pattern, seam: Seam, copies: list[Copies]) -> Iterator[Finding]:
    if not copies:
        return
    tries = {t for c in copies for t in (c.share, c.whole)}
    if any(all(_fits(c, t) for c in copies) for t in tries):
        return
    few = min(copies, key=lambda c: c.whole)
    many = max(copies, key=lambda c: c.share)
    two = few.cut.how == "once" and few.cut.count > 1
    ways = tuple(_ways(pattern, few, many))
    yield Finding(
        code="cut-twice-alike" if two else "cut-counts-differ",
        severity=Severity.FAULT,
        where=Where(seam=seam.name, piece=few.ref.piece, edge=few.ref.edge),
        measured=few.whole,
        expected=many.share,
        unit="count",
        words=(_words(few, many, seam, two=two),),
        mend=ways[0],
        others=ways[1:],
    )


def _ways(pattern: Pattern, few: Copies, many: Copies) -> Iterator[Mend]:
    """Yield how the one may be cut more often, then the other less often."""
    piece, other = pattern.piece(few.ref.piece), pattern.piece(many.ref.piece)
    if piece.fold is None:
        yield cut_as(piece, "pair", max(1, few.cut.count // 2))
    yield cut_as(piece, few.cut.how, 2 * few.cut.count)
    if other.fold is None:
        yield cut_as(other, "once", 1)


def _words(few: Copies, many: Copies, seam: Seam, *, two: bool) -> str:
    if two:
        return (
            f"{few.ref.piece} is cut {counted(few.cut.count, 'time')} the same way up, so there "
            f"would be {few.cut.count} for one side of the body and none for the other in seam "
            f'"{seam.name}"; cut it as a pair, the second one turned over.'
        )
    return (
        f"{few.ref.piece} is cut {_how(few.cut)}, but {many.ref.piece}, which is sewn to it in "
        f'seam "{seam.name}", is cut {_how(many.cut)}; cut both the same way, or name the seam '
        "of the other side too."
    )


def _how(cut: Cut) -> str:
    return {"pair": "as a pair", "fold": "on the fold"}.get(cut.how, "once")


def looked(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    """Count the seams of which it is said how often each side is cut; name the pieces left out."""
    del settings
    silent = [p.name for p in pattern.pieces if not p.cuts]
    told = sum(1 for s in pattern.seams if not any(r.piece in silent for r in s.refs))
    never = f"How often these are cut is not said: {listed(silent)}."
    return LookedAt(told, counted(told, "seam"), (never,) if silent else ())


CHECK = Check(
    id=ID,
    title="Are as many pieces cut as are sewn together?",
    why="A sleeve cut once, or twice without turning it over, is found out when there is nothing "
    "for the second armhole, and the cloth is gone.",
    source="Counting; a pair is a left and a right piece, the second one turned over.",
    codes=(
        *("cut-counts-differ", "cut-twice-alike", "cut-in-one-layer", "patches-too-few"),
        f"{ID}-skipped",
    ),
    run=cut_counts,
    looked=looked,
)
