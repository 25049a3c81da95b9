"""Where in its tolerance each rule is best laid: tried by first lays, before the search itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from clothwright.lay.fit import Score
from clothwright.lay.improve import first_lay
from clothwright.lay.model import prepare
from clothwright.lay.phases import pointed
from clothwright.lay.problem import LayProblem, Tolerant

MOST_TRIED = 16
"""So many places within tolerances are laid at most, each for one first lay."""


def best_pointed(problem: LayProblem, stop: Callable[[], bool]) -> LayProblem:
    """Return the problem with every rule at one place of its tolerance: that which saves most.

    Exactly where the rule says, at both ends and in the middle are tried, rule after rule, the
    rules of one placing rule together. stop: says that there is no more time to try.
    """
    best = pointed(problem)
    groups = list(_together(problem))
    if not groups:
        return best
    wished: dict[str, float] = {}
    worth, tried = _worth(best, stop), 1
    for names, places in groups:
        for at in places:
            if tried >= MOST_TRIED or stop():
                return best
            wish = {**wished, **dict.fromkeys(names, at)}
            other = pointed(problem, wish)
            tried += 1
            if (better := _worth(other, stop)) < worth:
                best, worth, wished = other, better, wish
    return best


def _worth(problem: LayProblem, stop: Callable[[], bool]) -> Score:
    return first_lay(prepare(problem), stop).score


def _together(problem: LayProblem) -> Iterator[tuple[list[str], list[float]]]:
    """Yield the rules that have one tolerance from one placing rule, and the places to try."""
    groups: dict[tuple[str, float, float], list[str]] = {}
    for rule in problem.rules:
        if isinstance(rule, Tolerant) and rule.least < rule.most:
            key = (rule.id.split(" ")[0], rule.least, rule.most)
            groups.setdefault(key, []).append(rule.id)
    for (_, least, most), names in groups.items():
        yield names, [at for at in dict.fromkeys((least, (least + most) / 2.0, most)) if at]
