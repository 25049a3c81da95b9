"""Does it still sew together? Findings beside both edges of the seam, and what mends them."""

from __future__ import annotations

from collections.abc import Mapping

from clothwright.web.page import Asked, PageFile
from clothwright.workroom.walking.checking import seam_table
from clothwright.workroom.walking.findings import all_found


def render(asked: Asked) -> Mapping[str, object]:
    """Return the findings in groups, every seam, and the chosen seam section by section."""
    book, done = asked.book, asked.replayed
    return {
        "found": asked.opened.once("walk", asked.revision, lambda: all_found(book, done)),
        "seams": seam_table(book, done, asked.query.get("seam", "")),
    }


PAGE = PageFile(render=render, modules=("walk.js",))
