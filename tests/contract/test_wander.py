"""Many changes in whatever order, and each kind of change filled in whatever way.

`python -m tests.wander 200` looks at more of them.
"""

from __future__ import annotations

import pytest
from tests.wander import wander


@pytest.mark.parametrize("seed", range(4))
def test_twelve_pieces_go_through_25_changes_and_back(seed: int) -> None:
    """No traceback, no broken piece the walk is silent about, and undo of all brings all back."""
    assert list(wander(seed)) == []
