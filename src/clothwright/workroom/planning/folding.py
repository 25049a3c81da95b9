"""Folding the cloth of a plan, as an edit; and what a command says of a lay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.rules.kinds.folded import Folded
from clothwright.rules.weighing.folding import fold_words, folds_asked, worth_folding
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import say, show_length
from clothwright.workbook import Workbook
from clothwright.workroom.editing.edits.plans import PutPlans
from clothwright.workroom.searching.laying import compile_plan


def fold_edit(
    book: Workbook, plan_name: str, words: Sequence[str]
) -> tuple[PutPlans, tuple[str, ...]]:
    """Return the edit that folds cloths as words ask (`folds_asked`), and what stays single, why.

    plan_name: "" for the chosen one. Raises BadInput, CannotDo.
    """
    folds, notes = folds_asked(compile_plan(book, book.plan(plan_name)).compiled, words)
    return folds_edit(book, plan_name, folds), notes


def folds_edit(book: Workbook, plan_name: str, folds: Sequence[Folded]) -> PutPlans:
    """Return the edit that puts these folds, and no others, in a plan ("" = the chosen one)."""
    plan = book.plan(plan_name)
    rules = tuple(r for r in plan.rules if not isinstance(r, Folded))
    folded = replace(plan, rules=(*rules, *folds))
    return PutPlans(plans=(folded,), chosen="" if plan in book.plans else folded.name)


def foreseen_lines(book: Workbook, plan_name: str) -> tuple[str, ...]:
    """Say what is known of a plan's rules before anything is laid, a line each.

    plan_name: "" for the chosen one. Raises BadInput or Mistakes for rules that cannot be.
    """
    compiled = compile_plan(book, book.plan(plan_name)).compiled
    return tuple(f"  {say(words, book.unit)}" for words in compiled.foreseen)


def lay_lines(laid: Laid, unit: Unit, *, seed: int = 0) -> tuple[str, ...]:
    """Say whether a plan fits, what is used, how cloth is folded or might be, a line each.

    Lengths are in `unit`. seed: for the folds that are tried.
    """
    out = [f"{laid.plan.name}: {laid.fit_words(unit)}"]
    for name, used in laid.lay.used.items():
        share = laid.filled[name]
        out.append(f"  {name}: {show_length(used, unit)} used, {share:.0%} of it covered")
    out += [f"  Fault: {words}" for words in laid.fault_words(unit)]
    out += [f"  Note: {note}" for note in laid.compiled.notes]
    out += [f"  Note: {say(words, unit)}" for words in laid.compiled.of_cut]
    out += [f"  {fold_words(fold, unit)}" for fold in laid.folds]
    for hint in worth_folding(laid, seed=seed):
        cloth, way = hint.folded.cloth, hint.folded.way
        out.append(
            f"  Folded {way}, the {cloth} takes {show_length(hint.used, unit)} and {hint.lines} "
            f'cutting lines instead of {hint.lines_single}: --fold "{cloth}={way}"'
        )
    return tuple(out)
