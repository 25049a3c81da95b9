"""What is gathered, folded or stretched is drawn on the piece, where and as long as it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.drawing.worked import piece_in, worked
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Notch, Piece
from clothwright.picture.picture import DrawnRole, Picture, Stroke, Text
from clothwright.units import Unit
from clothwright.words import say
from tests.garments.wardrobe import GARMENTS
from tests.specimens import line, seam


def block(name: str, wide: float, *notches: Notch) -> Piece:
    """A block 200 mm high whose top runs from its right end to its left."""
    corners = ((0, 0), (wide, 0), (wide, 200), (0, 200))
    names = ("bottom", "right", "top", "left")
    sides = zip(names, corners, (*corners[1:], corners[0]), strict=True)
    edges = tuple(
        Edge(name=n, path=line(a, b), notches=notches if n == "top" else ()) for n, a, b in sides
    )
    return Piece(name=name, edges=edges)


def skirt_on_yoke(**how: object) -> Pattern:
    """A skirt of 300 mm, notched at 50 and 250 from its right, on a yoke of 200."""
    skirt = block("skirt", 300.0, Notch(at=50.0, name="first"), Notch(at=250.0, name="last"))
    more = {"ease": 100.0, "ease_from": "first", "ease_to": "last", **how}
    on = seam("yoke", "yoke.top", "skirt.top", **more)
    return Pattern(pieces=(skirt, block("yoke", 200.0)), seams=(on,))


def strokes(picture: Picture) -> list[Stroke]:
    return [i for i in picture.items if isinstance(i, Stroke) and i.role is DrawnRole.MARK]


def words(picture: Picture) -> list[str]:
    return [i.words for i in picture.items if isinstance(i, Text) and i.role is DrawnRole.MARK]


@pytest.mark.parametrize(
    ("join", "said"),
    [("gathered", "gather to 10 cm"), ("elasticated", "draw in by elastic to 10 cm")],
)
def test_gathers_are_a_wave_between_their_notches(join: str, said: str) -> None:
    """Within the piece, from 50 to 250 mm; what is 200 long and takes 100 is 100 long then."""
    pattern = skirt_on_yoke(join=join)
    picture = piece_in(pattern, pattern.piece("skirt"), Unit.cm)
    (wave,) = strokes(picture)
    xs, ys = zip(*wave.path.flatten(), strict=True)
    assert (min(xs), max(xs)) == (pytest.approx(50.0), pytest.approx(250.0))
    assert 180.0 < min(ys) < max(ys) < 200.0
    assert words(picture) == [said]
    assert strokes(piece_in(pattern, pattern.piece("yoke"), Unit.cm)) == []


def test_pleats_are_two_lines_and_an_arrow_each() -> None:
    """Two pleats that take 50 each in 200 mm: 25 seen, 50 folded, 50 seen, 50 folded, 25 seen."""
    pattern = skirt_on_yoke(join="pleated", folds=2, fold_to="end")
    picture = piece_in(pattern, pattern.piece("skirt"), Unit.inch)
    lines = [s.path for s in strokes(picture) if s.path.start.y == pytest.approx(200.0)]
    assert sorted(round(p.start.x) for p in lines) == [75, 125, 175, 225]
    assert all(p.start.x == pytest.approx(p.end.x) for p in lines)
    assert words(picture) == ["2 pleats, each 1 in deep"]


def test_what_is_only_eased_or_stretched_has_no_line() -> None:
    """Notches tell of ease; of a stretched side it is said by how much."""
    eased = skirt_on_yoke()
    assert words(piece_in(eased, eased.piece("skirt"), Unit.cm)) == []
    band = seam("yoke", "skirt.top", "yoke.top", ease=-100.0, join="stretched")
    pattern = replace(eased, seams=(band,))
    picture = piece_in(pattern, pattern.piece("yoke"), Unit.cm)
    assert (strokes(picture), words(picture)) == ([], ["stretch by 10 cm"])


def test_over_several_edges_it_is_said_of_the_whole() -> None:
    """The shirt's sleeve is pleated over two edges; the blouse's cap over its one."""
    shirt, blouse = GARMENTS["shirt"](), GARMENTS["blouse"]()
    sleeve = shirt.piece("sleeve")
    found = [w for e in sleeve.edges for w in worked(shirt, sleeve, e)]
    assert {say(w.words, Unit.cm) for w in found} == {"2 pleats, each 1 cm deep"}
    assert len(found) == 2
    cap = blouse.piece("sleeve").edge("cap")
    (one,) = worked(blouse, blouse.piece("sleeve"), cap)
    assert say(one.words, Unit.cm).startswith("gather to ")
