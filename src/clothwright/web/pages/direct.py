"""What if I pull here? One piece, large, with handles; the walk of its seams beside it, live."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from urllib.parse import urlencode

from markupsafe import Markup
from starlette.responses import JSONResponse, Response

from clothwright.checks.walk import run_name, walk_seam
from clothwright.drawing.piece import piece_picture
from clothwright.errors import BadInput, Mistakes
from clothwright.geometry.path import join_all
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.picture.paths import decimal, path_data
from clothwright.units import Unit
from clothwright.web.page import Asked, Door, Page
from clothwright.web.svg import inline
from clothwright.words import say, show_length, told
from clothwright.workbook import check_settings
from clothwright.workroom.changing.pulling import FARTHEST_MM, SeamNow, pulled, pulls_of, seam_now

HERE = "/b/{book}/direct"
KNOB_SHARE = 0.012


def render(asked: Asked) -> Mapping[str, object]:
    """Return the pieces, and the chosen one with its handles, edges and seams."""
    pattern, unit = asked.replayed.pattern, asked.book.unit
    names = [p.name for p in pattern.pieces]
    wanted = asked.query.get("piece", "")
    chosen = wanted if wanted in names else (names[0] if names else "")
    return {
        "tabs": tuple((n, "?" + urlencode({"piece": n}), n == chosen) for n in names),
        "missing": wanted if wanted and wanted not in names else "",
        "one": None if not chosen else _one(asked, pattern, pattern.piece(chosen), unit),
        "step": "mm" if unit.is_metric else "in",
    }


def _one(asked: Asked, pattern: Pattern, piece: Piece, unit: Unit) -> Mapping[str, object]:
    low, high = piece.outline.bounds()
    size = max(high.x - low.x, high.y - low.y)
    return {
        "name": piece.name,
        "drawing": inline(
            piece_picture(piece, unit),
            alt=f"{piece.name} as it is after the changes; its handles follow",
            over=_ghost(piece) + _edges(pattern, piece, unit) + _knobs(piece, size * KNOB_SHARE),
            margin=size * 0.06,
            to_scale=False,
            extra="direct-pic",
        ),
        "seams": tuple(_seam_rows(asked, pattern, piece)),
        "edges": tuple(
            (e.name, e.role.value, show_length(e.length, unit), show_length(e.allowance, unit))
            for e in piece.edges
        ),
    }


def _ghost(piece: Piece) -> Markup:
    return Markup('<path class="ghost" d="{}" hidden/>').format(_outline(piece))


def _outline(piece: Piece) -> str:
    return path_data(join_all([e.path for e in piece.edges]), closed=True)


def _edges(pattern: Pattern, piece: Piece, unit: Unit) -> Markup:
    """Return a button over every edge; pressed, it says the edge's name, length and partner."""
    out = []
    for e in piece.edges:
        words = f"{e.name}, {e.role.value}, {show_length(e.length, unit)} sewn"
        words += f", allowance {show_length(e.allowance, unit)}"
        for s in pattern.seams_of(piece.name, e.name):
            words += f"; {_partner(pattern, s.name, piece.name, e.name, unit)}"
        out.append(
            Markup(
                '<g class="edge" role="button" tabindex="0" aria-label="{}" data-words="{}">'
                '<path class="reach" d="{}"/><path class="shown" d="{}"/></g>'
            ).format(words, words, path_data(e.path), path_data(e.path))
        )
    return Markup("").join(out)


def _partner(pattern: Pattern, seam: str, piece: str, edge: str, unit: Unit) -> str:
    found = pattern.seam(seam)
    mine = any((r.piece, r.edge) == (piece, edge) for r in found.a)
    walk = walk_seam(pattern, found)
    other: tuple[EdgeRef, ...] = found.b if mine else found.a
    length = walk.b.length if mine else walk.a.length
    return f"sewn to {run_name(other)} in {seam}, which is {show_length(length, unit)}"


def _knobs(piece: Piece, size: float) -> Markup:
    out = []
    for pull in pulls_of(piece):
        turn = -math.degrees(math.atan2(pull.way.y, pull.way.x))
        arrow = f"M{decimal(-1.9 * size)} 0H{decimal(1.9 * size)}"
        out.append(
            Markup(
                '<g class="pull" role="slider" tabindex="0" aria-label="{}" aria-valuemin="{}" '
                'aria-valuemax="{}" aria-valuenow="0" aria-valuetext="0" data-key="{}" '
                'data-x="{}" data-y="{}" data-wx="{}" data-wy="{}" '
                'transform="translate({} {}) rotate({})"><circle class="reach" r="{}"/>'
                '<path d="{}"/><circle class="dot" r="{}"/></g>'
            ).format(
                pull.words[:1].upper() + pull.words[1:],
                -FARTHEST_MM,
                FARTHEST_MM,
                pull.key,
                decimal(pull.at.x),
                decimal(-pull.at.y),
                f"{pull.way.x:.5f}",
                f"{-pull.way.y:.5f}",
                decimal(pull.at.x),
                decimal(-pull.at.y),
                decimal(turn),
                decimal(2.2 * size),
                arrow,
                decimal(size),
            )
        )
    return Markup("").join(out)


def _seam_rows(asked: Asked, pattern: Pattern, piece: Piece) -> list[Mapping[str, object]]:
    """Return each seam of the piece and how it stands."""
    out = []
    for s in pattern.seams:
        if piece.name in {r.piece for r in (*s.a, *s.b)}:
            off = walk_seam(pattern, s).off
            out.append(_row(asked, seam_now(s, off, off)))
    return out


def _row(asked: Asked, seam: SeamNow) -> Mapping[str, object]:
    settings, unit = check_settings(asked.book), asked.book.unit

    def words(off: float) -> str:
        if abs(off) <= settings.agree:
            return "agrees"
        side = seam.b if off > 0 else seam.a
        return f"{side} is {show_length(abs(off), unit)} longer"

    kind = "good" if abs(seam.now) <= settings.agree else "notice"
    if abs(seam.now) > settings.notice:
        kind = "bad"
    now, before = words(seam.now), words(seam.before)
    return {"name": seam.name, "before": before, "now": now, "kind": kind}


def _try(asked: Asked) -> Response:
    """POST {"piece", "key", "mm"}: what the pull would do; nothing is saved."""
    try:
        sent = json.loads(asked.sent or b"null")
        piece, key, mm = str(sent["piece"]), str(sent["key"]), float(sent["mm"])
    except (ValueError, KeyError, TypeError):
        raise BadInput(where="pull", what="this is no pull", expected="piece, key, mm") from None
    unit = asked.book.unit
    try:
        made = pulled(asked.replayed.pattern, piece, key, mm, unit)
    except Mistakes as error:
        return JSONResponse({"sentence": told(error, unit)}, status_code=400)
    rows = [_row(asked, s) for s in made.seams]
    return JSONResponse(
        {
            "words": say(made.said, unit),
            "shown": show_length(mm, unit),
            "d": _outline(made.piece),
            "seams": rows,
            "kind": made.kind,
            "params": made.params,
        }
    )


PAGE = Page(
    name="direct",
    path=HERE,
    question="What if I pull here?",
    render=render,
    doors=(Door(path=HERE + "/try", answer=_try, methods=("POST",)),),
    modules=("direct.js",),
)
