"""Rules on shapes in the maker's words: those of her plan, or what the cloth itself asks."""

from __future__ import annotations

from collections.abc import Iterable

from clothwright.errors import Sentence, joined
from clothwright.lay.problem import KeepOff, LayProblem, Rule, SameTurn, Upright, asked_by, names_of


def words_of(problem: LayProblem, rule: Rule) -> Sentence:
    """Return what a rule asks, in the words of the plan where the plan asks it."""
    return problem.said.get(asked_by(rule.id)) or (_unasked(rule),)


def quoted(problem: LayProblem, rules: Iterable[Rule]) -> Sentence:
    """Return rules one after another, quoted, each once."""
    said = dict.fromkeys(words_of(problem, r) for r in rules)
    return joined(*(joined("; " if n else "", "“", w, "”") for n, w in enumerate(said)))


def _unasked(rule: Rule) -> str:
    """Return what a rule asks that the cloth asks; of any other, stated without a plan, its id."""
    name = names_of(rule)[0]
    if isinstance(rule, KeepOff):
        return f"{name} keeps off a border of {rule.region}"
    if isinstance(rule, Upright):
        return f"{name} lies as the print of {rule.region} stands"
    if isinstance(rule, SameTurn):
        return f"{name} lies turned as the pieces that go with it"
    return rule.id
