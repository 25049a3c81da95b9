"""What a lining tells of the piece it goes with, as changes that would mend that."""

from __future__ import annotations

import pytest

from clothwright.changes.lengthen import Lengthen
from clothwright.changes.lengthen import apply as lengthen
from clothwright.checks.companions_follow import companions_follow
from clothwright.pattern.pattern import Pattern
from tests.faults.mistakes import on
from tests.faults.paper import lengthened
from tests.garments.wardrobe import GARMENTS, settings_of


def cap(pattern: Pattern) -> float:
    return pattern.piece("coat sleeve").edge("cap").length


def test_a_cap_folded_lower_is_spread_again_where_it_was_folded() -> None:
    """12 mm folded out between the front notch and the back's, as its lining has them still."""
    right = GARMENTS["lined coat"]()
    spoilt = on("coat sleeve", lengthened, 80.0, -12.0)(right)
    settings = settings_of("lined coat")
    (f,) = (x for x in companions_follow(spoilt, settings) if x.where.piece == "lining sleeve")
    folded = 80.0 - right.piece("coat sleeve").level("biceps").at.y
    ways = [m for m in f.mends if m.params.get("pieces") == ("coat sleeve",)]
    (near,) = (m for m in ways if abs(float(str(m.params["above"])) - folded) < 8.0)
    assert float(str(near.params["by"])) == pytest.approx(12.0, abs=1.0)
    asked = Lengthen(**{**near.params, "pieces": ("coat sleeve",)})  # type: ignore[arg-type]
    after = lengthen(spoilt, asked).pattern
    assert abs(cap(after) - cap(right)) < 0.2 * abs(cap(spoilt) - cap(right))
