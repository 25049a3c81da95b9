"""Finished girths against the draft's own figures, and against shapes worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.specimens import seam
from tests.garments import shirt
from tests.garments.wardrobe import GARMENTS

from clothwright.demo.body import WEARER
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt, skirt_seams
from clothwright.demo.three_sizes import MISSES, draft_size
from clothwright.errors import BadInput
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.girth import finished_girths
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Dart, Edge, Grain, Level, Mark, Piece, Role
from clothwright.pattern.width import width_at
from clothwright.units import INCH


def strip(*points: tuple[float, float], **more: object) -> Piece:
    """Return a piece of straight edges named a, b, c ... with a level "hip" at y = 0."""
    ends = [*points, points[0]]
    edges = tuple(
        Edge(name="abcdefgh"[k], path=polyline((Vec(*ends[k]), Vec(*ends[k + 1]))), corner=f"P{k}")
        for k in range(len(points))
    )
    given = {
        "name": "strip",
        "edges": edges,
        "grain": Grain(start=Vec(10, -10), end=Vec(10, 10)),
        "levels": (Level(name="hip", at=Vec(20.0, 0.0)),),
        "cuts": (Cut(how="once"),),
        **more,
    }
    return Piece(**given)


BOX = ((0.0, -100.0), (300.0, -100.0), (300.0, 100.0), (0.0, 100.0))


@pytest.mark.parametrize("size", MISSES)
def test_the_skirt_has_the_girths_it_was_drafted_for(size: str) -> None:
    """Waist and hip of each size are the table's, and the style's ease (18 and 50 mm)."""
    waist, hip = MISSES[size]
    pattern = Pattern(pieces=draft_size(size), seams=skirt_seams())
    found = {g.level: g for g in finished_girths(pattern, ("waist", "hip"))}
    assert found["waist"].mm == pytest.approx(waist * INCH + 18, abs=0.1)
    assert found["hip"].mm == pytest.approx(hip * INCH + 50, abs=0.1)
    assert found["hip"].pieces == ("skirt front", "skirt back")
    assert found["hip"].lower
    assert found["hip"].missing == ""


def test_the_coat_s_sleeve_is_the_published_example() -> None:
    """Upper arm 11 1/4 in and 2 3/4 in of ease make a sleeve 14 in wide; each arm has its own."""
    pattern = coat_and_skirt().bought
    (biceps,) = finished_girths(pattern, ("biceps",))
    assert biceps.mm == pytest.approx(WEARER.upper_arm + 2.75 * INCH, abs=0.1)
    assert biceps.pieces == ("coat sleeve",)


def test_facings_and_linings_are_not_counted_and_buttons_lap() -> None:
    """The coat's bust is front and back of the shell, up to centre front: 100 mm of ease at most
    2.5 mm off, since the draft sets the ease a little under the level."""
    pattern = coat_and_skirt().bought
    (bust,) = finished_girths(pattern, ("bust",))
    assert bust.pieces == ("coat front", "coat back")
    assert bust.mm == pytest.approx(WEARER.bust + 100, abs=2.5)
    assert not bust.lower


def test_a_piece_without_the_level_is_told() -> None:
    """The waistcoat's back has no bust level: the girth there is not known, and it is said why."""
    (bust,) = finished_girths(checked_waistcoat().bought, ("bust",))
    assert bust.missing == '"back" has no bust line, and is sewn to "front" there'


@pytest.mark.parametrize(("how", "times"), [("once", 1), ("pair", 2)])
def test_a_box_counts_as_often_as_it_is_cut(how: str, times: int) -> None:
    """300 mm wide: once 300, a pair 600; two pairs 1200."""
    for count in (1, 2):
        piece = strip(*BOX, cuts=(Cut(how=how, count=count),))
        (girth,) = finished_girths(Pattern(pieces=(piece,)), ("hip", "waist"))
        assert girth.mm == pytest.approx(300 * times * count)


def test_a_half_on_the_fold_counts_twice() -> None:
    """The left edge on the fold: 600 round."""
    piece = strip(*BOX, cuts=(Cut(how="fold"),))
    edges = tuple(replace(e, role=Role.FOLD) if e.name == "d" else e for e in piece.edges)
    (girth,) = finished_girths(Pattern(pieces=(replace(piece, edges=edges),)), ("hip",))
    assert girth.mm == pytest.approx(600)


def test_darts_are_folded_and_those_along_the_level_are_not() -> None:
    """A dart from above, 40 wide at y = 100 and pointed at y = -100, takes 20 at y = 0. One from
    the side that points along the level takes nothing from the girth."""
    above = Dart(name="d", edge="c", a=100.0, b=140.0, point=Vec(180.0, -100.0))
    assert width_at(strip(*BOX, darts=(above,)), "hip") == pytest.approx(280)
    beside = Dart(name="d", edge="b", a=80.0, b=120.0, point=Vec(200.0, 0.0))
    assert width_at(strip(*BOX, darts=(beside,)), "hip") == pytest.approx(300)
    short = Dart(name="d", edge="c", a=100.0, b=140.0, point=Vec(180.0, 30.0))
    assert width_at(strip(*BOX, darts=(short,)), "hip") == pytest.approx(300)


def test_a_waist_edge_is_measured_along_itself() -> None:
    """A top edge 8 mm from the level is the level's own line: its length, the dart folded."""
    points = ((0.0, -200.0), (300.0, -200.0), (300.0, 8.0), (0.0, 0.0))
    dart = Dart(name="d", edge="c", a=100.0, b=120.0, point=Vec(190.0, -100.0))
    slant = (300.0**2 + 8.0**2) ** 0.5
    assert width_at(strip(*points, darts=(dart,)), "hip") == pytest.approx(slant - 20)


def test_a_waist_edge_that_a_wide_dart_turns_is_the_waist_still() -> None:
    """The part beyond the dart turned by it and lies 15 degrees off; sewn it runs on level.

    150 mm on either side of a dart of 15 degrees: 300 mm round, as the sewn edge has it.
    """
    turn = rotation_deg(-15.0, (150.0, -100.0))
    a, b = Vec(150.0, 0.0), turn.apply((150.0, 0.0))
    end, low = turn.apply((300.0, 0.0)), turn.apply((300.0, -200.0))
    assert end.y < -30.0
    points = ((0.0, -200.0), tuple(low), tuple(end), tuple(b), tuple(a), (0.0, 0.0))
    piece = strip(*points)
    top = polyline((end, b, a, (0.0, 0.0)))
    edges = [e for e in piece.edges if e.name not in ("d", "e")]
    edges[2] = replace(edges[2], path=top)
    mouth = Dart(name="t", edge=edges[2].name, a=150.0, b=150.0 + a.distance(b),
                 point=Vec(150.0, -100.0))  # fmt: skip
    piece = replace(piece, edges=tuple(edges), darts=(mouth,))
    assert width_at(piece, "hip") == pytest.approx(300.0, abs=1e-6)


def test_a_slanted_side_and_a_hollow() -> None:
    """A trapezoid has its mean width half-way; across a notch cut out of it only cloth counts."""
    slant = ((0.0, -100.0), (400.0, -100.0), (300.0, 100.0), (0.0, 100.0))
    assert width_at(strip(*slant), "hip") == pytest.approx(350)
    hollow = (
        (0.0, -100.0),
        (300.0, -100.0),
        (300.0, 100.0),
        (200.0, 100.0),
        (200.0, -50.0),
        (120.0, -50.0),
        (120.0, 100.0),
        (0.0, 100.0),
    )
    assert width_at(strip(*hollow), "hip") == pytest.approx(220)


def test_past_the_centre_nothing_counts() -> None:
    """A front with 20 mm to button over, centre front marked: 280 round to the centre."""
    mark = Mark(name="centre front", path=polyline((Vec(20, -100), Vec(20, 100))))
    assert width_at(strip(*BOX, marks=(mark,)), "hip") == pytest.approx(280)
    other = Mark(name="pocket", path=polyline((Vec(20, -100), Vec(20, 100))))
    assert width_at(strip(*BOX, marks=(other,)), "hip") == pytest.approx(300)


def test_what_an_open_edge_leaves_bare_counts_up_to_the_centre() -> None:
    """A front cut away to 15 mm short of its centre: 315 round, but not where it is sewn on there.

    Bare skin between two edges that nothing closes takes no cloth: the garment is no tighter for it
    (plane geometry: the same body, the same cloth, a lower neck)."""
    mark = Mark(name="centre front", path=polyline((Vec(-15, -100), Vec(-15, 100))))
    piece = strip(*BOX, marks=(mark,))
    assert width_at(piece, "hip", ("d",)) == pytest.approx(315)
    assert width_at(piece, "hip", ("b",)) == pytest.approx(300)
    band = replace(strip(*BOX), name="band", levels=())
    for kind, round_it in (("facing", 630.0), ("plain", 600.0)):
        sewn = seam("edge", f"{piece.name}.d", "band.d reversed", kind=kind)
        pair = replace(piece, cuts=(Cut(how="pair"),))
        (girth,) = finished_girths(Pattern(pieces=(pair, band), seams=(sewn,)), ("hip",))
        assert girth.mm == pytest.approx(round_it)


def test_a_tilted_piece_is_measured_square_to_its_grain() -> None:
    """Turned by any angle, the width stays."""
    from clothwright.geometry.transform import rotation_deg

    turn = rotation_deg(30)
    piece = strip(*BOX)
    turned = replace(
        piece,
        edges=tuple(replace(e, path=e.path.transformed(turn)) for e in piece.edges),
        grain=Grain(start=turn.apply(Vec(10, -10)), end=turn.apply(Vec(10, 10))),
        levels=(Level(name="hip", at=turn.apply(Vec(20, 0))),),
    )
    assert width_at(turned, "hip") == pytest.approx(300)


def test_a_level_that_is_not_there() -> None:
    """It is said, with the levels that are."""
    with pytest.raises(BadInput, match="knee"):
        width_at(strip(*BOX), "knee")


@pytest.mark.parametrize("cut", [Cut(how="once"), Cut(how="pair"), Cut(how="once", count=2)])
def test_one_arm_is_as_wide_however_often_its_sleeve_is_cut(cut: Cut) -> None:
    """A sleeve cut once goes round one arm as one of a pair does."""
    levels = (Level(name="biceps", at=Vec(20.0, 0.0)),)
    pattern = Pattern(pieces=(strip(*BOX, name="sleeve", levels=levels, cuts=(cut,)),))
    (found,) = finished_girths(pattern, ("biceps",))
    assert found.mm == pytest.approx(300.0)


def test_a_wrap_goes_round_up_to_the_marked_centre() -> None:
    """What crosses over beyond it is no room: the draft's waist, and its 32 mm of ease."""
    (waist, _) = finished_girths(GARMENTS["wrap dress"](), ("waist", "hip"))
    assert waist.mm == pytest.approx(WEARER.waist + 32, abs=0.5)


def test_a_neck_goes_round_up_to_the_centre_and_a_wrist_into_its_cuff() -> None:
    """The shirt's neck without what it buttons over; its cuff as drafted, without its lap."""
    pattern = GARMENTS["shirt"]()
    edges = [pattern.piece(name).edge("neck").length for name in ("front", "yoke")]
    neck, wrist = finished_girths(pattern, ("neck", "wrist"))
    assert neck.mm == pytest.approx(2 * (sum(edges) - shirt.STAND), abs=0.5)
    assert wrist.mm == pytest.approx(shirt.CUFF, abs=1.5)
    assert (neck.pieces, wrist.pieces) == (("front", "yoke"), ("cuff",))


def test_a_neck_that_does_not_close_round_the_throat_has_no_girth_there() -> None:
    """A bound or faced neck lies where it lies; a sleeve of a coat has a hem, and no wrist."""
    for name in ("princess", "blouse", "wrap dress"):
        assert not finished_girths(GARMENTS[name](), ("neck",))
    assert not finished_girths(GARMENTS["lined coat"](), ("wrist",))


@pytest.mark.parametrize(
    ("end", "missing"),
    [(40.0, ""), (-40.0, '"pocket" has no hip line, and is sewn to "back" there')],
)
def test_the_neighbour_at_a_level_is_what_meets_its_own_place(end: float, missing: str) -> None:
    """A slant pocket's under piece finishes the side above its end: the hip line lies below that
    one, and is known, or runs into it."""
    sides = ((300.0, -100.0), (300.0, end), (240.0, 100.0), (0.0, 100.0), (0.0, -100.0))
    front = strip(*sides, name="front", cuts=(Cut(how="pair"),))
    pocket = strip((300.0, end), (300.0, 100.0), (240.0, 100.0), name="pocket", levels=())
    back = strip(*BOX, name="back", cuts=(Cut(how="pair"),))
    seams = (seam("side", "front.a, pocket.a", "back.b"), seam("centre", "front.d", "front.d"))
    (hip,) = finished_girths(Pattern(pieces=(front, pocket, back), seams=seams), ("hip",))
    assert hip.missing == missing
    if not missing:
        assert hip.mm == pytest.approx(1200)
