"""What goes with a piece and was not changed with it is told, once for each piece."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.spread import lengthened
from clothwright.checks import DEFAULTS
from clothwright.checks.companions_follow import companions_follow
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Cut
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit

SIDES = ("front underarm", "back underarm")


def lined() -> Pattern:
    """The outfit with a lining like its sleeve."""
    p = outfit()
    sleeve = p.piece("sleeve")
    lining = replace(sleeve, name="sleeve lining", cuts=(Cut(material="lining", how="pair"),))
    ties = tuple(Along(edge=e, piece="sleeve", edge_of=e) for e in SIDES)
    with_it = Companion(piece="sleeve lining", kind="lining", of=ties)
    return replace(p, pieces=(*p.pieces, lining), companions=(with_it,))


def longer(p: Pattern, *names: str, by: float = 25.0) -> Pattern:
    for name in names:
        p = p.with_piece(lengthened(p.piece(name), Vec(0, -200), by))
    return p


def test_a_sleeve_lengthened_alone_leaves_its_lining_behind() -> None:
    """Both underarm edges are short by what was added along them: told once."""
    p = longer(lined(), "sleeve")
    (found,) = companions_follow(p, DEFAULTS)
    assert (found.code, found.where.piece) == ("companion-left-behind", "sleeve lining")
    assert found.expected is not None
    assert found.measured is not None
    assert found.expected - found.measured == pytest.approx(25.0, abs=0.2)
    assert "the lining was left behind" in say(found.words, Unit.inch)


def test_both_changed_alike_agree() -> None:
    """Whatever is altered in the lining is altered in the outside by the same (manuals, 1911)."""
    assert list(companions_follow(longer(lined(), "sleeve", "sleeve lining"), DEFAULTS)) == []


def test_a_difference_that_is_meant_is_none() -> None:
    """A lining half an inch longer for its pleat stays that much longer."""
    p = longer(lined(), "sleeve lining", by=12.7)
    assert list(companions_follow(p, DEFAULTS))
    ties = tuple(replace(a, longer=12.7) for a in p.companions[0].of)
    p = replace(p, companions=(replace(p.companions[0], of=ties),))
    assert list(companions_follow(p, DEFAULTS)) == []


def test_what_is_sewn_together_is_told_by_the_walk() -> None:
    """A waistband is sewn to its skirt: its seam is walked, and it is not told twice."""
    p = outfit()
    band = Companion(
        piece="waistband",
        kind="waistband",
        of=(
            Along(edge="lower", piece="skirt front", edge_of="waist", longer=30.0),
            Along(edge="lower", piece="skirt back", edge_of="waist"),
        ),
    )
    assert list(companions_follow(replace(p, companions=(band,)), DEFAULTS)) == []


def test_a_facing_shorter_than_an_edge_in_two_parts_can_be_looked_at() -> None:
    """A fly's edge is opened for a zip: its facing goes along both parts of it and is 5 shorter."""
    p = lined()
    (tie,) = p.companions
    first, second = (
        Along(edge=e, piece="sleeve", edge_of=o) for e, o in zip(SIDES[:1] * 2, SIDES, strict=True)
    )
    both = replace(tie, kind="facing", of=(replace(first, longer=-5.0), second))
    found = list(companions_follow(replace(p, companions=(both,)), DEFAULTS))
    assert [f for f in found if f.code.endswith("skipped")] == []
