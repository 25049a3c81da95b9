"""How the longer side of a seam is brought to the length of the other: per fold, and in words."""

from __future__ import annotations

from clothwright.pattern.measure import Side, side
from clothwright.pattern.pattern import FOLDED, Pattern, Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import ease_span, mark_name, mark_named, seam_end_name
from clothwright.words import Sentence, counted

PAIRED = ("box", "inverted")
"""Folds that are made of two, one to each side."""
FOLD = {"pleated": "pleat", "tucked": "tuck"}
DONE = {
    "eased": "eased in",
    "stretched": "stretched to fit",
    "gathered": "gathered",
    "pleated": "laid in {folds}",
    "tucked": "taken up in {folds}",
    "elasticated": "drawn in by elastic",
}
TO_DO = {
    "eased": "ease it in",
    "stretched": "stretch it to fit",
    "gathered": "gather it",
    "pleated": "lay it in {folds}",
    "tucked": "take it up in {folds}",
    "elasticated": "draw it in with elastic",
}
PLANNED = {
    "eased": "ease",
    "stretched": "to stretch",
    "gathered": "to gather",
    "pleated": "in {folds}",
    "tucked": "in {folds}",
    "elasticated": "to draw in by elastic",
}
"""What the difference of both sides is, after its length: "12 mm ease", "30 cm in 6 pleats"."""


def fuller(seam: Seam) -> tuple[EdgeRef, ...]:
    """Return the side that is eased, gathered or folded, the longer; the shorter if stretched."""
    b_longer = seam.ease > 0 if seam.ease else seam.eased_max >= 0
    return seam.b if b_longer != (seam.join == "stretched") else seam.a


def taken(seam: Seam) -> float:
    """Return how much cloth each pleat or tuck takes, mm; 0 where it is not told.

    Source: S = P - 2·d·n, a box or an inverted pleat counting as two (docs/sources.md, folds).
    """
    return abs(seam.ease) / seam.folds if seam.join in FOLDED and seam.folds else 0.0


def depth(seam: Seam) -> float:
    """Return how deep each fold lies, from its outer to its inner fold, mm; 0 where not told."""
    return taken(seam) / (4.0 if seam.fold_to in PAIRED else 2.0)


def planned_words(seam: Seam) -> str:
    """Return what the difference of both sides is, to stand after its length."""
    return _with_folds(PLANNED, seam)


def fullness(pattern: Pattern, seam: Seam) -> Sentence:
    """Say what is done to the side that differs, and where; floats are mm. () where none does.

    >>> from clothwright.pattern.pattern import Pattern, Seam
    >>> fullness(Pattern(pieces=()), Seam(name="s", a=(), b=()))
    ()
    """
    return _said(pattern, seam, DONE)


def fullness_to_do(pattern: Pattern, seam: Seam) -> Sentence:
    """Say the same as what is to be done."""
    return _said(pattern, seam, TO_DO)


def difference(seam: Seam) -> Sentence:
    """Say by how much the side that is `fuller` differs: ("12 mm", " longer"), without its name."""
    least, most = sorted(map(abs, ease_span(seam)))
    than = " shorter" if seam.join == "stretched" else " longer"
    return (most, than) if least == most else (least, " to ", most, than)


def _said(pattern: Pattern, seam: Seam, ways: dict[str, str]) -> Sentence:
    if not (seam.ease or seam.eased_max):
        return ()
    out: Sentence = (_with_folds(ways, seam),)
    if depth(seam):
        out = (*out, ", each " if seam.folds > 1 else ", ", depth(seam), " deep")
    out = (*out, _lies(pattern, seam), _between(pattern, seam))
    if seam.join == "elasticated":
        other = seam.a if fuller(seam) == seam.b else seam.b
        out = (*out, ", to a finished length of ", side(pattern, other).length)
    return tuple(part for part in out if part != "")


def _with_folds(ways: dict[str, str], seam: Seam) -> str:
    one = FOLD.get(seam.join, "")
    one = f"{seam.fold_to} {one}" if seam.fold_to in PAIRED and one == "pleat" else one
    return ways[seam.join].format(folds=counted(seam.folds, one) if seam.folds else f"{one}s")


def _lies(pattern: Pattern, seam: Seam) -> str:
    """Say towards which end the folds lie."""
    if seam.join not in FOLDED or seam.fold_to not in ("start", "end"):
        return ""
    return f", towards {seam_end_name(pattern, seam, at_end=seam.fold_to == 'end')}"


def _between(pattern: Pattern, seam: Seam) -> str:
    """Say between which marks of the longer side it is done, where it is not the whole seam."""
    if not (seam.ease_from or seam.ease_to):
        return ""
    run = side(pattern, seam.b)
    start = _mark(run, seam.ease_from) or seam_end_name(pattern, seam, at_end=False)
    end = _mark(run, seam.ease_to) or seam_end_name(pattern, seam, at_end=True)
    return f" between {start} and {end}"


def _mark(run: Side, name: str) -> str:
    found = mark_named(run, name)
    if found is None:
        return ""
    return mark_name(found) if found.name else name
