"""The sitting in words: one card a question, what is proposed there, and what has been answered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwright.errors import ClothwrightError
from clothwright.intake.answers import NONE
from clothwright.intake.drawing import STITCH
from clothwright.intake.nested import FATES, fates_of
from clothwright.intake.stitching import InnerLine
from clothwright.intake.typed.pieces import said_by
from clothwright.intake.waiting.edges import settled
from clothwright.intake.waiting.pictures import Preview, drawn_picture, preview
from clothwright.intake.waiting.seen import Outline, SeenDrawing, size_shown
from clothwright.pattern.piece import Cut, Role
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import counted, is_met, listed, show_length
from clothwright.workroom.pieces.reading import ReadingView, reading_view

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
SHAPE_WORDS = {
    "tick": "mark",
    "slit": "slit",
    "V": "V",
    "T": "T",
    "box": "box",
    "point": "point",
}
MOST_MARKS = 60
MOST_CUTS = 4
ASKED = ("allowance", "edges", "grain", "cut", "marks")


@dataclass(frozen=True, slots=True, kw_only=True)
class Recognised:
    """Something that was recognised. id: the answer it fills. yes: it is what it seems."""

    id: str
    head: str
    words: str
    yes: bool
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


@dataclass(frozen=True, slots=True, kw_only=True)
class NestedLine:
    """A closed line among those that lie in each other. number: 1 is the outermost."""

    number: int
    words: str
    fate: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NestedCard:
    """Closed lines in each other. chosen: the number of the piece's own. fates: for the others."""

    lines: tuple[NestedLine, ...]
    chosen: int
    state: str
    fates: tuple[str, ...] = FATES


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkRow:
    """An inner line that nothing was recognised in. kept: as a mark of the piece."""

    number: int
    words: str
    kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineView:
    """All questions about one outline, and how each stands ("to answer", "proposed", "answered").

    of: the outline itself. exact: read exactly, nothing to ask but the name. open: which of
    allowance, grain and cut the file leaves to be answered; must: ids of what needs an answer.
    inner: how far a line inside runs that may be the stitching line, "" without one. arrow: a
    grain arrow was recognised. cuts: rows to fill in, one empty; cut_said: what the piece says.
    """

    of: Outline
    exact: bool
    open: frozenset[str]
    must: tuple[str, ...]
    states: Mapping[str, str]
    preview: Preview
    inner: str
    edges: tuple[EdgeRow, ...]
    found: tuple[Recognised, ...]
    nested: NestedCard | None
    arrow: bool
    cuts: tuple[Cut, ...]
    cut_said: str
    marks: tuple[MarkRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingView:
    """A waiting drawing and its questions.

    of: how it stands. begin: the size that is shown, of several. wide, tall: of the first outline
    as drawn, "" when nothing was drawn. left: questions that need an answer; proposed: answers
    taken as shown; count: pieces that would be added. one: the chosen outline.
    """

    of: SeenDrawing
    reading: ReadingView | None
    picture: Picture
    begin: str
    wide: str
    tall: str
    left: int
    proposed: int
    count: int
    one: OutlineView | None


def sitting_view(seen: SeenDrawing, chosen: int, unit: Unit) -> SittingView:
    """Return how a drawing stands, with everything about one outline (its number, or the first)."""
    wanted = [o for o in seen.outlines if o.wanted]
    first = next((o.candidate for o in seen.outlines if o.candidate), None)
    size = first.outline.path.bounds()[1] - first.outline.path.bounds()[0] if first else None
    one = next((o for o in seen.outlines if o.number == chosen), None)
    one = one or (seen.outlines[0] if seen.outlines else None)
    return SittingView(
        of=seen,
        reading=reading_view(seen, unit),
        picture=drawn_picture(seen.outlines),
        begin=size_shown(seen.waiting, seen.sizes),
        wide=show_length(size.x, unit) if size else "",
        tall=show_length(size.y, unit) if size else "",
        left=sum(len(o.must) for o in wanted)
        + sum(q is not None for q in (seen.scale, seen.size, seen.bar)),
        proposed=sum(len(o.asked) for o in wanted),
        count=len(wanted),
        one=_outline(one, unit) if one else None,
    )


def _outline(outline: Outline, unit: Unit) -> OutlineView:
    said = said_by(outline.typed) if outline.typed else ()
    candidate, piece = outline.candidate, outline.piece
    inner = candidate.stitching if candidate else None
    cuts: Sequence[Cut] = piece.cuts if piece else (Cut(),)
    return OutlineView(
        of=outline,
        exact=candidate is None,
        open=frozenset(("allowance", "grain", "cut")) - frozenset(said),
        must=tuple(q.id for q in outline.must),
        states={key: _state(outline, key) for key in ASKED},
        preview=preview(outline),
        inner=_away(inner, unit) if inner else "",
        edges=_edges(outline, unit),
        found=_recognised(outline, unit),
        nested=_nested(outline, unit),
        arrow=bool(candidate and candidate.read.grain),
        cuts=(*cuts, Cut(material=""))[:MOST_CUTS],
        cut_said=candidate.words.said if candidate else "",
        marks=_marks(outline, unit),
    )


def _away(inner: InnerLine, unit: Unit) -> str:
    """Say how far a line inside runs from the outline."""
    least, most = show_length(inner.least, unit), show_length(inner.most, unit)
    if least == most:
        return f"{most} away"
    return f"up to {most} away" if is_met(inner.least) else f"{least} to {most} away"


def _state(outline: Outline, key: str) -> str:
    """Say how a question stands."""
    if any(q.id == key for q in outline.must):
        return "to answer"
    return "answered" if getattr(outline.said.answers, key) else "proposed"


def _edges(outline: Outline, unit: Unit) -> tuple[EdgeRow, ...]:
    """Return the edges in the order they are shown; none when the outline cannot be cut."""
    try:
        _, _, parts, names = settled(outline)
    except ClothwrightError:
        return ()
    known = {e.name: e for e in outline.piece.edges} if outline.piece else {}
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


def _recognised(outline: Outline, unit: Unit) -> tuple[Recognised, ...]:
    """Return a card for everything that was recognised, answered or not."""
    if outline.candidate is None:
        return ()
    read, out = outline.candidate.read, []
    shapes = [SHAPE_WORDS[n.shape] for n in outline.candidate.notches]
    if shapes:
        kinds = listed([counted(shapes.count(s), s) for s in dict.fromkeys(shapes)])
        out.append(_found(outline, "notches", "Are these notches?", f"By their shape: {kinds}."))
    if read.darts:
        wide = listed([show_length(d.a.distance(d.b), unit) for d in read.darts])
        words = f"Two legs that meet in a point: {len(read.darts)}, as wide as {wide} at the edge."
        out.append(_found(outline, "darts", "Are these darts?", words))
    if read.levels:
        words = "Lines across with a word beside them: " + listed([x.name for x in read.levels])
        out.append(_found(outline, "levels", "Are these level lines?", words + "."))
    return tuple(out)


def _found(outline: Outline, key: str, head: str, words: str) -> Recognised:
    yes = getattr(outline.said.answers, key) != NONE
    return Recognised(id=key, head=head, words=words, yes=yes, state=_state(outline, key))


def _nested(outline: Outline, unit: Unit) -> NestedCard | None:
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
        lines.append(NestedLine(number=n, words=words, fate=fates.get(n - 1, "left out")))
    return NestedCard(
        lines=tuple(lines),
        chosen=int(answers.outline or "1"),
        state="answered" if answers.outline or answers.inside else "proposed",
    )


def _marks(outline: Outline, unit: Unit) -> tuple[MarkRow, ...]:
    """Return the inner lines that nothing was recognised in."""
    if outline.candidate is None:
        return ()
    text = outline.said.answers.marks.strip()
    kept = {n.strip() for n in text.split(",")} if text not in ("", "all", NONE) else None
    out = []
    for n, line in enumerate(outline.candidate.read.rest[:MOST_MARKS], start=1):
        kind = "closed line" if line.closed else "line"
        words = f"{line.label or kind}, {show_length(line.path.length, unit)} long"
        chosen = text != NONE and (kept is None or str(n) in kept)
        out.append(MarkRow(number=n, words=words, kept=chosen))
    return tuple(out)
