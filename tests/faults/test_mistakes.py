"""Forty mistakes of somebody who alters paper: what is found of them, where, and what mends it."""

from __future__ import annotations

import re

import pytest
from tools.mistakes_page import HERE

from clothwright.units import Unit
from clothwright.words import say
from tests.faults.mistakes import MISTAKES, Mistake, told
from tests.garments.wardrobe import GARMENTS
from tests.words.walker import strays

FOUND, MENDED = 38, 38
"""Of forty, how many are to be told at the right place, and with a mend that does no harm."""


def test_there_are_forty_on_eight_garments() -> None:
    """Five on each garment, no two alike, and each really spoils its garment."""
    assert len(MISTAKES) == len({m.did for m in MISTAKES}) == 40
    for name, draft in GARMENTS.items():
        own = [m for m in MISTAKES if m.garment == name]
        assert len(own) >= 4
        assert all(m.do(draft()) != draft() for m in own)


def test_nearly_all_are_found_at_the_right_place() -> None:
    """A false all-clear is the worst fault there can be."""
    missed = [m.did for m in MISTAKES if not told(m).right]
    assert len(MISTAKES) - len(missed) >= FOUND, missed


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda m: m.did[:40])
def test_what_is_said_of_it_can_be_read(mistake: Mistake) -> None:
    """Every finding is a sentence in the maker's unit, without a dotted name or an id."""
    spoilt = mistake.do(GARMENTS[mistake.garment]())
    for f in (*told(mistake).right, *told(mistake).other):
        for unit in (Unit.inch, Unit.cm):
            words = say(f.words, unit)
            assert words.endswith(".")
            assert strays(words, unit, spoilt) == []


def test_nearly_all_are_mended_by_what_is_offered() -> None:
    """So many of them are offered a mend, at the right place."""
    bare = [m.did for m in MISTAKES if not told(m).mending]
    assert len(MISTAKES) - len(bare) >= MENDED, bare


def test_mends_that_are_offered_do_no_harm() -> None:
    """Done, its finding is gone and no other has come."""
    assert {m.did: told(m).harm for m in MISTAKES if told(m).harm} == {}


def test_the_page_promises_no_more_than_is_so() -> None:
    """docs/mistakes.md, written by tools/mistakes_page.py, names all and counts no more."""
    text = (HERE / "mistakes.md").read_text(encoding="utf-8")
    found, mended = map(int, re.findall(r"(?:place|mend): (\d+)", text))
    assert found <= sum(bool(told(m).right) for m in MISTAKES)
    assert mended <= sum(bool(told(m).mending) for m in MISTAKES)
    assert all(m.did in text for m in MISTAKES)
