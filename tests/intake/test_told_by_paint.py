"""What is no piece though it is drawn large: the paper, the test square."""

from __future__ import annotations

import pytest

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.svg import read_svg
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Word, area, box, line
from tests.intake.proposing import propose

SKIRT = area((60, 60), (300, 60), (290, 440), (80, 450))
SHEET = Plain(shapes=(SKIRT,), words=(Word(text="Skirt front", at=(140, 250), size=9.0),))


def made(sheet: Plain, way: str, **answers: str):
    return propose(sheet.read(way), Answers(**{"allowance": "none", **answers}), unit=Unit.mm)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(
    "paper",
    [
        box(0, 0, 400, 500, stroke="", fill="#ffffff"),
        box(-5, -5, 410, 510, stroke="", fill="#fff8ee"),
        box(8, 8, 384, 484, stroke="", fill="#ffffff"),
    ],
    ids=["white", "cream with a margin outside", "white with a margin inside"],
)
def test_the_paper_is_no_piece(way: str, paper) -> None:
    """A light rectangle under all that is drawn is left out, and it is said."""
    draft = made(Plain(shapes=(paper, SKIRT), words=SHEET.words), way)
    assert [p.name for p in draft.pieces] == ["Skirt front"]
    low, high = draft.pieces[0].outline.bounds()
    assert (high.x - low.x, high.y - low.y) == pytest.approx((240, 390), abs=0.1)
    assert any("taken for the paper: 1" in n for n in draft.notes)


@pytest.mark.parametrize("way", WAYS)
def test_a_rectangle_with_nothing_large_on_it_is_a_piece(way: str) -> None:
    """A waistband as large as its sheet, painted white, is no paper: else nothing would be left."""
    band = Plain(
        shapes=(box(0, 0, 400, 500, stroke="", fill="#ffffff"), line((200, 90), (200, 110)))
    )
    assert len(made(band, way).pieces) == 1


def square(side: float, how: str):
    """A test square of a side, drawn in one of several ways."""
    a, b, c, d = (320, 30), (320 + side, 30), (320 + side, 30 + side), (320, 30 + side)
    return {
        "closed": [area(a, b, c, d)],
        "open": [line(a, b, c, d, a)],
        "nearly shut": [line(a, b, c, d, (320, 31.2))],
        "three sides": [line(a, b, c, d)],
        "four lines": [line(a, b), line(b, c), line(d, c), line(a, d)],
    }[how]


HOW = ["closed", "open", "nearly shut", "three sides", "four lines"]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("how", HOW)
def test_a_test_square_is_checked_and_no_piece(way: str, how: str) -> None:
    """However it is drawn: checked, told, and no piece."""
    sheet = SHEET.and_(*square(50, how), words=[Word(text="50 mm", at=(334, 52), size=6.0)])
    draft = made(sheet, way)
    assert [p.name for p in draft.pieces] == ["Skirt front"]
    assert "a test square was checked: it is as large as it says" in draft.notes


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("how", HOW)
def test_a_test_square_at_94_percent_is_asked_about(way: str, how: str) -> None:
    """A drawing at 94 % is not added before its size is said; the square offers the answer."""
    sheet = SHEET.and_(*square(47, how), words=[Word(text="5 cm x 5 cm", at=(326, 50), size=4.0)])
    with pytest.raises(BadInput, match='--scale "5 cm is 47') as caught:
        made(sheet, way)
    assert "not true to size" in str(caught.value)
    answer = str(caught.value).split('--scale "')[1].split('"')[0]
    draft = made(sheet, way, scale=answer)
    low, high = draft.pieces[0].outline.bounds()
    assert high.x - low.x == pytest.approx(240 / 0.94, rel=1e-4)


def test_a_scale_that_a_test_square_contradicts_is_told() -> None:
    """Saying "mm" of a drawing whose square of 5 cm measures 189 units: it is told, not taken."""
    body = "".join(
        f'<path fill="none" stroke="black" d="M{x} {y} h{w} v{h} h-{w} z"/>'
        for x, y, w, h in ((10, 10, 900, 1400), (950, 10, 189, 189))
    )
    text = '<text x="980" y="100" font-size="30">5 cm</text>'
    data = f'<svg xmlns="http://www.w3.org/2000/svg" width="1200" height="1500">{body}{text}</svg>'
    drawing = read_svg(data.encode(), "d.svg")
    with pytest.raises(BadInput, match=r'--scale "5 cm is 189\.0000", as its test square says'):
        propose(drawing, Answers(allowance="none"), unit=Unit.cm)
    draft = propose(drawing, Answers(allowance="none", scale="mm"), unit=Unit.cm)
    assert "by this scale its test square is 18.9 cm wide, and it says 5 cm" in draft.notes


@pytest.mark.parametrize("way", WAYS)
def test_a_square_piece_with_a_length_in_it_is_a_piece(way: str) -> None:
    """A pocket 140 mm square that says "5/8 in seam allowance" is no test square."""
    pocket = Plain(
        shapes=(box(60, 60, 140, 140),),
        words=(Word(text="5/8 in seam allowance", at=(80, 120)),),
    )
    assert len(made(pocket, way).pieces) == 1


@pytest.mark.parametrize(
    "colour", ["", "teal", "currentColor", "#d0000080", "url(#wool)", "hsl(9,9%,9%)"]
)
def test_a_colour_that_is_no_six_figures_is_a_colour(colour: str) -> None:
    """A name, a pattern, one that shines through, none at all: two lines in it are read."""
    lines = "".join(f'<path d="M{x} 5 v90" fill="none" stroke="{colour}"/>' for x in (5, 9))
    legend = '<text x="20" y="20" font-size="5">12</text>'
    head = 'width="99mm" height="99mm" viewBox="0 0 99 99"'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{lines}{legend}</svg>'
    assert len(read_svg(svg.encode(), "d.svg").lines) == 2
