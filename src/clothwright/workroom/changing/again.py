"""The changes of one workbook done again on the pieces of another; what is not known is asked.

Names that are there are kept, and followed through the changes before; for one that was never
there, the pieces' own names are proposed and she says which is meant. Nothing is left out without
being said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from functools import partial

from clothwright.changes.following import followed
from clothwright.changes.named import Request
from clothwright.errors import CannotDo, ClothwrightError
from clothwright.pattern.names import Ref, is_there
from clothwright.pattern.pattern import Pattern
from clothwright.units.params import declared, read_params
from clothwright.words import counted, listed, point_name, say, to_do, told
from clothwright.workbook import (
    Step,
    Workbook,
    change_name,
    change_of,
    change_title,
    history_of,
    replay,
)
from clothwright.workroom.editing.edits.changes import AddChange
from clothwright.workroom.editing.edits.whole import Several, meant_in
from clothwright.workroom.editing.opened import OpenBook, Result

Names = Mapping[str, str]
"""What is meant here by a name of the other workbook, both as they are typed."""
LIKELY = 0.5
"""A name at least so much alike is proposed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NameAsked:
    """A name that is not there. asked: as it is typed; words: as it is said.

    choices: what there is of its kind, as typed and as said, the likeliest first. proposed: the
    first of them where it is likely, else "".
    """

    asked: str
    words: str
    choices: tuple[tuple[str, str], ...]
    proposed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AgainLine:
    """One change of the other workbook. carried: it is done here; else `words` says why not.

    words: what it is to do here, in the unit of this workbook. asks: it waits for an answer.
    """

    number: int
    title: str
    carried: bool
    words: str
    asks: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """What would become of every change. title: of the workbook they come from.

    edits: those that carry over, for this workbook, in their order.
    """

    title: str
    lines: tuple[AgainLine, ...]
    questions: tuple[NameAsked, ...]
    edits: tuple[AddChange, ...]

    @property
    def words(self) -> str:
        """What is done, for the record."""
        return f"Did {counted(len(self.edits), 'change')} of “{self.title}” here, too"

    @property
    def plain(self) -> dict[str, object]:
        """The same as plain data, as a page sends it."""
        edits = [
            {"edit": "add-change", "kind": e.kind, "params": dict(e.params), "why": e.why}
            for e in self.edits
        ]
        return {"edit": "several", "edits": edits, "words": self.words}

    @property
    def edit(self) -> Several:
        """What carries over, as one step."""
        return Several(edits=self.edits, words=self.words)


def done_again(source: Workbook, target: Workbook, names: Names) -> Again:
    """Return what becomes of the changes of `source` on the pieces of `target`, as changed so far.

    names: what is meant by a name; one that is said counts, also where the old one is there.
    """
    was, book = replay(source), target
    before = (source.bought, *was.states)
    lines: list[AgainLine] = []
    asked: dict[str, NameAsked] = {}
    edits: list[AddChange] = []
    for number, step in enumerate(source.steps, start=1):
        line, made, questions = _one(source, book, step, names, before[number - 1])
        lines.append(replace(line, number=number))
        asked |= {q.asked: q for q in questions if q.asked not in asked}
        if made is not None:
            edits.append(AddChange(kind=made.change, params=made.params, why=made.why))
            book = replace(book, steps=(*book.steps, made))
    return Again(
        title=source.title,
        lines=tuple(lines),
        questions=tuple(asked.values()),
        edits=tuple(edits),
    )


def carry_over(source: Workbook, opened: OpenBook, names: Names, *, rest: bool = False) -> Result:
    """Do what carries over, as one step. rest: leave out what is still asked.

    Raises CannotDo when something is asked, or nothing carries over.
    """
    at = opened.read()
    again = done_again(source, at.book, names)
    if again.questions and not rest:
        raise CannotDo(
            what=f"the changes of “{again.title}” were not done here",
            why=f"it is not known what is meant by {listed([q.words for q in again.questions])}",
            nearest="to say which, or to leave out the changes that need it",
        )
    if not again.edits:
        raise CannotDo(
            what=f"the changes of “{again.title}” were not done here",
            why="none of them carries over",
            nearest="to look at each, and to add it by hand",
        )
    return opened.edit(again.edit, base=at.revision)


_Became = tuple[AgainLine, Step | None, tuple[NameAsked, ...]]


def _one(source: Workbook, book: Workbook, step: Step, names: Names, was: Pattern) -> _Became:
    """Return what becomes of one change. was: the pieces it was done on there."""
    title = change_title(step.change)

    def left(words: str, questions: tuple[NameAsked, ...] = ()) -> _Became:
        asks = bool(questions)
        line = AgainLine(number=0, title=title, carried=False, words=words, asks=asks)
        return line, None, questions

    if not step.on:
        return left("It is switched off there, and left out.")
    done = replay(book)
    try:
        made, request = _said_here(source, book, step, names, done.pattern)
        now = followed(request, partial(history_of, book, done.states)).asked
        questions = tuple(_questions(now, done.pattern, was, names))
    except ClothwrightError as error:
        return left(f"It cannot be read here: {told(error, book.unit)}")
    same = next((k for k, s in enumerate(book.steps, start=1) if _alike(s, made)), 0)
    if same:
        return left(f"It is in the list already, as {change_name(same, made.change)}.")
    if questions:
        return left(f"What is meant by {listed([q.words for q in questions])}?", questions)
    then = replay(replace(book, steps=(*book.steps, made))).told[-1]
    if then.error:
        return left(f"It cannot be done here: {then.error}")
    line = AgainLine(number=0, title=title, carried=True, words=to_do(say(then.said, book.unit)))
    return line, made, ()


def _alike(a: Step, b: Step) -> bool:
    return (a.change, dict(a.params), a.on) == (b.change, dict(b.params), b.on)


def _said_here(
    source: Workbook, book: Workbook, step: Step, names: Names, pattern: Pattern
) -> tuple[Step, Request]:
    """Return a change by the names of this workbook, its lengths as they were meant."""
    change = change_of(step.change)
    step = meant_in(step, source.unit, book.unit)
    params = read_params(change.params, step.params, unit=book.unit, where=change.title)
    asked = Request(change=change, params=params, pattern=pattern)
    here = asked.renamed({r: (_here(r, names),) for r in asked.refs})
    raw = dict(step.params)
    for key in raw:
        field = key.replace("-", "_")
        it, value = declared(change.params)[field], getattr(here.params, field)
        if it.kind in _BY_NAME and isinstance(value, str):
            raw[key] = names.get(value, value)
        elif value != getattr(params, field):
            raw[key] = value
    params = read_params(change.params, raw, unit=book.unit, where=change.title)
    why = step.why
    if not why and step.toile:
        why = f"The toile of “{source.title}” showed it."
    made = Step(change=step.change, params=raw, why=why)
    return made, Request(change=change, params=params, pattern=pattern)


_BY_NAME = ("level", "line", "point of each", "size", "sizes")
"""Kinds of fields that name something without its piece."""


def _here(ref: Ref, names: Names) -> Ref:
    """Return what a name is here: as she said, or by what she said of its piece."""
    if ref.text in names:
        piece, _, name = names[ref.text].partition(".")
        return Ref(ref.kind, "", piece) if ref.kind == "seam" else Ref(ref.kind, piece, name)
    return ref._replace(piece=names.get(ref.piece, ref.piece))


def _questions(asked: Request, pattern: Pattern, was: Pattern, names: Names) -> Iterator[NameAsked]:
    """Yield a question for every name that is not there; of a piece that is not, only the piece."""
    refs = asked.refs
    lost = {r.piece for r in refs if r.piece and not _has(pattern, r.piece)}
    back = {here: there for there, here in names.items()}
    for ref in dict.fromkeys(Ref("piece", r.piece, "") if r.piece in lost else r for r in refs):
        if not is_there(pattern, ref):
            there = ref._replace(piece=back.get(ref.piece, ref.piece)).text
            yield _question(ref, there, pattern, was)
    for piece in dict.fromkeys(r.piece for r in refs if r.piece and r.piece not in lost):
        for ref in asked.of_each(piece):
            if not is_there(pattern, ref):
                yield _question(ref, back.get(ref.name, ref.name), pattern, was, bare=True)
    for _, kind, value in asked.kinds():
        if kind == "size" and pattern.sizes and not _is_size(value, pattern.sizes.names):
            sizes = tuple((n, f"size {n}") for n in pattern.sizes.names)
            yield NameAsked(asked=value, words=f"size {value}", choices=sizes, proposed="")


def _is_size(text: str, names: tuple[str, ...]) -> bool:
    """Tell whether a text is a size, half-way between two, or a number, which may lie between."""
    return all(t.strip() in names for t in text.split("/")) or text.strip().isdecimal()


def _has(pattern: Pattern, piece: str) -> bool:
    return any(p.name == piece for p in pattern.pieces)


def _question(
    ref: Ref, there: str, pattern: Pattern, was: Pattern, *, bare: bool = False
) -> NameAsked:
    """Return a question, its choices by how much their names, and a piece's edges, are alike.

    there: the name as the other workbook has it. bare: it is said without its piece.
    """
    found = sorted(_choices(ref, pattern), key=lambda c: -_likeness(ref, c, pattern, was))
    best = _likeness(ref, found[0], pattern, was) if found else 0.0
    keys = [c.name if bare else c.text for c in found]
    return NameAsked(
        asked=there,
        words=_words(ref),
        choices=tuple(zip(keys, map(_words, found), strict=True)),
        proposed=keys[0] if best >= LIKELY else "",
    )


def _words(ref: Ref) -> str:
    named = f"{ref.kind} {ref.name}"
    return named if ref.kind in ("seam", "line") else point_name(ref.piece, ref.name)


def _choices(ref: Ref, pattern: Pattern) -> Iterator[Ref]:
    """Yield what there is of the kind of a name; of what lies on a piece, that of its piece."""
    if ref.kind == "piece":
        yield from (Ref("piece", p.name, "") for p in pattern.pieces)
    elif ref.kind == "seam":
        yield from (Ref("seam", "", s.name) for s in pattern.seams)
    else:
        piece = pattern.piece(ref.piece)
        edges = tuple(e.name for e in piece.edges)
        points = piece.named_points()
        of = {
            "edge": edges,
            "point": points,
            "place": (*edges, *points),
            "dart": tuple(d.name for d in piece.darts),
            "line": tuple(v.name for v in piece.levels),
        }
        yield from (Ref(ref.kind, ref.piece, n) for n in of[ref.kind])


def _likeness(ref: Ref, other: Ref, pattern: Pattern, was: Pattern) -> float:
    """Return how much two names are alike, 0 to 1; of pieces half by the names of their edges.

    A piece that is there under its own name, too, is hardly meant by another.
    """
    a, b = (r.name or r.piece for r in (ref, other))
    named = SequenceMatcher(None, a.casefold(), b.casefold()).ratio()
    if ref.kind != "piece" or not _has(was, ref.piece):
        return named
    one, two = ({e.name for e in p.piece(n).edges} for p, n in ((was, a), (pattern, b)))
    alike = (named + len(one & two) / len(one | two)) / 2
    return alike / 2 if _has(was, b) else alike
