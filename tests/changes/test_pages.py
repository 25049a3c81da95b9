"""The example on each change's page is one that works."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from clothwright.changes import CHANGES
from clothwright.changes.change import Change, read_params
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit, say
from tests.specimens import bodice, skirt, sleeve

PAGES = Path(__file__).parents[2] / "docs" / "changes"


def wardrobe() -> Pattern:
    """Bodice, skirt and sleeve in one pattern."""
    parts = (bodice(), skirt(), sleeve())
    return Pattern(
        pieces=tuple(p for part in parts for p in part.pieces),
        seams=tuple(s for part in parts for s in part.seams),
    )


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_the_example_on_the_page_works(change: Change[Any]) -> None:
    """Each page shows the change as a workbook holds it; read from there, it can be done."""
    text = (PAGES / f"{change.id}.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```toml\n(.*?)```", text, re.DOTALL)
    assert blocks, f"{change.id}.md shows no example"
    for block in blocks:
        for table in tomllib.loads(block)["change"]:
            assert table.pop("kind") == change.id
            params = read_params(change, table, unit=Unit.inch, where="example")
            outcome = change.apply(wardrobe(), params)
            assert say(outcome.said, Unit.inch).endswith(".")


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.id)
def test_the_page_names_every_parameter(change: Change[Any]) -> None:
    """No parameter is missing from the page."""
    text = (PAGES / f"{change.id}.md").read_text(encoding="utf-8")
    missing = [name for name in change.params.__dataclass_fields__ if f"`{name}`" not in text]
    assert missing == []
