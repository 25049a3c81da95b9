"""Setting hem depth and corners."""

from __future__ import annotations

import pytest

from clothwright.changes.set_hem import SetHem, apply
from clothwright.errors import CannotDo
from clothwright.geometry.transform import reflection
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Join, Piece, Role
from clothwright.units import Unit
from clothwright.words import AtMost, say
from tests.specimens import edge, line, skirt


def flared(slope: float) -> Pattern:
    """A panel whose side runs out (slope > 0) or in towards the hem, by `slope` mm per mm."""
    top, bottom = 200.0, 200.0 + 400.0 * slope
    corners = [(0, 0), (bottom, 0), (top, 400), (0, 400)]
    names = ("hem", "side", "top", "centre")
    edges = tuple(edge(n, line(corners[i], corners[(i + 1) % 4])) for i, n in enumerate(names))
    return Pattern(pieces=(Piece(name="panel", edges=edges),))


@pytest.mark.parametrize("slope", [-0.2, 0.0, 0.25])
def test_a_folded_hem_lies_on_the_cloth_above_it(slope: float) -> None:
    """Turned up along the hem line, the cutting edge of the side lies on the side's own.

    At its cut edge the hem is as wide as the garment is `depth` above the fold. (Plane geometry.)
    """
    how = SetHem(edges=("panel.hem",), depth=50.0)
    piece = apply(flared(slope), how).pattern.piece("panel")
    cut = cutting_line(piece)
    corner = cut.edge("hem").end  # lower right corner of the cutting line
    assert corner.y == pytest.approx(-50.0, abs=1e-6)
    turned_up = reflection((0, 0), (1, 0)).apply(corner)
    side = cut.edge("side")
    assert side.nearest(turned_up)[1] == pytest.approx(0.0, abs=1e-6)


def test_extended_corners_run_straight_on() -> None:
    """With corners = extended the side's cutting line goes on in its own direction."""
    how = SetHem(edges=("panel.hem",), depth=50.0, corners="extended")
    cut = cutting_line(apply(flared(0.25), how).pattern.piece("panel"))
    assert cut.edge("side").is_straight
    assert cut.edge("hem").end.x > 300.0 + 50 * 0.25


def test_depth_role_and_joins() -> None:
    """The edge becomes a hem of that depth, both its corners folded, but none at the fold."""
    piece = apply(skirt(), SetHem(edges=("skirt front.hem",), depth=30.0)).pattern.piece(
        "skirt front"
    )
    assert (piece.edge("hem").allowance, piece.edge("hem").role) == (30.0, Role.HEM)
    assert piece.edge("side").join is Join.FOLDED
    assert piece.edge("hem").join is Join.EXTENDED


def test_a_sewn_edge_is_no_hem() -> None:
    """An edge that is sewn to another cannot be turned up."""
    with pytest.raises(CannotDo, match="skirt side"):
        apply(skirt(), SetHem(edges=("skirt back.side",), depth=30.0))


def test_a_flared_hem_tells_its_fullness_and_what_to_do() -> None:
    """Deep on a flare: how much fuller, in per cent, and how deep at most, or a facing."""
    both = ("skirt front.hem", "skirt back.hem")
    said = apply(skirt(), SetHem(edges=both, depth=60.0)).said
    words = say(said, Unit.cm)
    assert "is 1.9 cm (6.5 %) wider at its cut edge than the garment where it is sewn" in words
    (most,) = (x for x in said if isinstance(x, AtMost))
    assert "deep, or face it." in words
    again = say(apply(skirt(), SetHem(edges=both, depth=most)).said, Unit.cm)
    assert "(5 %)" in again
    assert "ease it in" in again


def test_a_straight_hem_is_told_nothing_more() -> None:
    """No fullness, no partner: one sentence."""
    words = say(apply(flared(0.25), SetHem(edges=("panel.hem",), depth=50.0)).said, Unit.cm)
    assert words == "Set the hem of panel, hem to 5 cm, corners folded."


def test_the_hem_beside_it_is_named_while_it_is_not_as_deep() -> None:
    """Set on the front alone: the back's, over the side seam, is told with its depth."""
    words = say(apply(skirt(), SetHem(edges=("skirt front.hem",), depth=25.0)).said, Unit.cm)
    assert "The hem of skirt back, which runs on from it over skirt side, is 4 cm deep" in words
    both = SetHem(edges=("skirt front.hem", "skirt back.hem"), depth=25.0)
    assert "runs on" not in say(apply(skirt(), both).said, Unit.cm)
