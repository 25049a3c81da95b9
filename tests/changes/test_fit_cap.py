"""A cap fitted to its armhole: as long as it and the ease, none of it under the arm."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.fit_cap import FitCap, apply
from clothwright.changes.piece_panel import PiecePanel
from clothwright.changes.piece_panel import apply as cut_in_two
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.geometry.path import polyline
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit
from tests.faults.mistakes import on
from tests.faults.paper import cornered, hollowed, notched
from tests.garments.wardrobe import GARMENTS, settings_of


def lengths(pattern: Pattern) -> tuple[float, float]:
    """Cap and armhole of the outfit, mm."""
    return net_length(pattern.piece("sleeve"), "cap"), sum(
        net_length(pattern.piece(p), "armhole") for p in ("front", "back")
    )


@pytest.mark.parametrize("by", [-25.0, -10.0, 12.0])
def test_a_cap_cut_flatter_or_higher_is_as_long_as_is_meant_again(by: float) -> None:
    """1 in of ease is what textbooks ask for (docs/sources.md, cap ease); ends and seams stay."""
    spoilt = outfit().with_piece(hollowed(outfit().piece("sleeve"), "cap", by))
    new = apply(spoilt, FitCap(seam="armhole", ease=25.4)).pattern
    cap, hole = lengths(new)
    assert cap - hole == pytest.approx(25.4, abs=1e-3)
    for name in ("hem", "back underarm", "front underarm"):
        assert new.piece("sleeve").edge(name) == spoilt.piece("sleeve").edge(name)


def test_nothing_is_left_to_say_of_an_armhole_cut_lower() -> None:
    """Underarms 15 mm lower: fitted, the cap has no ease under the arm and the back more of it."""
    p = outfit()
    p = p.with_piece(cornered(p.piece("front"), "armhole", 0.0, -15.0))
    p = p.with_piece(cornered(p.piece("back"), "side", 0.0, -15.0))
    assert any(f.code.startswith("cap-") for f in run_checks(p))
    assert not [f for f in run_checks(apply(p, FitCap(seam="armhole")).pattern) if "cap" in f.code]


def test_a_gathered_cap_keeps_its_gathers() -> None:
    """What the seam says is meant is what the cap is fitted with, 90 mm of gathers."""
    p = GARMENTS["blouse"]()
    flat = p.with_piece(hollowed(p.piece("sleeve"), "cap", 20.0))
    new = apply(flat, FitCap(seam="armhole")).pattern
    cap = net_length(new.piece("sleeve"), "cap")
    assert cap == pytest.approx(net_length(p.piece("sleeve"), "cap"), abs=1e-3)
    assert not [f for f in run_checks(new, settings_of("blouse")) if "cap" in f.code]


def test_a_cap_that_would_be_another_sleeve_is_refused_with_the_most_it_may_be() -> None:
    """The refusal names a length that can be done; just inside it is done."""
    with pytest.raises(CannotDo) as refused:
        apply(outfit(), FitCap(seam="armhole", ease=400.0))
    words = say(refused.value.sentence(), Unit.mm)
    assert "another width" in words
    most = float(words.split("a cap of ")[1].split(" mm")[0])
    cap, hole = lengths(outfit())
    assert cap < most
    apply(outfit(), FitCap(seam="armhole", ease=most - hole))


def test_a_straight_cap_is_stretched_by_plane_geometry() -> None:
    """A triangle 300 wide: to be 340 long its height is sqrt(170^2 - 150^2) mm (Pythagoras)."""
    p = outfit()
    piece = p.piece("sleeve")
    start, end = piece.edge("cap").path.ends
    wide = start.distance(end)
    top = start.lerp(end, 0.5) + piece.up * 120.0
    roof = polyline((start, top, end))
    cap = replace(piece.edge("cap"), path=roof, notches=())
    p = p.with_piece(piece.with_edge(cap))
    hole = lengths(p)[1]
    new = apply(p, FitCap(seam="armhole", ease=0.0)).pattern.piece("sleeve").edge("cap").path
    high = max((q - start).dot(piece.up) for q in new.flatten())
    assert high == pytest.approx(((hole / 2) ** 2 - (wide / 2) ** 2) ** 0.5, abs=1e-3)


def in_two(pattern: Pattern) -> Pattern:
    """The outfit with its sleeve cut in two from the back notch of its cap to its hem."""
    params = PiecePanel(piece="sleeve", start="cap notch back", end="hem middle")
    return cut_in_two(pattern, params).pattern


@pytest.mark.parametrize("ease", [12.0, 38.0])
def test_a_cap_in_two_pieces_is_fitted_as_the_same_cap_in_one(ease: float) -> None:
    """Cut in two before or after, it has one line; and the seam between is as long on both."""
    want = apply(outfit(), FitCap(seam="armhole", ease=ease)).pattern.piece("sleeve").edge("cap")
    new = apply(in_two(outfit()), FitCap(seam="armhole", ease=ease)).pattern
    parts = [new.piece(n).edge("cap") for n in ("sleeve inner", "sleeve outer")]
    assert sum(p.length for p in parts) == pytest.approx(want.length, abs=1e-3)
    for part in parts:
        assert max(want.path.nearest(p)[1] for p in part.path.flatten()) < 0.01
    names = {"sleeve inner", "sleeve outer"}
    between = [s for s in new.seams if {r.piece for r in s.refs} == names]
    assert len(between) == 2
    for seam in between:
        assert side(new, seam.a).length == pytest.approx(side(new, seam.b).length, abs=1e-3)
    hems = [p.piece("sleeve inner").edge("hem") for p in (new, in_two(outfit()))]
    assert hems[0] == hems[1]


def test_where_only_a_notch_moves_nothing_else_is_said() -> None:
    """The shoulder notch of a cap that is long enough, 15 mm off: no length from 53.5 to 53.5."""
    right = GARMENTS["princess"]()
    spoilt = on("sleeve", notched, "cap", "shoulder tip", 15.0)(right)
    outcome = apply(spoilt, FitCap(seam="armhole"))
    words = say(outcome.said, Unit.mm)
    assert 'notch "shoulder tip" of sleeve, cap by 1' in words
    assert "from" not in words
    paths = [[e.path for e in p.piece("sleeve").edges] for p in (spoilt, outcome.pattern)]
    assert paths[0] == paths[1]
