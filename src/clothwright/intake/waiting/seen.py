"""A waiting drawing as it stands: its outlines, what was answered, and what they would become.

Everything is worked out anew from the drawing and the answers, so that nothing but these is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.intake.answers import Question
from clothwright.intake.as_read import Apart
from clothwright.intake.candidates import Candidate, Seen
from clothwright.intake.drawing import Drawing
from clothwright.intake.in_sizes import size_question
from clothwright.intake.nested import answered, nested_question, own_pieces
from clothwright.intake.plausible_size import SizeDoubt
from clothwright.intake.recognise import (
    alike_question,
    allowance_question,
    drafted,
    scale_question,
)
from clothwright.intake.typed import pieces as typed_pieces
from clothwright.intake.typed.sheet import Typed, TypedPiece
from clothwright.intake.waiting.said import Answered, Waiting, size_shown, whole_answers
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.picture.picture import DrawnRole, Stroke
from clothwright.units import Unit
from clothwright.words import told

INNER = 1000
"""Lines inside outline 0 that are pieces of their own are numbered from 1001, and so on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """One outline in the sitting. candidate: None for a drawing of our own, which needs no answer.

    number: what it is called between requests. whole: the outermost line with all that lies in it,
    where candidate is what the maker has made of it.
    piece: what it becomes as answered so far, None where it cannot yet; then trouble says why, and
    error is that.
    must: questions that need an answer. asked: proposals, taken as shown unless answered.
    apart: where its lines are not those that were drawn.
    taken: the name is that of a piece in the workbook. typed: what was typed, where it was.
    """

    number: int
    name: str
    said: Answered
    taken: bool
    candidate: Candidate | None = None
    whole: Candidate | None = None
    piece: Piece | None = None
    trouble: str = ""
    error: ClothwrightError | None = None
    must: tuple[Question, ...] = ()
    asked: tuple[Question, ...] = ()
    notes: tuple[str, ...] = ()
    apart: tuple[Apart, ...] = ()
    typed: TypedPiece | None = None

    @property
    def wanted(self) -> bool:
        """False when the maker has said that it is no piece."""
        return self.said.take != "no"

    @property
    def ready(self) -> bool:
        """Tell whether it could be added now."""
        return self.wanted and self.piece is not None and not self.must

    @property
    def drawn(self) -> Stroke | None:
        """The outline as it was drawn, mm; None when it was not drawn but read exactly."""
        if self.candidate is None:
            return None
        path = self.candidate.outline.path
        return Stroke(path=path, role=DrawnRole.CUT, closed=True, group=self.name)

    @property
    def state(self) -> str:
        """How it stands, in words."""
        if not self.wanted:
            return "no piece"
        if self.trouble:
            return "no piece can be made of it yet"
        if self.must:
            return f"{len(self.must)} to answer"
        return f"ready, {len(self.asked)} proposed" if self.asked else "ready"


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenDrawing:
    """A drawing as it stands in the sitting.

    doubt: whether a piece can be as large as it is read, None where all can or she has said so.
    alike: the question whether what is alike are sizes. scale: that of its scale, None when known.

    size: the question with which of its pattern sizes to begin, None when it is answered or there
    is one only. sizes: all of them, the smallest first. bar: the question of the sheets' bar,
    None for other drawings and when it was measured. drawing: as the reader made it, None when it
    could not, and for what is no drawing of others. trouble: what is wrong with it all, and error.
    """

    waiting: Waiting
    outlines: tuple[Outline, ...] = ()
    notes: tuple[str, ...] = ()
    trouble: str = ""
    error: ClothwrightError | None = None
    doubt: SizeDoubt | None = None
    alike: Question | None = None
    scale: Question | None = None
    size: Question | None = None
    sizes: tuple[str, ...] = ()
    bar: Question | None = None
    drawing: Drawing | None = None

    @property
    def asked(self) -> tuple[Question, ...]:
        """What is asked about all of it."""
        true = self.doubt.question if self.doubt else None
        return tuple(q for q in (self.alike, self.scale, true, self.size, self.bar) if q)

    @property
    def ready(self) -> bool:
        """Tell whether everything that is wanted could be added now, and something is."""
        wanted = [o for o in self.outlines if o.wanted]
        return not self.asked and bool(wanted) and all(o.ready for o in wanted)

    @property
    def otherwise(self) -> bool:
        """Tell whether another way to read it may make pieces: pages, layers, what is alike."""
        it = self.drawing
        return it is not None and (it.pages is not None or bool(it.layers or it.alike))


def own_look(one: Waiting, piece: Piece, bought: Pattern) -> SeenDrawing:
    """A drawing with our annotation is read exactly; only its name may stand in the way."""
    said = one.about(0)
    taken = any(p.name == piece.name for p in bought.pieces)
    outline = Outline(
        number=0,
        name=piece.name,
        said=said,
        piece=piece,
        must=name_question(piece.name, said) if taken else (),
        notes=("read exactly, by its own annotation",),
        taken=taken,
    )
    return SeenDrawing(waiting=one, outlines=(outline,))


def typed_look(one: Waiting, typed: Typed, bought: Pattern, unit: Unit) -> SeenDrawing:
    """Typed measurements are read exactly; asked is only what they do not say."""
    names = _names(one, range(len(typed.pieces)), [t.name for t in typed.pieces])
    found = zip(typed.pieces, names, strict=True)
    return SeenDrawing(
        waiting=one,
        outlines=tuple(
            typed_outline(one, n, piece, name, bought=bought, unit=unit)
            for n, (piece, name) in enumerate(found)
        ),
    )


def drawn_look(
    one: Waiting,
    drawing: Drawing,
    see: Callable[[str], Seen],
    bought: Pattern,
    unit: Unit,
    *,
    note: str = "",
) -> SeenDrawing:
    """A drawing as lines: its outlines, and what none of them may be made without.

    see: from a size ("" where there is one) to what is seen there. note: what each piece says of
    itself besides. Where no line closes, how it is read may still be said otherwise.
    """
    seen = see(size_shown(one, drawing.sizes))
    if not seen.candidates:
        error = _no_outline(one, drawing, seen)
        trouble = str(error)
        return SeenDrawing(
            waiting=one, notes=seen.notes, trouble=trouble, error=error, drawing=drawing
        )
    found = all_outlines(one, seen.candidates)
    names = _names(one, list(found), _numbered([c.words.name for _, c in found.values()]))
    return SeenDrawing(
        waiting=one,
        alike=alike_question(drawing),
        scale=scale_question(drawing, one.scale),
        size=size_question(drawing, one.size),
        sizes=drawing.sizes,
        outlines=tuple(
            drawn_outline(one, n, pair, name, bought=bought, unit=unit, note=note)
            for (n, pair), name in zip(found.items(), names, strict=True)
        ),
        notes=seen.notes,
        drawing=drawing,
    )


def _no_outline(one: Waiting, drawing: Drawing, seen: Seen) -> BadInput:
    pages = drawing.pages is not None and not one.every
    return BadInput(
        where=one.file,
        what=f"there is no closed outline among its {seen.lines} lines",
        expected="a closed line round each piece",
        try_="saying below how its pages lie together"
        if pages
        else "joining the ends of the outline in the drawing",
    )


def _names(one: Waiting, numbers: Sequence[int], read: Sequence[str]) -> list[str]:
    """Return the name of each outline: as answered, with numbers where one is for all, or read."""
    if one.every and one.every.answers.name and len(read) > 1:
        return [f"{one.every.answers.name} {k}" for k in range(1, len(read) + 1)]
    return [one.about(n).answers.name or name for n, name in zip(numbers, read, strict=True)]


def _numbered(read: Sequence[str]) -> list[str]:
    """Return a different name for each outline: as labelled or written, or a number."""
    names: list[str] = []
    for k, name in enumerate(read, start=1):
        wanted = name or f"piece {k}"
        tries = (wanted if n == 1 else f"{wanted} {n}" for n in range(1, len(read) + 1))
        names.append(next(t for t in tries if t not in names))
    return names


def all_outlines(
    one: Waiting, candidates: Sequence[Candidate]
) -> dict[int, tuple[Candidate, Candidate]]:
    """Return every outline by its number: as drawn, and as the maker has said it is.

    Lines inside that are pieces of their own come after the outline, under numbers that stay; where
    all is answered at once they come last, and nothing is said of the lines inside them.
    """
    found: dict[int, tuple[Candidate, Candidate]] = {}
    for n, whole in enumerate(candidates):
        answers = one.about(n).answers
        found[n] = (whole, answered(whole, answers))
        for k, inner in own_pieces(whole, answers).items():
            number = INNER * (n + 1) + k
            own = inner if one.every else answered(inner, one.about(number).answers)
            found[number] = (inner, own)
    return dict(sorted(found.items())) if one.every else found


def typed_outline(
    one: Waiting, number: int, typed: TypedPiece, name: str, *, bought: Pattern, unit: Unit
) -> Outline:
    """Return a piece from typed measurements with what they do not say."""
    said = one.about(number)
    answers = typed_pieces.silenced(typed, said.answers)
    taken = any(p.name == name for p in bought.pieces)
    asked = typed_pieces.allowance_asked(typed, answers)
    piece, wrong = None, None
    apart: tuple[Apart, ...] = ()
    try:
        piece = typed_pieces.piece_of(typed, answers, unit, name=name)
        apart = typed_pieces.apart_of(typed, answers, piece, unit)
    except ClothwrightError as error:
        wrong = error
    return Outline(
        number=number,
        name=name,
        said=said,
        typed=typed,
        piece=piece,
        trouble=told(wrong, unit) if wrong else "",
        error=wrong,
        must=(*(name_question(name, said) if taken else ()), *([asked] if asked else [])),
        asked=typed_pieces.proposed(typed, answers),
        notes=(*(f"Checked: {c.words}" for c in typed.checks), *typed.took),
        apart=apart,
        taken=taken,
    )


def drawn_outline(
    one: Waiting,
    number: int,
    pair: tuple[Candidate, Candidate],
    name: str,
    *,
    bought: Pattern,
    unit: Unit,
    note: str,
) -> Outline:
    """Return an outline (as drawn, as the maker has said it is) with what is asked about it.

    note: what a piece made of it says of itself besides.
    """
    whole, candidate = pair
    said = one.about(number)
    taken = any(p.name == name for p in bought.pieces)
    must: list[Question] = list(name_question(name, said)) if taken else []
    for question in (
        nested_question(whole, said.answers, unit),
        allowance_question(candidate, said.answers, unit),
    ):
        must += [replace(question, piece=name)] if question else []
    piece, wrong = None, None
    asked: tuple[Question, ...] = ()
    notes: tuple[str, ...] = ()
    apart: tuple[Apart, ...] = ()
    where = f'{one.file}, outline "{name}"' if one.every else name
    try:
        made = drafted(candidate, name, whole_answers(said, candidate), unit=unit, where=where)
        words = "; ".join(w for w in (made.piece.note, note) if w)
        piece, asked, notes = replace(made.piece, note=words), made.questions, made.notes
        apart = made.apart
        on_fold = candidate.words.on_fold and not one.every
        if on_fold and piece.fold is None and not said.answers.fold:
            must += [q for q in asked if q.id == "fold"]
            asked = tuple(q for q in asked if q.id != "fold")
    except ClothwrightError as error:
        wrong = error
    return Outline(
        number=number,
        name=name,
        said=said,
        candidate=candidate,
        whole=whole,
        piece=piece,
        trouble=told(wrong, unit) if wrong else "",
        error=wrong,
        must=tuple(must),
        asked=asked,
        notes=notes,
        apart=apart,
        taken=taken,
    )


def name_question(name: str, said: Answered) -> tuple[Question, ...]:
    """Return the question what becomes of a piece of that name; () when it gives way."""
    if said.replace == "yes":
        return ()
    words = f'the workbook has a piece "{name}" already'
    return (Question(id="name", words=words, piece=name, choices=("another name", "replace it")),)


def to_add(one: SeenDrawing) -> list[Outline]:
    """Return the outlines whose pieces are added. Raises CannotDo: what is missing."""
    wanted = [o for o in one.outlines if o.wanted]
    missing = [q.words for q in one.asked]
    missing += [one.trouble] if one.trouble else []
    missing += [f'"{o.name}": {q.words}' for o in wanted for q in o.must]
    missing += [f'"{o.name}": {o.trouble}' for o in wanted if o.trouble]
    names = [o.name for o in wanted]
    missing += [f'two pieces are called "{n}"' for n in dict.fromkeys(names) if names.count(n) > 1]
    if not wanted and not missing:
        missing.append("no outline of it is a piece")
    if missing:
        raise CannotDo(
            what="the pieces were not added",
            why="; ".join(missing),
            nearest="to answer this first; what you have answered is saved",
        )
    return wanted
