"""Each check's page lists every code it may raise, and no other."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from clothwright.checks import CHECKS
from clothwright.checks.check import Check

PAGES = Path(__file__).parents[2] / "docs" / "checks"


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.id)
def test_the_page_lists_the_codes(check: Check) -> None:
    """One row per code, and the title is the question the check asks."""
    text = (PAGES / f"{check.id}.md").read_text(encoding="utf-8")
    assert set(re.findall(r"^\| `([a-z-]+)` \|", text, re.MULTILINE)) == set(check.codes)
    assert text.startswith(f"# {check.title}\n")


def test_links_lead_somewhere() -> None:
    """Files that the pages point to exist, and headings in the sources too."""
    sources = (PAGES.parent / "sources.md").read_text(encoding="utf-8")
    headings = {
        re.sub(r"[^a-z0-9 -]", "", h.lower()).replace(" ", "-")
        for h in re.findall(r"^## (.+)$", sources, re.MULTILINE)
    }
    for page in PAGES.glob("*.md"):
        for target in re.findall(r"\]\(([^)]+)\)", page.read_text(encoding="utf-8")):
            name, _, anchor = target.partition("#")
            assert (page.parent / name).is_file(), f"{page.name}: {target}"
            if anchor:
                assert anchor in headings, f"{page.name}: {target}"
