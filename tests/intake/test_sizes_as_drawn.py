"""Three sizes in one drawing as other programs write them: curves as chords, an edge drawn once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest

from clothwright.intake.answers import Answers
from clothwright.intake.waiting.at_once import Draft, drawn_draft
from clothwright.units import Unit
from tests.intake.plain import WAYS, Plain, Shape, Word, area, line

SIZES = {"10": "#d00000", "12": "#00a000", "14": "#0000d0"}
STEP = {"10": 0.0, "12": 15.0, "14": 30.0}
Points = list[tuple[float, float]]


def chords(a, way_a, b, way_b, count: int) -> Points:
    """A curve from a to b, leaving and arriving along the given ways, as so many chords."""
    p = (a, (a[0] + way_a[0], a[1] + way_a[1]), (b[0] - way_b[0], b[1] - way_b[1]), b)
    out = []
    for k in range(count + 1):
        t = k / count
        w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        out.append((sum(w[i] * p[i][0] for i in range(4)), sum(w[i] * p[i][1] for i in range(4))))
    return out


def bodice(size: str, count: int) -> tuple[Points, Points]:
    """A bodice's centre, and all the rest of its outline from the hem up and round to the neck."""
    d = STEP[size]
    neck, shoulder, arm = (
        (60.0, 420 + d / 2),
        (120 + d / 3, 470 + d / 2),
        (200 + d / 2, 440 + d / 2),
    )
    under = (260 + d, 300.0)
    rest = [(60.0, 60.0), (220 + d, 60.0)]
    rest += chords((220 + d, 60.0), (10, 90), under, (10, 60), count)[1:]
    rest += chords(under, (-70, 10), arm, (10, 60), count)[1:]
    rest += [shoulder]
    rest += chords(shoulder, (0, -45), neck, (-40, 0), count)[1:]
    return [neck, (60.0, 60.0)], rest


def sheet(count: int, centre: str) -> Plain:
    """The bodice in three sizes. centre: drawn "each", "once" (black) or "by the largest"."""
    shapes: list[Shape] = []
    words = [Word(text="Bodice front", at=(110, 250), size=9.0)]
    for n, (size, colour) in enumerate(SIZES.items()):
        middle, rest = bodice(size, count)
        if centre == "each":
            shapes.append(Shape(rings=((*rest, *middle[1:]),), stroke=colour))
        else:
            shapes.append(line(*rest, stroke=colour))
        if centre == "by the largest" and size == "14":
            shapes.append(line(*middle, stroke=colour))
        shapes.append(line((320, 100 + 20 * n), (350, 100 + 20 * n), stroke=colour))
        words.append(Word(text=size, at=(354, 98 + 20 * n)))
    if centre == "once":
        shapes.append(line((60, 435), (60, 60)))
    return Plain(shapes=tuple(shapes), words=tuple(words))


def made(plain: Plain, way: str, size: str) -> Draft:
    return drawn_draft(plain.read(way), Answers(allowance="none", size=size), Unit.mm)


def away(points: Sequence[tuple[float, float]], path) -> float:
    low = path.bounds()[0]
    x, y = min(p[0] for p in points), min(p[1] for p in points)
    return max(path.nearest((px - x + low.x, py - y + low.y))[1] for px, py in points)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("count", [3, 4, 5, 12, 40])
@pytest.mark.parametrize("centre", ["each", "once", "by the largest"])
def test_three_sizes_by_colour(way: str, count: int, centre: str) -> None:
    """Each size is its own, within 0.05 mm, with the same edges, and all are kept as one range."""
    plain = sheet(count, centre)
    assert plain.read(way).sizes == ("10", "12", "14")
    draft = made(plain, way, "12")
    assert [p.name for p in draft.pieces] == ["Bodice front"]
    assert draft.sizes is not None, draft.notes
    for size, (piece,) in zip(draft.sizes.names, draft.sizes.pieces, strict=True):
        _, rest = bodice(size, count)
        assert away(rest, piece.outline) < 0.05
        assert len(piece.edges) == len(draft.pieces[0].edges)
        starts = [e.path.start for e in piece.edges]
        for one in piece.edges:
            assert min(one.path.end.distance(p) for p in starts) < 1e-6
    wide = [p[0].outline.bounds()[1].x - p[0].outline.bounds()[0].x for p in draft.sizes.pieces]
    assert wide == pytest.approx([200 + d for d in STEP.values()], abs=3.0)
    assert all(math.isfinite(w) for w in wide)


@pytest.mark.parametrize("parts", [1, 3])
@pytest.mark.parametrize(("top", "foot"), [(435, 60), (435, 50), (445, 60), (440, 45)])
def test_a_centre_that_runs_on_beyond_each_size_is_cut_there(
    parts: int, top: float, foot: float
) -> None:
    """No size takes another's outline for its centre, nor a dart's legs into its own outline.

    The outline may be drawn in parts, each shorter than a piece.
    """
    shapes = [line((60, foot), (60, top))]
    for size, colour in SIZES.items():
        _, rest = bodice(size, 5)
        cuts = [0, 6, 12, len(rest) - 1] if parts == 3 else [0, len(rest) - 1]
        shapes += [line(*rest[a : b + 1], stroke=colour) for a, b in pairwise(cuts)]
        mouth, tip = (120.0, 150.0), 135.0 + STEP[size] / 10
        shapes.append(line((mouth[0], 60), (tip, 150), (mouth[1], 60), stroke=colour))
        ring = ((tip + 2 * math.cos(k), 150 + 2 * math.sin(k)) for k in range(6))
        shapes.append(area(*ring, stroke=colour))
    legend = sheet(5, "each")
    plain = Plain(
        shapes=(*shapes, *(s for s in legend.shapes if not s.closed and len(s.rings[0]) == 2)),
        words=legend.words,
    )
    draft = made(plain, "svg", "10")
    assert draft.sizes is not None, draft.notes
    for size, (piece,) in zip(draft.sizes.names, draft.sizes.pieces, strict=True):
        assert away(bodice(size, 5)[1], piece.outline) < 0.05
        assert len(piece.darts) == 1


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("colour", SIZES.values())
@pytest.mark.parametrize("size", ["10", "14"])
def test_a_line_drawn_once_is_every_size_s(way: str, colour: str, size: str) -> None:
    """The grain in the pen of any one size is the grain of all; a ring drawn once marks all."""
    ring = area(*((130 + 8 * math.cos(a), 200 + 8 * math.sin(a)) for a in range(6)), stroke=colour)
    plain = sheet(5, "each").and_(
        line((90, 110), (90, 310), stroke=colour),
        ring,
        words=[Word(text="Grain", at=(95, 205))],
    )
    draft = made(plain, way, size)
    assert draft.sizes is not None, draft.notes
    for (piece,) in draft.sizes.pieces:
        assert piece.grain is not None
        assert piece.grain.start.distance(piece.grain.end) == pytest.approx(200, abs=0.01)
        assert len(piece.marks) == 1


@pytest.mark.parametrize("way", WAYS)
def test_darts_go_together_by_their_places(way: str) -> None:
    """Though their legs do not quite meet, and another dart is the widest in another size."""
    shapes: list[Shape] = []
    words = [Word(text="Skirt", at=(130, 160), size=9.0)]
    for n, (size, colour) in enumerate(SIZES.items()):
        right, side = 200 + STEP[size], 8.0 + 2 * n
        shapes.append(area((0, 0), (right, 0), (right, 310), (0, 310), stroke=colour))
        legs = [((60 + x, 310), (60 + x / 20, 220)) for x in (-10, 10)]
        legs += [((right, 200 + y), (120 + 9 * n, 200 + y / 20)) for y in (-side, side)]
        shapes += [line(*leg, stroke=colour) for leg in legs]
        shapes.append(line((320, 100 + 20 * n), (350, 100 + 20 * n), stroke=colour))
        words.append(Word(text=size, at=(354, 98 + 20 * n)))
    draft = made(Plain(shapes=tuple(shapes), words=tuple(words)), way, "12")
    assert draft.sizes is not None, draft.notes
    for (piece,) in draft.sizes.pieces:
        points = {d.name: d.point for d in piece.darts}
        assert len(points) == 2
        for dart in draft.pieces[0].darts:
            assert points[dart.name].distance(dart.point) < 20


def test_a_mark_of_one_size_only_is_told() -> None:
    """It stays in the size shown, and hinders nothing."""
    plain = sheet(5, "each").and_(
        *(
            line((90, 200 + d), (130, 220 + d), stroke=c)
            for c, d in zip(SIZES.values(), (0, 0, 90), strict=True)
        )
    )
    draft = made(plain, "pdf", "12")
    assert draft.sizes is not None, draft.notes
    assert "not drawn in every size" in draft.notes[-1]


@pytest.mark.parametrize("way", WAYS)
def test_colours_rounded_to_different_sides_are_one(way: str) -> None:
    """A stroke in #d00000 and its legend in #cf0001 are of one size."""
    plain = sheet(5, "each")
    shapes = [
        replace(s, stroke=s.stroke.replace("d00000", "cf0001")) if not s.closed else s
        for s in plain.shapes
    ]
    assert replace(plain, shapes=tuple(shapes)).read(way).sizes == ("10", "12", "14")


@pytest.mark.parametrize("way", WAYS)
def test_darts_in_a_hem_that_all_sizes_share_close_no_piece(way: str) -> None:
    """The legs end on an edge that lies at one place in every size; each size stays one piece."""
    shapes: list[Shape] = []
    words = [Word(text="Skirt", at=(60, 160), size=9.0)]
    for n, (size, colour) in enumerate(SIZES.items()):
        right, tall = 200 + STEP[size], 310 + STEP[size]
        shapes.append(area((0, 0), (right, 0), (right, tall), (0, tall), stroke=colour))
        shapes.append(line((90, 0), (100 + n, 90), (110, 0), stroke=colour))
        shapes.append(line((320, 100 + 20 * n), (350, 100 + 20 * n), stroke=colour))
        words.append(Word(text=size, at=(354, 98 + 20 * n)))
    draft = made(Plain(shapes=tuple(shapes), words=tuple(words)), way, "12")
    assert [p.name for p in draft.pieces] == ["Skirt"]
    assert draft.sizes is not None, draft.notes
    assert [len(p.darts) for (p,) in draft.sizes.pieces] == [1, 1, 1]
