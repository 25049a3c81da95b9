"""Waistbands: held against worked figures of the trade and plane geometry.

Cut length = waist + ease + underlap + overlap + 2a; cut width = 2 finished + 2a; the parallel of an
arc of the angle θ at w is shorter by θ·w.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.draft_waistband import CHANGE, DraftWaistband
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.pattern.companions import companions_of
from clothwright.pattern.measure import net_length
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.test_draft_facing import arc
from tests.garments.wardrobe import GARMENTS
from tests.specimens import INCH, skirt


def done(pattern, *edges, **more):
    return CHANGE.apply(pattern, DraftWaistband(edges=edges, **more)).pattern


def panel(name, width, *, left=Role.SEAM, right=Role.SEAM, how="once"):
    """A straight panel: waist at the top, 500 long."""
    corners = ((0, 0), (width, 0), (width, 500), (0, 500), (0, 0))
    lines = polyline(corners).segments
    roles = (Role.HEM, right, Role.SEAM, left)
    edges = tuple(
        Edge(name=n, path=Path((s,)), role=r)
        for n, s, r in zip(("hem", "right", "waist", "left"), lines, roles, strict=True)
    )
    return Piece(name=name, edges=edges, cuts=(Cut(how=how),))


def sewn(name, a, b):
    refs = [EdgeRef(p, e, reversed=e == "left") for p, e in (a, b)]
    return Seam(name=name, a=(refs[0],), b=(refs[1],))


def size(piece):
    low, high = cutting_line(piece).outline.bounds()
    return high.x - low.x, high.y - low.y


def test_the_worked_band():
    """Waist 74 and 1.5 of ease, underlap 3.2, a 1.5, finished 3 cm: 81.7 by 9.0 cm."""
    front = panel("front", 755 / 4, left=Role.FOLD, how="fold")
    back = panel("back", 755 / 4, how="pair")
    pattern = Pattern(
        pieces=(front, back), seams=(sewn("side", ("front", "right"), ("back", "left")),)
    )
    options = {"height": 30.0, "underlap": 32.0, "allowance": 15.0}
    new = done(pattern, "front.waist", "back.waist", **options)
    assert size(new.piece("waistband")) == pytest.approx((817.0, 90.0))
    lengths = {e.name: e.length for e in new.piece("waistband").edges}
    assert lengths["left half"] == lengths["right half"] == pytest.approx(377.5)
    assert lengths["underlap"] == pytest.approx(32.0)
    assert "overlap" not in lengths
    said = CHANGE.apply(
        pattern, DraftWaistband(edges=("front.waist", "back.waist"), **options)
    ).said
    assert "it is cut 81.7 cm by 9 cm" in say(said, Unit.cm)


@pytest.mark.parametrize("finished", [1.0, 1.5, 2.0])
def test_a_petticoats_band_is_cut_twice_its_width_and_a_half_inch(finished):
    """*School Needlework*, 1890s: 2f + 1/2 in, with turnings of 1/4 in."""
    pattern = Pattern(pieces=(panel("breadth", 24 * INCH),))
    band = done(pattern, "breadth.waist", height=finished * INCH, allowance=INCH / 4)
    assert size(band.piece("waistband"))[1] == pytest.approx((2 * finished + 0.5) * INCH)


def test_darts_are_closed_and_what_is_eased_is_shared():
    pattern = skirt()
    waist = 2 * sum(net_length(pattern.piece(n), "waist") for n in ("skirt front", "skirt back"))
    new = done(pattern, "skirt front.waist", "skirt back.waist", ease=12.0)
    band = new.piece("waistband")
    sewn_on = [
        e for e in band.edges if e.name not in ("underlap", "inside") and " end" not in e.name
    ]
    assert sum(e.length for e in sewn_on) == pytest.approx(waist - 12.0, abs=0.05)
    assert sum(s.ease for s in new.seams if "waistband" in s.name) == pytest.approx(12.0)
    known = {(f.code, f.where) for f in run_checks(pattern)}
    assert [f.code for f in run_checks(new) if (f.code, f.where) not in known] == []


def test_folds_at_both_ends_close_at_the_side():
    """The specimen's front and back both lie on folds: the band has the whole left half in one."""
    new = done(skirt(), "skirt front.waist", "skirt back.waist")
    names = [e.name for e in new.piece("waistband").edges]
    assert set(names) == {
        *("right skirt front", "left half", "right skirt back"),
        *("underlap", "underlap end", "overlap end", "inside"),
    }
    seam = new.seam("waistband right skirt back")
    assert [r.piece for r in seam.b] == ["skirt back"]


def test_whole_pieces_are_counted_once():
    front, back = panel("front", 300.0), panel("back", 320.0)
    seams = (
        sewn("one", ("front", "right"), ("back", "left")),
        sewn("other", ("front", "left"), ("back", "right")),
    )
    new = done(
        Pattern(pieces=(front, back), seams=seams), "front.waist", "back.waist", underlap=0.0
    )
    band = new.piece("waistband")
    assert band.edge("round").length == pytest.approx(620.0)
    assert [r.piece for r in new.seams[-1].b] in (["front", "back"], ["back", "front"])


def test_a_shaped_band_is_the_parallel_of_the_waist():
    """A waist of an arc of 60 degrees, radius 300, half on the fold: 50 up it is 250's arc."""
    waist = arc(300.0, 300.0, -60.0)
    hem = arc(700.0, 240.0, 60.0)
    front = Piece(
        name="front",
        edges=(
            Edge(name="hem", path=hem, role=Role.HEM),
            Edge(name="side", path=polyline((hem.end, waist.start))),
            Edge(name="waist", path=waist),
            Edge(name="fold", path=polyline((waist.end, hem.start)), role=Role.FOLD),
        ),
        cuts=(Cut(how="fold"),),
    )
    pattern = Pattern(pieces=(front,))
    options = {"shape": "shaped", "height": 50.0, "underlap": 0.0}
    band = done(pattern, "front.waist", **options).piece("waistband")
    sides = [band.edge(n).length for n in ("left half", "right half")]
    assert sides == pytest.approx([300.0 * math.pi / 3] * 2, abs=0.01)
    assert band.edge("top").length == pytest.approx(2 * 250.0 * math.pi / 3, abs=0.1)
    assert band.cuts[0].how == "pair"


def test_it_goes_with_the_waist_from_birth():
    new = done(skirt(), "skirt front.waist", "skirt back.waist")
    (band,) = companions_of(new, "skirt back")
    assert (band.kind, band.by) == ("waistband", "drafted")
    assert {(a.edge, a.edge_of) for a in band.of} == {
        ("left half", "waist"),
        ("right skirt back", "waist"),
    }


def test_the_underlap_is_on_the_other_end_when_the_edges_are_named_the_other_way():
    one = done(skirt(), "skirt front.waist", "skirt back.waist").piece("waistband")
    two = done(skirt(), "skirt back.waist", "skirt front.waist").piece("waistband")

    def beside(piece):
        names = [e.name for e in piece.edges]
        i = names.index("underlap")
        return {names[i - 1], names[(i + 1) % len(names)]}

    assert "right skirt back" in beside(one)
    assert "right skirt front" in beside(two)
    assert replace(one, name="x").edge("inside").length == pytest.approx(two.edge("inside").length)


def test_it_closes_on_the_piece_that_is_named():
    edges = ("skirt front.waist", "skirt back.waist")
    band = done(skirt(), *edges, closes="skirt front").piece("waistband")
    other = done(skirt(), *edges[::-1]).piece("waistband")
    names = [[e.name for e in p.edges] for p in (band, other)]
    assert set(names[0]) == set(names[1])
    for piece in (band, other):
        before, after = piece.neighbours("underlap")
        assert "right skirt front" in (before.name, after.name)


def test_a_waist_has_one_band():
    """On trousers drafted apart, which have theirs; taken out, a new one fits as well."""
    pattern = GARMENTS["trousers"]()
    edges = ("back.waist", "front.waist")
    with pytest.raises(CannotDo, match="already"):
        done(pattern, *edges)
    seams = tuple(s for s in pattern.seams if "waistband" not in {r.piece for r in (*s.a, *s.b)})
    pieces = tuple(p for p in pattern.pieces if p.name != "waistband")
    bare = Pattern(pieces=pieces, seams=seams)
    known = {(f.code, f.where) for f in run_checks(bare)}
    new = done(bare, *edges)
    assert [f.code for f in run_checks(new) if (f.code, f.where) not in known] == []
