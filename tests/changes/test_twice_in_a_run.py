"""Half pieces along a whole band: an edge that lies along a seam twice changes it twice as much."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.changes.match_edge import MatchEdge
from clothwright.changes.match_edge import apply as match_edge
from clothwright.changes.match_level import MatchLevel
from clothwright.changes.match_level import apply as match_level
from clothwright.changes.true_seam import TrueSeam
from clothwright.changes.true_seam import apply as true_seam
from clothwright.changes.unfold import Unfold
from clothwright.changes.unfold import apply as unfold
from clothwright.checks.check import CheckSettings
from clothwright.checks.mating_allowances import mating_allowances
from clothwright.checks.seam_lengths import seam_lengths
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Level, Piece, Role
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from clothwright.workbook import change_of
from tests.specimens import edge, line, seam

WAIST = 180.0
"""mm: the net waist of each half panel."""


def panel(name: str) -> Piece:
    """Half a straight panel on the fold: fold on the left, waist on top."""
    return Piece(
        name=name,
        edges=(
            edge("hem", line((0, 0), (200, 0)), role=Role.HEM),
            edge("side", line((200, 0), (WAIST, 500)), corner="hem side"),
            edge("waist", line((WAIST, 500), (0, 500)), corner="waist side"),
            edge("fold", line((0, 500), (0, 0)), role=Role.FOLD, allowance=0.0),
        ),
        levels=(Level(name="hip", at=Vec(0, 300)),),
    )


def banded(longer: float) -> Pattern:
    """Front and back on the fold, a whole band `longer` mm longer than both of them all round.

    The seam begins at the left side: back (side to fold and on), then front.
    """
    band = Piece(
        name="band",
        edges=(
            edge("top", line((4 * WAIST + longer, 40), (0, 40))),
            edge("left", line((0, 40), (0, 0))),
            edge("bottom", line((0, 0), (4 * WAIST + longer, 0))),
            edge("right", line((4 * WAIST + longer, 0), (4 * WAIST + longer, 40))),
        ),
    )
    around = "back.waist, back.waist reversed, front.waist, front.waist reversed"
    return Pattern(
        pieces=(panel("front"), panel("back"), band),
        seams=(
            seam("side", "front.side reversed", "back.side reversed"),
            seam("waist", around, "band.bottom"),
        ),
    )


def off(pattern: Pattern, name: str = "waist") -> float:
    it = pattern.seam(name)
    return side(pattern, it.b).length - side(pattern, it.a).length


@pytest.mark.parametrize("longer", [12.0, -12.0])
@pytest.mark.parametrize("change", ["front.waist", "back.waist", "band.bottom"])
def test_the_edge_changes_by_its_share(change: str, longer: float) -> None:
    """A band 12 mm longer: the half front's waist grows by 6, the band itself shrinks by 12."""
    pattern = banded(longer)
    at = "end" if change == "band.bottom" else "start"
    done = match_edge(pattern, MatchEdge(seam="waist", edge=change, at=at)).pattern
    assert off(done) == pytest.approx(0.0, abs=1e-3)
    name, own = change.split(".")
    grown = net_length(done.piece(name), own) - net_length(pattern.piece(name), own)
    assert grown == pytest.approx(-longer if name == "band" else longer / 2, abs=1e-3)


def test_the_mend_of_the_check_is_right_at_either_end() -> None:
    """What the walk offers for such a seam makes it agree."""
    pattern = banded(-12.0)
    found = next(f for f in seam_lengths(pattern, CheckSettings()) if f.code == "seam-length")
    assert found.mend is not None
    for mend in found.mends:
        change = change_of(mend.change)
        params = read_params(change.params, mend.params, unit=Unit.mm, where="mend")
        assert off(change.apply(pattern, params).pattern) == pytest.approx(0.0, abs=1e-3)


def test_an_edge_sewn_to_its_own_twin_cannot_mend_it() -> None:
    """The left and the right one of a piece change alike: refused, in every change that matches."""
    centre = replace(panel("back"), edges=tuple(
        replace(e, role=Role.SEAM) if e.name == "fold" else e for e in panel("back").edges
    ))  # fmt: skip
    twins = seam("centre", "back.fold", "back.fold", ease=5.0)
    pattern = Pattern(pieces=(centre,), seams=(twins,))
    with pytest.raises(CannotDo, match="both sides"):
        match_edge(pattern, MatchEdge(seam="centre", edge="back.fold"))
    with pytest.raises(CannotDo, match="both of its sides"):
        true_seam(pattern, TrueSeam(seam="centre"))
    with pytest.raises(CannotDo, match="both sides"):
        match_level(pattern, MatchLevel(level="hip", seam="centre", piece="back"))


def test_truing_shares_the_difference_out_by_how_often_each_side_counts() -> None:
    """Half of 2 mm from the band, half from the two half fronts: half a millimetre each."""
    pattern = banded(2.0)
    done = true_seam(pattern, TrueSeam(seam="waist", at="end", reach=30.0)).pattern
    assert off(done) == pytest.approx(0.0, abs=1e-3)
    assert net_length(done.piece("front"), "waist") == pytest.approx(WAIST + 0.5, abs=1e-3)


def test_unfolding_counts_the_whole_edge_once() -> None:
    """An unfolded front lies along the band once, with its whole waist; the seam still agrees."""
    pattern = banded(0.0)
    done = unfold(pattern, Unfold(pieces=("front",))).pattern
    refs = [str(r) for r in done.seam("waist").a]
    assert refs == ["back.waist", "back.waist reversed", "front.waist"]
    assert off(done) == pytest.approx(0.0, abs=1e-6)


def test_a_half_that_lies_along_a_band_twice_is_told_once() -> None:
    """An allowance that differs is one finding an edge, and both halves are one name."""
    pattern = banded(8.0)
    band = pattern.piece("band")
    narrow = replace(band, edges=tuple(
        replace(e, allowance=10.0) if e.name == "bottom" else e for e in band.edges
    ))  # fmt: skip
    spoilt = pattern.with_piece(narrow)
    found = [say(f.words, Unit.cm) for f in mating_allowances(spoilt, CheckSettings())]
    assert len(found) == len(set(found)) == 2
    (whole,) = [say(f.words, Unit.cm) for f in seam_lengths(pattern, CheckSettings())]
    assert whole == "band, bottom is 0.8 cm longer than back (waist) and front (waist)."
