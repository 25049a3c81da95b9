"""Slits, vents, zips, plackets, godets and gussets: a seam that is left open at one end."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from clothwright.changes import godet, gusset, placket, set_zip, vent
from clothwright.checks import run_checks
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.errors import CannotDo
from clothwright.geometry.area import polygon_area
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.finding import Severity
from clothwright.pattern.hems import EASES
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import AtMost, say, show_length
from tests.changes.figures import told_anew
from tests.garments.wardrobe import GARMENTS

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
    most = 0.05 * wide / (2.05 * wide / high)  # E C / (T (2 + E)), docs/sources.md: hem depths
    said = f"eases in when it is {show_length(AtMost(most), Unit.cm)} deep or less"
    assert said in say(done.said, Unit.cm)


def test_a_godet_in_the_centre_back_is_cut_once() -> None:
    """A seam of one edge and its twin gets one godet; a side seam, which is there twice, two."""
    one = godet.apply(outfit(), godet.Godet(seam="skirt centre back", length=180.0, width=150.0))
    two = godet.apply(outfit(), godet.Godet(seam="skirt side", length=180.0, width=150.0))
    cuts = [p.pattern.piece("godet").cuts[0].how for p in (one, two)]
    assert cuts == ["once", "pair"]


def test_a_strip_for_a_placket_is_cut_as_the_leaflets_say() -> None:
    """Docs/sources.md, openings: 2 x the opening, 3 3/4 in wide for a lap of 1 1/2 in (3/8 in)."""
    before = outfit()
    for name in ("skirt front", "skirt back"):
        piece = before.piece(name)
        before = before.with_piece(piece.with_edge(replace(piece.edge("side"), allowance=9.525)))
    done = placket.apply(before, placket.Placket(seam="skirt side", length=10.0 * INCH))
    piece = done.pattern.piece("placket")
    assert piece.edge("sewn edge").length == pytest.approx(20.0 * INCH, abs=1e-6)
    across = piece.edge("sewn edge").allowance + piece.edge("other edge").allowance
    assert piece.edge("end").length + across == pytest.approx(3.75 * INCH, abs=1e-6)
    assert [(c.how, c.count) for c in piece.cuts] == [("pair", 1)]
    assert faults(done.pattern) == []


@pytest.mark.parametrize(
    ("change", "params"), [(placket, placket.Placket), (set_zip, set_zip.SetZip)]
)
@pytest.mark.parametrize(("end", "opens"), [("", "lower"), ("lower", "lower"), ("upper", "upper")])
def test_a_sleeve_opens_at_its_wrist(change: Any, params: Any, end: str, opens: str) -> None:
    """What is left open lies at the wrist, under the arm only where that is asked for."""
    blouse = GARMENTS["blouse"]()
    done = change.apply(blouse, params(seam="sleeve seam", length=80.0, end=end)).pattern
    sleeve = done.piece("sleeve")
    open_edges = [e for e in sleeve.edges if "opening" in e.name and "top" not in e.name]
    assert len(open_edges) == 2
    wrist = [p.y for e in open_edges for p in e.path.ends]
    low = min(p.y for p in sleeve.outline.flatten(1.0))
    assert (min(wrist) < low + 40.0) is (opens == "lower")
    skipped = [t for t in told_anew(blouse, done, "blouse") if "could not be checked" in t]
    assert skipped == []


@pytest.mark.parametrize("length", [50.0, 80.0, 120.0])
def test_a_slit_in_a_curved_side_turns_back_flat(length: float) -> None:
    """A curve that turns by T eases in at most E C / (T (2 + E)) deep: no finding of its own."""
    top = GARMENTS["knit top"]()
    done = vent.apply(top, vent.Vent(seam="side", length=length))
    assert told_anew(top, done.pattern, "knit top") == []
    edge = done.pattern.piece("front").edge("side slit")
    turn = abs(turn_between_deg(edge.path.start_tangent, edge.path.end_tangent))
    most = EASES * length / (math.radians(turn) * (2 + EASES))
    assert edge.allowance == pytest.approx(min(31.75, math.floor(most)))


def test_a_placket_of_two_pieces_runs_past_its_opening() -> None:
    """Docs/sources.md, openings: each opening + 1/2 in long; a centre seam has one of each."""
    asked = placket.Placket(seam="skirt centre back", length=10.0 * INCH, style="two", width=30.0)
    done = placket.apply(outfit(), asked)
    facing, lap = (done.pattern.piece(f"placket {n}") for n in ("facing", "underlap"))
    for piece, inner, wide in ((facing, "end", 30.0), (lap, "start", 60.0)):
        long = piece.edge("sewn edge").length + piece.edge(inner).allowance
        assert long == pytest.approx(10.5 * INCH, abs=1e-6)
        assert piece.edge("end").length == pytest.approx(wide, abs=1e-6)
        assert [c.how for c in piece.cuts] == ["once"]
    assert [m.name for m in (*facing.marks, *lap.marks)] == ["fold"]
    assert faults(done.pattern) == []


def test_an_armhole_has_no_upper_end() -> None:
    """A seam that comes down as far as it went up: refused, whichever way the pieces lie."""
    for end in ("upper", "lower"):
        with pytest.raises(CannotDo, match="upper one"):
            set_zip.apply(outfit(), set_zip.SetZip(seam="coat armhole", length=50.0, end=end))


@pytest.mark.parametrize(
    ("garment", "seams", "how"),
    [("knit top", ("side", "sleeve seam"), "pair"), ("trousers", ("inseam", ""), "once")],
)
def test_a_gusset_is_a_diamond(garment: str, seams: tuple[str, str], how: str) -> None:
    """Four equal sides; by the law of cosines its angles, by its diagonals its area (d1 d2 / 2)."""
    side, wide = 80.0, 64.0
    before = GARMENTS[garment]()
    asked = gusset.Gusset(seam=seams[0], other=seams[1], length=side, width=wide)
    after = gusset.apply(before, asked).pattern
    piece = after.piece("gusset")
    assert [e.length for e in piece.edges] == pytest.approx([side] * 4, abs=1e-6)
    ends = [e.path.start for e in piece.edges]
    across = sorted((ends[0].distance(ends[2]), ends[1].distance(ends[3])))
    assert across == pytest.approx([wide, math.sqrt(4 * side**2 - wide**2)], abs=1e-6)
    assert polygon_area(ends) == pytest.approx(across[0] * across[1] / 2, abs=1e-3)
    assert piece.cuts[0].how == how
    old, new = (p.piece("front").edge(seams[0]).length for p in (before, after))
    assert old - new == pytest.approx(side, abs=1e-6)
    assert faults(after) == faults(before)


def test_each_side_of_a_gusset_lies_between_its_neighbours() -> None:
    """Round the diamond: back, back sleeve, front sleeve, front: as they meet at the armhole."""
    asked = gusset.Gusset(seam="side", other="sleeve seam", length=80.0, width=60.0)
    after = gusset.apply(GARMENTS["knit top"](), asked).pattern
    sewn = {s.b[0].edge: s.a[0] for s in after.seams if s.b[0].piece == "gusset"}
    ring = [sewn[e.name] for e in after.piece("gusset").edges]
    assert [(r.piece, r.edge) for r in ring] == [
        ("back", "side gusset"),
        ("sleeve", "back seam gusset"),
        ("sleeve", "front seam gusset"),
        ("front", "side gusset"),
    ]
