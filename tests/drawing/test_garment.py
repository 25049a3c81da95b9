"""The print on the garment: the print of the cloth where each piece lies, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import pytest
from shapely import Point, Polygon

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.drawing.assembled import assembled
from clothwright.drawing.flat import Garment, View
from clothwright.drawing.garment import (
    cloth_to_view,
    garment_picture,
    meeting_words,
    place_on_cloth,
    view_picture,
    view_words,
)
from clothwright.drawing.worn import TALL_EM, WIDE_EM, worn
from clothwright.geometry.vec import Vec
from clothwright.lay.meeting.values import (
    BestMeeting,
    MeetingKind,
    MeetingRun,
    SeamMark,
    SeamMeeting,
)
from clothwright.lay.sewn import placement_move
from clothwright.picture.picture import DrawnRole, Fill, Stroke
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.workroom.searching.laying import lay_plan


@pytest.fixture(scope="module")
def laid() -> Laid:
    """The demo's chosen plan, laid for a moment: border at the skirt's and the sleeves' hems."""
    return lay_plan(coat_and_skirt(), "skirt and sleeves", seconds=60.0, rounds=3)


def view_of(laid: Laid, garment: str, view: str) -> View:
    """Return a view by the garment's name and its own."""
    found = next(g for g in assembled(laid.pattern, laid.compiled) if g.name == garment)
    return next(v for v in found.views if v.name == view)


def test_pieces_of_no_garment_are_not_called_beside_it() -> None:
    """A view that is alone has nothing to lie beside; a belt beside a coat has."""
    beside, front = (View(name=n, parts=()) for n in ("beside", "front"))
    alone = Garment(name="other pieces", views=(beside,))
    coat = Garment(name="coat", views=(front, beside))
    assert view_words(alone, beside) == "other pieces"
    assert [view_words(coat, v) for v in coat.views] == ["coat front", "beside the coat"]


def test_the_cloth_under_a_piece_is_where_the_lay_put_it(laid: Laid) -> None:
    """Every point of a piece carries the very place of the cloth that the lay gives it."""
    placed = {p.shape: p for p in laid.lay.placements}
    for part in view_of(laid, "coat", "front").parts:
        place = placed[part.shape]
        copy = laid.compiled.copy(part.shape)
        for point in copy.piece.points().values():
            on_cloth = placement_move(copy, place)
            frame = place_on_cloth(place).inverse().apply(on_cloth.apply(point))
            on_view = cloth_to_view(part, place).apply(on_cloth.apply(point))
            assert part.move.apply(frame).is_near(on_view, 1e-6)
            assert Polygon(part.outline).distance(Point(on_view)) < 1.0
        assert not cloth_to_view(part, place).mirrors


def test_the_print_meets_at_a_matched_seam(laid: Laid) -> None:
    """The border's lines stand at one height on both sides of the centre back, within 0.1 mm."""
    picture = view_picture(view_of(laid, "skirt", "back"), laid.compiled, laid.lay)
    lines = [i for i in picture.items if isinstance(i, Stroke) and i.role is DrawnRole.BORDER]
    ends = [p for i in lines for p in (i.path.start, i.path.end)]
    left = sorted(p.y for p in ends if -0.5 < p.x <= 0.0)
    right = sorted(p.y for p in ends if 0.0 <= p.x < 0.5)
    assert left
    assert right
    assert left == pytest.approx(right, abs=0.1)


def test_what_is_seen_at_both_sides_of_a_matched_seam_is_one_phase(laid: Laid) -> None:
    """At a seam the lay matched, the two sides show the same place of the repeat within 0.1 mm."""
    match = next(m for m in laid.meetings if m.seam == "skirt centre back")
    assert match.worst <= 0.1
    view = view_of(laid, "skirt", "back")
    placed = {p.shape: p for p in laid.lay.placements}
    parts = {p.shape: p for p in view.parts if p.shape in match.shapes}
    on_cloth = []
    for shape, part in parts.items():
        seam_point = Vec(0.0, -250.0)
        on_cloth.append(cloth_to_view(part, placed[shape]).inverse().apply(seam_point))
    design = laid.compiled.cloth(placed[match.shapes[0]].region).print
    repeat = design.repeat("along")
    assert repeat
    apart = (on_cloth[0].x - on_cloth[1].x + repeat / 2) % repeat - repeat / 2
    assert apart == pytest.approx(0.0, abs=0.15)
    assert on_cloth[0].y == pytest.approx(on_cloth[1].y, abs=0.15)


@pytest.mark.parametrize(("dx", "dy"), [(37.0, 0.0), (0.0, -12.5)])
def test_a_piece_moved_on_the_cloth_moves_its_print_by_as_much(
    laid: Laid, dx: float, dy: float
) -> None:
    """Moved by 37 mm along the cloth, a piece shows the print 37 mm farther back, exactly."""
    place = next(p for p in laid.lay.placements if p.shape == "coat back")
    part = view_of(laid, "coat", "back").parts[0]
    moved = replace(place, x=place.x + dx, y=place.y + dy)
    spot = Vec(place.x, place.y)
    was, now = (cloth_to_view(part, p).apply(spot) for p in (place, moved))
    turned = cloth_to_view(part, place).apply_direction(Vec(dx, dy))
    assert (was - now).is_near(turned, 1e-9)
    assert (was - now).norm == pytest.approx(abs(dx + dy), abs=1e-9)


def test_the_border_runs_round_the_hem(laid: Laid) -> None:
    """The plan puts the skirt's hem on the border: the band is low on front and back."""
    for name in ("front", "back"):
        view = view_of(laid, "skirt", name)
        picture = view_picture(view, laid.compiled, laid.lay)
        bands = [i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.BORDER]
        low, high = view.box[1], view.box[3]
        assert bands
        assert all(b.path.bounds()[0].y < low + 5.0 for b in bands)
        assert all(b.path.bounds()[1].y < low + 0.4 * (high - low) for b in bands)


def test_the_picture_has_every_view_beside_the_other(laid: Laid) -> None:
    """One picture of a garment: front and back apart from each other, named."""
    coat = assembled(laid.pattern, laid.compiled)[0]
    picture = garment_picture(coat, laid.compiled, laid.lay)
    words = [i.words for i in picture.items if hasattr(i, "words")]
    assert words == ["coat front", "coat back"]
    low, high = picture.bounds()
    wide = sum(v.box[2] - v.box[0] for v in coat.views)
    assert wide < high.x - low.x < wide + 200.0


def test_a_piece_that_is_not_laid_is_an_outline(laid: Laid) -> None:
    """What has no place on the cloth is drawn without cloth; nothing is made up."""
    short = replace(
        laid.lay, placements=tuple(p for p in laid.lay.placements if p.shape != "coat back")
    )
    items = view_picture(view_of(laid, "coat", "back"), laid.compiled, short).items
    assert [(type(i), i.role) for i in items] == [(Stroke, DrawnRole.STITCH)]


def test_what_the_print_does_at_a_seam_is_said(laid: Laid) -> None:
    """The worse side of each seam, in sentences; seams of other garments are left out."""
    skirt = assembled(laid.pattern, laid.compiled)[1]

    def met(seam: str, half: int, kind: MeetingKind, worst: float) -> SeamMeeting:
        run = MeetingRun(low=0.0, high=100.0, kind=kind, within=worst <= 2.0)
        return SeamMeeting(
            seam=seam,
            half=half,
            shapes=("skirt front", "skirt back 1"),
            a_count=1,
            worn=True,
            length=100.0,
            tolerance=2.0,
            marks=(SeamMark(at=0.0, name="the hem"), SeamMark(at=100.0, name="the waist")),
            sections=(),
            runs=(run,),
            worst=worst,
            mean=worst,
            level=worst,
            upright=None,
            best=BestMeeting(share=1.0, worst=0.0),
        )

    good = met("side", 0, MeetingKind.LEVEL, 0.0)
    meetings = (
        good,
        met("side", 1, MeetingKind.APART, 4.0),
        met("yoke", 0, MeetingKind.RUNS_ON, 0.0),
        replace(good, seam="coat side", shapes=("coat front 1", "coat back")),
    )
    others = {"waist": ("skirt front", "skirt back 1"), "neck": ("coat back", "coat front 1")}
    seen = SimpleNamespace(meetings=meetings, between_cloths=others)
    said = meeting_words(skirt, cast("Laid", seen), Unit.cm)
    assert said == (
        (
            "notice",
            "Side: the print is up to 0.4 cm apart vertically and does not meet at all. "
            "With the pieces laid elsewhere, all of it could meet.",
        ),
        ("good", "Yoke: the print runs on all along."),
        ("notice", "Waist: the print is not compared, for two cloths meet there."),
    )


def test_every_garment_of_a_page_is_as_large_as_its_width_lets_it(laid: Laid) -> None:
    """One scale for all views: front and back fit beside each other, and one of them fills it."""
    shown = worn(laid, Unit.cm, key="k")
    wide = [sum(v.wide for v in g.views) / shown.em_mm for g in shown.garments]
    tall = [v.tall / shown.em_mm for g in shown.garments for v in g.views]
    assert max(max(wide) / WIDE_EM, max(tall) / TALL_EM) == pytest.approx(1.0)
    assert WIDE_EM < 100.0, "1 em is 1 % of the width, and there is room between the views"
