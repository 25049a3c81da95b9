"""Which pieces go together is read from the garments of our own; and which was left behind."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.garments.wardrobe import GARMENTS

from clothwright.changes.lengthen import Lengthen, apply
from clothwright.demo.workbooks import DEMOS
from clothwright.pattern.companions import check_companion
from clothwright.pattern.pattern import Companion, Pattern
from clothwright.pattern.together import kind_of, left_behind, proposed

AGREE = 1.5


def without(pattern: Pattern) -> Pattern:
    return replace(pattern, companions=())


@pytest.mark.parametrize("name", GARMENTS)
def test_what_goes_together_in_a_garment_is_proposed(name: str) -> None:
    """As whoever drafted it says: the same pieces, of the same kind, along the same pieces."""
    pattern = GARMENTS[name]()
    found = {c.piece: c for c in proposed(without(pattern))}
    for real in pattern.companions:
        one = found[real.piece]
        assert {a.piece for a in real.of} <= {a.piece for a in one.of}
        assert one.kind == real.kind
        check_companion(pattern, one)
    assert set(found) == {c.piece for c in pattern.companions}
    assert not list(left_behind(replace(pattern, companions=tuple(found.values())), 0.01))


def test_in_the_coat_and_skirt_linings_facings_and_the_band_are_found() -> None:
    """By the names of the demo's pieces; what is said already is not proposed again."""
    bought = next(d for d in DEMOS if d.name == "coat-and-skirt").make().bought
    found = {c.piece: c for c in proposed(bought)}
    assert {n: (c.kind, {a.piece for a in c.of}) for n, c in found.items()} == {
        "front facing": ("facing", {"coat front"}),
        "back neck facing": ("facing", {"coat back"}),
        "lining front": ("lining", {"coat front"}),
        "lining back": ("lining", {"coat back"}),
        "lining sleeve": ("lining", {"coat sleeve"}),
        "waistband": ("waistband", {"skirt front", "skirt back"}),
    }
    said = replace(bought, companions=(found["lining front"],))
    assert "lining front" not in {c.piece for c in proposed(said)}
    assert kind_of(bought, bought.piece("coat front")) == ""


def coat() -> Pattern:
    """The lined coat of the tests."""
    return GARMENTS["lined coat"]()


def test_a_lining_that_stayed_as_it_was_is_left_behind() -> None:
    """A coat sleeve 30 mm longer: its lining's two seams are 30 mm short, nothing else."""
    pattern = replace(coat(), companions=proposed(without(coat())))
    longer = apply(
        pattern, Lengthen(pieces=("coat sleeve",), level="elbow", by=30.0, above=-60.0)
    ).pattern
    found = list(left_behind(longer, AGREE))
    assert {(b.companion.piece, b.edge) for b in found} == {
        ("lining sleeve", "back seam"),
        ("lining sleeve", "front seam"),
    }
    assert all(b.expected - b.measured == pytest.approx(30.0, abs=1.0) for b in found)
    both = Lengthen(pieces=("lining sleeve",), level="elbow", by=30.0, above=-60.0)
    assert not list(left_behind(apply(longer, both).pattern, AGREE))


def test_what_is_meant_to_be_longer_is_not_left_behind() -> None:
    """A lining's hem that is wider by its pleat is as it is meant; 3 mm less is not."""
    pattern = coat()
    lining = next(c for c in pattern.companions if c.piece == "lining back")
    off: Companion = replace(
        lining, of=tuple(replace(a, longer=a.longer - 3.0) for a in lining.of if a.edge == "hem")
    )
    (found,) = left_behind(replace(pattern, companions=(off,)), AGREE)
    assert found.measured - found.expected == pytest.approx(3.0, abs=1e-2)
