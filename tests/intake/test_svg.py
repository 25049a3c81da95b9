"""Drawings from elsewhere: true to size within 0.1 mm, whatever way they are written."""

from __future__ import annotations

import math

import pytest

from clothwright.errors import BadInput
from clothwright.geometry.area import polygon_area
from clothwright.intake.answers import Answers
from clothwright.intake.svg import read_svg
from clothwright.units import Unit
from tests.intake.proposing import propose, questions

NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


def drawing(body: str, head: str = 'width="500mm" height="500mm" viewBox="0 0 500 500"') -> bytes:
    return f"<svg {NS} {head}>{body}</svg>".encode()


def first(body: str, **head: str) -> object:
    return read_svg(drawing(body, **head), "d.svg").lines[0].path


def bounds(path) -> tuple[float, float]:
    low, high = path.bounds()
    return high.x - low.x, high.y - low.y


@pytest.mark.parametrize(
    ("head", "factor"),
    [
        ('width="500mm" height="500mm" viewBox="0 0 500 500"', 1.0),
        ('width="50cm" height="50cm" viewBox="0 0 250 250"', 2.0),
        ('width="10in" height="10in" viewBox="0 0 100 100"', 2.54),
        ('width="360pt" height="360pt" viewBox="0 0 360 360"', 25.4 / 72),
        ('width="500mm" height="500mm"', 25.4 / 96),
    ],
)
def test_physical_sizes(head, factor):
    """A 100 x 40 rectangle comes out at the size its page's unit says (CSS: 1 in = 96 px)."""
    wide, tall = bounds(first('<rect x="10" y="10" width="100" height="40"/>', head=head))
    assert (wide, tall) == (
        pytest.approx(100 * factor, rel=1e-6),
        pytest.approx(40 * factor, rel=1e-6),
    )


def test_inner_units_are_read():
    """x="10mm" inside a drawing in mm is 10 mm (a trap of other readers)."""
    path = first(
        '<rect x="10mm" y="0" width="1in" height="2cm"/>', head='width="500mm" height="500mm"'
    )
    assert bounds(path) == (pytest.approx(25.4, rel=1e-6), pytest.approx(20.0, rel=1e-6))


def test_transforms_and_use_are_applied():
    """A shape used twice under nested transforms: each copy true, turned lengths kept."""
    body = (
        '<defs><path id="p" d="M0 0h30v40z"/></defs>'
        '<g transform="translate(50 60) rotate(30)"><use xlink:href="#p" x="5" y="6"/></g>'
        '<g transform="scale(2)"><use href="#p"/></g>'
    )
    lines = read_svg(drawing(body), "d.svg").lines
    assert [x.path.length for x in lines] == [
        pytest.approx(30 + 40 + 50, rel=1e-6),
        pytest.approx(240, rel=1e-6),
    ]
    angle = math.radians(30)
    start = lines[0].path.start
    expected = (
        50 + 5 * math.cos(angle) - 6 * math.sin(angle),
        -(60 + 5 * math.sin(angle) + 6 * math.cos(angle)),
    )
    assert start.distance(expected) < 1e-3


@pytest.mark.parametrize("r", [5.0, 600.0])
def test_arcs_stay_on_their_circle(r):
    """A circle of any size is within 0.01 mm of the true one (its own equation)."""
    path = first(
        f'<circle cx="700" cy="700" r="{r}"/>',
        head='width="1400mm" height="1400mm" viewBox="0 0 1400 1400"',
    )
    off = max(abs(math.hypot(p.x - 700, p.y + 700) - r) for p in path.flatten(0.001))
    assert off < 0.01


def test_elliptical_arc_command():
    """The A command of path data: an ellipse's half, checked by its own equation."""
    path = first('<path d="M 100 100 A 60 30 20 0 1 200 150 Z"/>')
    assert path.segments[0].start.is_near((100, -100), 1e-3)
    assert any(p.is_near((200, -150), 1e-3) for p in path.flatten(0.01))


def test_quadratic_curves_are_exact():
    """A quadratic Bezier becomes the very same curve as a cubic (degree elevation)."""
    path = first('<path d="M 0 0 Q 50 100 100 0"/>')
    for t in (0.2, 0.5, 0.9):
        x, y = 2 * t * (1 - t) * 50 + t * t * 100, -(2 * t * (1 - t) * 100)
        assert path.segments[0].point(t).is_near((x, y), 1e-3)


def test_lines_are_turned_counter_clockwise_and_y_up():
    """Whichever way the outline was drawn, the piece runs counter-clockwise."""
    for d in ("M10 10h100v50h-100z", "M10 10v50h100v-50z"):
        piece = propose(
            read_svg(drawing(f'<path d="{d}"/>'), "d.svg"), Answers(allowance="none"), unit=Unit.mm
        ).pieces[0]
        assert polygon_area([(p.x, p.y) for p in piece.outline.flatten()]) == pytest.approx(
            5000, rel=1e-5
        )


def test_open_lines_that_meet_make_an_outline():
    """Four separate lines round a piece are joined; a loose one inside is kept as a mark."""
    body = (
        '<path d="M0 0H100"/><path d="M100.1 60V0"/><path d="M100 60H0"/><path d="M0 0V60"/>'
        '<path d="M20 20h30"/><path d="M200 20h30"/>'
    )
    draft = propose(read_svg(drawing(body), "d.svg"), Answers(allowance="none"), unit=Unit.mm)
    assert len(draft.pieces) == 1
    assert [m.name for m in draft.pieces[0].marks] == ["line 1"]
    (told,) = [n for n in draft.notes if n.startswith("left out, in no outline, 1 line: ")]
    assert "30 mm long" in told
    assert "215 mm from the left and 40 mm from the bottom" in told


def test_allowance_included_gives_the_stitching_line_inside():
    """A 100 x 60 outline that includes 5/8 in: stitching 68.25 x 28.25, cutting line as drawn."""
    from clothwright.pattern.outline import cutting_line

    piece = propose(
        read_svg(drawing('<path d="M0 0h100v60h-100z"/>'), "d.svg"),
        Answers(allowance="5/8 in"),
        unit=Unit.mm,
    ).pieces[0]
    assert sorted(e.length for e in piece.edges) == pytest.approx(
        [28.25, 28.25, 68.25, 68.25], abs=1e-3
    )
    low, high = cutting_line(piece).outline.bounds()
    assert (high.x - low.x, high.y - low.y) == (
        pytest.approx(100, abs=1e-3),
        pytest.approx(60, abs=1e-3),
    )


def test_edges_of_their_own_allowance_and_fold():
    """ "1 cm, hem=4 cm" and a fold edge without any: each side moves in by its own amount."""
    piece = propose(
        read_svg(drawing('<path d="M0 0h100v60h-100z"/>'), "d.svg"),
        Answers(
            allowance="1 cm, hem=4 cm",
            edges=("hem", "side", "top", "centre"),
            fold="centre",
            cut="shell fold, lining fold",
        ),
        unit=Unit.cm,
    ).pieces[0]
    assert piece.edge("side").length == pytest.approx(10.0, abs=1e-3)
    assert piece.edge("hem").length == pytest.approx(90.0, abs=1e-3)
    assert [c.how for c in piece.cuts] == ["fold", "fold"]


@pytest.mark.parametrize(("scale", "factor"), [("cm", 10.0), ("10 cm is 50", 2.0), ("in", 25.4)])
def test_scale_is_asked_when_the_file_names_no_unit(scale, factor):
    """Without a physical unit there is a question; each kind of answer fixes the size."""
    data = drawing('<rect width="40" height="30"/>', head='viewBox="0 0 100 100"')
    with pytest.raises(BadInput, match="--scale"):
        propose(read_svg(data, "d.svg"), Answers(allowance="none"), unit=Unit.mm)
    piece = propose(
        read_svg(data, "d.svg"), Answers(allowance="none", scale=scale), unit=Unit.mm
    ).pieces[0]
    assert bounds(piece.outline)[0] == pytest.approx(40 * factor)


def test_corners_by_number_and_by_bend():
    """A house of five corners: found by bend; asked for four, the bluntest is left out."""
    body = '<path d="M0 100V50L50 40L100 50V100Z"/>'
    five = propose(
        read_svg(drawing(body), "d"), Answers(allowance="none", corners="20 deg"), unit=Unit.mm
    )
    four = propose(
        read_svg(drawing(body), "d"), Answers(allowance="none", corners="4"), unit=Unit.mm
    )
    assert (len(five.pieces[0].edges), len(four.pieces[0].edges)) == (5, 4)


def test_a_smooth_outline_gets_two_edges():
    """A circle has no corner; it is cut at its lowest and highest point."""
    piece = propose(
        read_svg(drawing('<circle cx="50" cy="50" r="40"/>'), "d"),
        Answers(allowance="none"),
        unit=Unit.mm,
    ).pieces[0]
    assert [e.length for e in piece.edges] == pytest.approx([40 * math.pi] * 2, abs=0.01)


def test_outlines_of_the_same_name_get_numbers_and_sizes_within_are_left_out():
    """Two outlines in one named group; a smaller size and a copy inside the first."""
    body = (
        '<g id="front"><path d="M0 0h100v60h-100z"/><path d="M0 0h100v60h-100z"/>'
        '<path d="M10 10h60v40h-60z"/><path d="M200 0h50v50h-50z"/></g>'
    )
    said = Answers(allowance="none", true_size="yes")
    draft = propose(read_svg(drawing(body), "d"), said, unit=Unit.mm)
    assert [p.name for p in draft.pieces] == ["front", "front 2"]
    assert "left out, large closed lines inside another outline: 2" in draft.notes


def test_what_was_proposed_can_be_answered_otherwise():
    """Edges, grain and cutting are questions with what was taken; an answer closes each."""
    data = read_svg(drawing('<path d="M0 0h100v60h-100z"/>'), "d")
    asked = propose(data, Answers(allowance="none"), unit=Unit.mm).questions
    assert [(q.id, q.default) for q in asked] == [
        ("edges", "bottom,right,top,left"),
        ("grain", "up"),
        ("cut", "shell once"),
    ]
    answered = Answers(allowance="none", edges=tuple("abcd"), grain="45", cut="shell pair")
    draft = propose(data, answered, unit=Unit.mm)
    assert draft.questions == ()
    assert draft.pieces[0].grain.direction.angle_deg == pytest.approx(45.0)


def test_both_dangerous_questions_are_asked_at_once():
    """Without size and allowance both are open, and a reader is told of the first."""
    data = read_svg(drawing('<rect width="40" height="30"/>', head=""), "d")
    assert [q.id for q in questions(data, Answers(), unit=Unit.mm)] == ["scale", "allowance"]
    assert [q.default for q in questions(data, Answers(), unit=Unit.mm)] == ["", ""]
    known = Answers(scale="mm", allowance="none")
    assert questions(data, known, unit=Unit.mm) == ()


@pytest.mark.parametrize(
    ("scale", "factor"), [("1/72 in", 25.4 / 72), ("0.5 mm", 0.5), ("mm", 1.0), ("1 cm is 4", 2.5)]
)
def test_a_scale_may_be_a_length_for_one_unit(scale, factor):
    """ "1/72 in" is what one unit is, never one unit and a bit more."""
    data = read_svg(drawing('<rect width="400" height="300"/>', head=""), "d")
    piece = propose(data, Answers(allowance="none", scale=scale), unit=Unit.mm).pieces[0]
    assert bounds(piece.outline)[0] == pytest.approx(400 * factor)


def test_the_same_name_twice_running_makes_one_edge_of_two():
    """A bend that is no corner (a dart's cap in a side seam) is named away."""
    house = drawing('<path d="M0 100V50L50 20L100 50V100Z"/>')
    answers = Answers(allowance="none", edges=("floor", "wall", "roof", "roof", "other wall"))
    piece = propose(read_svg(house, "d"), answers, unit=Unit.mm).pieces[0]
    assert [e.name for e in piece.edges] == ["floor", "wall", "roof", "other wall"]
    assert piece.edge("roof").length == pytest.approx(2 * math.hypot(50, 30))
    around = Answers(allowance="none", edges=("a", "b", "c", "d", "a"))
    piece = propose(read_svg(house, "d"), around, unit=Unit.mm).pieces[0]
    assert [e.name for e in piece.edges] == ["a", "b", "c", "d"]
    assert piece.edge("a").length == pytest.approx(150)
