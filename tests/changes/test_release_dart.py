"""A dart's width sewn in another way: gathered, eased, pleated, left or cut off."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from clothwright.changes import add_dart
from clothwright.changes.add_dart import AddDart
from clothwright.changes.release_dart import ReleaseDart, apply
from clothwright.errors import CannotDo
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.measure import dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.walk import mark_names, walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.contract.changes_table import low_dart
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice


def width() -> float:
    front = bodice().piece("front")
    return dart_intake(front, front.dart("bust"))


def run(pattern: Pattern, into: str, dart: str = "front.bust", **more: float) -> Pattern:
    return apply(pattern, ReleaseDart(dart=dart, into=into, **more)).pattern


@pytest.mark.parametrize("into", ["gathered", "eased", "pleated"])
def test_the_seam_takes_up_the_width(into: str) -> None:
    """The darted side is longer by the width, between two notches that both sides have.

    By a little less where the edge is drawn fair over a corner that the dart made.
    """
    after = run(bodice(), into)
    seam = after.seam("side seam")
    assert seam.b[0].piece == "front"
    assert (seam.join, seam.folds) == (into, 1 if into == "pleated" else 0)
    assert seam.ease == pytest.approx(width(), abs=3.0)
    longer = net_length(after.piece("front"), "side") - net_length(after.piece("back"), "side")
    assert longer == pytest.approx(seam.ease, abs=1e-3)
    for name in ("bust 1", "bust 2"):
        for piece in ("front", "back"):
            assert name in [n.name for n in after.piece(piece).edge("side").notches]
    assert (seam.ease_from, seam.ease_to) in ((("bust 1"), ("bust 2")), (("bust 2"), ("bust 1")))


def test_three_into_ten_is_one_point_three() -> None:
    """A dart of 3 cm gathered in a zone of 10 cm: 1.3 times as much cloth (O33)."""
    front = bodice().piece("front")
    path = front.edge("side").path
    dart = front.dart("bust")
    at = path.point_at(dart.a).lerp(path.point_at(dart.b), 0.5)
    assert at.distance(dart.point) > 100.0
    zone = run(bodice(), "gathered").seam("side seam").ease / 0.3
    said = apply(bodice(), ReleaseDart(dart="front.bust", reach=zone / 2)).said
    assert "30 % more cloth than seam" in say(said, Unit.cm)


def test_cut_off_is_sewn_at_the_length_it_was() -> None:
    """The waist edge ends sooner by the dart's width; the fold stays where it was."""
    before, after = low_dart(), run(low_dart(), "cut off", "front.waist")
    old, new = before.piece("front"), after.piece("front")
    assert new.edge("hem").length == pytest.approx(net_length(old, "hem"), abs=0.5)
    assert new.edge("fold") == old.edge("fold")
    assert [d.name for d in new.darts] == ["bust"]


def test_left_loose_the_edge_is_longer_and_the_walk_finds_it() -> None:
    """Nothing is sewn in: the seam differs by the dart's width until its partner follows."""
    after = run(bodice(), "loose")
    found = walk_seam(after, after.seam("side seam"))
    assert abs(found.a.length - found.b.length) == pytest.approx(width(), abs=3.0)
    assert found.meant.most == 0.0


def test_a_seam_gathered_already_is_not_eased_too() -> None:
    """One seam is sewn in one way; the refusal says which."""
    gathered = run(bodice(), "gathered")
    more = AddDart(edge="front.side", width=12.0, length=60.0, at=45.0, name="low")
    darted = add_dart.apply(gathered, more).pattern
    with pytest.raises(CannotDo, match="its seam is gathered already"):
        run(darted, "eased", "front.low")
    both = run(darted, "gathered", "front.low", reach=15.0).seam("side seam")
    assert both.ease == pytest.approx(gathered.seam("side seam").ease + 12.0, abs=0.5)


def test_half_a_waist_sewn_twice_to_a_whole_band_takes_up_twice_the_width() -> None:
    """Trousers: the front's waist lies on both halves of one band, which gets both pairs."""
    before = GARMENTS["trousers"]()
    dart = before.piece("front").darts[0]
    after = run(before, "eased", f"front.{dart.name}", reach=20.0)
    seam = after.seam("waist")
    wide = dart_intake(before.piece("front"), dart)
    assert seam.ease == pytest.approx(before.seam("waist").ease + 2 * wide, abs=0.5)
    found = walk_seam(after, seam)
    assert found.b.length - found.a.length == pytest.approx(seam.ease, abs=0.05)
    band = [n.name for n in after.piece("waistband").edge("lower").notches]
    got = "".join(n[-1] for n in band if n.startswith(dart.name))
    assert got in ("1221", "2112")


def test_a_waist_eased_between_notches_is_eased_from_end_to_end_then() -> None:
    """It gains the dart in both halves: no pair of notches bounds that."""
    before = GARMENTS["trousers"]()
    dart, seam = before.piece("front").darts[0], before.seam("waist")
    marks = mark_names(walk_seam(before, seam).b)
    bounded = replace(seam, ease=6.0, ease_from=marks[0], ease_to=marks[-1])
    after = run(before.with_seam(bounded), "eased", f"front.{dart.name}", reach=20.0)
    now = after.seam("waist")
    assert (now.ease_from, now.ease_to) == ("", "")


def test_no_corner_is_left_where_the_dart_was() -> None:
    """Not sewn, the dart leaves a fair edge: no joint of its curve turns; a pleat keeps its cap."""
    for into in ("gathered", "eased", "loose"):
        path = run(bodice(), into).piece("front").edge("side").path
        turns = [
            abs(turn_between_deg(a.tangent(1.0), b.tangent(0.0)))
            for a, b in itertools.pairwise(path.segments)
        ]
        assert max(turns) < 0.01
    kinks = run(bodice(), "pleated").piece("front").edge("side").path.segments
    assert any(
        abs(turn_between_deg(a.tangent(1.0), b.tangent(0.0))) > 1.0
        for a, b in itertools.pairwise(kinks)
    )
