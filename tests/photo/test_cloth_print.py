"""The print found in photos of our own simulated cloths (seeded; the truth is known)."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from clothwright.errors import BadInput
from clothwright.photo.cloth_print import PrintFound, print_in
from clothwright.photo.corners import by_corners, by_scan
from clothwright.photo.read import Photo
from tests.photo.cloths import Design, cloth, designs, photographed

COUNT = 18
"""Three designs of each of the six kinds."""


@cache
def found(number: int) -> tuple[Design, PrintFound]:
    """Return a design and what was found in its photo."""
    k, design = designs(COUNT)[number]
    shot = photographed(design, k, pixels=1300)
    straight = by_corners(shot.photo, shot.corners, shot.width, shot.height)
    return design, print_in(straight)


@pytest.mark.parametrize("number", range(COUNT))
def test_the_repeat_is_found(number: int) -> None:
    """Each repeat within 0.5 % or 1 mm, and within the uncertainty stated; none is made up."""
    design, it = found(number)
    wanted_along = {
        "check": design.along,
        "figures": design.along,
        "mirrored": design.along,
        "drop": 2 * design.along,  # a half drop comes again straight after two
        "border": design.along,
    }.get(design.kind)
    wanted_across = None if design.kind == "border" else design.across
    for wanted, got in ((wanted_along, it.along), (wanted_across, it.repeat_across)):
        assert (wanted is None) == (got is None)
        if wanted is not None and got is not None:
            assert abs(got.mm - wanted) < max(1.0, 0.005 * wanted)
            assert abs(got.mm - wanted) < 3 * got.give


@pytest.mark.parametrize(
    "number", [k for k in range(COUNT) if designs(COUNT)[k][1].kind == "border"]
)
def test_the_border_is_found(number: int) -> None:
    """Its selvedge, base line and height, within 1 mm; nothing else is called a border."""
    design, it = found(number)
    assert [b.band.side for b in it.borders] == [design.side]
    assert it.borders[0].band.base.mm == pytest.approx(design.base, abs=1.0)
    assert it.borders[0].band.height.mm == pytest.approx(design.height, abs=1.0)


@pytest.mark.parametrize(
    "number", [k for k in range(COUNT) if designs(COUNT)[k][1].kind != "border"]
)
def test_no_border_where_there_is_none(number: int) -> None:
    """Stripes, checks and figures are no borders."""
    assert found(number)[1].borders == ()


@pytest.mark.parametrize(
    "number", [k for k in range(COUNT) if designs(COUNT)[k][1].kind in ("mirrored", "check")]
)
def test_axes_of_a_design_that_mirrors(number: int) -> None:
    """Two a repeat, half a repeat apart; the photo begins at one (the design is drawn so)."""
    design, it = found(number)
    assert len(it.axes_along) == 2
    a, b = it.axes_along
    assert b.at - a.at == pytest.approx(design.along / 2, abs=1.0)
    off = min(abs(x.at - design.along * k / 2) for x in (a, b) for k in range(3))
    assert off < 1.0


@pytest.mark.parametrize(
    "number", [k for k in range(COUNT) if designs(COUNT)[k][1].kind == "figures"]
)
def test_no_axes_of_a_leaning_design(number: int) -> None:
    """A figure that leans is no mirror image of itself."""
    assert found(number)[1].axes_along == ()


@pytest.mark.parametrize("seed", range(4))
def test_a_plain_cloth_has_nothing(seed: int) -> None:
    """No repeat, no border, and a sentence that says so."""
    shot = photographed(Design(kind="plain"), seed, pixels=1300)
    it = print_in(by_corners(shot.photo, shot.corners, shot.width, shot.height))
    assert (it.borders, it.repeat_along, it.repeat_across, it.axes_along) == ((), None, None, ())
    assert any("stand out" in d for d in it.doubts)


def test_a_scan_is_true_by_its_dots() -> None:
    """A scan of 100 dots an inch: repeats within 0.5 %."""
    design = Design(kind="check", along=31.0, across=27.5)
    pixels = cloth(design, 210.0, 290.0, 100 / 25.4, 3)
    it = print_in(by_scan(Photo(pixels=pixels, focal_px=None, name="scan.png"), 100.0))
    assert it.repeat_along is not None
    assert it.repeat_across is not None
    assert it.repeat_along.mm == pytest.approx(31.0, rel=0.005)
    assert it.repeat_across.mm == pytest.approx(27.5, rel=0.005)


def test_a_repeat_seen_less_than_twice_is_doubted() -> None:
    """It is proposed with a sentence to measure it on the cloth."""
    design = Design(kind="figures", along=118.0, across=40.0)
    pixels = cloth(design, 205.0, 260.0, 100 / 25.4, 5)
    it = print_in(by_scan(Photo(pixels=pixels, focal_px=None, name="scan.png"), 100.0))
    assert it.repeat_along is not None
    assert any("measure it on the cloth" in d for d in it.doubts)


@pytest.mark.parametrize(
    "corners",
    [
        ((0, 0), (100, 0), (100, 100), (0, 100)),
        ((10, 190), (12, 190), (12, 188), (10, 188)),
        ((0, 190), (5000, 190), (190, 10), (10, 10)),
        ((0, 190), (190, 190), (190, 10)),
    ],
)
def test_corners_that_are_none_are_refused(corners) -> None:
    """Turned over, too near each other, beside the photo, too few."""
    photo = Photo(pixels=np.zeros((200, 200, 3), dtype=np.uint8), focal_px=None, name="x.png")
    with pytest.raises(BadInput):
        by_corners(photo, corners, 100.0, 100.0)


@pytest.mark.parametrize("step", [7.3, 12.0, 31.7])
def test_the_smallest_true_repeat_not_a_multiple(step: float) -> None:
    """Narrow stripes on a large picture: the stripe's own repeat, not one that fits the pixels."""
    pixels = cloth(Design(kind="stripes", across=step), 420.0, 500.0, 100 / 25.4, 2)
    it = print_in(by_scan(Photo(pixels=pixels, focal_px=None, name="scan.png"), 100.0))
    assert it.repeat_across is not None
    assert it.repeat_across.mm == pytest.approx(step, rel=0.005)
