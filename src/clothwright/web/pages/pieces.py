"""What have I got? Every piece to one scale on the table, and one of them edge by edge."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from urllib.parse import urlencode

from markupsafe import Markup

from clothwright.picture.picture import Picture
from clothwright.web.page import Asked, PageFile
from clothwright.web.pressed import line_link
from clothwright.web.svg import inline
from clothwright.web.tape import tape
from clothwright.workroom.pieces.table import PieceView, piece_cards, piece_view, total_words

TAPE_MM = 6000.0
"""Longer than any table is shown; what hangs over is cut off."""


def render(asked: Asked) -> Mapping[str, object]:
    """Return the pieces as bought or as changed, the chosen piece and the chosen edge."""
    book, done = asked.book, asked.replayed
    state = asked.query.get("as", "changed" if book.steps else "bought")
    pattern = done.pattern if state == "changed" else book.bought
    cards = piece_cards(pattern)
    wanted = asked.query.get("piece", "")
    names = [c.name for c in cards]
    chosen = wanted if wanted in names else (names[0] if names else "")
    one = piece_view(pattern, chosen, book.unit) if chosen else None
    edge = asked.query.get("edge", "")
    return {
        "state": state,
        "how_many_changes": sum(1 for t in done.told if t.step.on and not t.error),
        "laid": tuple(
            {
                "card": c,
                "drawing": _drawn(c.picture),
                "href": _href(state=state, piece=c.name),
                "chosen": c.name == chosen,
            }
            for c in cards
        ),
        "tape": tape(book.unit, TAPE_MM),
        "total": total_words(pattern),
        "one": one,
        "drawing": _closer(one, edge, state) if one else "",
        "edge": next((e for e in one.edges if e.name == edge), None) if one else None,
        "edge_hrefs": {e.name: _href(state, chosen, e.name) for e in one.edges} if one else {},
        "missing": wanted if wanted and wanted not in names else "",
        "hrefs": {s: _href(s, wanted) for s in ("bought", "changed")},
    }


def _href(state: str, piece: str, edge: str = "") -> str:
    query = {"piece": piece, "edge": edge, "as": state}
    return "?" + urlencode({k: v for k, v in query.items() if v})


@lru_cache(maxsize=512)
def _drawn(picture: Picture) -> Markup:
    """Return a piece for the table; pieces that stay are kept."""
    return inline(picture, alt="", margin=2.0)


def _closer(one: PieceView, edge: str, state: str) -> Markup:
    """Return a piece with a link over every edge; it follows the stitching line."""
    over = Markup("").join(
        line_link(
            e.stitched,
            e.cut,
            href=_href(state, one.name, e.name),
            swap="piece",
            words=f"{e.name}, {e.role}, {e.length}",
            key=e.name,
            chosen=e.name == edge,
        )
        for e in one.edges
    )
    alt = f"{one.name}, {one.size}; its edges follow"
    return inline(one.picture, alt=alt, over=over, margin=8.0, to_scale=False, extra="one-piece")


PAGE = PageFile(render=render)
