"""What if I pull here? One piece, large, with handles; the walk of its seams beside it, live."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import asdict

from starlette.responses import JSONResponse, Response

from clothwright.errors import garbled
from clothwright.web.page import Asked, PageFile, post
from clothwright.workroom.changing.held import held, would_be
from clothwright.workroom.changing.pulling import FARTHEST_MM


def render(asked: Asked) -> Mapping[str, object]:
    """Return the pieces, and the chosen one with its handles, edges and seams."""
    names = [p.name for p in asked.replayed.pattern.pieces]
    wanted = asked.query.get("piece", "")
    chosen = wanted if wanted in names else (names[0] if names else "")
    return {
        "names": names,
        "missing": wanted if wanted and wanted not in names else "",
        "one": held(asked.book, asked.replayed, chosen) if chosen else None,
        "farthest": FARTHEST_MM,
        "step": "mm" if asked.book.unit.is_metric else "in",
    }


def _try(asked: Asked) -> Response:
    """POST {"piece", "key", "mm"}: what the pull would do; nothing is saved."""
    sent = asked.json
    try:
        piece, key, mm = str(sent["piece"]), str(sent["key"]), float(sent["mm"])
        if not math.isfinite(mm):
            raise garbled()
    except (ValueError, KeyError, TypeError):
        raise garbled() from None
    return JSONResponse(asdict(would_be(asked.book, asked.replayed, piece, key, mm)))


PAGE = PageFile(render=render, doors=(post("try", _try),), modules=("direct.js",))
