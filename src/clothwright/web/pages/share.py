"""How do I take it to another device? A key in a square to be read by its camera."""

from __future__ import annotations

import io
from collections.abc import Mapping

import segno
from markupsafe import Markup

from clothwright.web.page import Asked, PageFile

QUIET = 4
"""Modules of clear space round the square, as ISO/IEC 18004 asks for."""


def square(text: str) -> Markup:
    """Return a QR code as inline SVG: dark modules as one path, a light ground under it.

    ISO/IEC 18004, error correction M, at the smallest size that holds the text (by segno).
    """
    code = segno.make(text, error="m", micro=False)
    rows = [[bool(m) for m in row] for row in code.matrix]
    side = len(rows) + 2 * QUIET
    dark = "".join(
        f"M{x + QUIET},{y + QUIET}h1v1h-1z"
        for y, row in enumerate(rows)
        for x, on in enumerate(row)
        if on
    )
    return Markup(
        '<svg class="square" role="img" aria-label="Square to be read by a camera" '
        'viewBox="0 0 {0} {0}" shape-rendering="crispEdges"><rect class="light" width="{0}" '
        'height="{0}"/><path class="dark" d="{1}"/></svg>'
    ).format(side, dark)


def terminal_square(text: str) -> str:
    """Return a QR code in block letters, two modules to a letter's height, for the terminal."""
    out = io.StringIO()
    segno.make(text, error="m", micro=False).terminal(out, compact=True)
    return out.getvalue()


def render(asked: Asked) -> Mapping[str, object]:
    """Return a fresh key in a square, on the machine itself when it is shared in the house."""
    address = asked.room.shared_at
    if not address or not asked.local:
        return {"shared": bool(address), "square": "", "link": ""}
    link = f"{address}/enter?key={asked.keys.make_key()}"
    return {"shared": True, "square": square(link), "link": link}


PAGE = PageFile(render=render)
