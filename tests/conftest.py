"""What all tests share."""

from __future__ import annotations

import functools
import gc
import os
import sys
from collections.abc import Iterator
from types import ModuleType
from typing import Any

import pytest
from hypothesis import settings

from clothwright.workroom.apart import asking

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
"""A rule does not break because the machine is busy: no property is failed by the clock."""

LARGE = (
    "clothwright.photo.",
    "clothwright.workroom.pieces.",
    "clothwright.workroom.cloth.",
    "tests.photo.simulator",
)
"""Rooms that keep what they have read of photos, many MB each; and the table that is drawn."""


def pytest_collection_finish() -> None:
    """Let the rubbish collector pass over what the whole run needs: modules and the list of tests.

    They are hundreds of thousands of objects, looked through anew after every module otherwise.
    """
    gc.collect()
    gc.freeze()


@pytest.fixture(autouse=True, scope="module")
def nothing_large_is_kept(request: pytest.FixtureRequest) -> Iterator[None]:
    """Let go of photos, and of what a module keeps for its own tests, at the module's end.

    A worker runs hundreds of modules in one process. To look for what only goes round in a circle
    takes longer than most modules do: that is done after those that read photos.
    """
    yield
    rooms = [m for name, m in sys.modules.items() if name.startswith(LARGE)]
    photos = [it for module in rooms for it in kept_by(module) if it.cache_info().currsize]
    for it in (*kept_by(request.module), *photos):
        it.cache_clear()
    if photos:
        gc.collect()


def kept_by(module: ModuleType) -> list[functools._lru_cache_wrapper[Any]]:
    """Return the functions of a module that keep what they have given."""
    return [
        it
        for it in vars(module).values()
        if isinstance(it, functools._lru_cache_wrapper) and it.__module__ == module.__name__
    ]


@pytest.fixture(autouse=True, scope="session")
def time_to_read() -> Iterator[None]:
    """Give what reads files all the time it needs: no rule breaks because the machine is busy."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(asking, "SECONDS", 300.0)
        yield


@pytest.fixture(autouse=True, scope="session")
def no_wait_for_the_disk() -> Iterator[None]:
    """Wait for no flush that only a real power cut could show missing: it takes 4 ms each.

    What is no open file is still refused. Programs that tests start and kill flush as ever.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", os.fstat)
        yield
