"""Allowances, notches, grain and fold, outline: what is let pass and what is not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright import checks
from clothwright.changes import draft_facing
from clothwright.changes.draft_facing import DraftFacing
from clothwright.checks import grain_and_fold, mating_allowances, notch_partners, outline
from clothwright.checks.check import Check, CheckSettings, LookedAt
from clothwright.checks.weigh import band
from clothwright.errors import CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Grain, Notch, NotchKind, Piece, Role
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import SEAM, outfit, seam
from tests.faults import planting as plant
from tests.garments.wardrobe import GARMENTS

INCH = 25.4


def found(check: Check, pattern: Pattern) -> list[Finding]:
    return list(check.run(pattern, CheckSettings()))


# --- allowances ----------------------------------------------------------------------------------


def test_five_eighths_on_every_joined_seam_agrees() -> None:
    """5/8 in on every joined seam (common practice)."""
    pattern = outfit()
    joined = {pattern.edge(r).allowance for s in pattern.seams for r in (*s.a, *s.b)}
    assert joined == {5 / 8 * INCH}
    assert found(mating_allowances.CHECK, pattern) == []


@pytest.mark.parametrize(
    ("allowance", "weight"),
    [(15.0, None), (13.5, Severity.NOTICE), (12.7, Severity.FAULT), (0.0, Severity.FAULT)],
)
def test_allowances_in_bands(allowance: float, weight: Severity | None) -> None:
    """1.5 cm against 5/8 in passes; 1/2 in against 5/8 in is a fault, and the wider one is kept."""
    pattern = plant.with_edge(outfit(), "back", "side", allowance=allowance)
    hits = found(mating_allowances.CHECK, pattern)
    assert [f.severity for f in hits] == ([weight] if weight else [])
    for hit in hits:
        assert hit.mend is not None
        assert hit.mend.params == {"edges": ("back.side",), "amount": SEAM}


def test_only_edges_that_lie_along_each_other_are_compared() -> None:
    """Each skirt waist is compared with the band; the two skirts are not compared with each
    other."""
    pattern = plant.with_edge(outfit(), "waistband", "lower", allowance=10.0)
    hits = found(mating_allowances.CHECK, pattern)
    assert len(hits) == 2
    said = [say(f.words, Unit.mm) for f in hits]
    assert all("waistband, lower of 10 mm" in s for s in said)


# --- notches -------------------------------------------------------------------------------------


def test_a_notch_needs_a_partner_in_one_of_its_seams_only() -> None:
    """A neck lies in the facing's seam and in the collar's: each may have notches of its own."""
    collar = Piece(
        name="collar",
        edges=(
            Edge(name="low", path=polyline(((0, 0), (220, 0)))),
            Edge(name="rest", path=polyline(((220, 0), (220, 50), (0, 50), (0, 0)))),
        ),
    )
    pattern = outfit()
    more = Pattern(
        pieces=(*pattern.pieces, collar),
        seams=(*pattern.seams, seam("second side", "front.side", "collar.low")),
    )
    assert found(notch_partners.CHECK, more) == []


def test_swapped_sleeve_notches_are_seen() -> None:
    """A double notch on the front of the sleeve: single meets double on both sides."""
    pattern = outfit()
    pattern = plant.with_notch(pattern, "sleeve", "cap", 0, kind=NotchKind.SINGLE)
    pattern = plant.with_notch(pattern, "sleeve", "cap", 2, kind=NotchKind.DOUBLE)
    assert [f.code for f in found(notch_partners.CHECK, pattern)] == ["notch-kinds-differ"] * 2


def test_notches_of_hems_and_folds_need_no_partner() -> None:
    """A notch where a pleat or a fold is marked meets nobody, and is not asked to."""
    pattern = plant.with_edge(outfit(), "front", "hem", notches=(Notch(at=50.0),))
    assert found(notch_partners.CHECK, pattern) == []


# --- grain and fold ------------------------------------------------------------------------------


def test_grain_may_be_square_to_the_fold() -> None:
    """A waistband lies along its fold or square to it; both follow a yarn."""
    band_ = outfit().piece("waistband")
    upright = replace(band_, grain=Grain(start=Vec(50, 5), end=Vec(50, 35)))
    assert found(grain_and_fold.CHECK, Pattern(pieces=(band_,))) == []
    assert found(grain_and_fold.CHECK, Pattern(pieces=(upright,))) == []


def test_a_facing_has_the_grain_of_the_garment() -> None:
    """Drafted along a slanting waist it leans against its own middle, and hangs with the garment.

    A facing has the grain of the piece that it faces (common practice). Left alone, told to go with
    nothing, the same piece is told.
    """
    params = DraftFacing(edges=("front.waist", "back.waist"))
    drafted = draft_facing.CHANGE.apply(GARMENTS["trousers"](), params).pattern
    alone = replace(drafted, companions=())
    leans = [[f.where.piece for f in found(grain_and_fold.CHECK, p)] for p in (drafted, alone)]
    assert leans[0] == []
    assert "back waist facing" in leans[1]


def test_a_grain_line_without_length_is_none() -> None:
    """A grain line of no length points nowhere; nothing else is said of it."""
    piece = replace(outfit().piece("front"), grain=Grain(start=Vec(50, 50), end=Vec(50, 50)))
    codes = [f.code for f in found(grain_and_fold.CHECK, Pattern(pieces=(piece,)))]
    assert "grain-missing" in codes
    assert "grain-off-fold" not in codes


def test_a_fold_drawn_as_a_curve_that_is_straight_enough_passes() -> None:
    """Traced folds wander by a pencil's width; half a chalk line is let pass."""
    piece = outfit().piece("waistband")
    traced = plant.redrawn(piece, "centre", polyline(((0, 40), (0.4, 20), (0, 0))))
    assert found(grain_and_fold.CHECK, Pattern(pieces=(traced,))) == []


def test_a_pair_needs_no_fold() -> None:
    """Cut twice, turned over: no fold edge is missing."""
    assert outfit().piece("sleeve").cuts == (Cut(how="pair"),)
    assert found(grain_and_fold.CHECK, Pattern(pieces=(outfit().piece("sleeve"),))) == []


# --- outline -------------------------------------------------------------------------------------


def test_an_allowance_too_wide_for_a_slot_is_named() -> None:
    """A slot 20 wide with 15 on each side has no cutting line; with 8 it has."""

    def slotted(allowance: float) -> Pattern:
        points = ((0, 0), (100, 0), (100, 80), (120, 80), (120, 0), (220, 0), (220, 200), (0, 200))
        edges = tuple(
            Edge(name=f"e{n}", path=polyline((p, q)), allowance=allowance)
            for n, (p, q) in enumerate(zip(points, (*points[1:], points[0]), strict=True))
        )
        return Pattern(pieces=(Piece(name="slotted", edges=edges),))

    assert found(outline.CHECK, slotted(8.0)) == []
    assert [f.code for f in found(outline.CHECK, slotted(15.0))] == ["cutting-line-impossible"]


def test_edges_that_cross_are_both_named() -> None:
    """The side that swings out over the armhole is named with it."""
    points = ((0, 0), (100, 0), (20, 120), (100, 100), (0, 100))
    edges = tuple(
        Edge(name=n, path=polyline((p, q)), role=Role.SEAM)
        for n, p, q in zip(
            ("hem", "side", "armhole", "top", "centre"),
            points,
            (*points[1:], points[0]),
            strict=True,
        )
    )
    hits = found(outline.CHECK, Pattern(pieces=(Piece(name="p", edges=edges),)))
    assert [f.code for f in hits] == ["outline-crosses"]
    assert say(hits[0].words, Unit.mm) == ("The outline of p crosses itself: side and top cross.")


# --- running -------------------------------------------------------------------------------------


def test_the_heaviest_findings_come_first() -> None:
    """Faults, notices, skipped, notes."""
    pattern = plant.without_notch(outfit(), "back", "side", 0)
    pattern = plant.without_notch(pattern, "sleeve", "cap", 1)
    pattern = plant.with_edge(pattern, "skirt front", "side", allowance=0.0)
    weights = [f.severity for f in checks.run_checks(pattern)]
    assert weights == [Severity.FAULT, Severity.NOTICE, Severity.SKIPPED]


def nothing(pattern: Pattern, settings: CheckSettings) -> LookedAt:
    return LookedAt(0, "")


def test_what_a_check_found_before_it_stopped_is_kept() -> None:
    """A check that breaks off half-way keeps its findings and adds that it broke off."""

    def run(pattern: Pattern, settings: CheckSettings):  # type: ignore[no-untyped-def]
        yield Finding(code="first", severity=Severity.NOTE)
        raise CannotDo(what="the rest", why="planted")

    broken = Check(id="broken", title="", why="", source="", codes=(), run=run, looked=nothing)
    assert [f.code for f in checks.run_check(broken, outfit())] == ["first", "broken-skipped"]


def test_faults_of_ours_are_not_hidden() -> None:
    """Only what impossible shapes raise counts as skipped; a slip in our own code is seen."""

    def run(pattern: Pattern, settings: CheckSettings):  # type: ignore[no-untyped-def]
        yield from ()
        raise KeyError("ours")

    broken = Check(id="broken", title="", why="", source="", codes=(), run=run, looked=nothing)
    with pytest.raises(KeyError):
        checks.run_check(broken, outfit())


def test_an_empty_pattern_has_no_findings() -> None:
    """Nothing drawn, nothing to say."""
    assert checks.run_checks(Pattern(pieces=())) == ()


@pytest.mark.parametrize("sign", [1, -1])
def test_bands_have_no_gap(sign: int) -> None:
    """Exactly on a limit counts as within it, for both signs."""
    assert band(sign * 1.5, 1.5, 3.0) is None
    assert band(sign * 1.50001, 1.5, 3.0) is Severity.NOTICE
    assert band(sign * 3.0, 1.5, 3.0) is Severity.NOTICE
    assert band(sign * 3.00001, 1.5, 3.0) is Severity.FAULT
