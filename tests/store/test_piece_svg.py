"""A piece's drawing: exact round trip, readable by others, faults told in sentences."""

from __future__ import annotations

import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG
from svgelements import Path as SvgPath

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import BadInput
from clothwright.geometry.transform import rotation_deg, translation
from clothwright.pattern.whole import moved
from clothwright.store import piece_from_svg, piece_to_svg

PIECES = checked_waistcoat().bought.pieces


@pytest.mark.parametrize("piece", PIECES, ids=lambda p: p.name)
def test_round_trip_is_exact(piece):
    """Writing and reading a piece gives an equal piece, to the last digit."""
    assert piece_from_svg(piece_to_svg(piece).encode(), "x.svg") == piece


@settings(max_examples=25, deadline=None)
@given(angle=st.floats(-180, 180), x=st.floats(-1e3, 1e3), y=st.floats(-1e3, 1e3))
def test_round_trip_is_exact_wherever_the_piece_lies(angle, x, y):
    """Turned and moved pieces have coordinates with many digits; all of them stay."""
    piece = moved(PIECES[0], rotation_deg(angle).then(translation((x, y))))
    assert piece_from_svg(piece_to_svg(piece).encode(), "x.svg") == piece


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
        assert seen[edge.name].length(error=1e-6) * 25.4 / 96 == pytest.approx(
            edge.length, abs=0.05
        )


def test_relative_path_data_is_read_too():
    """A drawing program may rewrite path data; relative commands mean the same line."""
    from clothwright.store.piece_svg import path_from_text

    assert path_from_text("m 0 0 l 10 0 v -10") == path_from_text("M 0 0 L 10 0 L 10 -10")


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda s: s.replace("data-clothwright-piece", "data-other"), "not annotated"),
        (lambda s: s.replace('data-format="1"', 'data-format="7"'), "format"),
        (lambda s: s.replace('data-role="seam"', 'data-role="seem"', 1), "one of seam, hem"),
        (lambda s: s.replace('data-allowance="', 'data-allowance="x', 1), "a number of mm"),
        (lambda s: s.replace('data-allowance="', 'data-allowance="-', 1), "0 mm or more"),
        (lambda s: s.replace(' d="M', ' d="Q', 2), "path data"),
        (lambda s: s[: len(s) // 2], "well-formed"),
        (lambda s: '<!DOCTYPE svg [<!ENTITY a "b">]>' + s, "DOCTYPE"),
        (lambda s: s.replace('data-notch="', 'data-notch="no such ', 1), "not there"),
        (
            lambda s: s.replace('<path class="edge', "<path transform='scale(2)' class=\"edge", 1),
            "transform",
        ),
    ],
)
def test_a_spoilt_drawing_is_refused_in_a_sentence(spoil, words):
    """Each fault names the file and says what was expected; nothing but BadInput escapes."""
    text = spoil(piece_to_svg(PIECES[0]))
    with pytest.raises(BadInput) as caught:
        piece_from_svg(text.encode(), "front.svg")
    assert words in str(caught.value)
    assert "ront.svg" in str(caught.value)


@settings(max_examples=60, deadline=None)
@given(at=st.integers(0, 10_000), junk=st.binary(min_size=1, max_size=4))
def test_bytes_changed_anywhere_never_give_anything_but_a_piece_or_a_sentence(at, junk):
    """Four bytes overwritten at any place: a piece still, or BadInput."""
    data = bytearray(piece_to_svg(PIECES[0]).encode())
    at %= len(data)
    data[at : at + len(junk)] = junk
    try:
        piece_from_svg(bytes(data), "front.svg")
    except BadInput:
        return
