"""The examples in the docstrings of the whole package."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import clothwright

PACKAGES = sorted(m.name for m in pkgutil.iter_modules(clothwright.__path__) if m.ispkg)


@pytest.mark.parametrize("name", PACKAGES)
def test_docstring_examples(name: str) -> None:
    """Every example in a docstring gives what it says."""
    package = importlib.import_module(f"clothwright.{name}")
    failed = {}
    for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        wrong = doctest.testmod(importlib.import_module(found.name)).failed
        if wrong:
            failed[found.name] = wrong
    assert failed == {}
