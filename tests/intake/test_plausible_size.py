"""What no body can wear at its size is asked about, by every way in; what somebody wears is not.

Bodies are held against the World Health Organization's length of a newborn (50 cm) and a survey's
heights (`body.plausible`); the demos are drafted for grown women.
"""

from __future__ import annotations

import pytest

from clothwright.demo import DEMOS
from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.intake.dxf import read_dxf
from clothwright.intake.plausible_size import ReadSize, size_doubt
from clothwright.intake.svg import read_svg
from clothwright.intake.typed.file import typed_in
from clothwright.intake.waiting.at_once import drawn_draft, typed_draft
from clothwright.pattern.outline import cutting_line
from clothwright.units import Unit
from tests.intake.dxf_sized import ByLibrary, piece
from tests.intake.plain import WAYS, Plain, Word, box


def measured(name: str, wide: float, tall: float) -> ReadSize:
    return ReadSize(name, wide, tall, False)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda d: d.name)
def test_nothing_is_asked_of_what_is_worn(demo) -> None:
    """Every piece of the demos, alone and as large as they are."""
    for one in demo.make().bought.pieces:
        low, high = cutting_line(one).outline.bounds()
        assert size_doubt([measured(one.name, *(high - low))], Unit.cm) is None, one.name


@pytest.mark.parametrize(
    ("name", "wide", "tall"),
    [
        ("front", 150, 180),  # a newborn's
        ("skirt front", 1300, 1100),  # a quarter of a circle to the floor
        ("Sleeve", 90, 60),
        ("tie belt", 80, 4000),
        ("piece 1", 60, 2600),
        ("pocket flap", 45, 30),
        ("dress back", 700, 1650),
        ("front facing", 80, 60),
        ("half circle skirt", 2700, 1300),
    ],
)
def test_what_is_unusual_and_worn_is_not_asked(name: str, wide: float, tall: float) -> None:
    """Small sizes, long dresses, circles, ties: common practice."""
    assert size_doubt([measured(name, wide, tall)], Unit.cm) is None


@pytest.mark.parametrize(
    ("name", "wide", "tall", "scale", "ways"),
    [
        ("bodice", 35, 45, "", ["cm"]),
        ("bodice front", 3000, 4000, "", []),
        ("skirt", 1100, 2800, "mm", ["1/96 in"]),
        ("piece 1", 1100, 2800, "mm", ["1/72 in", "1/96 in"]),
        ("piece 1", 20, 30, "", ["cm", "in"]),
        ("front", 23, 60, "", ["cm"]),
        ("trousers", 12000, 27000, "in", ["mm"]),
        ("front", 4, 3000, "", []),
    ],
)
def test_what_nobody_wears_is_asked(name, wide, tall, scale, ways) -> None:
    """With the scales that would make it plausible: units, points (72) and pixels (96 an inch)."""
    doubt = size_doubt([measured(name, wide, tall)], Unit.cm, scale)
    assert doubt is not None
    assert f'"{name}" is' in doubt.words
    assert set(ways) <= {way for way, _ in doubt.ways}


def test_of_many_pieces_one_asks_and_the_ways_out_hold_for_all() -> None:
    """A pocket says nothing; a skirt beside it does, in her unit, with what it would be."""
    pieces = [measured("pocket", 14, 16), measured("skirt front", 30, 65)]
    doubt = size_doubt(pieces, Unit.cm)
    assert doubt is not None
    assert doubt.words == 'as read, "skirt front" is 6.5 cm tall; is that its true size?'
    assert dict(doubt.ways)["cm"] == "skirt front is 65 cm tall"
    inches = size_doubt(pieces, Unit.inch)
    assert inches is not None
    assert "2 9/16 in tall" in inches.words


def small(name: str = "Bodice front", times: float = 1.0) -> Plain:
    """A piece 35 mm by 45."""
    return Plain(
        shapes=(box(10, 10, 35 * times, 45 * times),),
        words=(Word(text=name, at=(12, 30), size=3 * times),),
    )


@pytest.mark.parametrize("way", WAYS)
def test_asked_of_svg_and_pdf(way: str) -> None:
    """The command line names the ways out; said, it is added; ten times as large all is well."""
    drawing, said = small().read(way), Answers(allowance="none")
    with pytest.raises(BadInput, match=r"4\.5 cm tall.*--true-size.*--scale \"cm\" \(Bodice front"):
        drawn_draft(drawing, said, Unit.cm)
    (made,) = drawn_draft(drawing, Answers(allowance="none", true_size="yes"), Unit.cm).pieces
    assert max(e.length for e in made.edges) == pytest.approx(45, abs=0.01)
    (made,) = drawn_draft(drawing, Answers(allowance="none", scale="cm"), Unit.cm).pieces
    assert max(e.length for e in made.edges) == pytest.approx(450, abs=0.1)


@pytest.mark.parametrize("way", WAYS)
def test_a_test_square_that_agrees_says_it(way: str) -> None:
    """Doll's clothes beside a square of 20 mm that is 20 mm: the drawing is true to size."""
    plain = small().and_(box(100, 10, 20, 20), words=[Word(text="20 mm", at=(102, 18), size=3)])
    assert drawn_draft(plain.read(way), Answers(allowance="none"), Unit.cm).pieces


def test_pixels_taken_for_millimetres_are_asked() -> None:
    """--scale mm of a drawing in px makes a skirt of 2.8 m."""
    data = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="1200" height="3000">'
        '<path id="skirt" d="M 9 9 H 1100 V 2809 H 9 Z" fill="none" stroke="black"/></svg>'
    )
    drawing = read_svg(data.encode(), "skirt.svg")
    assert not drawing.scale_known
    said = {"allowance": "none"}
    with pytest.raises(BadInput, match=r'280 cm tall.*--scale "1/96 in" \(skirt is 74\.1 cm tall'):
        drawn_draft(drawing, Answers(scale="mm", **said), Unit.cm)
    (made,) = drawn_draft(drawing, Answers(scale="1/96 in", **said), Unit.cm).pieces
    assert max(e.length for e in made.edges) == pytest.approx(2800 * 25.4 / 96, abs=0.01)


def test_asked_of_dxf_typed_measurements_and_photos() -> None:
    """A DXF in millimetres that was drawn in centimetres; a length typed in the wrong unit; an
    outline as a photo gives it.
    """
    to = ByLibrary()
    front = piece("front", "12")
    ring = [(x / 10, y / 10) for x, y in front.truth()]
    to.file.modelspace().add_lwpolyline(ring[:1] + ring[2:4] + ring[6:], close=True)
    to.file.modelspace().add_text("Piece name: FRONT", height=1).set_placement((3, 20))
    with pytest.raises(BadInput, match=r"front.* is 6\.1 cm tall"):
        drawn_draft(read_dxf(to.data(), "f.dxf"), Answers(allowance="none"), Unit.cm)
    photo = Drawing(
        name="bodice",
        lines=(DrawnLine(path=small().read("svg").lines[0].path, closed=True, label="bodice"),),
        scale_known=True,
    )
    with pytest.raises(BadInput, match="true size"):
        drawn_draft(photo, Answers(allowance="none"), Unit.cm)
    text = (
        b"piece bodice front\nunit cm\nA is the start\nB is 4.5 down from A\nC is 3.5 right of B\n"
        b"D is 3.5 right of A\ntop from A to D, straight\nside from D to C, straight\n"
        b"hem from C to B, straight\nfront from B to A, straight\ngrain up\ncut 2 shell, pair\n"
    )
    typed = typed_in(text, "b.txt", Unit.cm)
    with pytest.raises(BadInput, match="another unit behind the numbers"):
        typed_draft("b.txt", typed, Answers(allowance="none"), Unit.cm)
    assert typed_draft("b.txt", typed, Answers(allowance="none", true_size="yes"), Unit.cm).pieces
