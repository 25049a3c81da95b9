"""Slits, vents, zips and godets: a seam that is left open at one end."""

from __future__ import annotations

import math

import pytest

from clothwright.changes import godet, set_zip, vent
from clothwright.checks import run_checks
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.pattern.finding import Severity
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say

INCH = 25.4


def outfit() -> Pattern:
    return coat_and_skirt().bought


def faults(pattern: Pattern) -> list[str]:
    found = run_checks(pattern)
    return [f.code for f in found if f.severity in (Severity.FAULT, Severity.NOTICE)]


@pytest.mark.parametrize("lap", [0.0, 40.0])
def test_a_vent_leaves_the_seam_that_much_shorter(lap: float) -> None:
    """Both sides of the seam are 200 shorter, both hems as much longer as the underlap is wide."""
    before = outfit()
    done = vent.apply(before, vent.Vent(seam="skirt side", length=200.0, underlap=lap))
    for name in ("skirt front", "skirt back"):
        old, new = before.piece(name), done.pattern.piece(name)
        assert old.edge("side").length - new.edge("side").length == pytest.approx(200.0, abs=1e-6)
        assert new.edge("hem").length - old.edge("hem").length == pytest.approx(lap, abs=1e-6)
    assert faults(done.pattern) == faults(before) == []


def test_the_top_of_a_vent_slants_at_45_degrees() -> None:
    """Common practice: a slanting top; its length is the underlap times the root of two."""
    done = vent.apply(outfit(), vent.Vent(seam="skirt side", length=200.0, underlap=40.0))
    tops = [done.pattern.piece(n).edge("side vent top") for n in ("skirt front", "skirt back")]
    for top in tops:
        assert top.length == pytest.approx(40.0 * math.sqrt(2.0), abs=1e-6)
    sides = [done.pattern.piece(n).edge("side vent") for n in ("skirt front", "skirt back")]
    assert sides[0].length == pytest.approx(sides[1].length, abs=1e-6)
    assert sides[0].length == pytest.approx(160.0, abs=1e-6)


def test_an_invisible_zip_is_longer_than_its_opening() -> None:
    """Docs/sources.md, zips: a tape of 8 in opens 6 1/2 in; 7 1/2 in need 9 in (W56)."""
    done = set_zip.apply(
        outfit(), set_zip.SetZip(seam="skirt centre back", length=7.5 * INCH, style="hidden")
    )
    assert "9 in long" in say(done.said, Unit.inch)
    closing = done.pattern.seam("skirt centre back opening")
    assert closing.kind == "closure"
    assert done.pattern.edge(closing.a[0]).length == pytest.approx(7.5 * INCH, abs=1e-6)
    assert faults(done.pattern) == []


@pytest.mark.parametrize(("high", "wide"), [(250.0, 200.0), (180.0, 400.0)])
def test_a_godet_is_a_sector(high: float, wide: float) -> None:
    """Its hem is an arc as long as asked, its chord 2 r sin(a / 2), its sides the height."""
    done = godet.apply(outfit(), godet.Godet(seam="skirt side", length=high, width=wide))
    piece = done.pattern.piece("godet")
    hem = piece.edge("hem").path
    assert hem.length == pytest.approx(wide, abs=1e-3)
    chord = 2 * high * math.sin(wide / high / 2)
    assert hem.start.distance(hem.end) == pytest.approx(chord, abs=1e-3)
    assert [e.length for e in piece.edges if e.name != "hem"] == pytest.approx([high, high])
    assert faults(done.pattern) == ["hem-too-full"]  # 2 1/2 in on a hem that turns so sharply
    assert "face the whole hem" in say(done.said, Unit.inch)


def test_a_godet_in_the_centre_back_is_cut_once() -> None:
    """A seam of one edge and its twin gets one godet; a side seam, which is there twice, two."""
    one = godet.apply(outfit(), godet.Godet(seam="skirt centre back", length=180.0, width=150.0))
    two = godet.apply(outfit(), godet.Godet(seam="skirt side", length=180.0, width=150.0))
    cuts = [p.pattern.piece("godet").cuts[0].how for p in (one, two)]
    assert cuts == ["once", "pair"]
