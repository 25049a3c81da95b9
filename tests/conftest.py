"""What all tests share."""

from __future__ import annotations

import functools
import sys
from collections.abc import Iterator

import pytest

LARGE = ("clothwright.photo.", "clothwright.workroom.pieces.", "clothwright.workroom.cloth.")
"""Rooms that keep what they have read of photos, many MB each."""


@pytest.fixture(autouse=True, scope="module")
def nothing_large_is_kept() -> Iterator[None]:
    """Let go of photos after each module: a worker runs hundreds of them in one process."""
    yield
    for name, module in tuple(sys.modules.items()):
        if name.startswith(LARGE):
            for it in vars(module).values():
                if isinstance(it, functools._lru_cache_wrapper):
                    it.cache_clear()
