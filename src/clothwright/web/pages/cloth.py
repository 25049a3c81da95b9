"""What do I cut from? Each cloth to scale, with handles on its print, and what is typed of it."""

from __future__ import annotations

import json
from collections.abc import Mapping

from clothwright.web.page import Asked, PageFile
from clothwright.workroom.cloth.pictures import lost_words
from clothwright.workroom.cloth.showing import cloth_lines, cloth_shown, materials

LOOKS = (
    ("plain", "plain"),
    ("border", "border"),
    ("stripes along", "stripes along"),
    ("stripes across", "stripes across"),
    ("check", "check"),
    ("figures", "motifs"),
)
DROPS = (
    ("straight", "straight, in rows and columns"),
    ("half-drop", "every second column half a repeat along"),
    ("brick", "every second row half a repeat across"),
)


def render(asked: Asked) -> Mapping[str, object]:
    """Return every cloth in a line, and the chosen one on the table."""
    wanted = asked.query.get("cloth", "")
    one = cloth_shown(asked.book, wanted)
    return {
        "cloths": cloth_lines(asked.book),
        "missing": wanted if wanted and not (one and one.cloth.name == wanted) else "",
        "one": one,
        "lost": lost_words(asked.book, asked.opened.folder),
        "entries": json.dumps(one.entries) if one else "",
        "looks": LOOKS,
        "drops": DROPS,
        "materials": materials(asked.book),
    }


PAGE = PageFile(render=render, modules=("cloth.js", "flaws.js"))
