"""Folding cloth for a plan: what is asked for in words, and whether it is worth it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.errors import BadInput, CannotDo, ClothwrightError, did_you_mean, not_known
from clothwright.lay.compiled import Compiled
from clothwright.lay.fold_search import FoldedLay, solve_folded
from clothwright.lay.folded import WAYS, Fold, why_single
from clothwright.rules.kinds.folded import Folded, asked_folds
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import show_length

SINGLE = "single"
MORE = 0.02
"""Share of more length at which a fold is still offered: it spares cutting lines."""


@dataclass(frozen=True, kw_only=True)
class FoldHint:
    """A fold that would save cutting: used, used_single: mm of that cloth folded and single."""

    folded: Folded
    used: float
    used_single: float
    lines: int
    lines_single: int


def folds_asked(
    compiled: Compiled, words: Sequence[str]
) -> tuple[tuple[Folded, ...], tuple[str, ...]]:
    """Return the folds that words such as "lengthwise" or "lining=partial" ask for, and what not.

    The second part says of every cloth that stays single why it does.

    A way without a cloth is meant for every cloth that allows it. Raises BadInput, and CannotDo
    with the reason of every cloth when none allows it.
    """
    known = [c.name for c in compiled.cloths]
    out: dict[str, Folded] = {}
    notes: list[str] = []
    for word in words:
        name, _, way = word.rpartition("=")
        if way == SINGLE:
            continue
        if way not in WAYS:
            raise BadInput(
                where="--fold",
                what=f'"{way}" is no way to fold a cloth.{did_you_mean(way, WAYS)}',
                expected=f"{', '.join(WAYS)} or {SINGLE}, or CLOTH=one of these",
            )
        if name and name not in known:
            raise not_known(f'there is no cloth "{name}"', name, known, where="--fold")
        used = {r.name for r in compiled.problem.regions}
        refused: list[str] = []
        for cloth in compiled.cloths:
            if cloth.name not in used or name not in {"", cloth.name}:
                continue
            why = why_single(compiled, cloth, way)
            if why:
                refused.append(f"{cloth.name}: {why}")
            else:
                out[cloth.name] = Folded(cloth=cloth.name, way=way)
        if not any(f.way == way for f in out.values()):
            raise CannotDo(
                what=f"nothing can be folded {way}",
                why="; ".join(refused) or "nothing is cut from it in this plan",
                nearest="a single layer, right side up",
            )
        notes += [f"stays single, {words}" for words in refused]
    return tuple(out.values()), tuple(notes)


def fold_words(fold: Fold, unit: Unit) -> str:
    """Say how a cloth of a lay is folded and what is cut double, lengths in `unit`."""
    pairs = f"{len(fold.pairs)} cut through both layers"
    double = f"{show_length(fold.depth, unit)} double, {pairs}, {len(fold.on_fold)} on the fold"
    return f"{fold.cloth} folded {fold.way}: {double}"


def worth_folding(laid: Laid, *, seed: int = 0) -> tuple[FoldHint, ...]:
    """Return the folds that save cutting at about the same length, tried by laying them at once.

    Empty for a plan that folds already, and for cloths that nap, border or repeat forbid.
    """
    if asked_folds(laid.plan) or not laid.lay.fits:
        return ()
    out = []
    for cloth in laid.compiled.cloths:
        single = laid.lay.used.get(cloth.name, 0.0)
        if single <= 0.0:
            continue
        asked = Folded(cloth=cloth.name, way="lengthwise")
        try:
            if why_single(laid.compiled, cloth, asked.way):
                continue
            found = solve_folded(laid.compiled, (asked,), seconds=0.0, seed=seed)
        except ClothwrightError:
            continue
        lines, lines_single = cutting_lines(found, cloth.name)
        used = found.lay.used.get(cloth.name, 0.0)
        if found.lay.fits and used <= single * (1.0 + MORE) and lines < lines_single:
            out.append(
                FoldHint(
                    folded=asked,
                    used=used,
                    used_single=single,
                    lines=lines,
                    lines_single=lines_single,
                )
            )
    return tuple(out)


def cutting_lines(found: FoldedLay, cloth: str) -> tuple[int, int]:
    """Return how many outlines are cut on a cloth folded so, and on the same cloth single."""
    total = sum(1 for p in found.lay.placements if p.region == cloth)
    spared = sum(fold.spared for fold in found.folds if fold.cloth == cloth)
    return total - spared, total
