"""What do I own? Drawings come in, are looked at, asked about, and become pieces."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from clothwright.web import intake_cards as cards
from clothwright.web import intake_doors as doors
from clothwright.web import photo_cards, photo_doors
from clothwright.web.intake_drawing import preview, whole_drawing
from clothwright.web.page import Asked, Door, Page
from clothwright.web.reading_doors import DOORS as READING_DOORS
from clothwright.web.reading_view import reading
from clothwright.web.typed_doors import DOORS as TYPED_DOORS
from clothwright.web.typed_view import typed_context
from clothwright.workroom.pieces import inbox, sitting
from clothwright.workroom.pieces.adding import ALL_READERS
from clothwright.workroom.pieces.sitting import Look, Outline, size_shown


def render(asked: Asked) -> Mapping[str, object]:
    """Return the inbox, the chosen drawing to scale, and the questions about its chosen outline."""
    waiting = inbox.waiting(asked.opened.folder)
    wanted = asked.query.get("drawing", "")
    one = next((w for w in waiting if w.id == wanted), None)
    alone = asked.query.get("part") == "outline"  # it shows nothing of the questions
    seen = sitting.look(one, asked.book.bought, asked.book.unit) if one and not alone else None
    added = asked.query.get("added", "")
    return {
        "waiting": tuple(
            {"id": w.id, "file": w.file, "href": _href(w.id), "chosen": w.id == wanted}
            for w in waiting
        ),
        "suffixes": tuple(s for r in ALL_READERS for s in r.suffixes),
        "titles": tuple(f"{r.title} ({', '.join(r.suffixes)})" for r in ALL_READERS),
        "missing": bool(wanted) and one is None,
        "added": int(added) if added.isascii() and added.isdigit() and len(added) < 4 else 0,
        "have": len(asked.book.bought.pieces),
        "seen": _shown(asked, seen) if seen else None,
        "typed": typed_context(asked, one),
        "photo": photo_cards.card(asked, one),
        "sheet_links": photo_cards.sheet_links(asked.book.unit),
    }


def _href(drawing: str, piece: int | None = None) -> str:
    query = {"drawing": drawing} if piece is None else {"drawing": drawing, "piece": str(piece)}
    return "?" + urlencode(query)


def _shown(asked: Asked, seen: Look) -> Mapping[str, object]:
    key, unit = seen.waiting.id, asked.book.unit
    number = asked.query.get("piece", "0")
    wanted = int(number) if number.isascii() and number.isdigit() and len(number) < 7 else 0
    first = seen.outlines[0] if seen.outlines else None
    chosen = next((o for o in seen.outlines if o.number == wanted), first)
    n = chosen.number if chosen else 0
    hrefs = [_href(key, o.number) for o in seen.outlines]
    return {
        "id": key,
        "file": seen.waiting.file,
        "trouble": seen.trouble,
        "reading": reading(seen),
        "notes": seen.notes,
        "ready": seen.ready,
        "scale": seen.waiting.scale,
        "scale_asked": seen.scale is not None,
        "sizes": seen.sizes,
        "begin": seen.waiting.size,
        "begin_shown": size_shown(seen.waiting, seen.sizes),
        "size": cards.size_words(seen, unit),
        "drawing": whole_drawing(seen, n, hrefs),
        "outlines": tuple(
            {"name": o.name, "href": h, "state": _state(o), "chosen": o.number == n}
            for o, h in zip(seen.outlines, hrefs, strict=True)
        ),
        "left": sum(len(o.must) for o in seen.outlines if o.wanted)
        + (seen.scale is not None)
        + (seen.size is not None)
        + (seen.bar is not None),
        "proposed": sum(len(o.asked) for o in seen.outlines if o.wanted),
        "count": sum(1 for o in seen.outlines if o.wanted),
        "one": _one(chosen, asked) if chosen else None,
    }


def _state(outline: Outline) -> str:
    if not outline.wanted:
        return "no piece"
    if outline.trouble:
        return "cannot be made so"
    n = len(outline.must)
    if n:
        return f"{n} to answer"
    return f"ready, {len(outline.asked)} proposed" if outline.asked else "ready"


def _one(outline: Outline, asked: Asked) -> Mapping[str, object]:
    unit = asked.book.unit
    return {
        "number": outline.number,
        "name": outline.name,
        "take": outline.said.take,
        "wanted": outline.wanted,
        "replace": outline.said.replace == "yes",
        "taken": outline.taken,
        "exact": outline.candidate is None,
        "typed": outline.typed is not None,
        "open": cards.open_questions(outline),
        "trouble": outline.trouble,
        "notes": outline.notes,
        "must": tuple(q.id for q in outline.must),
        "asked": len(outline.asked),
        "drawing": preview(outline),
        "allowance": cards.allowance_card(outline, unit),
        "edges": cards.edge_rows(outline, unit),
        "edges_state": cards.state_words(outline, "edges"),
        "fold": outline.said.answers.fold,
        "edge_words": cards.EDGE_WORDS,
        "found": cards.proposals(outline, unit),
        "nested": cards.nested_card(outline, unit),
        "grain": cards.grain_card(outline),
        "cut": cards.cut_card(outline),
        "marks": cards.marks_card(outline, unit),
        "marks_state": cards.state_words(outline, "marks"),
    }


PAGE = Page(
    name="add",
    path="/b/{book}/add",
    question="What do I own?",
    render=render,
    doors=(
        Door(
            path="/b/{book}/add/file",
            answer=doors.take_in,
            methods=("POST",),
            takes=doors.LARGEST,
        ),
        Door(path="/b/{book}/add/answer", answer=doors.answer, methods=("POST",)),
        Door(path="/b/{book}/add/confirm", answer=doors.confirm, methods=("POST",)),
        Door(path="/b/{book}/add/throw", answer=doors.throw, methods=("POST",)),
        *TYPED_DOORS,
        *READING_DOORS,
        *photo_doors.DOORS,
    ),
    modules=("add.js", "typed.js", "outline.js"),
)
