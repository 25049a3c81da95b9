"""What is offered first is what a teacher does: the piece that was changed is put back.

The mistakes are made with scissors (`tests.faults.paper`) on garments that are right.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from clothwright.changes.lengthen import Lengthen
from clothwright.changes.move_edge import MoveEdge
from clothwright.changes.move_edge import apply as move_edge
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import change_of
from clothwright.workroom.walking.checking import checked
from clothwright.workroom.walking.slips import slips
from clothwright.workroom.walking.trial import CLEAN
from clothwright.workroom.walking.tried import tried_mending
from tests.faults.mistakes import both, on
from tests.faults.paper import cornered, lengthened, let_out
from tests.garments.wardrobe import GARMENTS, settings_of

CASES: tuple[tuple[str, Callable[[Pattern], Pattern], str], ...] = (
    ("wrap dress", on("skirt front", cornered, "waist", -20.0, 0.0), "skirt front"),
    ("trousers", on("front", cornered, "inseam", 0.0, -20.0), "front"),
    ("knit top", on("back", cornered, "armhole", 0.0, -12.0), "back"),
    ("lined coat", on("coat back", let_out, "side", 12.0), "coat back"),
    ("trousers", on("back", cornered, "side", 0.0, 12.0), "back"),
    ("princess", on("centre back", cornered, "armhole", 10.0, 3.0), "centre back"),
    ("raglan", on("sleeve", cornered, "front raglan", 0.0, -8.0), "sleeve"),
    ("lined coat", on("coat back", cornered, "armhole", 5.6, 1.8), "coat back"),
    ("lined coat", on("coat sleeve", cornered, "back seam", 0.0, 2.0), "coat sleeve"),
)
"""Garment, what was done, the piece to which it was done. In the last two its lining tells."""


def loud(pattern: Pattern, garment: str) -> list[Finding]:
    """What is found that is more than a note."""
    found = checked(pattern, settings_of(garment))
    return [f for f in found if f.severity is not Severity.NOTE]


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c[0]}: {c[2]}")
def test_one_mend_clears_all_that_one_mistake_spoilt(
    case: tuple[str, Callable[[Pattern], Pattern], str],
) -> None:
    """Whichever of its findings is mended: nothing is left, and no other piece was changed."""
    garment, spoil, name = case
    right, settings = GARMENTS[garment](), settings_of(garment)
    spoilt = spoil(right)
    found = [f for f in loud(spoilt, garment) if f not in loud(right, garment)]
    lengths = [f for f in found if f.code.startswith(("seam-length", "cap-ease"))]
    assert lengths
    for f in lengths:
        mending = tried_mending(f, spoilt, settings, Unit.mm)
        assert mending is not None
        assert mending.after == CLEAN
        change = change_of(mending.change)
        params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
        after = change.apply(spoilt, params).pattern
        assert [p.name for p, q in zip(spoilt.pieces, after.pieces, strict=True) if p != q] == [
            name
        ]
        assert loud(after, garment) == loud(right, garment)


def test_a_lining_that_was_left_behind_gets_the_same() -> None:
    """A coat sleeve 30 mm longer: its lining gets as much, and is no more left behind."""
    right, settings = GARMENTS["lined coat"](), settings_of("lined coat")
    spoilt = on("coat sleeve", lengthened, -250.0, 30.0)(right)
    (f,) = (f for f in checked(spoilt, settings) if f.code == "companion-left-behind")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    assert mending.after == CLEAN
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    after = change.apply(spoilt, params).pattern
    for edge in ("front seam", "back seam"):
        was, now = (p.piece("lining sleeve").edge(edge).length for p in (right, after))
        assert now - was == pytest.approx(30.0, abs=0.5)
    assert after.piece("coat sleeve") == spoilt.piece("coat sleeve")


def test_a_reason_that_has_nothing_to_do_with_the_place_is_not_said() -> None:
    """A girth is no reason why an inseam cannot be mended: what it upsets is of its own seams."""
    right, settings = GARMENTS["trousers"](), settings_of("trousers")
    for by in (Vec(0.0, -20.0), Vec(0.0, -60.0), Vec(-30.0, -40.0)):
        spoilt = on("front", cornered, "inseam", by.x, by.y)(right)
        for f in loud(spoilt, "trousers"):
            mending = tried_mending(f, spoilt, settings, Unit.cm) if f.where.seam else None
            assert mending is None or "hip girth" not in mending.trouble


@pytest.mark.parametrize("unit", [Unit.cm, Unit.inch])
@pytest.mark.parametrize(
    ("garment", "name", "near"), [("trousers", "back", 5.0), ("raglan", "sleeve", 15.0)]
)
def test_a_dart_that_was_left_out_comes_back(
    garment: str, name: str, near: float, unit: Unit
) -> None:
    """As wide as the draft has it, `near` mm by its place, in every unit; no point is smoothed.

    The raglan's sleeve lies twice along the neck: its dart is half of what that is off.
    """
    right, settings = GARMENTS[garment](), settings_of(garment)
    (dart,) = right.piece(name).darts
    spoilt = right.with_piece(replace(right.piece(name), darts=()))
    for f in loud(spoilt, garment):
        mending = tried_mending(f, spoilt, settings, unit)
        assert mending is not None
        assert mending.change == "add-dart"
        change = change_of("add-dart")
        params = read_params(change.params, mending.params, unit=unit, where="mend")
        after = change.apply(spoilt, params).pattern
        assert loud(after, garment) == loud(right, garment)
        (new,) = after.piece(name).darts
        taken = [dart_intake(p.piece(name), d) for p, d in ((right, dart), (after, new))]
        assert taken[1] == pytest.approx(taken[0], abs=1.0)
        assert new.a == pytest.approx(dart.a, abs=near)
        assert "to go with it" not in mending.does


@pytest.mark.parametrize(
    ("garment", "name", "by"), [("trousers", "front", -45.0), ("wrap dress", "skirt back", 30.0)]
)
def test_a_dart_too_many_is_left_out(garment: str, name: str, by: float) -> None:
    """A dart marked a second time on a line that was drawn for one: the garment comes again."""
    right, settings = GARMENTS[garment](), settings_of(garment)
    piece = right.piece(name)
    dart = next(d for d in piece.darts if d.edge == "waist")
    path = piece.edge("waist").path
    gone = path.point_at(dart.a + by) - path.point_at(dart.a)
    second = replace(
        dart, name="second", a=dart.a + by, b=dart.b + by, point=dart.point + gone
    )  # fmt: skip
    spoilt = right.with_piece(replace(piece, darts=(*piece.darts, second)))
    for f in loud(spoilt, garment):
        if f.code in ("seam-length", "line-bent-at-dart"):
            mending = tried_mending(f, spoilt, settings, Unit.mm)
            assert mending is not None
            assert (mending.change, mending.params["dart"]) == ("release-dart", f"{name}.second")
            assert mending.after == CLEAN


@pytest.mark.parametrize(
    ("garment", "name", "by", "near"),
    [("princess", "sleeve", -30.0, 0.5), ("lined coat", "lining front", -30.0, 8.0)],
)
def test_a_dart_that_was_marked_too_low_goes_back_up(
    garment: str, name: str, by: float, near: float
) -> None:
    """The line still has the point over which the dart was cut: there it belongs, `near` mm."""
    right, settings = GARMENTS[garment](), settings_of(garment)
    (dart,) = (d for d in right.piece(name).darts if d.edge in ("back seam", "side"))
    low = replace(dart, a=dart.a + by, b=dart.b + by, point=dart.point + Vec(0.0, by))
    spoilt = right.with_piece(replace(right.piece(name), darts=(low,)))
    found = [f for f in loud(spoilt, garment) if f not in loud(right, garment)]
    assert {f.code for f in found} >= {"dart-legs-differ", "line-bent", "line-bent-at-dart"}
    for f in found:
        mending = tried_mending(f, spoilt, settings, Unit.mm)
        assert mending is not None
        assert (mending.change, mending.after) == ("shift-dart", CLEAN)
        change = change_of("shift-dart")
        params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
        (back,) = change.apply(spoilt, params).pattern.piece(name).darts
        assert back.a == pytest.approx(dart.a, abs=near)
        assert back.point.distance(dart.point) < 10.0


def test_the_one_piece_that_disagrees_with_both_its_neighbours_is_put_back() -> None:
    """Legs folded 30 and 25 mm: one hem goes down or up whole, and both seams agree."""
    spoil = both(on("front", lengthened, -700.0, -30.0), on("back", lengthened, -700.0, -25.0))
    spoilt, settings = spoil(GARMENTS["trousers"]()), settings_of("trousers")
    f = next(f for f in loud(spoilt, "trousers") if f.code == "seam-length")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    after = change.apply(spoilt, params).pattern
    assert not [f for f in loud(after, "trousers") if f.code == "seam-length"]
    was, now = (p.piece(f.where.piece).edge("hem").path for p in (spoilt, after))
    gone = [q - p for p, q in zip(was.ends, now.ends, strict=True)]
    assert gone[0].distance(gone[1]) < 0.5


@pytest.mark.parametrize(
    ("garment", "name", "edge", "seam"),
    [("shirt", "sleeve", "front seam", "cuff"), ("wrap dress", "bodice back", "side", "waist")],
)
def test_an_edge_let_out_along_its_whole_length_is_put_back_whole(
    garment: str, name: str, edge: str, seam: str
) -> None:
    """A piece 10 mm too wide from end to end: the middle comes back with the two ends."""
    right = GARMENTS[garment]()
    spoilt = on(name, let_out, edge, 10.0)(right)
    assert any(f.where.seam == seam for f in loud(spoilt, garment))
    found = slips(spoilt, settings_of(garment))
    ways = [m for m in found if m.params.get("edge") == f"{name}.{edge}"]
    asked = [read_params(MoveEdge, m.params, unit=Unit.mm, where="mend") for m in ways]
    done = [change_of("move-edge").apply(spoilt, params).pattern for params in asked]
    back = min(done, key=lambda pattern: len(loud(pattern, garment)))
    was, now = (p.piece(name).edge(edge).path for p in (right, back))
    assert max(was.nearest(p)[1] for p in now.flatten()) < 0.5
    assert len(loud(back, garment)) == len(loud(right, garment))


def test_a_sleeve_folded_out_across_its_cap_is_given_that_back() -> None:
    """12 mm folded out of the coat's sleeve alone: fitted, its ease would lie wrong."""
    right = GARMENTS["lined coat"]()
    spoilt = on("coat sleeve", lengthened, 80.0, -12.0)(right)
    assert any(f.code == "cap-ease-not-meant" for f in loud(spoilt, "lined coat"))
    found = (m for m in slips(spoilt, settings_of("lined coat")) if m.change == "lengthen")
    way = next(m for m in found if "coat sleeve" in str(m.params["pieces"]))
    params = read_params(Lengthen, way.params, unit=Unit.mm, where="mend")
    back = change_of("lengthen").apply(spoilt, params).pattern
    assert {g.code for g in loud(back, "lined coat")} <= {"cap-ease-under-arm"}
    hems = [p.piece("coat sleeve").edge("hem").path.start for p in (right, back)]
    assert hems[0].distance(hems[1]) < 1.0


def test_the_end_of_a_band_stays_square() -> None:
    """A binding 20 mm short: it is given that back where it lacks, on both its edges."""
    right, settings = GARMENTS["blouse"](), settings_of("blouse")
    spoilt = on("neck binding", let_out, "end", -20.0)(right)
    f = next(f for f in loud(spoilt, "blouse") if f.where.seam == "neck")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    band = change.apply(spoilt, params).pattern.piece("neck binding")
    for edge in right.piece("neck binding").edges:
        assert band.edge(edge.name).path.is_straight
        assert band.edge(edge.name).length == pytest.approx(edge.length, abs=0.01)


def test_a_wrist_is_made_wider_at_both_its_ends() -> None:
    """15 mm off each side of a wrist, the cuff as it was: the same at both ends of the seam."""
    right = GARMENTS["raglan"]()
    narrow = on("sleeve", cornered, "wrist", 15.0, 0.0)(right)
    spoilt = on("sleeve", cornered, "back seam", -15.0, 0.0)(narrow)
    f = next(f for f in loud(spoilt, "raglan") if f.where.seam == "cuff")
    mend = next(m for m in f.mends if m.params.get("at") == "both")
    change = change_of(mend.change)
    params = read_params(change.params, mend.params, unit=Unit.mm, where="mend")
    back = change.apply(spoilt, params).pattern.piece("sleeve")
    for end in range(2):
        old, new = (p.edge("wrist").path.ends[end] for p in (right.piece("sleeve"), back))
        assert old.distance(new) < 3.0


def test_a_front_that_lost_its_button_stand_is_given_it_back() -> None:
    """Not the collar stand is cut to what is left: the shirt could not be buttoned."""
    right, settings = GARMENTS["shirt"](), settings_of("shirt")
    spoilt = on("front", let_out, "front edge", -15.0)(right)
    f = next(f for f in loud(spoilt, "shirt") if f.where.seam == "neck")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    assert mending.params["edge"] == "front.neck"
    assert mending.params["neighbour"] == "parallel"


@pytest.mark.parametrize("garment", ["knit top", "lined coat"])
def test_a_sleeve_whose_notches_were_mixed_up_gets_them_changed_over(garment: str) -> None:
    """Single marks the front, double the back: on the sleeve they were traced the wrong way."""
    right, settings = GARMENTS[garment](), settings_of(garment)
    sleeve = right.piece("coat sleeve" if garment == "lined coat" else "sleeve")
    cap = sleeve.edge("cap")
    other = {"front": "back", "back": "front"}
    named = {n.name: n for n in cap.notches}
    mixed = (
        replace(n, name=other[n.name], kind=named[other[n.name]].kind) if n.name in other else n
        for n in cap.notches
    )
    spoilt = right.with_piece(sleeve.with_edge(replace(cap, notches=tuple(mixed))))
    f = next(f for f in checked(spoilt, settings) if f.code == "notch-order")
    mending = tried_mending(f, spoilt, settings, Unit.mm)
    assert mending is not None
    assert mending.after == CLEAN
    change = change_of(mending.change)
    params = read_params(change.params, mending.params, unit=Unit.mm, where="mend")
    assert loud(change.apply(spoilt, params).pattern, garment) == loud(right, garment)


@pytest.mark.parametrize("name", ["princess: front neck facing", "lined coat: front facing"])
def test_a_facing_cut_off_at_its_shoulder_is_let_out_there(name: str) -> None:
    """A strip 1 cm wide cut off along the shoulder: it is put back as a strip, the neck stays."""
    garment, _, piece = name.partition(": ")
    right, settings = GARMENTS[garment](), settings_of(garment)
    spoilt = move_edge(right, MoveEdge(edge=f"{piece}.shoulder", by=-10.0)).pattern
    for f in (x for x in loud(spoilt, garment) if x.code == "seam-length"):
        mending = tried_mending(f, spoilt, settings, Unit.mm)
        assert mending is not None
        assert mending.change == "move-edge"
        assert mending.params["edge"] == f"{piece}.shoulder"
        assert float(str(mending.mend.params["by"])) == pytest.approx(10.0, abs=0.5)
