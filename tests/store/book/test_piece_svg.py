"""A piece's drawing: exact round trip, readable by others, faults told in sentences."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from svgelements import SVG
from svgelements import Path as SvgPath

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.errors import BadInput
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.path_data import path_from_text, path_text
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import reflection, rotation_deg, scaling, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Edge, Join, Mark, Piece, Role
from clothwright.pattern.whole import moved
from clothwright.store import piece_from_svg, piece_to_svg

PIECES = (*checked_waistcoat().bought.pieces, *coat_and_skirt().bought.pieces)
FRONT = PIECES[0]
SLEEVE = next(p for p in PIECES if p.name == "coat sleeve")


def read(text: str) -> Piece:
    return piece_from_svg(text.encode(), "front.svg")


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_round_trip_is_exact(piece):
    """Writing and reading a piece gives an equal piece, to the last digit."""
    assert read(piece_to_svg(piece)) == piece


@settings(max_examples=25, deadline=None)
@given(angle=st.floats(-180, 180), x=st.floats(-1e3, 1e3), y=st.floats(-1e3, 1e3))
def test_round_trip_is_exact_wherever_the_piece_lies(angle, x, y):
    """Turned and moved pieces have coordinates with many digits; all of them stay."""
    piece = moved(PIECES[0], rotation_deg(angle).then(translation((x, y))))
    assert read(piece_to_svg(piece)) == piece


def test_segments_that_meet_within_rounding_come_back():
    """A line whose parts end 0.05 micrometres apart, as other programs write them, can be saved."""
    gap = 5e-5
    split = Path((Line(Vec(0, 0), Vec(50, 0)), Line(Vec(50, gap), Vec(100, 0))))
    rest = polyline(((100, 0), (100, 100), (0, 100), (0, 0)))
    piece = Piece(name="x", edges=(Edge(name="a", path=split), Edge(name="b", path=rest)))
    assert read(piece_to_svg(piece)) == piece
    assert split.segments[0].end == split.segments[1].start


@settings(max_examples=60, deadline=None)
@given(words=st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=12))
def test_names_may_hold_any_printable_letters(words):
    """Quotation marks, angle brackets and letters of any script come back as they were."""
    if "." in words:
        words = words.replace(".", "_")
    assume(all(words not in (e.name, e.corner) for e in FRONT.edges[1:]))
    first = replace(FRONT.edges[0], name=words, corner=words)
    mark = Mark(name=words, at=Vec(1.0, 2.0), note=words)
    piece = replace(
        FRONT, name=words, edges=(first, *FRONT.edges[1:]), marks=(mark,), note=words.strip()
    )
    assert read(piece_to_svg(piece)) == piece


def test_marks_of_every_kind_come_back():
    """A mark may be a point, a line, both, or just a note."""
    line = polyline([(0, 0), (10, 5)])
    marks = (
        Mark(name="point", at=Vec(1.5, 2.5)),
        Mark(name="line", path=line, note="fold here"),
        Mark(name="both", at=Vec(3.0, 4.0), path=line),
        Mark(name="words", note="see the guide"),
    )
    piece = replace(FRONT, marks=marks)
    assert read(piece_to_svg(piece)) == piece


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_another_reader_sees_the_same_lengths(piece):
    """svgelements (general-purpose) measures each edge as we do, within 0.05 mm."""
    drawing = SVG.parse(io.StringIO(piece_to_svg(piece)), reify=True)
    seen = {
        e.values["data-edge"]: e
        for e in drawing.elements()
        if isinstance(e, SvgPath) and "data-edge" in e.values
    }
    for edge in piece.edges:
        length = seen[edge.name].length(error=1e-6) * 25.4 / 96
        assert length == pytest.approx(edge.length, abs=0.05)


def test_a_piece_whose_allowance_is_impossible_is_still_kept():
    """The cutting line is drawn for the eye; where there is none the piece is written without."""
    wide = replace(FRONT, edges=tuple(replace(e, allowance=5000.0) for e in FRONT.edges))
    assert read(piece_to_svg(wide)) == wide


# --- a drawing that has been through other hands -------------------------------------------------


def near(a: Piece, b: Piece, tol: float = 1e-6) -> bool:
    """Same names, same order, same places within tol mm."""
    ours = [(e.name, e.role, e.corner, e.join, e.allowance) for e in a.edges]
    theirs = [(e.name, e.role, e.corner, e.join, e.allowance) for e in b.edges]
    return ours == theirs and all(
        p.is_near(b.points()[name], tol) for name, p in a.points().items()
    )


def wrapped(text: str, transform: str) -> str:
    """Put the whole drawing into a group that an editor has moved."""
    start = text.index("<title>")
    return f'{text[:start]}<g transform="{transform}">{text[start:-8]}</g></svg>'


@pytest.mark.parametrize(
    ("transform", "move"),
    [
        ("translate(10,20)", translation((10, -20))),
        ("rotate(-30)", rotation_deg(30)),
        ("rotate(90 5 6)", rotation_deg(-90, (5, -6))),
        ("matrix(0 1 -1 0 3 4)", rotation_deg(-90).then(translation((3, -4)))),
        ("translate(1 2) rotate(20), translate(-3)", None),
    ],
)
def test_what_an_editor_moved_is_read_where_it_lies(transform, move):
    """Transforms on a group round everything: the piece moves as a whole, nothing else changes."""
    if move is None:
        move = translation((-3, 0)).then(rotation_deg(-20)).then(translation((1, -2)))
    assert near(read(wrapped(piece_to_svg(SLEEVE), transform)), moved(SLEEVE, move))


@pytest.mark.parametrize("transform", ["scale(-1 1)", "scale(1,-1)", "matrix(-1 0 0 1 700 0)"])
def test_a_drawing_turned_over_is_the_mirrored_piece(transform):
    """Turned over in an editor: edges run counter-clockwise again, notches and darts keep place."""
    line = reflection((0, 0), (1, 0)) if transform == "scale(1,-1)" else reflection((0, 0), (0, 1))
    shift = translation((700, 0)) if "matrix" in transform else translation((0, 0))
    for piece in PIECES:
        turned = read(wrapped(piece_to_svg(piece), transform))
        expected = moved(piece, line.then(shift))
        assert {e.name for e in turned.edges} == {e.name for e in expected.edges}
        at = [e.name for e in turned.edges].index(expected.edges[0].name)
        turned = replace(turned, edges=(*turned.edges[at:], *turned.edges[:at]))
        assert near(turned, expected)
        assert [d.pressed for d in turned.darts] == [d.pressed for d in expected.darts]


@pytest.mark.parametrize(
    ("unit", "per_unit"), [("mm", 1.0), ("cm", 10.0), ("in", 25.4), ("pt", 25.4 / 72)]
)
def test_a_page_in_another_unit_is_the_same_size(unit, per_unit):
    """An editor may write the page's size in another unit (CSS: 1 in = 72 pt)."""
    text = piece_to_svg(SLEEVE)

    def other(found: re.Match[str]) -> str:
        return f'{found[1]}="{float(found[2]) / per_unit!r}{unit}"'

    text = re.sub(r'(width|height)="(\d+)mm"', other, text)
    assert near(read(text), SLEEVE, 1e-3)


def test_a_drawing_blown_up_to_pixels_is_the_same_size():
    """An editor that works in pixels multiplies every coordinate and says so in the viewBox."""
    text = piece_to_svg(SLEEVE)
    box = [float(v) for v in re.search(r'viewBox="([^"]+)"', text)[1].split()]
    k = 96 / 25.4
    text = text.replace(
        'viewBox="' + " ".join(f"{v:g}" for v in box),
        'viewBox="' + " ".join(repr(v * k) for v in box),
    )
    text = wrapped(text, f"scale({k!r})")
    assert near(read(text), SLEEVE, 1e-3)


def square(edges: str, more: str = "") -> str:
    """A hand-annotated drawing of a 100 x 60 panel, in mm."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm"'
        ' viewBox="0 0 200 200" data-clothwright-piece="panel" data-format="1">\n'
        f"{edges}\n{more}\n</svg>"
    )


BY_HAND = """
<path data-edge="top" data-role="seam" data-allowance="5/8 in" d="M 10 20 h 100"/>
<path data-edge="hem" data-role="hem" data-allowance="4 cm" data-corner="low left" d="M10 80H110"/>
<path data-edge="left" d="M 10,80 V 20"/>
<path data-edge="right" data-corner="top right" d="M110 20 C 120 40 120 60 110 80"/>
"""


def test_edges_may_be_drawn_in_any_order_and_either_way_round():
    """Four lines drawn as they came: a closed chain, counter-clockwise, corners at their points."""
    piece = read(square(BY_HAND))
    assert [e.name for e in piece.edges] == ["top", "left", "hem", "right"]
    assert {e.corner: e.path.start for e in piece.edges if e.corner} == {
        "low left": Vec(10.0, -80.0),
        "top right": Vec(110.0, -20.0),
    }
    assert piece.edge("top").allowance == 15.875
    assert piece.edge("hem").allowance == 40.0
    assert piece.edge("hem").role is Role.HEM
    assert piece.edge("left").role is Role.SEAM


def test_notches_and_darts_may_be_drawn_and_not_counted():
    """A tick across an edge is a notch at that place; a V whose ends lie on it is a dart."""
    more = """<path data-notch="hem" data-kind="double" d="M 40 75 V 85"/>
    <line data-notch="left" x1="5" y1="50" x2="15" y2="50"/>
    <circle data-notch="top" cx="30" cy="20.4" r="1"/>
    <path data-dart="waist" data-on="top" d="M 70 20 L 65 45 L 60 20"/>
    <line data-grain="up" x1="60" y1="70" x2="60" y2="30"/>
    <line data-level="hip" x1="20" y1="55" x2="90" y2="55"/>
    <circle data-mark="button" cx="50" cy="50" r="3"/>"""
    piece = read(square(BY_HAND, more))
    assert [n.at for n in piece.edge("hem").notches] == [pytest.approx(30.0, abs=1e-6)]
    assert [n.at for n in piece.edge("left").notches] == [pytest.approx(30.0, abs=1e-6)]
    assert [n.at for n in piece.edge("top").notches] == [pytest.approx(80.0, abs=1e-6)]
    dart = piece.dart("waist")
    assert (dart.a, dart.b) == (pytest.approx(40.0, abs=1e-6), pytest.approx(50.0, abs=1e-6))
    assert dart.point == Vec(65.0, -45.0)
    assert piece.grain.direction == Vec(0.0, 1.0)
    assert piece.level("hip").at == Vec(20.0, -55.0)
    assert piece.point("button") == Vec(50.0, -50.0)


def test_ends_that_gape_a_little_are_moved_together():
    """An editor that rounds to two decimals leaves gaps of hundredths of a mm: they are closed."""
    text = piece_to_svg(moved(SLEEVE, rotation_deg(7)))

    def rounded(found: re.Match[str]) -> str:
        return re.sub(r"-?\d+\.\d+", lambda m: f"{float(m[0]):.2f}", found[0])

    rough = re.sub(r' d="[^"]*"', rounded, text)
    assert rough != text
    assert near(read(rough), moved(SLEEVE, rotation_deg(7)), 0.02)


def test_a_gap_too_wide_is_told_with_both_lines():
    """Where the outline is open the sentence names both edges and their lines."""
    with pytest.raises(BadInput, match=r'line 4, edge "hem": it stops 4 mm') as caught:
        read(square(BY_HAND.replace("M10 80H110", "M14 80H110")))
    assert '"left" (line 5)' in str(caught.value)


def test_path_data_is_read_in_all_its_ways():
    """Relative commands, shorthand and run-on numbers mean the same line (SVG 2, chapter 9)."""
    assert path_from_text("m 0 0 l 10 0 v -10") == path_from_text("M 0 0 L 10 0 L 10 -10")
    assert path_from_text("M0-5.5.5.25") == path_from_text("M 0 -5.5 L 0.5 0.25")
    assert path_from_text("M0 0C1 1 2 1 3 0S5 -1 6 0") == path_from_text(
        "M 0 0 C 1 1 2 1 3 0 C 4 -1 5 -1 6 0"
    )
    assert path_from_text("M0 0q10 20 20 0t20 0") == path_from_text("M0 0Q10 20 20 0Q30 -20 40 0")
    quadratic = path_from_text("M0 0 Q 30 60 90 0").segments[0]
    assert quadratic.point(0.5).is_near((37.5, -30.0), 1e-12)
    drawing = SvgPath("M0 0c1 2 3 4 5 6s7 8 9 10q1 2 3 4t5 6h7v8l-9 1")
    ours = path_from_text("M0 0c1 2 3 4 5 6s7 8 9 10q1 2 3 4t5 6h7v8l-9 1")
    assert ours.end.is_near((drawing[-1].end.x, -drawing[-1].end.y), 1e-9)
    assert ours.length == pytest.approx(drawing.length(error=1e-6), abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(*[st.floats(-9e5, 9e5, allow_nan=False) for _ in range(2)]),
        min_size=2,
        max_size=6,
    )
)
def test_path_text_keeps_every_digit(points):
    """Any floats, also tiny ones written with an exponent, are read back the same."""
    path = polyline(points)
    assert path_from_text(path_text(path)) == path


# --- faults --------------------------------------------------------------------------------------

BOMB = '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;">]><svg'


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda s: s.replace("data-clothwright-piece", "data-other"), "not annotated"),
        (lambda s: s.replace('data-format="1"', 'data-format="7"'), "format"),
        (lambda s: s.replace('data-role="seam"', 'data-role="seem"', 1), 'Did you mean "seam"?'),
        (lambda s: s.replace('data-allowance="', 'data-allowance="x', 1), "a number of mm"),
        (lambda s: s.replace('data-allowance="', 'data-allowance="-', 1), "expected 0 or more"),
        (lambda s: re.sub('data-allowance="[^"]*"', 'data-allowance="nan"', s, count=1), "nan"),
        (lambda s: re.sub('data-allowance="[^"]*"', 'data-allowance="1 el"', s, count=1), "length"),
        (lambda s: re.sub('(data-edge[^>]*) d="M', r'\1 d="A', s, count=1), "path data"),
        (
            lambda s: re.sub('(data-edge[^>]* d="[^"]*)', r"\1 M 1 2 L 3 4", s, count=1),
            "second line",
        ),
        (lambda s: re.sub('(data-edge[^>]*) d="M', r'\1 d="M 1e9 ', s, count=1), "nowhere"),
        (lambda s: re.sub('(data-edge[^>]*) d="[^"]*"', r'\1 d=""', s, count=1), "draws nothing"),
        (lambda s: s[: len(s) // 2], "well-formed"),
        (lambda s: s.replace("<svg", BOMB, 1), "DOCTYPE"),
        (lambda s: s.replace('data-notch="', 'data-notch="no such ', 1), "not there"),
        (lambda s: re.sub('data-at="[^"]*"', 'data-at="9999"', s, count=1), "a place on the edge"),
        (lambda s: s.replace('data-pressed="start"', 'data-pressed="up"', 1), "one of start, end"),
        (lambda s: s.replace('data-count="1"', 'data-count="0"', 1), "1 to 99"),
        (
            lambda s: s.replace('<path class="edge', "<path transform='scale(2)' class=\"edge", 1),
            "ends",
        ),
        (lambda s: s.replace("<title>", "<g transform='turn(2)'/><title>", 1), "transform"),
        (lambda s: s.replace("<title>", "<g transform='scale(0)'/><title>", 1), "flattens"),
        (lambda s: re.sub(' (width|height)="[^"]*"', "", s, count=2), "names no physical size"),
        (lambda s: re.sub('(width|height)="([0-9]+)mm"', r'\1="\2px"', s), "no physical size"),
        (lambda s: re.sub('viewBox="[^"]*"', 'viewBox="0 0 x 1"', s, count=1), "viewBox"),
        (lambda s: re.sub("<path class=.edge.*", "", s), "fewer than two edges"),
    ],
)
def test_a_spoilt_drawing_is_refused_in_a_sentence(spoil, words):
    """Each fault names the file and says what was expected; nothing but BadInput escapes."""
    whole = piece_to_svg(FRONT)
    text = spoil(whole)
    assert text != whole
    with pytest.raises(BadInput) as caught:
        piece_from_svg(text.encode(), "front.svg")
    assert words in str(caught.value)
    assert "ront.svg" in str(caught.value)


def test_a_fault_names_its_line():
    """The line of the element at fault is in the sentence."""
    text = piece_to_svg(FRONT).replace('data-role="seam"', 'data-role="seem"', 1)
    line = next(n for n, x in enumerate(text.splitlines(), 1) if "seem" in x)
    with pytest.raises(BadInput, match=f'front.svg, line {line}, edge "hem"'):
        read(text)


@settings(max_examples=60, deadline=None)
@given(at=st.integers(0, 10_000), junk=st.binary(min_size=1, max_size=4))
def test_bytes_changed_anywhere_never_give_anything_but_a_piece_or_a_sentence(at, junk):
    """Four bytes overwritten at any place: a piece still, or BadInput."""
    data = bytearray(piece_to_svg(FRONT).encode())
    at %= len(data)
    data[at : at + len(junk)] = junk
    try:
        assert isinstance(piece_from_svg(bytes(data), "front.svg"), Piece)
    except BadInput as error:
        told = str(error)
    else:
        told = "read"
    assert told


def test_corner_joins_follow_their_corner_when_edges_are_turned_round():
    """A join belongs to the point its edge was drawn from, whichever way the edge then runs."""
    text = BY_HAND.replace('data-corner="low left"', 'data-corner="low left" data-join="folded"')
    piece = read(square(text))
    joins = {e.path.start: e.join for e in piece.edges}
    assert joins[Vec(10.0, -80.0)] is Join.FOLDED
    assert list(joins.values()).count(Join.FOLDED) == 1


def test_scaling_in_an_editor_scales_lines_and_nothing_else():
    """Twice the size in an editor: edges twice as long, allowances as they were."""
    plain = replace(
        FRONT,
        edges=tuple(replace(e, notches=()) for e in FRONT.edges),
        darts=(),
    )
    big = read(wrapped(piece_to_svg(plain), "scale(2)"))
    expected = tuple(
        Edge(
            name=e.name,
            path=Path(e.path.segments).transformed(scaling(2)),
            role=e.role,
            allowance=e.allowance,
            corner=e.corner,
            join=e.join,
        )
        for e in plain.edges
    )
    assert near(big, replace(moved(plain, scaling(2)), edges=expected))
