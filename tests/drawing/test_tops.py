"""The arrows that say which way is up, measured in the drawing by their own corners."""

from __future__ import annotations

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.drawing.cloth import cloth_picture
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.laying_chapter import TOPS, laying_section
from clothwright.drawing.top_choices import border_choices, ground_choices, photo_choices
from clothwright.picture.document import Para
from clothwright.picture.picture import DrawnRole, Fill
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import lay_plan
from tests.few_rounds import LONG_S
from tests.lay.panels import skirt

TOWARDS = {"end": 0.0, "upper": 90.0, "start": 180.0, "lower": 270.0}
VINE = Border(name="vine", side="upper", base=20.0, height=100.0)


def cloth(up: str = "either", *borders: Border) -> Cloth:
    return Cloth(name="c", width=1000.0, length=3000.0, print=Print(up=up, borders=borders))


def heads(picture) -> list[tuple[float, float, float]]:
    """Each filled head: where it points (degrees), and the middle of its corners."""
    found = []
    for item in picture.items:
        if isinstance(item, Fill) and item.role is DrawnRole.GRAIN:
            a, b, c = item.path.flatten(0.1)[:3]
            way = a - (b + c) / 2
            middle = (a + b + c) / 3
            found.append((way.angle_deg % 360.0, middle.x, middle.y))
    return found


@pytest.mark.parametrize("up", TOWARDS)
def test_the_ground_points_where_its_top_does(up: str) -> None:
    """On the cloth in its plain part, and in the picture that is chosen; nowhere without a top."""
    ((turn, x, y),) = heads(cloth_picture(cloth(up), Unit.cm))
    assert turn == pytest.approx(TOWARDS[up])
    assert 0 < x < 3000
    assert 400 < y < 600
    assert heads(cloth_picture(cloth(), Unit.cm)) == []
    for choices in (ground_choices(cloth()), photo_choices(400.0, 300.0)):
        drawn = {c.value: [h[0] for h in heads(c.picture)] for c in choices}
        assert drawn.pop("either") == []
        assert drawn == {k: [pytest.approx(v)] for k, v in TOWARDS.items()}


def test_a_border_has_its_own() -> None:
    """In its band from 880 to 980 on the upper selvedge: its bottom faces there, its top down."""
    found = heads(cloth_picture(cloth("end", VINE), Unit.cm))
    assert sorted(round(h[0]) for h in found) == [0, 270]
    (band,) = (h for h in found if round(h[0]) == 270)
    assert 880 < band[2] < 980
    choices = border_choices(cloth("either", VINE), 0)
    drawn = {c.value: [round(h[0]) for h in heads(c.picture)] for c in choices}
    assert drawn == {"selvedge": [270], "middle": [90], "either": []}


def test_pieces_show_their_own_top_where_the_cloth_has_one() -> None:
    """One head a piece, its way the piece's turn, and the cloth's before the cut end; else none."""
    for up in ("upper", "either"):
        book = Workbook(title="t", unit=Unit.cm, bought=skirt(), cloths=(cloth(up),))
        laid = lay_plan(book, seconds=LONG_S, rounds=1)
        found = heads(lay_picture(laid.compiled, laid.lay, "c", Unit.cm))
        parts = laying_section(laid, Unit.cm).sections
        told = [b.words for part in parts for b in part.blocks if isinstance(b, Para)]
        if up == "either":
            assert found == []
            assert TOPS not in told
        else:
            assert [round(h[0]) for h in found] == [90] * 4
            assert [h[1] < 0 for h in found].count(True) == 1
            assert TOPS in told
