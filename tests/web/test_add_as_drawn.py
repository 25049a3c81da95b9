"""What a drawing holds besides its lines, on the page: its test square, how its darts are drawn."""

from __future__ import annotations

import html
from urllib.parse import parse_qs, urlsplit

from tests.intake.plain import Plain, Word, area, box, line
from tests.web.conftest import Desk
from tests.web.test_add_routes import mine, page, say, take_in

__all__ = ["mine"]

SKIRT = Plain(
    shapes=(area((60, 60), (300, 60), (290, 440), (80, 450)),),
    words=(Word(text="Skirt front", at=(140, 250), size=9.0),),
)


def waiting(desk: Desk, sheet: Plain) -> str:
    answer = take_in(desk, "skirt.svg", sheet.svg())
    assert answer.status_code == 200, answer.text
    return parse_qs(urlsplit(answer.json()["address"]).query)["drawing"][0]


def test_the_test_square_offers_the_size(mine: Desk) -> None:
    """At 94 % the page asks, offers what the square says, and takes it."""
    square = box(320, 30, 47, 47)
    key = waiting(mine, SKIRT.and_(square, words=[Word(text="5 cm", at=(334, 52))]))
    shown = html.unescape(page(mine, key))
    assert "The test square in it says that it is not true to size." in shown
    assert 'value="5 cm is 47.0000"' in shown
    assert say(mine, key, what="size", scale="5 cm is 47.0000").status_code == 200
    after = html.unescape(page(mine, key))
    assert "As it stands" not in after
    assert "16 5/16 in tall" in after  # 390 mm drawn at 94 %


def test_a_dart_that_leads_out_over_the_edge_is_asked_about(mine: Desk) -> None:
    """The card of the darts says by how much the legs miss the edge, in her unit."""
    legs = line((160, 447.5), (172, 340), (184, 447))
    key = waiting(mine, SKIRT.and_(legs))
    assert "Are these darts?" in page(mine, key)
    assert "outside the edge end at it" in page(mine, key)
