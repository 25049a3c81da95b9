"""The cards of the intake: one question each, what is proposed, and what has been answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.errors import ClothwrightError
from clothwright.intake.answers import NONE
from clothwright.intake.drawing import STITCH
from clothwright.intake.edges import DRAWN
from clothwright.intake.nested import FATES, fates_of
from clothwright.intake.typed.pieces import said_by
from clothwright.pattern.piece import Cut, Piece, Role
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workroom.pieces.sitting import Look, Outline
from clothwright.workroom.pieces.sitting_edges import settled

EDGE_WORDS = (
    "hem",
    "side",
    "waist",
    "armhole",
    "shoulder",
    "neck",
    "centre front",
    "centre back",
    "front edge",
    "cap",
    "front seam",
    "back seam",
    "inner",
)
"""Names offered for an edge; any other may be typed."""
HOW = (("once", "once"), ("pair", "a pair, the second turned over"), ("fold", "on the fold"))
SHAPE_WORDS = {
    "tick": "mark",
    "slit": "slit",
    "V": "V",
    "T": "T",
    "box": "box",
    "point": "point",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """Something that was recognised. id: the answer it fills. options: value and words of each."""

    id: str
    head: str
    words: str
    options: tuple[tuple[str, str], ...]
    value: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeRow:
    """One edge to name. own: an allowance of its own, as typed."""

    number: int
    name: str
    length: str
    allowance: str
    own: str
    fold: bool
    straight: bool


def size_words(one: Look, unit: Unit) -> Mapping[str, object]:
    """Return the question of the drawing's size: what it measures now, and what was answered."""
    found = next((o.candidate for o in one.outlines if o.candidate), None)
    if found is None:
        return {"wide": "", "tall": "", "units": 0.0}
    low, high = found.outline.path.bounds()
    return {
        "first": one.outlines[0].name,
        "wide": show_length(high.x - low.x, unit),
        "tall": show_length(high.y - low.y, unit),
    }


def open_questions(outline: Outline) -> frozenset[str]:
    """Return which of allowance, grain and cutting the drawing leaves to be answered."""
    said = said_by(outline.typed) if outline.typed else ()
    return frozenset(("allowance", "grain", "cut")) - frozenset(said)


def state_words(outline: Outline, key: str) -> str:
    """Say how a question stands: "to answer", "proposed", "answered"."""
    if any(q.id == key for q in outline.must):
        return "to answer"
    return "answered" if getattr(outline.said.answers, key, "") else "proposed"


def allowance_card(outline: Outline, unit: Unit) -> Mapping[str, object]:
    """Return the question of the allowance, and what the drawing shows of it."""
    answers = outline.said.answers
    how = answers.allowance if answers.allowance in ("", NONE, DRAWN) else "included"
    inner = outline.candidate.stitching if outline.candidate else None
    shown = ""
    if inner is not None:
        widths = dict.fromkeys(show_length(w, unit) for w in (inner.least, inner.most))
        shown = " to ".join(widths)
    return {
        "how": how,
        "amount": answers.allowance if how == "included" else "",
        "add": answers.add,
        "inner": shown,
        "state": state_words(outline, "allowance"),
    }


def edge_rows(outline: Outline, unit: Unit) -> tuple[EdgeRow, ...]:
    """Return the edges in the order they are shown; none when the outline cannot be cut."""
    try:
        _, _, parts, names = settled(outline)
    except ClothwrightError:
        return ()
    piece = outline.piece
    known = {e.name: e for e in piece.edges} if piece else {}
    rows = []
    for n, (part, name) in enumerate(zip(parts, names, strict=True)):
        edge = known.get(name)
        rows.append(
            EdgeRow(
                number=n,
                name=name,
                length=show_length(edge.length if edge else part.length, unit),
                allowance=show_length(edge.allowance, unit) if edge else "",
                own=outline.said.widths.get(name, ""),
                fold=edge is not None and edge.role is Role.FOLD,
                straight=part.is_straight,
            )
        )
    return tuple(rows)


def proposals(outline: Outline, unit: Unit) -> tuple[Proposal, ...]:
    """Return a card for everything that was recognised, answered or not."""
    if outline.candidate is None:
        return ()
    read, out = outline.candidate.read, []
    shapes = [SHAPE_WORDS[n.shape] for n in outline.candidate.notches]
    if shapes:
        counted = ", ".join(
            f"{shapes.count(s)} {s}" + ("s" if shapes.count(s) > 1 else "")
            for s in dict.fromkeys(shapes)
        )
        out.append(_found(outline, "notches", "Are these notches?", f"By their shape: {counted}."))
    if read.darts:
        wide = ", ".join(show_length(d.a.distance(d.b), unit) for d in read.darts)
        words = f"Two legs that meet in a point: {len(read.darts)}, as wide as {wide} at the edge."
        out.append(_found(outline, "darts", "Are these darts?", words))
    if read.levels:
        words = "Lines across with a word beside them: " + ", ".join(x.name for x in read.levels)
        out.append(_found(outline, "levels", "Are these level lines?", words + "."))
    return tuple(out)


def _found(outline: Outline, key: str, head: str, words: str) -> Proposal:
    value = getattr(outline.said.answers, key)
    return Proposal(
        id=key,
        head=head,
        words=words,
        options=(("found", "Yes"), (NONE, "No, they are only lines")),
        value=value or "found",
        state=state_words(outline, key),
    )


def nested_card(outline: Outline, unit: Unit) -> Mapping[str, object] | None:
    """Return the closed lines that lie in each other here; None when there is only one."""
    if outline.whole is None or all(x.kind == STITCH for x in outline.whole.nested):
        return None
    answers = outline.said.answers
    fates = fates_of(answers.inside, len(outline.whole.nested))
    lines = []
    for n, line in enumerate((outline.whole.outline, *outline.whole.nested), start=1):
        low, high = line.path.bounds()
        wide, tall = (show_length(x, unit) for x in high - low)
        words = f"{line.label}, " if line.label else ""
        words += f"{wide} wide, {tall} tall" + (" (the outermost)" if n == 1 else "")
        lines.append({"number": n, "words": words, "fate": fates.get(n - 1, "left out")})
    return {
        "lines": tuple(lines),
        "chosen": int(answers.outline or "1"),
        "fates": FATES,
        "state": "answered" if answers.outline or answers.inside else "proposed",
    }


def grain_card(outline: Outline) -> Mapping[str, object]:
    """Return the question of the grain."""
    drawn = bool(outline.candidate and outline.candidate.read.grain)
    value = outline.said.answers.grain or (DRAWN if drawn else "up")
    return {
        "drawn": drawn,
        "value": value if value in (DRAWN, "up") else "angle",
        "angle": value if value not in (DRAWN, "up") else "",
        "words": "An arrow is drawn on the piece."
        if drawn
        else "No arrow was recognised; up the page is only a guess.",
        "state": state_words(outline, "grain"),
    }


def cut_card(outline: Outline) -> Mapping[str, object]:
    """Return the question of how often to cut, with rows for up to four materials."""
    piece: Piece | None = outline.piece
    cuts = piece.cuts if piece else (Cut(),)
    said = outline.candidate.words.said if outline.candidate else ""
    rows = [{"material": c.material, "how": c.how, "count": c.count} for c in cuts[:4]]
    empty = {"material": "", "how": "once", "count": 1}
    return {
        "rows": (*rows, empty) if len(rows) < 4 else rows,
        "words": f"On the piece it says “{said}”."
        if said
        else "Nothing on the piece says it; what is shown is only a guess.",
        "state": state_words(outline, "cut"),
        "how": HOW,
    }


def marks_card(outline: Outline, unit: Unit) -> tuple[tuple[int, str, bool], ...]:
    """Return the inner lines that nothing was recognised in: number, words, kept."""
    if outline.candidate is None:
        return ()
    text = outline.said.answers.marks.strip()
    kept = {n.strip() for n in text.split(",")} if text not in ("", "all", NONE) else None
    out = []
    for n, line in enumerate(outline.candidate.read.rest[:60], start=1):
        kind = "closed line" if line.closed else "line"
        words = f"{line.label or kind}, {show_length(line.path.length, unit)} long"
        out.append((n, words, text != NONE and (kept is None or str(n) in kept)))
    return tuple(out)
