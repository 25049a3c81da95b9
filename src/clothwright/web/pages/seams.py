"""Which edges are sewn together? Pairs laid along each other, for the maker to say."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from urllib.parse import urlencode
from zlib import crc32

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.checks.walk import run_name, walk_seam
from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.web.page import Asked, Door, Page
from clothwright.words import show_length, told
from clothwright.workbook import check_settings
from clothwright.workroom.editing import AddSeam
from clothwright.workroom.pieces.seam_choices import (
    adding,
    forget_refused,
    open_proposals,
    refuse,
    refused,
    said_seam,
    turned,
)
from clothwright.workroom.pieces.seam_ends import ends_words
from clothwright.workroom.pieces.seaming import Proposed, pair_of
from clothwright.workroom.walking.walked import walked

MOST_SHOWN = 30


def render(asked: Asked) -> Mapping[str, object]:
    """Return the proposals as cards, the seams that are named, and the edges to choose from."""
    pattern = asked.replayed.pattern
    found = _open(asked)
    mine, trouble = _mine(asked, pattern)
    turns = {t for t in asked.query.get("turn", "").split("|") if t}
    shown = ([mine] if mine else []) + [p for p in found if not mine or p.key != mine.key]
    edges = tuple(
        f"{p.name}.{e.name}" for p in pattern.pieces for e in p.edges if e.role is not Role.FOLD
    )
    return {
        "cards": tuple(_card(asked, pattern, p, turns) for p in shown[:MOST_SHOWN]),
        "more": max(0, len(shown) - MOST_SHOWN),
        "count": len(found),
        "seams": tuple((s.name, run_name(s.a), run_name(s.b)) for s in pattern.seams),
        "refused": len(refused(asked.opened.folder)),
        "pieces": len(pattern.pieces),
        "edges": edges,
        "typed": {k: asked.query.get(k, "") for k in ("a", "a2", "b", "b2")},
        "trouble": trouble,
    }


def _open(asked: Asked) -> tuple[Proposed, ...]:
    return open_proposals(asked.opened.folder, asked.replayed.pattern)


def _mine(asked: Asked, pattern: Pattern) -> tuple[Proposed | None, str]:
    """Return the pair that the maker has chosen herself, or why there is none."""
    sides = []
    for first, second in (("a", "a2"), ("b", "b2")):
        texts = [asked.query.get(k, "") for k in (first, second)]
        sides.append(tuple(t for t in texts if t))
    if not sides[0] or not sides[1]:
        return None, ""
    try:
        a, b = (tuple(parse_edge(t) for t in texts) for texts in sides)
        return _pair(pattern, a, b), ""
    except ClothwrightError as error:
        return None, told(error, asked.book.unit)


def _pair(pattern: Pattern, a: tuple[EdgeRef, ...], b: tuple[EdgeRef, ...]) -> Proposed:
    for ref in (*a, *b):
        pattern.edge(ref)
    if set(a) & set(b) and a != b:
        raise BadInput(what="an edge stands on both sides", expected="another one")
    return pair_of(pattern, a, b)


def _card(asked: Asked, pattern: Pattern, p: Proposed, turns: set[str]) -> Mapping[str, object]:
    unit = asked.book.unit
    turn = p.key in turns
    seam = turned(p.seam) if turn else p.seam
    walk = walk_seam(pattern, seam)
    difference = walk.b.length - walk.a.length
    others = sorted(turns ^ {p.key})
    query = {**{k: v for k, v in asked.query.items() if k != "part"}, "turn": "|".join(others)}
    start, end = ends_words(pattern, seam)
    return {
        "key": p.key,
        "id": f"pair-{crc32(p.key.encode()):x}",
        "name": p.seam.name,
        "a": run_name(seam.a),
        "b": run_name(seam.b),
        "length_a": show_length(walk.a.length, unit),
        "length_b": show_length(walk.b.length, unit),
        "difference": show_length(abs(difference), unit) if abs(difference) >= 0.05 else "",
        "longer": run_name(seam.b if difference > 0 else seam.a),
        "ease": show_length(seam.ease, unit) if seam.ease else "",
        "why": "; ".join(p.why),
        "start": start,
        "end": end,
        "turn": turn,
        "turn_href": "?" + urlencode(query),
        "walked": walked(pattern, seam, unit, check_settings(asked.book).agree),
        "edges": tuple(str(r) for r in p.seam.a),
        "to": tuple(str(r) for r in p.seam.b),
    }


def say_to_one(asked: Asked) -> Response:
    """POST key, do=confirm or refuse, name, ease, turn: what is said to one pair. BadInput."""
    pattern, form = asked.replayed.pattern, asked.form
    key = form.get("key", "")
    if form.get("do") == "refuse":
        refuse(asked.opened.folder, [key])
        asked.opened.tell("book", revision=asked.revision)
        return _back(asked, "It is not proposed again.", asked.revision)
    p = next((x for x in _open(asked) if x.key == key), None)
    if p is None:
        sides = (form.get("a", ""), form.get("b", ""))
        if not all(sides):
            raise CannotDo(
                what="this pair was not sewn",
                why="it is in a seam already, or its edges have changed",
                nearest="to look at the pairs as they are now",
            )
        a, b = (tuple(parse_edge(t) for t in side.split("|")) for side in sides)
        p = _pair(pattern, _plain(a), _plain(b))
    ease = form.get("ease", "")
    seam = said_seam(
        pattern,
        p,
        ease=ease,
        turn=bool(form.get("turn")),
        name=form.get("name", ""),
        unit=asked.book.unit,
    )
    return _edited(asked, [adding(seam, asked.book.unit)], "")


def _plain(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
    return tuple(EdgeRef(r.piece, r.edge) for r in refs)


def say_to_all(asked: Asked) -> Response:
    """POST: every proposal that is shown becomes a seam, as one edit. Raises CannotDo."""
    found = _open(asked)[:MOST_SHOWN]
    used: set[tuple[str, str]] = set()
    edits = []
    for p in found:
        keys = {(r.piece, r.edge) for r in (*p.seam.a, *p.seam.b)}
        if keys & used and not _twice(p):
            continue
        used |= keys
        edits.append(adding(p.seam, asked.book.unit))
    if not edits:
        raise CannotDo(what="nothing was sewn", why="there are no pairs proposed")
    return _edited(asked, edits, f"{len(edits)} seams, as they were proposed")


def _twice(p: Proposed) -> bool:
    """Tell whether a pair may use edges that another seam uses: both halves of a band."""
    return len(p.seam.a) != len(p.seam.b)


def _edited(asked: Asked, edits: list[AddSeam], words: str) -> Response:
    plain = [{"edit": "add-seam", "values": dict(e.values)} for e in edits]
    sent = plain[0] if len(plain) == 1 else {"edit": "several", "edits": plain, "words": words}
    done = asked.opened.edit(sent, base=asked.revision)
    return _back(asked, done.words, done.revision)


def again(asked: Asked) -> Response:
    """POST: what has been refused is proposed again."""
    forget_refused(asked.opened.folder)
    asked.opened.tell("book", revision=asked.revision)
    return _back(asked, "Everything is proposed again.", asked.revision)


def _back(asked: Asked, words: str, revision: int) -> Response:
    if asked.form.get("by") == "script":
        return JSONResponse({"words": words, "revision": revision})
    return RedirectResponse(f"/b/{asked.opened.name}/seams", status_code=303)


def _door(path: str, answer: Callable[[Asked], Response]) -> Door:
    return Door(path=f"/b/{{book}}/seams/{path}", answer=answer, methods=("POST",))


PAGE = Page(
    name="seams",
    path="/b/{book}/seams",
    question="Which edges are sewn together?",
    render=render,
    doors=(_door("one", say_to_one), _door("all", say_to_all), _door("again", again)),
    modules=("seams.js",),
)
