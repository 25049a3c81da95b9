"""What was recognised in an outline that waits, in rows of words: edges, lines, marks, notches."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.errors import ClothwrightError
from clothwright.intake.answers import NONE
from clothwright.intake.dart_lines import loose_words
from clothwright.intake.drawing import STITCH
from clothwright.intake.nested import FATES, fates_of, size_words
from clothwright.intake.stitching import InnerLine
from clothwright.intake.waiting.edges import settled
from clothwright.intake.waiting.seen import Outline
from clothwright.pattern.piece import Role
from clothwright.units import Unit
from clothwright.words import counted, is_met, listed, show_length

SHAPE_WORDS = {
    "tick": "mark",
    "slit": "slit",
    "V": "V",
    "T": "T",
    "box": "box",
    "point": "point",
}
MOST_MARKS = 60


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
    """Closed lines that lie in each other. fates: what each of the others may be.

    chosen: the number of the piece's own line, 0 before it is said.
    """

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


def stitching_words(inner: InnerLine, unit: Unit) -> str:
    """Say how far a line inside runs from the outline."""
    least, most = show_length(inner.least, unit), show_length(inner.most, unit)
    if least == most:
        return f"{most} away"
    return f"up to {most} away" if is_met(inner.least) else f"{least} to {most} away"


def state_of(outline: Outline, key: str) -> str:
    """Say how a question stands."""
    if any(q.id == key for q in outline.must):
        return "to answer"
    return "answered" if getattr(outline.said.answers, key) else "proposed"


def edge_rows(outline: Outline, unit: Unit) -> tuple[EdgeRow, ...]:
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


def recognised(outline: Outline, unit: Unit) -> tuple[Recognised, ...]:
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
        words = f"Two legs that meet in a point: {len(read.darts)}, as wide as {wide} at the edge"
        out.append(
            _found(
                outline, "darts", "Are these darts?", words + loose_words(read.darts, unit) + "."
            )
        )
    if read.levels:
        words = "Lines across with a word beside them: " + listed([x.name for x in read.levels])
        out.append(_found(outline, "levels", "Are these level lines?", words + "."))
    return tuple(out)


def _found(outline: Outline, key: str, head: str, words: str) -> Recognised:
    yes = getattr(outline.said.answers, key) != NONE
    return Recognised(id=key, head=head, words=words, yes=yes, state=state_of(outline, key))


def nested_card(outline: Outline, unit: Unit) -> NestedCard | None:
    """Return the closed lines that lie in each other here; None when there is only one."""
    if outline.whole is None or all(x.kind == STITCH for x in outline.whole.nested):
        return None
    answers = outline.said.answers
    fates = fates_of(answers.inside, len(outline.whole.nested))
    lines = []
    for n, line in enumerate((outline.whole.outline, *outline.whole.nested), start=1):
        words = f"{n}: {line.label}, " if line.label else f"{n}: "
        words += size_words(line, unit) + (" (the outermost)" if n == 1 else "")
        lines.append(NestedLine(number=n, words=words, fate=fates.get(n - 1, "left out")))
    state = "answered" if answers.inside else state_of(outline, "outline")
    return NestedCard(
        lines=tuple(lines),
        chosen=int(answers.outline or (0 if state == "to answer" else 1)),
        state=state,
    )


def mark_rows(outline: Outline, unit: Unit) -> tuple[MarkRow, ...]:
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
