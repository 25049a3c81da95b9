"""Hems on a flare: what eases in is passed, what does not is told with the depth that would do."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from clothwright.changes import set_hem
from clothwright.checks import DEFAULTS, CheckSettings
from clothwright.checks.hem_fullness import hem_fullness
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from tests.checks.specimens import seam
from tests.faults import planting as plant
from tests.garments.wardrobe import GARMENTS
from tests.pattern.test_hems import gore


def skirt(girth: float, turn: float, depth: float, tall: float = 300.0) -> Pattern:
    """One of eight gores, sewn to the next at both sides."""
    piece = gore(girth, turn, 8, tall=tall)
    p = Pattern(pieces=(piece,), seams=(seam("side", "gore.right reversed", "gore.left"),))
    return plant.with_edge(p, "gore", "hem", allowance=depth)


@pytest.mark.parametrize(
    ("girth", "turn", "depth", "weight"),
    [
        (1200.0, 0.364, 79.0, None),  # hip 100, hem 120: 8.0 cm at 5 %
        (1200.0, 0.364, 82.0, "notice"),
        (1400.0, 0.727, 46.0, None),  # hip 100, hem 140: 4.7 cm at 5 %
        (1400.0, 0.727, 50.0, "notice"),
        (1400.0, 0.727, 90.0, "fault"),
        (2 * math.pi * 800, 2 * math.pi, 19.0, None),  # a circle: 2.0 cm at 5 %
        (2 * math.pi * 800, 2 * math.pi, 50.0, "fault"),
        (65 * 25.4, 25 / 20, 2 * 25.4, "notice"),  # 2 in on a 65 in gored skirt: shrunk, 8 %
    ],
)
def test_how_deep_a_flared_hem_may_be(
    girth: float, turn: float, depth: float, weight: str | None
) -> None:
    """Depths at 5 % of the table of flared hems (Texas L-359, plane geometry)."""
    tall = 254.0 if weight == "notice" and girth > 1500 else 300.0
    found = list(hem_fullness(skirt(girth, turn, depth, tall), DEFAULTS))
    assert [f.severity.value for f in found] == ([weight] if weight else [])


def test_the_depth_it_suggests_is_the_tables() -> None:
    """4.7 cm instead of 8: said, and done by the change it suggests; then nothing is left."""
    p = skirt(1400.0, 0.727, 80.0)
    (found,) = hem_fullness(p, DEFAULTS)
    assert found.mend is not None
    assert found.mend.params["depth"] == pytest.approx(47.0, abs=1.0)
    assert "Turn up at most 4.6 cm, or face the hem." in say(found.words, Unit.cm)
    params = read_params(set_hem.SetHem, found.mend.params, unit=Unit.mm, where="")
    after = set_hem.apply(p, params).pattern
    assert list(hem_fullness(after, DEFAULTS)) == []


def test_a_hem_that_can_only_be_faced_has_no_mend() -> None:
    """A small frill turned right round: less than 6 mm would ease in."""
    (found,) = hem_fullness(skirt(2 * math.pi * 150, 2 * math.pi, 20.0, tall=80.0), DEFAULTS)
    assert found.mend is None
    assert say(found.words, Unit.inch).endswith("Face the hem, or roll it.")


def test_a_knit_takes_up_more() -> None:
    """What stretches also draws in: 5 to 9 % are passed."""
    p = skirt(1400.0, 0.727, 60.0)
    assert list(hem_fullness(p, DEFAULTS))
    assert list(hem_fullness(p, CheckSettings(stretches=True))) == []


def test_the_change_and_the_walk_tell_one_depth() -> None:
    """The deepest that a hem may be is one figure, though the gore beside it is turned up less."""
    p = skirt(1400.0, 0.727, 30.0)
    beside = replace(p.pieces[0], name="beside")
    two = replace(
        p, pieces=(*p.pieces, beside), seams=(seam("side", "gore.right reversed", "beside.left"),)
    )
    done = set_hem.apply(two, set_hem.SetHem(edges=("gore.hem",), depth=80.0))
    (told,) = hem_fullness(done.pattern, DEFAULTS)
    figure = re.search(r"at most ([0-9.]+ cm)", say(done.said, Unit.cm))
    assert figure is not None
    assert f"at most {figure[1]}," in say(told.words, Unit.cm)


@pytest.mark.parametrize("depth", [82.0, 84.0, 86.0, 90.0, 95.0])
def test_the_figures_of_one_sentence_add_up(depth: float) -> None:
    """What is read of the cut edge, less what is read of the sewn one, is what is read of both."""
    (finding,) = hem_fullness(skirt(1200.0, 0.364, depth), DEFAULTS)
    read = re.findall(r"([\d.]+) cm", say(finding.words, Unit.cm))
    cut, sewn, more = (round(10 * float(text)) for text in read[1:4])
    assert cut - sewn == more


def test_a_slanting_hem_is_not_to_be_turned_up_as_deep_as_it_is() -> None:
    """Only its ends are too wide: turned like its sides it eases in. No depth is named."""
    p = GARMENTS["lined coat"]()
    facing = p.piece("front facing")
    inner, hem = facing.edge("inner"), facing.edge("hem")
    assert inner.path.start.is_near(hem.path.end, 0.01)
    up = inner.path.start + facing.up * 8.0
    drawn = {"inner": inner.path.with_ends(start=up), "hem": hem.path.with_ends(end=up)}
    edges = tuple(replace(e, path=drawn.get(e.name, e.path)) for e in facing.edges)
    slanting = p.with_piece(replace(facing, edges=edges))
    found = [f for f in hem_fullness(slanting, DEFAULTS) if f.where.piece == "front facing"]
    assert [f.code for f in found] == ["hem-too-full"]
    told = say(found[0].words, Unit.cm)
    assert "its ends run on slanting" in told
    assert "Turn up at most" not in told
