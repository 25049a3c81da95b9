"""What looks like a figure to Python and is none to a reader of counts is a sentence, or a name."""

from __future__ import annotations

import pytest

from clothwright.errors import BadInput
from clothwright.intake.drafting import cuts_of
from clothwright.intake.size_names import in_order


@pytest.mark.parametrize("odd", ["²", "٣", "9" * 5000])
def test_no_odd_figure_is_a_count(odd):
    """A raised two, a figure of another script, more figures than a number may have."""
    with pytest.raises(BadInput, match="does not say how to cut"):
        cuts_of(f"shell pair {odd}", folded=False)
    assert set(in_order(["10", odd])) == {"10", odd}
