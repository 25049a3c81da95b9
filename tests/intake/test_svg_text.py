"""Words of an SVG are read with their place, height and turn."""

import pytest

from clothwright.intake.svg import READER, read_svg


def words(body, size='width="100mm" height="100mm" viewBox="0 0 100 100"'):
    """Return the texts of a drawing."""
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'
    return read_svg(svg.encode(), "d.svg").texts


def test_a_text_stands_where_it_is_drawn():
    """Words in the middle of x, y (text-anchor), y up, letters in mm."""
    (found,) = words('<text x="40" y="70" font-size="5" text-anchor="middle">cut  2</text>')
    assert found.words == "cut 2"
    assert found.at.x == pytest.approx(40.0)
    assert found.at.y == pytest.approx(-70.0 + 0.35 * 5)
    assert (found.height, found.turn_deg) == (5.0, 0.0)


def test_transforms_and_sheets_count():
    """A turned group turns the reading; a rule of the style sheet gives the height; half size."""
    body = (
        "<style>text{font-size:8px;text-anchor:middle}</style>"
        '<g transform="rotate(-90) scale(.5)"><text>fold</text></g>'
    )
    (found,) = words(body)
    assert found.turn_deg == pytest.approx(90.0)
    assert found.height == pytest.approx(4.0)


def test_each_line_of_a_text_is_read_alone():
    """Spans with a place of their own are lines; others belong to the line they stand in."""
    body = (
        '<text x="10" y="10" font-size="4"><tspan x="10" y="10">Front</tspan>'
        '<tspan x="10" dy="5">cut <tspan font-weight="bold">1</tspan> on fold</tspan></text>'
    )
    assert [t.words for t in words(body)] == ["Front", "cut 1 on fold"]


def test_hidden_words_are_not_read():
    """What a browser does not show is not read."""
    assert words('<g display="none"><text>no</text></g><text visibility="hidden">no</text>') == ()


def test_the_reader_reads():
    """The value listed in READERS carries the function that reads."""
    assert READER.read is read_svg
