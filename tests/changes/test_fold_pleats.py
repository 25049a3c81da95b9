"""Pleats are folded by hand here: every layer has to end where the one over it does."""

from __future__ import annotations

from bisect import bisect
from itertools import pairwise

import pytest

from clothwright.changes.fold_pleats import FoldPleats, apply
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Grain, Notch, Piece
from clothwright.pattern.refs import parse_edge
from clothwright.pattern.walk import walk_seam

SLANT = polyline((Vec(600, 360), Vec(0, 300)))
LEVEL = polyline((Vec(600, 330), Vec(0, 330)))
BENT = Path((Cubic(Vec(600, 360), Vec(400, 320), Vec(200, 300), Vec(0, 300)),))
EDGES = {"slant": SLANT, "level": LEVEL, "bent": BENT}


def panel(name: str, top: Path) -> Piece:
    """A panel whose top is drawn from its right end to its left."""
    right, left = top.start, top.end
    low = (Vec(right.x, 0), Vec(left.x, 0))
    return Piece(
        name=name,
        edges=(
            Edge(name="hem", path=polyline((low[1], low[0]))),
            Edge(name="right", path=polyline((low[0], right))),
            Edge(name="top", path=top, notches=(Notch(at=10.0), Notch(at=top.length - 10.0))),
            Edge(name="left", path=polyline((left, low[1]))),
        ),
        grain=Grain(start=Vec(300, 50), end=Vec(300, 200)),
    )


def pleated(top: Path, to: str, *, folds: int = 3, turn: bool = False) -> Pattern:
    """A panel of 600 mm in pleats that take 240, on a band of 360."""
    band = panel("band", polyline((Vec(360, 50), Vec(0, 50))))
    b = parse_edge("skirt.top reversed" if turn else "skirt.top")
    waist = Seam(
        name="waist",
        a=(parse_edge("band.top reversed" if turn else "band.top"),),
        b=(b,),
        join="pleated",
        ease=240.0,
        folds=folds,
        fold_to=to,
    )
    return Pattern(pieces=(panel("skirt", top), band), seams=(waist,))


def creases(piece: Piece) -> list[tuple[float, float, bool]]:
    """How far from the right each fold begins and ends, and whether it is folded where it begins.

    Read from the marks that the maker folds by.
    """
    x = {m.name: m.path.start.x for m in piece.marks if m.path is not None}
    numbers = [n.removeprefix("waist fold ") for n in x if not n.endswith("place")]
    out = []
    for n in sorted(numbers, key=int):
        crease, place = 600.0 - x[f"waist fold {n}"], 600.0 - x[f"waist fold {n} place"]
        out.append((min(crease, place), max(crease, place), crease < place))
    return sorted(out)


def folded(piece: Piece) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Return the layers that are seen and those below, as (place, height) of the folded paper.

    Each fold is made by hand: paper beyond a crease is turned back, and forth again half-way.
    """
    path, made = piece.edge("top").path, creases(piece)
    seen, below = [], []
    for k in range(4001):
        at = path.point_at(path.length * k / 4000)
        flat, gone = 600.0 - at.x, 0.0
        for start, end, at_start in made:
            wide = end - start
            if flat >= end - 1e-9:
                gone += wide
            elif flat > start + 1e-9:
                into = flat - start
                there = into if into < wide / 2 else wide - into
                place = (start - there if at_start else start + there) - gone
                below.append((place, at.y))
                break
            else:
                seen.append((flat - gone, at.y))
                break
        else:
            seen.append((flat - gone, at.y))
    return sorted(seen), below


def height(seen: list[tuple[float, float]], place: float) -> float:
    """The height of what is seen at a place, between the points that were looked at."""
    k = min(max(bisect(seen, (place, 0.0)), 1), len(seen) - 1)
    (x0, y0), (x1, y1) = seen[k - 1], seen[k]
    return y0 + (y1 - y0) * (place - x0) / ((x1 - x0) or 1.0)


@pytest.mark.parametrize("to", ["end", "start", "box", "inverted", ""])
@pytest.mark.parametrize("edge", EDGES)
def test_folded_every_layer_ends_where_the_one_over_it_does(edge: str, to: str) -> None:
    """What is seen is one line without a step; what lies below has the same height within 0.05."""
    pattern = pleated(EDGES[edge], to)
    piece = apply(pattern, FoldPleats(seam="waist")).pattern.piece("skirt")
    seen, below = folded(piece)
    assert seen[-1][0] == pytest.approx(360.0, abs=4.0)
    steps = [abs(b[1] - a[1]) for a, b in pairwise(seen)]
    assert max(steps) < 0.2
    assert len(below) > 300
    assert max(abs(height(seen, x) - y) for x, y in below) < 0.05


@pytest.mark.parametrize("to", ["end", "start", "box", "inverted"])
def test_on_a_straight_edge_the_folded_line_is_straight(to: str) -> None:
    """From one end of the edge to the other; a level edge is as it was, and only marked."""
    piece = apply(pleated(SLANT, to), FoldPleats(seam="waist")).pattern.piece("skirt")
    seen, _ = folded(piece)
    (x0, y0), (x1, y1) = seen[0], seen[-1]
    line = [y0 + (y1 - y0) * (x - x0) / (x1 - x0) for x, _ in seen]
    assert max(abs(y - want) for (_, y), want in zip(seen, line, strict=True)) < 1e-6
    assert piece.edge("top").path.ends == SLANT.ends
    level = apply(pleated(LEVEL, to), FoldPleats(seam="waist")).pattern.piece("skirt")
    assert level.edge("top").length == pytest.approx(600.0)
    assert max(abs(p.y - 330.0) for p in level.edge("top").path.flatten()) < 1e-9


def test_folds_lie_the_way_that_is_said_and_take_what_is_said() -> None:
    """Three pleats 80 wide, 40 seen beside each end; to the end the crease comes first."""
    for to, first in (("end", True), ("start", False)):
        for turn in (False, True):
            pattern = pleated(LEVEL, to, turn=turn)
            made = creases(apply(pattern, FoldPleats(seam="waist")).pattern.piece("skirt"))
            assert [(round(a), round(b)) for a, b, _ in made] == [(60, 140), (260, 340), (460, 540)]
            assert {at_start for *_, at_start in made} == {first is not turn}
    box = creases(apply(pleated(LEVEL, "box"), FoldPleats(seam="waist")).pattern.piece("skirt"))
    assert [b - a for a, b, _ in box] == [pytest.approx(40.0)] * 6
    assert [at for *_, at in box] == [False, True] * 3


def test_the_walk_measures_what_is_seen() -> None:
    """The seam takes as much as its folds do now, and notches stay where they are seen."""
    pattern = pleated(SLANT, "end")
    done = apply(pattern, FoldPleats(seam="waist")).pattern
    walk = walk_seam(done, done.seam("waist"))
    seen, _ = folded(done.piece("skirt"))
    drawn = sum(Vec(*a).distance(Vec(*b)) for a, b in pairwise(seen))
    assert walk.b.length - done.seam("waist").ease == pytest.approx(drawn, abs=0.1)
    notches = done.piece("skirt").edge("top").notches
    assert [done.piece("skirt").edge("top").path.point_at(n.at).x for n in notches] == [
        pytest.approx(590.05, abs=0.1),
        pytest.approx(9.95, abs=0.1),
    ]


@pytest.mark.parametrize(
    ("pattern", "along", "words"),
    [
        (pleated(SLANT, "end", folds=0), "grain", "how many pleats"),
        (pleated(SLANT, "box", folds=40), "grain", ""),
        (pleated(polyline((Vec(200, 330), Vec(0, 330))), "end"), "grain", "between the marks"),
        (pleated(polyline((Vec(300, 900), Vec(0, 30))), "end"), "grain", "runs along this edge"),
    ],
)
def test_what_cannot_be_folded_is_refused(pattern: Pattern, along: str, words: str) -> None:
    """Not counted, or not to be fitted in; many small ones can be."""
    params = FoldPleats(seam="waist", along=along)
    if not words:
        assert apply(pattern, params).pattern.piece("skirt").edge("top").length > 600
        return
    with pytest.raises(CannotDo) as caught:
        apply(pattern, params)
    assert words in str(caught.value)


def test_folds_are_not_folded_twice() -> None:
    """Their marks are there already."""
    done = apply(pleated(SLANT, "end"), FoldPleats(seam="waist")).pattern
    with pytest.raises(CannotDo, match="marked already"):
        apply(done, FoldPleats(seam="waist"))
