"""Are as many cut of each piece as the pieces it is sewn to ask for?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import each
from clothwright.pattern.finding import Finding, Severity, Where
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.symmetry import is_symmetrical
from clothwright.pattern.whole import TWIN
from clothwright.words import counted, listed

ID = "cut-counts"

INTERFACING = "interfacing"


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
        yield from _differ(seam, copies)

    yield from each(ID, pattern.seams, lambda s: Where(seam=s.name), look)


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


def _differ(seam: Seam, copies: list[Copies]) -> Iterator[Finding]:
    if not copies:
        return
    tries = {t for c in copies for t in (c.share, c.whole)}
    if any(all(_fits(c, t) for c in copies) for t in tries):
        return
    few = min(copies, key=lambda c: c.whole)
    many = max(copies, key=lambda c: c.share)
    two = few.cut.how == "once" and few.cut.count > 1
    yield Finding(
        code="cut-twice-alike" if two else "cut-counts-differ",
        severity=Severity.FAULT,
        where=Where(seam=seam.name, piece=few.ref.piece, edge=few.ref.edge),
        measured=few.whole,
        expected=many.share,
        unit="count",
        words=(_words(few, many, seam, two=two),),
    )


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
    codes=("cut-counts-differ", "cut-twice-alike", f"{ID}-skipped"),
    run=cut_counts,
    looked=looked,
)
