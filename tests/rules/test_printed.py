"""Which design a rule counts by, where a tolerance leaves its point to one or another."""

from __future__ import annotations

from dataclasses import replace

from clothwright.demo import DEMOS
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.stating import asking
from clothwright.workbook import replay


def test_a_hem_that_may_lie_a_little_off_its_border_counts_by_the_border():
    """With 1 cm to either side of the border's own edge its motifs are still what she places."""
    book = next(d for d in DEMOS if d.name == "coat-and-skirt").make()
    plan = book.plan("skirt only")
    exact = asking(replay(book).pattern, book.cloths, plan)
    loose = replace(
        plan,
        rules=tuple(
            replace(r, lower=10.0, higher=10.0) if isinstance(r, OnBorder) else r
            for r in plan.rules
        ),
    )
    found = asking(replay(book).pattern, book.cloths, loose)
    assert exact.mistaken == found.mistaken == ()
    phases = [{r.repeat for r in one.asked if hasattr(r, "phase")} for one in (exact, found)]
    assert phases[0] == phases[1] != set()
