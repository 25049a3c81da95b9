"""The room a rule gives is the tolerance of the seam its points lie on, and of no other."""

from __future__ import annotations

import pytest

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.meets_dart import MeetsDart
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.weighing.tolerances import seam_tolerances


def underarm(within: float) -> Meets:
    """Front and back meet at the underarm, which side seam and armhole share."""
    return Meets(
        piece_a="coat front",
        point_a="underarm",
        piece_b="coat back",
        point_b="underarm",
        within=within,
    )


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ((underarm(0.0),), {}),
        ((underarm(4.0),), {"coat side": 4.0}),
        ((underarm(4.0), underarm(6.0)), {"coat side": 6.0}),
        ((MeetsDart(piece="coat front", point="bust dart point", within=3.0),), {"coat side": 3.0}),
        (
            (Mirrored(piece="skirt back", point="centre hem", within=5.0),),
            {"skirt centre back": 5.0},
        ),
    ],
)
def test_a_rule_gives_its_room_to_its_own_seam(
    rules: tuple[PlacingRule, ...], told: dict[str, float]
) -> None:
    """Two points count for the seam that has one on either side; of two rules the wider counts."""
    assert seam_tolerances(Plan(name="p", rules=rules), coat_and_skirt().bought) == told
