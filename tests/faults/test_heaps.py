"""Heaps of faults at once, and corners thrown about: every check still answers, in sentences."""

from __future__ import annotations

import random

import pytest

from clothwright.checks import CHECKS, BorderEdge, CheckSettings, run_checks
from clothwright.errors import ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit
from tests.faults import planting as plant
from tests.faults.test_planted import PLANTED

BORDERS = tuple(BorderEdge(piece=p, edge="hem") for p in ("front", "back", "sleeve"))
KNOWN = {code for check in CHECKS for code in check.codes}


def heap(seed: int) -> Pattern:
    """Several planted faults on top of each other, and up to three corners moved far away."""
    chance = random.Random(seed)
    pattern = outfit()
    for fault in chance.sample(PLANTED, chance.randint(2, 6)):
        try:
            pattern = fault.spoil(pattern)
        except (ClothwrightError, ValueError, IndexError):
            continue  # this fault cannot be planted on top of the others
    for _ in range(chance.randint(0, 3)):
        piece = chance.choice(pattern.pieces)
        edge = chance.choice(piece.edges)
        x, y = (c + chance.uniform(-200, 200) for c in edge.path.start)
        try:
            pattern = pattern.with_piece(plant.with_corner(piece, edge.name, (x, y)))
        except ClothwrightError:
            continue  # no piece at all
    return pattern


@pytest.mark.parametrize("seed", range(40))
def test_a_heap_of_faults_is_answered(seed: int) -> None:
    """No traceback, no nonsense: known codes, whole sentences, numbers that are numbers."""
    found = run_checks(heap(seed), CheckSettings(borders=BORDERS))
    assert {f.code for f in found} <= KNOWN
    for finding in found:
        words = say(finding.words, Unit.inch)
        assert words.endswith(".")
        assert "nan" not in words
        assert finding.measured is None or finding.measured == finding.measured


def test_heaps_do_raise_findings() -> None:
    """The heaps are heaps."""
    assert all(run_checks(heap(seed)) for seed in range(0, 40, 8))
