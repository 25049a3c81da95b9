"""Sizes of a pattern: what corresponds, what lies between, what is refused."""

from __future__ import annotations

import functools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.specimens import skirt_front

from clothwright.demo.three_sizes import MISSES, nested_skirt
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.grading import SizeStation, blended, graded
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import INCH


@functools.cache
def sizes() -> SizeRange:
    """Return the sizes of the demo skirt."""
    found = nested_skirt().sizes
    assert found is not None
    return found


def points_of(piece: Piece) -> dict[str, tuple[float, float]]:
    """Return the named points of a piece."""
    return {name: (p.x, p.y) for name, p in piece.points().items()}


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("12", 0.0),
        ("14", 1.0),
        (" 16 ", 2.0),
        ("13", 0.5),
        ("15", 1.5),
        ("15,5", 1.75),
        ("14/16", 1.5),
    ],
)
def test_a_size_stands_where_its_number_does(text: str, at: float) -> None:
    """Numbers between two sizes are shares of the way; a slash is half-way."""
    assert sizes().position(text) == pytest.approx(at)


@pytest.mark.parametrize("text", ["10", "18", "16.01"])
def test_beyond_the_range_is_refused(text: str) -> None:
    """Nothing is known there, and nothing is made up; the nearest size is named."""
    with pytest.raises(CannotDo, match=r"beyond them nothing is known.* size 1[26]"):
        sizes().position(text)


@pytest.mark.parametrize("text", ["M", "", "14 16", "nan", "inf", "12/16"])
def test_what_is_no_size_is_said(text: str) -> None:
    """The sizes there are, are named."""
    with pytest.raises(BadInput, match="12, 14, 16"):
        sizes().position(text)


def test_letters_have_neighbours_only() -> None:
    """Sizes named by letters have no numbers between, but a half-way."""
    named = replace(sizes(), names=("S", "M", "L"), drawn="M")
    assert named.position("s") == 0
    assert named.position("M/L") == 1.5
    with pytest.raises(BadInput, match="half-way between neighbours"):
        named.position("15")


def test_a_drawn_size_is_exactly_as_drawn() -> None:
    """At a whole place of the range nothing is computed."""
    each = sizes().each("skirt back")
    assert [graded(each, k) for k in range(3)] == list(each)


@pytest.mark.parametrize("name", ["skirt front", "skirt back", "waistband"])
@settings(max_examples=25, deadline=None)
@given(at=st.floats(0, 2))
def test_every_named_point_lies_on_the_line_between_its_places(name: str, at: float) -> None:
    """Grading by point shifts: the share of the way is the same for every point."""
    each = sizes().each(name)
    low = min(int(at), 1)
    share = at - low
    found = points_of(graded(each, at))
    first, second = points_of(each[low]), points_of(each[low + 1])
    for key, p in found.items():
        if key.endswith("middle"):
            continue  # a share of a length that is itself between, not a point of the drawing
        for k in (0, 1):
            wanted = first[key][k] * (1 - share) + second[key][k] * share
            assert p[k] == pytest.approx(wanted, abs=0.1), key


@pytest.mark.parametrize(("size", "at"), [("13", 0.5), ("15", 1.5)])
def test_half_way_between_table_sizes(size: str, at: float) -> None:
    """Waist and hip of a size half-way are the means of the table's neighbours (within 0.1 mm).

    Source: purchased-pattern misses table, waist 26 1/2, 28, 30 in, hip 36, 38, 40 in; the draft
    adds the same ease to each (docs/sources.md).
    """
    known = sizes()
    tables = [MISSES[n] for n in known.names]
    low = int(at)
    front, back = (
        graded(known.each(n), known.position(size)) for n in ("skirt front", "skirt back")
    )
    waist = 2 * (net_length(front, "waist") + net_length(back, "waist"))
    mean = (tables[low][0] + tables[low + 1][0]) / 2 * INCH
    assert waist == pytest.approx(mean + 18.0, abs=0.1)
    widths = [
        max(p.x for p in q.outline.flatten(0.1)) - min(p.x for p in q.outline.flatten(0.1))
        for q in (front, back)
    ]
    assert 2 * sum(widths) == pytest.approx(
        (tables[low][1] + tables[low + 1][1]) / 2 * INCH + 50.0, abs=0.1
    )


def test_blended_is_each_size_at_its_level() -> None:
    """12 at the waist and 16 at the hip: waist edge as in 12, hem as in 16, side between both."""
    each = sizes().each("skirt front")
    made = blended(each, (SizeStation(level="waist", at=0.0), SizeStation(level="hip", at=2.0)))
    assert made.edge("hem").length == pytest.approx(each[2].edge("hem").length, abs=1e-6)
    assert made.edge("waist").length == pytest.approx(each[0].edge("waist").length, abs=0.05)
    for old, new in zip(each[0].darts, made.darts, strict=True):
        assert new.b - new.a == pytest.approx(old.b - old.a, abs=0.05)
    side = made.edge("side").path
    for p in side.flatten(0.1):
        if p.y <= each[0].level("hip").at.y:
            assert p.x == pytest.approx(each[2].edge("side").path.start.x, abs=0.05)
    narrow, wide = (e.edge("side").path for e in (each[0], each[2]))
    for k in range(1, 20):
        p = side.point_at(side.length * k / 20)
        xs = [q.point_at(q.nearest(p)[0]).x for q in (narrow, wide)]
        assert xs[0] - 0.05 <= p.x <= xs[1] + 0.05


def test_blended_leaves_each_size_in_its_own_direction() -> None:
    """No bend at the level where the size begins to go over (the side runs straight into it)."""
    each = sizes().each("skirt front")
    made = blended(each, (SizeStation(level="waist", at=0.0), SizeStation(level="hip", at=2.0)))
    side = made.edge("side").path
    at = side.nearest((side.start.x, each[2].level("hip").at.y))[0]
    turns = [side.tangent_at(at + d).angle_deg for d in (-3.0, 3.0)]
    assert turns[1] - turns[0] == pytest.approx(0.0, abs=1.5)


def test_the_grain_of_blended_sizes_keeps_its_direction() -> None:
    """Whatever size its ends lie in, the grain stays as parallel to the fold as it was drawn."""
    each = tuple(s[0] for s in sizes().pieces)
    made = blended(each, (SizeStation(level="waist", at=0.0), SizeStation(level="hip", at=2.0)))
    assert made.grain is not None
    assert made.grain.start.x == pytest.approx(made.grain.end.x, abs=1e-9)
    assert made.grain.start != each[0].grain.start  # it lies where the size in its middle has it


def test_the_same_size_everywhere_is_that_size() -> None:
    """A blend of one size is the piece as drawn."""
    each = sizes().each("skirt front")
    stations = (SizeStation(level="waist", at=1.0), SizeStation(level="hip", at=1.0))
    assert blended(each, stations) == each[1]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda p: replace(p, levels=()), "different levels: hip, knee and none"),
        (lambda p: replace(p, darts=()), "different darts"),
        (lambda p: replace(p, grain=None), "different grain lines: one and none"),
        (
            lambda p: replace(p, edges=tuple(replace(e, notches=()) for e in p.edges)),
            "different notches",
        ),
        (
            lambda p: replace(p, marks=(Mark(name="line 1", path=p.edges[0].path),)),
            r"different marks: none and line 1 \(a line\)",
        ),
    ],
)
def test_sizes_that_do_not_correspond_are_refused(change, words: str) -> None:
    """The piece, both sizes and what differs are named."""
    piece = skirt_front()
    with pytest.raises(BadInput, match=words):
        SizeRange(names=("S", "M"), drawn="S", pieces=((piece,), (change(piece),)))


@pytest.mark.parametrize(
    ("names", "drawn"),
    [
        (("12",), "12"),
        (("12", "12"), "12"),
        (("16", "12"), "12"),
        (("12", "14"), "16"),
        (("", "14"), "14"),
    ],
)
def test_names_of_sizes(names: tuple[str, ...], drawn: str) -> None:
    """At least two, each once, smallest first, the drawn one among them."""
    piece = skirt_front()
    with pytest.raises(BadInput):
        SizeRange(names=names, drawn=drawn, pieces=((piece,),) * len(names))


def test_a_piece_taken_out_is_taken_out_of_every_size() -> None:
    """The rest stay; with the last one gone there are no sizes left."""
    known: SizeRange | None = sizes()
    for name in ("skirt front", "skirt back"):
        assert known is not None
        known = known.without(name)
        assert known is not None
        assert name not in known.piece_names
    assert known is not None
    assert known.without("waistband") is None


def test_sizes_are_no_part_of_what_changes_touch() -> None:
    """A pattern with a piece replaced keeps its sizes as bought."""
    pattern = nested_skirt()
    piece = replace(pattern.pieces[0], note="x")
    assert pattern.with_piece(piece).sizes == pattern.sizes
    assert isinstance(pattern, Pattern)
