"""All changes × all promises on pieces and parameters that nobody chose.

The pieces have been through a few changes in whatever order; the parameters are what the forms
offer. The table beside it (changes_table.py) has the cases that were thought of.
"""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests.any_change import any_step
from tests.contract.test_changes import MOVES, differences, moved_pattern
from tests.garments.wardrobe import GARMENTS
from tests.wander import start, wrong_with
from tests.words.walker import strays

from clothwright.changes import CHANGES
from clothwright.changes.change import Change, Outcome
from clothwright.errors import ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say, told

UNITS = (Unit.inch, Unit.cm)
ENDS = ("start", "end", "first", "second", "at", "notch")
"""Words in parameters that mean another place once a piece is mirrored."""


def done(pattern: Pattern, change: Change[Any], rng: Random) -> tuple[Any, Outcome] | None:
    """The first of some ways to fill the change's form that can be done, and what comes of it."""
    for _ in range(12):
        step = any_step(pattern, rng, change.id)
        try:
            params = read_params(change.params, step.params, unit=Unit.cm, where="")
        except ClothwrightError:
            continue
        outcome, error = tried(change, pattern, params)
        if outcome is not None:
            return params, outcome
        assert [s for u in UNITS for s in strays(told(error, u), u, pattern)] == []
    return None


def tried(
    change: Change[Any], pattern: Pattern, params: Any
) -> tuple[Outcome, None] | tuple[None, ClothwrightError]:
    """What comes of a change, or why it cannot be done."""
    try:
        return change.apply(pattern, params), None
    except ClothwrightError as error:
        return None, error


def worn(rng: Random) -> Pattern:
    """The pieces of some garment that up to three changes have been made to."""
    drafts = [lambda: start().bought, *GARMENTS.values()]
    pattern = rng.choice(drafts)()
    for _ in range(rng.choice((0, 1, 3))):
        found = done(pattern, rng.choice(CHANGES), rng)
        pattern = pattern if found is None else found[1].pattern
    return pattern


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
@given(seed=st.integers(0, 2**32))
@settings(
    max_examples=2,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    derandomize=True,
    phases=[Phase.generate],
)
def test_every_promise_holds_whatever_is_asked(change: Change[Any], seed: int) -> None:
    """Moved pieces come out moved, nothing breaks unsaid, and what is renamed is told."""
    rng = Random(seed)
    pattern = worn(rng)
    found = done(pattern, change, rng)
    if found is None:
        return
    params, outcome = found
    for unit in UNITS:
        assert strays(say(outcome.said, unit), unit, outcome.pattern) == []
    assert list(wrong_with(outcome.pattern, pattern)) == []
    assert list(lost_names(pattern, outcome)) == []
    for name, move in MOVES.items():
        if name == "mirrored" and any(word in str(params) for word in ENDS):
            continue
        moved = change.apply(moved_pattern(pattern, move), params).pattern
        assert differences(moved, moved_pattern(outcome.pattern, move), 1e-3) == [], name


def lost_names(before: Pattern, outcome: Outcome) -> list[str]:
    """Edges that are no more and that the trail is silent about."""
    after = {(p.name, e.name) for p in outcome.pattern.pieces for e in p.edges}
    told_of = dict(outcome.trail.edges)
    pieces = {p.name for p in outcome.pattern.pieces}
    return [
        f"{p.name}.{e.name}"
        for p in before.pieces
        for e in p.edges
        if (p.name, e.name) not in after and (p.name, e.name) not in told_of and p.name in pieces
    ]
