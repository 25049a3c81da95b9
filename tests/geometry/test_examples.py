"""The examples in the docstrings and on the page about geometry."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from pathlib import Path

import pytest

import clothwright.geometry as geometry

MODULES = sorted(m.name for m in pkgutil.iter_modules(geometry.__path__))
PAGE = Path(__file__).parents[2] / "docs" / "geometry.md"


@pytest.mark.parametrize("name", MODULES)
def test_docstring_examples(name: str) -> None:
    """Every example in a docstring gives what it says."""
    module = importlib.import_module(f"clothwright.geometry.{name}")
    assert doctest.testmod(module).failed == 0


def test_page_examples() -> None:
    """Every example on docs/geometry.md gives what it says, and there are some."""
    outcome = doctest.testfile(str(PAGE), module_relative=False)
    assert outcome.attempted > 5
    assert outcome.failed == 0
