"""The garment put together flat: seams meet, hands mirror, what is not known is said."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations

import pytest
from shapely import Polygon

from clothwright.cloth.cloth import Cloth
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.remnant import remnant
from clothwright.demo.workbooks import DEMOS
from clothwright.drawing.assembled import assembled
from clothwright.drawing.flat import Garment, Part, resting
from clothwright.geometry.path import polyline
from clothwright.lay.sewn import placement_move, seam_places
from clothwright.pattern.closing import closings
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Edge, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.rules.compile import compile_lay
from clothwright.rules.plan import Plan
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import compile_plan
from tests.lay.panels import panel


def put_together(book: Workbook, pattern: Pattern | None = None) -> tuple[Garment, ...]:
    """Return the garments of a workbook, of other pieces where they are given."""
    laid = compile_plan(book, book.plan(), pattern)
    return assembled(laid.pattern, laid.compiled)


def shared_area(flat: Iterable[Part]) -> float:
    """Return the area on which parts of a view lie on each other, square mm (shapely)."""
    shapes = [Polygon(p.outline).buffer(0) for p in flat]
    return sum(one.intersection(other).area for one, other in combinations(shapes, 2))


def upright(part: Part) -> bool:
    """Tell whether the top of a piece, +x in its frame, lies straight up in its view."""
    return part.move.apply_direction((1.0, 0.0)).is_near((0.0, 1.0), 1e-9)


def parts(garment: Garment, view: str) -> dict[str, Part]:
    """Return the copies of a view by name."""
    return {p.shape: p for v in garment.views if v.name == view for p in v.parts}


def test_a_coat_and_a_skirt_are_two_garments_with_a_front_and_a_back() -> None:
    """What seams join is one garment; facings and linings are not seen from outside."""
    coat, skirt = put_together(coat_and_skirt())
    assert (coat.name, skirt.name) == ("coat", "skirt")
    assert [v.name for v in coat.views] == ["front", "back"]
    assert set(parts(coat, "back")) == {"coat back"}
    assert set(parts(skirt, "front")) == {"skirt front", "waistband shell"}
    assert set(parts(skirt, "back")) == {"skirt back 1", "skirt back 2", "waistband shell"}


def test_the_ends_of_a_seam_without_darts_coincide() -> None:
    """Centre back: both stitching lines lie on each other from waist to hem within the fit."""
    book = remnant()
    laid = compile_plan(book, book.plan())
    (skirt,) = assembled(laid.pattern, laid.compiled)
    back = parts(skirt, "back")
    placed = {c.id: resting(c) for c in laid.compiled.copies}
    seam = laid.pattern.seam("skirt centre back")
    row = seam_places(laid.pattern, laid.compiled, placed, seam)[0]
    for a, p, b, q in (row[0], row[-1]):
        assert {a, b} == {"skirt back 1", "skirt back 2"}
        assert back[a].move.apply(p).is_near(back[b].move.apply(q), 0.01)
    assert max(p.off for k, p in back.items() if k.startswith("skirt")) < 0.01


@pytest.mark.parametrize(
    ("book", "one", "two"),
    [
        (coat_and_skirt(), "coat front 1", "coat front 2"),
        (coat_and_skirt(), "coat sleeve 1", "coat sleeve 2"),
        (checked_waistcoat(), "front shell 1", "front shell 2"),
    ],
)
def test_the_two_of_a_pair_are_mirror_images(book: Workbook, one: str, two: str) -> None:
    """Left and right lie as each other's reflection in the middle of the view."""
    front = parts(put_together(book)[0], "front")
    mirrored = Polygon([(-x, y) for x, y in front[one].outline])
    assert Polygon(front[two].outline).symmetric_difference(mirrored).area < 1.0
    assert not front[one].move.mirrors


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_the_pieces_of_a_view_lie_beside_each_other(demo: object) -> None:
    """No heap: but for pockets and lapped halves none lies on another, and all hang straight."""
    on_top = ("pocket", "coat front 2", "front shell 2")
    for garment in put_together(demo.make()):  # type: ignore[attr-defined]
        for view in garment.views:
            flat = [p for p in view.parts if not p.shape.startswith(on_top)]
            assert shared_area(flat) < 1.0
            assert all(upright(p) for p in flat if not p.shape.startswith("waistband"))


def test_the_side_seams_of_front_and_back_end_at_one_height() -> None:
    """The two views stand beside each other with the lower end of the side seam level."""
    for garment in put_together(coat_and_skirt()):
        low = [
            min(y for p in garment_parts.values() for _, y in p.outline)
            for garment_parts in (
                {k: p for k, p in parts(garment, v).items() if "sleeve" not in k}
                for v in ("front", "back")
            )
        ]
        assert low[0] == pytest.approx(low[1], abs=3.0)


def test_each_stretch_of_a_waistband_lies_at_what_it_is_sewn_to() -> None:
    """The front shows the middle of the band, the back both ends; together the whole band."""
    skirt = put_together(coat_and_skirt())[1]
    bands = [p for v in skirt.views for p in v.parts if p.shape == "waistband shell"]
    assert len(bands) == 3
    whole = compile_plan(coat_and_skirt(), coat_and_skirt().plan()).pattern.piece("waistband")
    low, high = whole.outline.bounds()
    areas = sum(Polygon(p.ring).area for p in bands)
    assert areas == pytest.approx((high.x - low.x) * (high.y - low.y), rel=0.02)


def test_a_dart_is_a_gap() -> None:
    """The wedge that will be sewn away is cut out of the outline."""
    skirt = put_together(coat_and_skirt())[1]
    part = parts(skirt, "front")["skirt front"]
    hull = Polygon(part.outline).convex_hull.area
    assert hull - Polygon(part.outline).area > 3000.0


def test_what_cannot_be_known_is_said_and_laid_beside() -> None:
    """A pocket whose place is marked nowhere is neither front nor back; a note names it."""
    book = checked_waistcoat()
    pattern = compile_plan(book, book.plan()).pattern
    front = pattern.piece("front")
    others = tuple(m for m in front.marks if m.name != "pocket")
    unmarked = pattern.with_piece(replace(front, marks=others))
    (garment,) = put_together(book, unmarked)
    assert set(parts(garment, "beside")) == {"pocket 1", "pocket 2"}
    assert any('"pocket"' in n for n in garment.notes)


def test_without_seams_nothing_is_guessed() -> None:
    """Pieces that no seam joins are not put together; each is shown, and that is said."""
    book = coat_and_skirt()
    laid = compile_plan(book, book.plan())
    alone = replace(laid.pattern, seams=())
    found = put_together(book, alone)
    shown = {p.shape for g in found for v in g.views for p in v.parts}
    assert {"skirt front", "skirt back 1", "coat front 2", "waistband shell"} <= shown
    assert any(g.notes for g in found)


def box_piece(name: str, wide: float, high: float, how: str = "pair") -> Piece:
    """Return a box with the edges low, right, top, left (mm), to be cut from the shell."""
    corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high), (0.0, 0.0)]
    edges = tuple(
        Edge(name=n, path=polyline(corners[k : k + 2]))
        for k, n in enumerate(("low", "right", "top", "left"))
    )
    return Piece(name=name, edges=edges, cuts=(Cut(how=how),))


def seam(name: str, a: str, b: str, *, kind: str = "plain", back: bool = True) -> Seam:
    """Return a seam of one edge to one other, "piece.edge", the second travelled back."""
    one, two = (EdgeRef(*text.split(".")) for text in (a, b))
    return Seam(name=name, a=(one,), b=(replace(two, reversed=back),), kind=kind)


def test_the_two_parts_of_a_sleeve_lie_along_one_seam() -> None:
    """Joined by both its seams a sleeve is a tube: it is opened at one of them, not folded flat."""
    sleeve = Seam(
        name="armhole",
        a=(EdgeRef("front", "right"),),
        b=(EdgeRef("upper sleeve", "top", True), EdgeRef("under sleeve", "top", True)),
        kind="cap",
    )
    pattern = Pattern(
        pieces=(
            box_piece("front", 250.0, 250.0),
            box_piece("upper sleeve", 150.0, 400.0),
            box_piece("under sleeve", 100.0, 400.0),
        ),
        seams=(
            sleeve,
            seam("back of the sleeve", "upper sleeve.right", "under sleeve.left"),
            seam("front of the sleeve", "upper sleeve.left", "under sleeve.right"),
        ),
    )
    book = Workbook(title="demo", cloths=(Cloth(name="wool", width=1500.0),))
    (garment,) = put_together(book, pattern)
    shown = parts(garment, "front")
    for k in ("1", "2"):
        upper, under = (Polygon(shown[f"{n} sleeve {k}"].outline) for n in ("upper", "under"))
        assert upper.intersection(under).area < 1.0
        assert upper.distance(under) < 0.01


def test_a_side_front_is_laid_along_the_seam_to_the_front() -> None:
    """Panels meet along their seams; one without "front" in its name goes with its neighbour."""
    pattern = Pattern(
        pieces=(
            box_piece("front", 200.0, 500.0, "once"),
            box_piece("side front", 120.0, 500.0, "once"),
            box_piece("gusset", 60.0, 500.0, "once"),
        ),
        seams=(
            seam("panel", "front.right", "side front.left"),
            seam("gusset", "side front.right", "gusset.left"),
        ),
    )
    book = Workbook(title="demo", cloths=(Cloth(name="wool", width=1500.0),))
    (garment,) = put_together(book, pattern)
    shown = parts(garment, "front")
    assert set(shown) == {"front", "side front", "gusset"}
    whole = Polygon()
    for part in shown.values():
        whole = whole.union(Polygon(part.outline).buffer(0.01))
    low_x, low_y, high_x, high_y = whole.bounds
    assert high_x - low_x == pytest.approx(380.0, abs=0.1)
    assert high_y - low_y == pytest.approx(500.0, abs=0.1)


def test_a_pocket_lies_where_its_place_is_marked() -> None:
    """Its outline in the view is the marked line of the front, on both halves of the body.

    The line is moved with the front's own placement on the view, by the fit of two corners.
    """
    book = checked_waistcoat()
    laid = compile_plan(book, book.plan())
    (garment,) = assembled(laid.pattern, laid.compiled)
    front = parts(garment, "front")
    fronts = sorted(k for k in front if k.startswith("front"))
    pockets = sorted(k for k in front if k.startswith("pocket"))
    assert len(fronts) == len(pockets) == 2
    assert not any("pocket" in p.shape for v in garment.views[1:] for p in v.parts)
    mark = next(m for m in laid.pattern.piece("front").marks if m.name == "pocket")
    assert mark.path is not None
    for under, over in zip(fronts, pockets, strict=True):
        copy = laid.compiled.copy(under)
        on = placement_move(copy, resting(copy)).then(front[under].move)
        line = Polygon([tuple(on.apply(p)) for p in mark.path.flatten()])
        pocket = Polygon(front[over].outline)
        assert line.symmetric_difference(pocket).area < 2.0
        shapes = [p.shape for p in garment.views[0].parts]
        assert shapes.index(over) > shapes.index(under)


@pytest.mark.parametrize(
    ("names", "garments"),
    [
        (("front panel", "back panel"), ["garment"]),
        (("gore front", "gore back"), ["garment"]),
        (("coat front", "coat back"), ["coat"]),
        (("skirt front", "skirt back", "side front", "side back"), ["garment", "skirt"]),
        (("front", "back", "side front", "side back"), ["garment", "garment 2"]),
    ],
)
def test_a_garment_is_not_called_by_what_names_a_part(
    names: tuple[str, ...], garments: list[str]
) -> None:
    """Pieces joined two by two; each garment has a name of its own."""
    joined = [b + 1 for b in range(0, len(names), 2)]
    pieces = [panel(n, 100.0 + 10 * k, 300.0, "pair") for k, n in enumerate(names)]
    seams = [
        Seam(
            name=f"side {k}",
            a=(EdgeRef(names[k - 1], "right"),),
            b=(EdgeRef(names[k], "left", reversed=True),),
        )
        for k in joined
    ]
    pattern = Pattern(pieces=tuple(pieces), seams=tuple(seams))
    cloth = Cloth(name="c", width=1400.0)
    found = assembled(pattern, compile_lay(pattern, (cloth,), Plan(name="p"), gap=2.0))
    assert sorted(g.name for g in found) == garments


PLAIN = Workbook(title="demo", cloths=(Cloth(name="wool", width=1500.0),))


def drawn(name: str, corners: dict[str, tuple[float, float]], how: str = "pair") -> Piece:
    """Return a piece by its corners in order, each with the name of the edge that begins there.

    An edge called "" runs on from the edge before it.
    """
    points = [*corners.values(), next(iter(corners.values()))]
    return Piece(
        name=name,
        edges=tuple(Edge(name=n, path=polyline(points[k : k + 2])) for k, n in enumerate(corners)),
        cuts=(Cut(how=how),),
    )


def test_legs_hang_straight_and_touch_at_the_crotch() -> None:
    """However the crotch is curved: upright, level, none on the other, no turn to follow it."""
    leg = drawn(
        "trouser back",
        {
            "hem": (0.0, 0.0),
            "inside leg": (250.0, 0.0),
            "hook": (310.0, 750.0),
            "seat": (215.0, 800.0),
            "waist": (180.0, 1050.0),
            "outside leg": (-20.0, 1010.0),
        },
    )
    seams = tuple(
        seam(n, f"trouser back.{n}", f"trouser back.{n}", back=False) for n in ("hook", "seat")
    )
    (garment,) = put_together(PLAIN, Pattern(pieces=(leg,), seams=seams))
    one, two = parts(garment, "back").values()
    assert upright(one)
    assert upright(two)
    assert shared_area((one, two)) < 1.0
    legs = [Polygon(p.outline) for p in (one, two)]
    assert legs[0].distance(legs[1]) < 0.01
    assert legs[0].bounds[1] == pytest.approx(legs[1].bounds[1])
    touch = legs[0].buffer(0.1).intersection(legs[1].buffer(0.1)).centroid
    assert touch.y - legs[0].bounds[1] == pytest.approx(750.0, abs=0.5)


def test_a_bodice_hangs_straight_over_its_skirt() -> None:
    """Its waist slants by ten degrees, the skirt's by none: the print on it would lean as much."""
    bodice = drawn(
        "bodice front",
        {"waist": (0.0, 0.0), "side": (250.0, 44.0), "top": (250.0, 300.0), "centre": (0.0, 300.0)},
        "once",
    )
    skirt = drawn(
        "skirt front",
        {"hem": (0.0, 0.0), "side": (254.0, 0.0), "waist": (254.0, 600.0), "centre": (0.0, 600.0)},
        "once",
    )
    waist = seam("waist", "bodice front.waist", "skirt front.waist")
    (garment,) = put_together(PLAIN, Pattern(pieces=(bodice, skirt), seams=(waist,)))
    shown = tuple(parts(garment, "front").values())
    assert all(upright(p) for p in shown)
    assert shared_area(shown) < 1.0
    one, two = (Polygon(p.outline) for p in shown)
    assert one.distance(two) < 0.01


def test_flared_gores_follow_their_seams_and_lean_alike() -> None:
    """Hung straight they would gape at the waist by twice the flare, 240 mm (plane geometry)."""
    gore = drawn(
        "gore front",
        {
            "hem": (-200.0, 0.0),
            "centre": (200.0, 0.0),
            "waist": (80.0, 600.0),
            "side": (-80.0, 600.0),
        },
    )
    centre = seam("centre", "gore front.centre", "gore front.centre", back=False)
    (garment,) = put_together(PLAIN, Pattern(pieces=(gore,), seams=(centre,)))
    one, two = (Polygon(p.outline) for p in parts(garment, "front").values())
    assert one.intersection(two).area < 1.0
    assert one.buffer(0.01).intersection(two.buffer(0.01)).length > 2 * 600.0
    mirrored = Polygon([(-x, y) for x, y in two.exterior.coords])
    assert one.symmetric_difference(mirrored).area < 1.0


def yoked(reach: float) -> tuple[Piece, ...]:
    """A back, a front and a yoke between them, the yoke's seam to the back `reach` mm long."""
    return (
        box_piece("back", reach, 400.0, "once"),
        box_piece("yoke", reach, 90.0, "once"),
        box_piece("front", 60.0, 450.0, "once"),
    )


def test_a_yoke_hangs_on_the_back_and_what_is_left_out_is_said() -> None:
    """Sewn to both, it lies where its seam is longer; nobody is told that no seam joins it."""
    shoulder = replace(seam("shoulder", "front.top", "yoke.top"), a=(EdgeRef("front", "top"),))
    pattern = Pattern(
        pieces=yoked(200.0), seams=(seam("yoke seam", "back.top", "yoke.low"), shoulder)
    )
    (garment,) = put_together(PLAIN, pattern)
    assert [v.name for v in garment.views] == ["front", "back"]
    back = parts(garment, "back")
    assert set(back) == {"back", "yoke"}
    whole = Polygon(back["back"].outline).union(Polygon(back["yoke"].outline).buffer(0.01))
    assert whole.area == pytest.approx(200.0 * 490.0, rel=1e-3)
    assert [n for n in garment.notes if "yoke" in n] == [
        '"yoke" is sewn to the front and to the back. It is drawn on the back, where its seam is '
        "longer; on the front it is left out."
    ]


def test_a_sleeve_sewn_up_to_the_neck_hangs_beside_the_body() -> None:
    """Larger than the back, it is not what the view begins with; it touches at the underarm."""
    sleeve = drawn(
        "sleeve",
        {
            "hem": (-130.0, 0.0),
            "back seam": (130.0, 0.0),
            "raglan": (190.0, 450.0),
            "neck": (40.0, 700.0),
            "front raglan": (-40.0, 690.0),
            "front seam": (-180.0, 450.0),
        },
    )
    back = drawn(
        "back",
        {
            "hem": (0.0, 0.0),
            "side": (260.0, 0.0),
            "raglan": (260.0, 400.0),
            "neck": (80.0, 660.0),
            "centre": (0.0, 640.0),
        },
    )
    seams = (
        seam("raglan", "back.raglan", "sleeve.raglan", back=False),
        seam("centre", "back.centre", "back.centre", back=False),
    )
    (garment,) = put_together(PLAIN, Pattern(pieces=(sleeve, back), seams=seams))
    shown = parts(garment, "back")
    assert all(upright(p) for p in shown.values())
    assert shared_area(shown.values()) < 1.0
    bodies, sleeves = (
        [Polygon(p.outline) for k, p in shown.items() if k.startswith(name)]
        for name in ("back", "sleeve")
    )
    assert bodies[0].distance(bodies[1]) < 0.01
    for one in sleeves:
        assert min(one.distance(body) for body in bodies) < 0.01


@pytest.mark.parametrize(
    ("book", "name"), [(coat_and_skirt(), "coat front"), (checked_waistcoat(), "front shell")]
)
def test_a_front_is_drawn_closed_on_its_closing_line(book: Workbook, name: str) -> None:
    """Both closing lines lie on each other, upright; the right half hides what is under it."""
    laid = compile_plan(book, book.plan())
    garment = assembled(laid.pattern, laid.compiled)[0]
    (closing,) = closings(laid.pattern)
    lines = []
    shown = parts(garment, "front")
    pair = [shown[f"{name} {k}"] for k in (1, 2)]
    for part in pair:
        copy = laid.compiled.copy(part.shape)
        move = placement_move(copy, resting(copy)).then(part.move)
        lines.append([move.apply(p) for p in (closing.line.start, closing.line.end)])
    assert all(p.is_near(q, 0.01) for p, q in zip(*lines, strict=True))
    assert lines[0][0].x == pytest.approx(lines[0][1].x, abs=0.01)
    left, right = sorted(pair, key=lambda p: Polygon(p.outline).centroid.x)
    order = [p.shape for p in garment.views[0].parts]
    assert order.index(left.shape) > order.index(right.shape)
    assert "The front is drawn closed, right half over left as worn." in garment.notes
