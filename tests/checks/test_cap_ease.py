"""Cap ease: amount, shares, and none under the arm."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import CheckSettings
from clothwright.checks.cap_ease import CHECK
from clothwright.pattern.cap import cap_ease_of
from clothwright.pattern.finding import Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import NotchKind
from clothwright.pattern.walk import walk_seam
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import BACK_EASE, FRONT_EASE, outfit, sleeve
from tests.faults import planting as plant

INCH = 25.4


def codes(pattern: Pattern, settings: CheckSettings | None = None) -> list[str]:
    return [f.code for f in CHECK.run(pattern, settings or CheckSettings())]


def with_ease(total: float, **said: object) -> Pattern:
    """A cap so much longer than its armhole; its seam says nothing of it but what is said here."""
    front_ = total * FRONT_EASE / (FRONT_EASE + BACK_EASE)
    drawn = outfit().with_piece(sleeve(front_, total - front_))
    return plant.with_seam(drawn, "armhole", **{"ease": 0.0, **said})


def test_the_shares_are_measured() -> None:
    """11 in front, 14 at the back, nothing under the arm: as the sleeve was drawn."""
    pattern = outfit()
    seam = pattern.seam("armhole")
    ease = cap_ease_of(walk_seam(pattern, seam), seam)
    assert ease.total == pytest.approx(FRONT_EASE + BACK_EASE, abs=1e-3)
    assert ease.front == pytest.approx(FRONT_EASE, abs=1e-3)
    assert ease.back == pytest.approx(BACK_EASE, abs=1e-3)
    assert ease.under == pytest.approx((0.0, 0.0), abs=1e-3)


@pytest.mark.parametrize(
    ("inches", "expected"),
    [
        (0.25, ["cap-ease-low"]),
        (0.51, []),
        (1.0, []),
        (1.49, []),
        (1.6, ["cap-ease-high"]),
    ],
)
def test_half_an_inch_to_an_inch_and_a_half(inches: float, expected: list[str]) -> None:
    """Woven set-in sleeves: 1/2 to 1 1/2 in (textbooks and makers, docs/sources.md)."""
    assert codes(with_ease(inches * INCH)) == expected


@pytest.mark.parametrize(
    ("total", "said"),
    [
        (90.0, {"ease": 90.0, "join": "gathered"}),  # a puffed sleeve
        (90.0, {"ease": 60.0, "eased_max": 100.0, "join": "pleated"}),
        (6.0, {"ease": 6.0}),  # a shirt's, sewn in flat
        (2.0, {"ease": 0.0, "eased_max": 6.0}),
        (-8.0, {"ease": -8.0, "join": "stretched"}),  # a knit's, drawn out as it is sewn
    ],
)
def test_what_the_seam_means_outranks_the_band(total: float, said: dict[str, object]) -> None:
    """Gathered caps, flat shirt sleeves and knits are meant as they are: no false alarm."""
    assert codes(with_ease(total, **said)) == []


@pytest.mark.parametrize(
    ("total", "said"),
    [
        (70.0, {"ease": 90.0, "join": "gathered"}),
        (12.0, {"ease": 0.0, "eased_max": 6.0}),
        (2.0, {"ease": -8.0, "join": "stretched"}),
    ],
)
def test_other_than_meant_is_told(total: float, said: dict[str, object]) -> None:
    """What is meant is held to: within the band of all sleeves it is still another sleeve."""
    assert codes(with_ease(total, **said)) == ["cap-ease-not-meant"]


def test_more_than_woven_cloth_takes_is_noted_though_it_is_meant() -> None:
    """Above 1 1/2 in only soft wool eases (textbooks): a note; none on a knit."""
    seam: dict[str, object] = {"ease": 50.0}
    (found,) = CHECK.run(with_ease(50.0, **seam), CheckSettings())
    assert (found.code, found.severity) == ("cap-ease-high", Severity.NOTE)
    assert codes(with_ease(50.0, **seam), CheckSettings(stretches=True)) == []


def test_a_knit_may_have_none() -> None:
    """Knits, soft set-in styles: 0 to 3/4 in (docs/sources.md)."""
    assert codes(with_ease(0.1), CheckSettings(stretches=True)) == []


def test_the_band_can_be_set_for_knits() -> None:
    """Knits take 0 to 3/4 in; with the settings of a knit 1/4 in is right."""
    knit = CheckSettings(cap_ease_min=0.0, cap_ease_max=0.75 * INCH)
    assert codes(with_ease(0.25 * INCH), knit) == []


def test_a_cap_shorter_than_its_armhole_is_a_fault() -> None:
    """The armhole is never the longer of the two; told once, not share by share."""
    assert codes(with_ease(-4.0)) == ["cap-shorter"]


def test_a_cap_shorter_than_its_armhole_says_what_is_meant() -> None:
    """What is missing is the ease as well: drawn red as one, and told."""
    pattern = with_ease(-4.0)
    meant = pattern.with_seam(replace(pattern.seam("armhole"), ease=20.0, eased_max=0.0))
    (found,) = CHECK.run(meant, CheckSettings())
    assert say(found.words, Unit.cm).endswith(", and this one is meant to be 2 cm longer.")


def test_single_is_front_and_double_is_back() -> None:
    """One notch marks the front of sleeve and armhole, two the back (textbook)."""
    pattern = outfit()
    turned = plant.with_seam(
        pattern,
        "armhole",
        a=tuple(replace(r, reversed=True) for r in reversed(pattern.seam("armhole").a)),
        b=tuple(replace(r, reversed=False) for r in pattern.seam("armhole").b),
        ease_from="back",
        ease_to="front",
    )
    seam = turned.seam("armhole")
    ease = cap_ease_of(walk_seam(turned, seam), seam)
    assert (ease.front, ease.back) == pytest.approx((FRONT_EASE, BACK_EASE), abs=1e-3)


def test_without_kinds_front_and_back_cannot_be_told() -> None:
    """Two single notches: the check says what it could not look at."""
    pattern = plant.with_notch(outfit(), "sleeve", "cap", 0, kind=NotchKind.SINGLE)
    pattern = plant.with_notch(pattern, "back", "armhole", 0, kind=NotchKind.SINGLE)
    found = list(CHECK.run(pattern, CheckSettings()))
    assert [f.code for f in found] == ["cap-ease-skipped"]
    assert "do not tell front from back" in say(found[0].words, Unit.mm)


def test_without_notches_only_the_whole_is_measured() -> None:
    """A bare cap still gets its total; where the ease lies is reported as not checked."""
    pattern = outfit()
    for name, edge in (("sleeve", "cap"), ("front", "armhole"), ("back", "armhole")):
        pattern = plant.with_edge(pattern, name, edge, notches=())
    pattern = plant.with_seam(pattern, "armhole", ease_from="", ease_to="")
    assert codes(pattern) == ["cap-ease-skipped"]


def test_ease_under_the_arm_is_told_for_its_side() -> None:
    """The back notch of the cap set 5 mm too far up: 5 mm of ease under the arm, at the back."""
    pattern = outfit()
    at = pattern.piece("sleeve").edge("cap").notches[0].at
    found = list(
        CHECK.run(plant.with_notch(pattern, "sleeve", "cap", 0, at=at + 5), CheckSettings())
    )
    assert [f.code for f in found] == ["cap-ease-under-arm"]
    assert found[0].measured == pytest.approx(5.0, abs=1e-3)
    assert 'notch "back"' in say(found[0].words, Unit.mm)
