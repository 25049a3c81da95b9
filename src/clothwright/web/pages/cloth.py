"""What do I cut from? Each cloth to scale, with handles on its print, and what is typed of it."""

from __future__ import annotations

import json
from collections.abc import Mapping

from clothwright.web.page import Asked, PageFile
from clothwright.workroom.cloth.showing import cloth_lines, cloth_shown, materials

LOOKS = (
    ("plain", "plain"),
    ("border", "border"),
    ("stripes along", "stripes along"),
    ("stripes across", "stripes across"),
    ("check", "check"),
    ("figures", "motifs"),
)
DOWNS = (
    ("selvedge", "that selvedge"),
    ("middle", "the middle of the cloth"),
    ("either", "either way: no up or down"),
)


def render(asked: Asked) -> Mapping[str, object]:
    """Return every cloth in a line, and the chosen one on the table."""
    wanted = asked.query.get("cloth", "")
    one = cloth_shown(asked.book, wanted)
    return {
        "cloths": cloth_lines(asked.book),
        "missing": wanted if wanted and not (one and one.cloth.name == wanted) else "",
        "one": one,
        "entries": json.dumps(one.entries) if one else "",
        "looks": LOOKS,
        "downs": DOWNS,
        "materials": materials(asked.book),
    }


PAGE = PageFile(render=render, modules=("cloth.js", "flaws.js"))
