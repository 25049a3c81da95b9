"""The doubled cloth as drawn: the print of the layer that is seen, and where its tops point."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Figure, Print
from clothwright.drawing.folded import folded_picture
from clothwright.lay.fold_search import solve_folded
from clothwright.picture.picture import DrawnRole, Fill, Picture, Stroke, Text
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from tests.lay.panels import skirt

ROSE = Figure(name="rose", x=60.0, y=70.0, radius=20.0)
PRINTED = Cloth(
    name="plain",
    width=1000.0,
    print=Print(repeat_along=150.0, repeat_across=200.0, figures=(ROSE,)),
)


def drawn(cloth: Cloth) -> tuple[Picture, float]:
    """Return the cloth folded lengthwise, and how long it is drawn."""
    compiled = compile_lay(skirt(), (cloth,), Plan(name="p"), gap=2.0)
    found = solve_folded(
        compiled, (Folded(cloth="plain", way="lengthwise"),), seconds=0.0, rounds=0
    )
    (fold,) = found.folds
    picture = folded_picture(compiled, found.lay, fold, Unit.cm)
    return picture, found.lay.used["plain"]


def middles(picture: Picture) -> np.ndarray:
    """Return the middle of every motif of a picture."""
    rings = [
        ring.flatten()
        for item in picture.items
        if isinstance(item, Fill) and item.role is DrawnRole.MOTIF
        for ring in (item.path, *item.holes)
    ]
    return np.array([np.mean(np.array([tuple(p) for p in ring])[:-1], axis=0) for ring in rings])


def test_every_motif_of_the_layer_that_is_seen_is_drawn() -> None:
    """Lengthwise the half up to the fold at 500 mm is seen; its roses by the repeat alone."""
    picture, used = drawn(PRINTED)
    found = middles(picture)
    xs, ys = np.arange(60.0, used - 20.0, 150.0), np.array([70.0, 270.0, 470.0])
    for x in xs:
        for y in ys:
            assert np.abs(found - (x, y)).sum(axis=1).min() < 8.0, (x, y)
    assert found[:, 1].max() < 500.0


def test_a_plain_cloth_has_no_print_to_be_seen() -> None:
    """Right sides together: nothing is drawn but the pieces."""
    picture, _ = drawn(Cloth(name="plain", width=1000.0))
    assert not any(i.role is DrawnRole.MOTIF for i in picture.items)


@pytest.mark.parametrize(("up", "below"), [("end", 1.0), ("upper", -1.0)])
def test_the_top_of_the_layer_below_is_told(up: str, below: float) -> None:
    """Folded about a line along the cloth, what points along it still does; across, it turns."""
    compiled = compile_lay(skirt(), (PRINTED,), Plan(name="p"), gap=2.0)
    found = solve_folded(
        compiled, (Folded(cloth="plain", way="lengthwise"),), seconds=0.0, rounds=0
    )
    topped = replace(PRINTED, print=replace(PRINTED.print, up=up))
    seen = replace(compiled, cloths=(topped,))
    picture = folded_picture(seen, found.lay, found.folds[0], Unit.cm)
    words = [i.words for i in picture.items if isinstance(i, Text) and i.words in WAYS]
    assert words == list(WAYS)
    stems = [
        i.path.end - i.path.start
        for i in picture.items
        if isinstance(i, Stroke) and i.role is DrawnRole.GRAIN and not i.group
    ]
    one, other = (stem.unit for stem in stems[-2:])
    assert one.dot(other) == pytest.approx(below)


WAYS = ("above", "below")
