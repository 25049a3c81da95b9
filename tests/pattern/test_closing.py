"""Where a garment opens, and by which line it closes: as dressmakers mark it (common practice)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.lay.panels import panel

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.pattern.closing import closings
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Mark
from clothwright.pattern.refs import parse_edge

BUTTONS = tuple(Mark(name=f"button {n}", at=Vec(25.0, 100.0 * n)) for n in (1, 2, 3))
CENTRE = Mark(name="centre front", path=polyline(((30.0, 80.0), (30.0, 200.0))))


def bodice(*marks: Mark, seams: tuple[Seam, ...] = (), how: str = "pair") -> Pattern:
    """A front 200 wide and 500 tall, its opening on the left, sewn to a back at its right edge."""
    front = replace(panel("front", 200.0, 500.0, how), marks=marks)
    side = Seam(name="side", a=(parse_edge("front.right"),), b=(parse_edge("back.left reversed"),))
    return Pattern(pieces=(front, panel("back", 220.0, 500.0, "once")), seams=(side, *seams))


@pytest.mark.parametrize(
    ("marks", "x"), [((CENTRE, *BUTTONS), 30.0), (BUTTONS, 25.0), ((), 0.0), (BUTTONS[:1], 0.0)]
)
def test_it_closes_on_the_centre_line_else_on_its_buttons_else_on_its_edge(
    marks: tuple[Mark, ...], x: float
) -> None:
    """The whole line counts, from the hem to the upper edge, however short it is marked."""
    [found] = closings(bodice(*marks))
    assert (found.name, found.piece.name) == ("centre front", "front")
    assert (found.line.start, found.line.end) == (Vec(x, 0.0), Vec(x, 500.0))


def other(kind: str) -> Seam:
    return Seam(
        name="middle", kind=kind, a=(parse_edge("front.left"),), b=(parse_edge("front.left"),)
    )


def test_what_is_sewn_up_does_not_open() -> None:
    """A centre seam is a seam; a piece cut once or on the fold has no other half."""
    assert closings(bodice(seams=(other("plain"),))) == ()
    assert closings(bodice(CENTRE, how="once")) == ()


def test_a_closing_is_called_as_its_own_seam_is() -> None:
    """A zip that she has listed as a closure has a name of hers."""
    [found] = closings(bodice(seams=(other("closure"),)))
    assert found.name == "middle"


def test_a_line_in_the_middle_of_a_piece_is_no_opening() -> None:
    """More than two fifths of the width beyond it is no stand of a front."""
    middle = Mark(name="centre line", path=polyline(((100.0, 80.0), (100.0, 400.0))))
    assert closings(bodice(middle)) == ()


def test_two_garments_with_a_centre_front_are_told_apart() -> None:
    """The line of each is called by its piece where another line or seam has the name."""
    coat = bodice(CENTRE)
    seam = replace(coat.seams[0], name="centre front")
    [found] = closings(replace(coat, seams=(seam,)))
    assert found.name == "centre front of front"


def test_a_coat_opens_at_its_front_and_nowhere_else() -> None:
    """Its facing, its sleeves and the skirt with a centre back seam do not."""
    whole = coat_and_skirt().bought
    assert [(c.name, c.piece.name) for c in closings(whole)] == [("centre front", "coat front")]


def test_a_pair_of_which_nothing_is_known_opens_nowhere() -> None:
    """Two straight edges that nothing is sewn to: either might be the side."""
    alone = panel("front", 200.0, 500.0, "pair")
    assert closings(Pattern(pieces=(alone,))) == ()
