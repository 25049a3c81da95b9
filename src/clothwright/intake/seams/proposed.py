"""Which edges are sewn together: pairs proposed by length, notches and names, for the maker to say.

Nothing is taken for granted: a proposal becomes a seam only when it is confirmed. Scores and bands
are our own choice; that shoulders and caps are eased is common practice.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from clothwright.intake.seams.ends import notch_score, turned_to
from clothwright.intake.seams.full import FIT, folds_marked, full_join
from clothwright.intake.seams.names import name_score, seam_name
from clothwright.intake.seams.runs import (
    EdgeRun,
    faces,
    mirrored,
    run_of,
    runs_of,
    together,
)
from clothwright.pattern.pattern import SEAM_JOINS, Pattern, Seam
from clothwright.pattern.refs import EdgeRef

EASED = SEAM_JOINS[0]
LEAST = 0.5
"""A pair that scores less is not proposed."""
SURE = 0.75
"""Two different cloths whose edges would score so much of one cloth are proposed, last."""
AGREE_MM = 1.5
EASES = {
    "cap": (8.0, 45.0),
    "shoulder": (0.0, 13.0),
    "elbow": (0.0, 16.0),
    "": (0.0, 4.0),
}
"""mm, least and most, by which one side is usually longer, by what is sewn (common practice)."""
MOST_ALIKE = 3
"""How many proposals for one edge are shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    """A seam that is proposed. score: 0 to 1. why: what speaks for it, in words.

    difference: mm by which side b is longer, darts folded out.
    """

    seam: Seam
    score: float
    why: tuple[str, ...]
    difference: float

    @property
    def key(self) -> str:
        """What it is called between requests: both sides, whichever way round they are said."""
        return key_of(self.seam)


def key_of(seam: Seam) -> str:
    """Return both sides of a seam as one text, the same whichever way round it is said."""
    sides = sorted(
        " + ".join(sorted(f"{r.piece}.{r.edge}" for r in refs)) for refs in (seam.a, seam.b)
    )
    return " / ".join(sides)


def proposed_seams(pattern: Pattern, refused: Collection[str] = ()) -> tuple[Proposed, ...]:
    """Return seams that are not named yet, best first. refused: keys that the maker has refused.

    Edges that are in a seam of their kind already are left alone.
    """
    used = pattern.sewn
    runs = [r for r in runs_of(pattern) if not r.keys & used]
    found: list[Proposed] = []
    for a, b in itertools.combinations_with_replacement(runs, 2):
        one = _pair(pattern, a, b)
        if one is not None and one.score >= LEAST and one.key not in refused:
            found.append(one)
    found.sort(key=lambda p: (-p.score, -len(p.seam.a), p.seam.name))
    found = [p for p in found if not any(_within(p, q) or _likelier(q, p) for q in found)]
    return tuple(_named(_thinned(found), pattern))


def pair_of(pattern: Pattern, a: tuple[EdgeRef, ...], b: tuple[EdgeRef, ...]) -> Proposed:
    """Return a seam of edges that the maker has named, its ends as they seem to belong together.

    Raises BadInput for edges that are not there.
    """
    one, other = run_of(pattern, a), run_of(pattern, b)
    alone = a == b
    refs_a, refs_b, sure = turned_to(pattern, one, other, alone=alone)
    if other.length < one.length:
        refs_a, refs_b = refs_b, refs_a
    seam = Seam(name=seam_name(one, other, "plain", alone=alone), a=refs_a, b=refs_b)
    _, words = notch_score(pattern, seam)
    difference = abs(other.length - one.length)
    return Proposed(
        seam=seam,
        score=sure,
        why=(*_why(difference, 0.5, alone=alone), *words),
        difference=difference,
    )


def _within(part: Proposed, whole: Proposed) -> bool:
    """Tell whether a proposal is a part of one with longer runs that is about as good."""
    if len(whole.seam.a) <= len(part.seam.a) or len(whole.seam.b) <= len(part.seam.b):
        return False
    a, b = ({(r.piece, r.edge) for r in s} for s in (part.seam.a, part.seam.b))
    c, d = ({(r.piece, r.edge) for r in s} for s in (whole.seam.a, whole.seam.b))
    inside = (a <= c and b <= d) or (a <= d and b <= c)
    return inside and whole.score > part.score - 0.05


def _likelier(one: Proposed, full: Proposed) -> bool:
    """Tell whether an edge of a full seam agrees about as well with one it is not full against."""
    if full.seam.join == EASED or one.seam.join != EASED:
        return False
    a, b = ({(r.piece, r.edge) for r in p.seam.refs} for p in (one, full))
    return bool(a & b) and one.score > full.score


def _thinned(found: Sequence[Proposed]) -> Iterator[Proposed]:
    """Leave out what is much worse than another proposal for the same edges."""
    best: dict[tuple[str, str], list[float]] = {}
    for p in found:
        keys = {(r.piece, r.edge) for r in p.seam.refs}
        before = [s for k in keys for s in best.get(k, [])[:1]]
        crowd = max((len(best.get(k, [])) for k in keys), default=0)
        if crowd < MOST_ALIKE and (not before or p.score > max(before) - 0.12):
            yield p
        for k in keys:
            best.setdefault(k, []).append(p.score)


def _named(found: Iterator[Proposed], pattern: Pattern) -> Iterator[Proposed]:
    taken = {s.name for s in pattern.seams}
    for p in found:
        tries = itertools.chain((p.seam.name,), (f"{p.seam.name} {n}" for n in itertools.count(2)))
        name = next(t for t in tries if t not in taken)
        taken.add(name)
        yield Proposed(
            seam=replace(p.seam, name=name),
            score=p.score,
            why=p.why,
            difference=p.difference,
        )


def _pair(pattern: Pattern, a: EdgeRun, b: EdgeRun) -> Proposed | None:
    alone = a.refs == b.refs
    shared = not alone and bool(a.keys & b.keys)
    if shared or (len(a.refs) > 1 and len(b.refs) > 1 and not faces(a, b)):
        return None
    if alone and not mirrored(a):
        return None
    names = name_score(a, b, alone=alone)
    if names is None:
        return None
    named, kind, word = names
    if a.length > b.length and kind == "cap":
        a, b = b, a
    eases = EASES.get(word, EASES[""])
    full = not alone and abs(b.length - a.length) > eases[1] and not _incomplete(pattern, a)
    join = _join(a, b, kind) if full else ""
    second = b.length > a.length if join == "stretched" else b.length < a.length
    if not alone and second and (word or join):
        a, b = b, a
    difference = b.length - a.length
    fit = FIT if join else _length_score(difference, eases, max(a.length, b.length))
    if fit <= 0.0:
        return None
    refs_a, refs_b, ends = turned_to(pattern, a, b, alone=alone)
    eased = join or (word in EASES and difference > AGREE_MM)
    seam = Seam(
        name=seam_name(a, b, kind, alone=alone),
        a=refs_a,
        b=refs_b,
        ease=round(difference, 2) if eased else 0.0,
        kind=kind,
        join=join or EASED,
        folds=folds_marked(b, join),
    )
    return _scored(pattern, seam, (a, b), (named, fit, ends))


def _scored(
    pattern: Pattern, seam: Seam, runs: tuple[EdgeRun, EdgeRun], spoken: tuple[float, float, float]
) -> Proposed:
    """Return a proposal with what speaks for it: names, lengths and ends, each 0 to 1."""
    (a, b), (named, fit, ends) = runs, spoken
    marks, mark_words = notch_score(pattern, seam)
    material = 1.0 if all(together(p, q) for p in a.pieces for q in b.pieces) else 0.55
    if seam.kind == "lining":
        material = 1.0
    whole = 0.42 * named + 0.33 * fit + 0.15 * marks + 0.10 * ends
    score = whole * material
    if whole >= SURE:
        score = max(score, LEAST)
    difference = b.length - a.length
    why = [*_why(difference, named, alone=a.refs == b.refs), *mark_words]
    if seam.join != EASED:
        which = "shorter" if seam.join == "stretched" else "longer"
        why.append(f"the {which} one looks {seam.join}")
    if material < 1.0:
        why.append("but they are cut from different cloths")
    return Proposed(seam=seam, score=score, why=tuple(why), difference=difference)


def _join(a: EdgeRun, b: EdgeRun, kind: str) -> str:
    """Return how the longer of two edges is brought to length, where it is more than eased."""
    shorter, longer = sorted((a, b), key=lambda run: run.length)
    return "" if kind == "cap" and longer is not b else full_join(shorter, longer, kind)


def _incomplete(pattern: Pattern, run: EdgeRun) -> bool:
    """Tell whether an armhole goes on over pieces that are not in the run, a yoke or a side."""
    others = (p for p in pattern.pieces if all(together(p, q) for q in run.pieces))
    more = (e.name for p in others if p not in run.pieces for e in p.edges)
    return run.name == "armhole" and "armhole" in more


def _length_score(difference: float, ease: tuple[float, float], length: float) -> float:
    """Return 1 within the usual ease, falling to 0 at a tenth of the length off."""
    least, most = ease
    off = max(least - difference, difference - most, 0.0)
    if least == 0.0 and difference < 0:
        off = abs(difference)
    if off <= AGREE_MM:
        return 1.0
    return max(0.0, 1.0 - (off - AGREE_MM) / max(0.10 * length, 12.0))


def _why(difference: float, named: float, *, alone: bool) -> list[str]:
    if alone:
        return ["a centre edge of a piece that is cut as a pair meets its own mirror image"]
    out = []
    if named >= 0.9:
        out.append("their names go together")
    elif named < 0.3:
        out.append("their names do not say so")
    if abs(difference) <= AGREE_MM:
        out.append("they are equally long")
    return out
