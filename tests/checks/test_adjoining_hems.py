"""One line, one depth: the odd edge is named, and all odd ones are mended at once."""

from __future__ import annotations

import pytest

from clothwright.checks import DEFAULTS
from clothwright.checks.adjoining_hems import adjoining_hems, lines_of
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import outfit
from tests.faults import planting as plant
from tests.garments.wardrobe import GARMENTS


def hem_of(p: Pattern, name: str, depth: float) -> Pattern:
    return plant.with_edge(p, name, "hem", allowance=depth)


def test_lines_that_run_on_over_seams_are_known() -> None:
    """Bodice hem, neck, skirt hem, sleeve hem is alone: whatever is sewn elsewhere is none."""
    lines = [{f"{m.piece}.{m.edge.name}" for m in line} for line in lines_of(outfit())]
    assert lines == [
        {"front.hem", "back.hem"},
        {"front.neck", "back.neck"},
        {"skirt front.hem", "skirt back.hem"},
    ]


def test_the_narrower_of_two_is_brought_to_the_wider() -> None:
    """Cloth can be cut off later: 50 mm count against 30."""
    found = list(adjoining_hems(hem_of(outfit(), "back", 50.0), DEFAULTS))
    assert [(f.where.piece, f.measured, f.expected) for f in found] == [("front", 30.0, 50.0)]
    assert found[0].mend is not None
    assert found[0].mend.params["edges"] == ("front.hem",)
    said = say(found[0].words, Unit.cm)
    assert said.startswith("front, hem is turned up 3 cm, back, hem beside it 5 cm")


def test_bands_are_those_of_seam_lengths() -> None:
    """1.5 mm agree (design bands): 5/8 in against 1.5 cm is one depth."""
    assert list(adjoining_hems(hem_of(outfit(), "back", 31.4), DEFAULTS)) == []
    weights = [f.severity.value for f in adjoining_hems(hem_of(outfit(), "back", 32.5), DEFAULTS)]
    assert weights == ["notice"]


@pytest.mark.parametrize(
    ("piece", "seams"),
    [
        ("centre front", {"front panel seam": "side front"}),
        ("side back", {"side": "side front", "back panel seam": "centre back"}),
    ],
)
def test_the_hem_beside_it_is_the_one_beyond_the_seam_that_is_named(
    piece: str, seams: dict[str, str]
) -> None:
    """The step is told at a seam of the odd hem, with the piece that this seam joins it to."""
    found = list(adjoining_hems(hem_of(GARMENTS["princess"](), piece, 40.0), DEFAULTS))
    assert [f.where.piece for f in found] == [piece]
    assert found[0].where.seam in seams
    other = seams[str(found[0].where.seam)]
    assert f"{other}, hem beside it" in say(found[0].words, Unit.cm)
