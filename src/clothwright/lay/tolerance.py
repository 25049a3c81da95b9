"""Where in its tolerance each rule is best laid: tried by first lays, before the search itself."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence

from clothwright.lay.fit import Score
from clothwright.lay.improve import first_lay
from clothwright.lay.model import prepare
from clothwright.lay.phases import pointed, steadied
from clothwright.lay.problem import CLEAR, LayProblem, Tolerant, asked_by

MOST_TRIED = 4
"""So many places within tolerances are laid at most, each for one first lay."""
Group = tuple[list[str], tuple[float, float, float]]


def best_pointed(problem: LayProblem, stop: Callable[[], bool]) -> LayProblem:
    """Return the problem with every rule at one place of its tolerance: that which saves most.

    Exactly where the rule says, at both ends and in the middle are tried: all rules alike, then one
    after another, the rules of one placing rule together. stop: there is no more time to try.
    """
    best = pointed(problem)
    groups = list(_together(problem))
    clear = any(isinstance(r, CLEAR) for r in problem.rules)
    if not groups and not clear:
        return best
    worth = _worth(best, stop)
    if clear and worth[0]:
        steady = steadied(best)
        better = _worth(steady, stop)
        if better < worth or stop():  # where time was too short to tell, all have a place there
            best, worth = steady, better
    wished: dict[str, float] = {}
    for wish in itertools.islice(_wishes(groups), MOST_TRIED):
        if stop():
            break
        both = {**wished, **wish}
        other = pointed(problem, both)
        if (better := _worth(other, stop)) < worth:
            best, worth, wished = other, better, both
    return best


def _wishes(groups: Sequence[Group]) -> Iterator[dict[str, float]]:
    """Yield where to try rules, one after another: mm from their place."""
    alike = [{name: at[k] for names, at in groups for name in names} for k in (2, 0, 1)]
    alone = (dict.fromkeys(names, mm) for names, at in groups for mm in at)
    several = alone if len(groups) > 1 else ()
    yield from (wish for wish in (*alike, *several) if any(wish.values()))


def _worth(problem: LayProblem, stop: Callable[[], bool]) -> Score:
    return first_lay(prepare(problem), stop).score


def _together(problem: LayProblem) -> Iterator[Group]:
    """Yield the rules that have one tolerance from one placing rule, and its ends and middle."""
    groups: dict[tuple[str, float, float], list[str]] = {}
    for rule in problem.rules:
        if isinstance(rule, Tolerant) and rule.least < rule.most:
            key = (asked_by(rule.id), rule.least, rule.most)
            groups.setdefault(key, []).append(rule.id)
    for (_, least, most), names in groups.items():
        yield names, (least, (least + most) / 2.0, most)
