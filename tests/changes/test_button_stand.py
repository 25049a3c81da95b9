"""A button stand on a front."""

from __future__ import annotations

from itertools import pairwise

import pytest

from clothwright.changes.button_stand import ButtonStand, apply
from clothwright.errors import CannotDo
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.buttons import least_stand
from clothwright.pattern.whole import moved
from clothwright.units import INCH, Unit
from clothwright.words import say
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice


@pytest.mark.parametrize(
    ("button", "least"),
    [
        (18.0, 15.35),  # D / 2 + 1/4 in; docs/sources.md, buttons (W57)
        (25.4, 19.05),  # both rules agree at 1 in (W58)
        (38.1, 28.575),  # over 1 in 3/4 D is the stricter (plane arithmetic)
    ],
)
def test_the_least_stand(button: float, least: float) -> None:
    """The wider of the two published rules."""
    assert least_stand(button) == pytest.approx(least, abs=1e-9)


def test_buttons_lie_on_the_centre_at_equal_distances() -> None:
    """Run over (n - 1), the first D + 1/4 in below the neck; the stand is as wide as the button."""
    before = bodice()
    edge = before.piece("front").edge("fold")
    done = apply(before, ButtonStand(edges=("front.fold",), button=20.0, count=5, last=80.0))
    front = done.pattern.piece("front")
    at = [m.at for m in front.marks if m.name.startswith("button")]
    gaps = [a.distance(b) for a, b in pairwise(at) if a and b]
    run = edge.length - 80.0 - 20.0 - INCH / 4
    assert gaps == pytest.approx([run / 4] * 4)
    new = front.edge("fold").path
    assert edge.path.point_at(5.0).distance(new.point_at(5.0)) == pytest.approx(20.0)


def test_turned_back_a_band_of_1_in_reaches_2_in_beyond_the_centre() -> None:
    """A handbook's band of 1 in with allowances of 1/2 in: cut 2 in beyond the centre (W63)."""
    before = bodice()
    front = before.piece("front")
    params = ButtonStand(edges=("front.fold",), button=12.0, stand=INCH / 2, back="fold")
    done = apply(before, params).pattern.piece("front")
    out = front.edge("fold").path.point_at(50.0).distance(done.edge("fold").path.point_at(50.0))
    assert out + INCH / 2 == pytest.approx(2 * INCH)


def test_a_front_that_lay_on_the_fold_is_cut_as_a_pair() -> None:
    """With a stand the front opens: two are cut, and what goes with it is named."""
    out = apply(GARMENTS["princess"](), ButtonStand(edges=("centre front.centre",)))
    assert [c.how for c in out.pattern.piece("centre front").cuts] == ["pair"]
    assert "make front neck facing, neck 1.8 cm longer" in say(out.said, Unit.cm)


def test_an_edge_beyond_the_centre_gets_no_stand() -> None:
    """The coat's front edge lies beyond the line that is marked as its centre."""
    p = GARMENTS["lined coat"]()
    with pytest.raises(CannotDo, match="the centre is marked"):
        apply(p, ButtonStand(edges=("coat front.front edge",)))


def test_the_fold_of_a_stand_runs_down_as_its_centre_does() -> None:
    """So that a mirrored front gives the mirrored marks, whichever way its edge is drawn."""
    front = bodice().piece("front")
    for piece in (front, moved(front, reflection(Vec(0.0, 0.0), Vec(0.0, 1.0)))):
        pattern = bodice().with_piece(piece)
        after = apply(pattern, ButtonStand(edges=("front.fold",), back="fold")).pattern
        marks = {m.name: m.path for m in after.piece("front").marks if m.path}
        ways = [(marks[n].end - marks[n].start).unit for n in ("centre", "stand fold")]
        assert ways[0].dot(ways[1]) == pytest.approx(1.0)


def test_a_fly_gets_no_stand() -> None:
    """Its line goes on into the crotch, where a stand would make a step: it is cut by itself."""
    with pytest.raises(CannotDo, match="goes on below, in crotch"):
        apply(GARMENTS["trousers"](), ButtonStand(edges=("front.fly",)))
