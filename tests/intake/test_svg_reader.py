"""The reader of SVG: what is drawn is read true, what is not shown is not read, faults are placed.

The outside reference is svgelements, a general-purpose reader of SVG.
"""

from __future__ import annotations

import io
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG, Shape
from svgelements import Path as SvgPath

from clothwright.errors import BadInput
from clothwright.geometry.path_data import lines_from_text
from clothwright.geometry.vec import Vec
from clothwright.intake.svg import read_svg

NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
PAGE = 'width="500mm" height="500mm" viewBox="0 0 500 500"'
BOX = '<rect x="10" y="10" width="100" height="40"/>'


def read(body: str, head: str = PAGE):
    return read_svg(f"<svg {NS} {head}>{body}</svg>".encode(), "d.svg")


def sizes(body: str, head: str = PAGE) -> list[tuple[float, float]]:
    out = []
    for line in read(body, head).lines:
        low, high = line.path.bounds()
        out.append((round(high.x - low.x, 4), round(high.y - low.y, 4)))
    return out


def as_the_reference_sees_it(body: str, head: str) -> list[tuple[float, ...]]:
    """Length and box in mm of every line, by svgelements (it counts 96 pixels to the inch)."""
    drawing = SVG.parse(io.StringIO(f"<svg {NS} {head}>{body}</svg>"), reify=False, ppi=96.0)
    out = []
    for element in drawing.elements():
        if isinstance(element, Shape):
            whole = SvgPath(element)
            whole.approximate_arcs_with_cubics(error=0.01)  # it cannot scale arcs unevenly itself
            for part in whole.reify().as_subpaths():
                path = SvgPath(part)
                box = path.bbox()
                k = 25.4 / 96
                out.append(tuple(v * k for v in (path.length(error=1e-7), *box)))
    return out


DRAWINGS = [
    BOX,
    '<circle cx="70" cy="80" r="30"/><ellipse cx="9" cy="8" rx="7" ry="3"/>',
    '<rect x="5" y="6" width="70" height="40" rx="10" ry="8"/>',
    '<rect x="5" y="6" width="70" height="40" rx="10"/>',
    '<polygon points="0,0 10,0 10 20"/><polyline points="1 2 3 4 9 1"/>',
    '<line x1="1" y1="2" x2="30" y2="-4"/>',
    '<path d="M10 10 C 20 30 40 30 50 10 S 80 -10 90 10 q 5 9 12 0 t 12 0 z"/>',
    '<path d="M10 10 A 30 20 25 0 1 60 40 A 30 20 25 1 0 10 90 a5 5 0 01 6 6"/>',
    '<path d="m5 5h20v30l-9-9zm40 0 9 9-3 12z"/>',
    '<g transform="translate(30 40) rotate(33)"><g transform="scale(2 .5)">' + BOX + "</g></g>",
    '<g transform="matrix(.5 .2 -.3 1.1 20 30) skewX(20)"><circle r="30"/></g>',
    '<defs><g id="a">' + BOX + '</g></defs><use xlink:href="#a" x="7" y="8"/><use href="#a"/>',
    '<g style="transform:rotate(10deg)">' + BOX + "</g>",
    '<rect x="1cm" y="2mm" width="1in" height="72pt"/>',
]


@pytest.mark.parametrize("body", DRAWINGS)
@pytest.mark.parametrize(
    "head",
    [
        PAGE,
        'width="20in" height="20in" viewBox="0 0 500 500"',
        'width="50cm" height="40cm" viewBox="10 20 250 250"',
        'width="50cm" height="40cm" viewBox="0 0 250 250" preserveAspectRatio="none"',
        'width="100mm" height="80mm"',
    ],
)
def test_lengths_and_boxes_agree_with_the_reference(body, head):
    """Every shape under every kind of page and move: length and size within 0.001 %."""
    ours = []
    for line in read(body, head).lines:
        low, high = line.path.bounds()
        ours.append((line.path.length, low.x, low.y, high.x, high.y))
    theirs = as_the_reference_sees_it(body, head)
    assert len(ours) == len(theirs) > 0
    for (length, x0, y0, x1, y1), (ref, rx0, ry0, rx1, ry1) in zip(ours, theirs, strict=True):
        assert length == pytest.approx(ref, rel=1e-5, abs=1e-3)
        assert (x1 - x0, y1 - y0) == pytest.approx((rx1 - rx0, ry1 - ry0), rel=1e-3, abs=0.02)


@settings(max_examples=60, deadline=None)
@given(
    rx=st.floats(1, 200),
    ry=st.floats(1, 200),
    turn=st.floats(-180, 180),
    large=st.booleans(),
    sweep=st.booleans(),
    x=st.floats(5, 300),
    y=st.floats(-300, 300),
)
def test_arcs_agree_with_the_reference(rx, ry, turn, large, sweep, x, y):
    """An arc of path data has the reference's length, and starts and ends where it says."""
    d = f"M 0 0 A {rx} {ry} {turn} {large:d} {sweep:d} {x} {y}"
    (line,) = lines_from_text(d)
    assert (line.path.start, line.path.end) == (Vec(0.0, 0.0), Vec(x, -y))
    reference = SvgPath(d)
    assert line.path.length == pytest.approx(reference.length(error=1e-6), rel=2e-5, abs=1e-3)
    for k in (0.25, 0.5, 0.75):
        p = reference.point(k)
        assert line.path.nearest((p.x, -p.y))[1] < 0.005


# --- how large -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("head", "known", "size"),
    [
        ('width="500MM" height="500MM" viewBox="0 0 500 500"', True, (100, 40)),
        ('width="500mm" viewBox="0 0 500 500"', True, (100, 40)),
        ('height="500mm" viewBox="0 0 500 500"', True, (100, 40)),
        ('width="500mm" height="100%" viewBox="0 0 500 500"', True, (100, 40)),
        ('width="500mm" height="900mm" viewBox="0 0 500 500"', True, (100, 40)),
        ('width="1000mm" height="500mm" viewBox="0 0 500 500"', True, (100, 40)),
        ('width="100%" height="100%" viewBox="0 0 500 500"', False, (100, 40)),
        ('width="800" height="800" viewBox="0 0 400 400"', False, (100, 40)),
        ('width="800px" height="800px" viewBox="0 0 400 400"', False, (100, 40)),
        ('width="50em" height="50em" viewBox="0 0 500 500"', False, (100, 40)),
        ('viewBox="0 0 500 500"', False, (100, 40)),
        ("", False, (100, 40)),
    ],
)
def test_the_size_is_known_or_said_to_be_unknown(head, known, size):
    """A page in mm gives mm; pixels, percents or nothing give the drawing's own units."""
    drawing = read(BOX, head)
    assert drawing.scale_known is known
    assert sizes(BOX, head) == [pytest.approx(size)]


def test_a_page_within_the_page_has_its_own_scale():
    """Nested svg and symbols fit their viewBox into their size (SVG 2, 8.2)."""
    inner = '<svg x="50" y="50" width="100" height="100" viewBox="0 0 200 200">' + BOX + "</svg>"
    assert sizes(inner) == [(50.0, 20.0)]
    assert read(inner).lines[0].path.bounds()[0].is_near((55, -75), 1e-6)
    symbol = '<symbol id="s" viewBox="0 0 10 10"><rect width="5" height="6"/></symbol>'
    assert sizes(symbol) == []
    assert sizes(symbol + '<use href="#s" width="100" height="100"/>') == [(50.0, 60.0)]


# --- what is not drawn ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    "hidden",
    [
        f"<defs>{BOX}</defs>",
        f'<clipPath id="c">{BOX}</clipPath>',
        f'<mask id="c">{BOX}</mask>',
        f'<marker id="c">{BOX}</marker>',
        f'<pattern id="c">{BOX}</pattern>',
        f'<symbol id="c">{BOX}</symbol>',
        f"<metadata>{BOX}</metadata>",
        f'<g display="none">{BOX}</g>',
        f'<g style="display : none">{BOX}</g>',
        f"<style>/* x */ .a, .h {{ fill:red; display:none }}</style><g class='b h'>{BOX}</g>",
        f"<style>#no {{ display:none !important }}</style><g id='no'>{BOX}</g>",
        f'<g visibility="hidden">{BOX}</g>',
        '<rect width="-5" height="5"/>',
        '<circle r="0"/>',
        '<polygon points="0,0 1,1"/>',
        '<path d="M 3 4"/>',
        '<path d=""/>',
        '<line x1="3" y1="3" x2="3" y2="3"/>',
    ],
)
def test_what_a_browser_does_not_show_is_not_read(hidden):
    """Definitions, hidden layers and shapes without size make no outline."""
    assert sizes(hidden + BOX) == [(100.0, 40.0)]


def test_a_shown_part_of_a_hidden_group_is_read():
    """visibility can be switched on again further in, display cannot (CSS 2, 11.2)."""
    assert sizes(f'<g visibility="hidden"><g visibility="visible">{BOX}</g></g>') == [(100.0, 40.0)]
    assert sizes(f'<g display="none"><g display="inline">{BOX}</g></g>') == []


def test_what_is_left_out_is_told():
    """Pictures, hidden parts and missing targets are counted in words; texts are read."""
    body = (
        f'<text>a</text><text>b</text><image/><g display="none">{BOX}</g>'
        '<use href="#nowhere"/><use href="other.svg#a"/>'
    )
    assert read(body).notes == (
        "left out: 1 hidden part",
        "left out: 1 picture",
        "left out: 2 uses of something that is not in this file",
    )


# --- names ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "label"),
    [
        ('<rect id="Front" width="9" height="9"/>', "Front"),
        ('<rect id="path4711" width="9" height="9"/>', ""),
        ('<rect id="rect-1" width="9" height="9"/>', ""),
        ('<rect width="9" height="9"><title>Back</title></rect>', "Back"),
        ('<g id="sleeve"><rect id="rect8" width="9" height="9"/></g>', "sleeve"),
        ('<g id="Yoke"><g data-name="Size 10"><rect width="9" height="9"/></g></g>', "Yoke"),
        ('<g data-name="Left Front"><rect width="9" height="9"/></g>', "Left Front"),
        (
            '<g xmlns:i="http://www.inkscape.org/namespaces/inkscape" i:label="Yoke" id="layer1">'
            '<rect width="9" height="9"/></g>',
            "Yoke",
        ),
        ('<g id="Skirt_x0020_front"><rect width="9" height="9"/></g>', "Skirt front"),
        ('<g id="J_x00FC_pe"><rect width="9" height="9"/></g>', "J\u00fcpe"),
        ('<g id="Yoke_2_"><rect width="9" height="9"/></g>', "Yoke"),
        ('<g id="Yoke"><g id="Size_x0020_10"><rect width="9" height="9"/></g></g>', "Yoke"),
    ],
)
def test_names_a_person_gave_are_kept(body, label):
    """A label, a title or an id of the line or its group; numbers a program gave say nothing."""
    assert read(body).lines[0].label == label


@pytest.mark.parametrize(
    "named",
    [
        'id="Size_x0020_{}"',
        'id="Size_x20_{}"',
        'id="Size_{}"',
        'id="Size-{}_1_"',
        'id="_x0053_ize_x003A__x0020_{}"',
        'id="layer{}" data-name="Size {}"',
        'id="Size_{}_"',
        'title="Size {}"',
    ],
)
def test_a_layer_is_called_by_a_size_however_it_is_written(named):
    """An id holds no spaces: programs write `_x0020_` (ISO/IEC 9075-14), `_x20_`, a dash or `_`."""
    body = ""
    for k, size in enumerate((8, 10, 12)):
        name = named.replace("{}", str(size))
        shape = f'<rect width="{300 + k * 10}" height="{400 + k * 10}"/>'
        if name.startswith("title"):
            name, shape = "", f"<title>{name.split(chr(34))[1]}</title>{shape}"
        body += f"<g {name}>{shape}</g>"
    drawing = read(body)
    assert drawing.sizes == ("8", "10", "12")
    assert [x.size for x in drawing.lines] == ["8", "10", "12"]


# --- faults --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (
            '\n<path d="M 0 0 L 10 foo"/>',
            "line 2, path: the command L in the path data lacks numbers",
        ),
        ('<path id="a" d="M 0 0 L 10"/>', 'path "a": the command L in the path data lacks numbers'),
        ('<path d="L 10 3"/>', "does not start with M"),
        ('<path d="5 5 L 10 3"/>', "has a number where a command should be"),
        ('<path d="M 0 0 L nan 3 z"/>', "path data"),
        ('<path d="M 0 0 h 1e300 z"/>', "nowhere on a table"),
        ('<path d="M 0 0 A 1 1 0 2 0 5 5"/>', "neither 0 nor 1"),
        ('<polygon points="0,0 1,1 2,x"/>', "points"),
        ('<g transform="rotate(a)"><path/></g>', 'transform cannot be read: "rotate(a)"'),
        ('<g transform="turn(3)"><path/></g>', 'transform cannot be read: "turn(3)"'),
        ('<g transform="scale(0)"><path/></g>', "flattens"),
        ('<g id="a"><use href="#a"/></g>', '"#a" uses itself'),
        ('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', "uses itself"),
        ('<rect width="5ells" height="3"/>', '"5ells"'),
        ('<rect width="1e999" height="3"/>', "finite"),
        ("<g>" * 300 + "</g>" * 300, "inside each other"),
        ('<svg viewBox="1 2 3"><rect/></svg>', 'viewBox is "1 2 3"'),
    ],
)
def test_faults_are_told_with_file_and_line(body, words):
    """What cannot be read is refused with its place; nothing but BadInput escapes."""
    with pytest.raises(BadInput) as caught:
        read(body)
    assert words in str(caught.value), str(caught.value)
    assert "d.svg" in str(caught.value).lower()


def test_uses_that_multiply_are_stopped():
    """Ten uses of ten uses of ten ...: stopped at a number of lines no pattern has."""
    body = f'<g id="a0">{BOX}</g>' + "".join(
        f'<g id="a{n + 1}">' + f'<use href="#a{n}"/>' * 10 + "</g>" for n in range(7)
    )
    with pytest.raises(BadInput, match="more than 20000 lines"):
        read(body)


@settings(max_examples=80, deadline=None)
@given(at=st.integers(0, 2000), junk=st.binary(min_size=1, max_size=4))
def test_bytes_changed_anywhere_give_a_drawing_or_a_sentence(at, junk):
    """Bytes overwritten at any place: a drawing still, or BadInput."""
    data = bytearray(f"<svg {NS} {PAGE}>{''.join(DRAWINGS)}</svg>".encode())
    data[at % len(data) : at % len(data) + len(junk)] = junk
    try:
        told = str(read_svg(bytes(data), "d.svg").lines)
    except BadInput as error:
        told = str(error)
    assert told


def test_a_circle_is_within_its_promise():
    """0.01 mm on a circle of 600 mm radius (its own equation)."""
    (line,) = read('<circle cx="0" cy="0" r="600"/>').lines
    assert max(abs(math.hypot(*p) - 600) for p in line.path.flatten(0.0005)) < 0.001
