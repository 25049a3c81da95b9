"""A waiting drawing as it stands: its outlines, what was answered, and what they would become.

Everything is worked out anew from the drawing and the answers, so that nothing but these is kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.intake.answers import NONE, Answers, Question
from clothwright.intake.candidates import Candidate, Seen
from clothwright.intake.drawing import Drawing
from clothwright.intake.edges import DRAWN
from clothwright.intake.nested import answered, own_pieces
from clothwright.intake.recognise import allowance_question, drafted
from clothwright.intake.typed import pieces as typed_pieces
from clothwright.intake.typed.sheet import TypedPiece
from clothwright.intake.waiting.said import Answered, Waiting
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
    piece: what it becomes as answered so far, None where it cannot yet; then trouble says why.
    must: questions that need an answer. asked: proposals, taken as shown unless answered.
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
    must: tuple[Question, ...] = ()
    asked: tuple[Question, ...] = ()
    notes: tuple[str, ...] = ()
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
    """A drawing as it stands in the sitting. scale: the question of its scale, None when known.

    size: the question with which of its pattern sizes to begin, None when it is answered or there
    is one only. sizes: all of them, the smallest first. bar: the question of the sheets' bar,
    None for other drawings and when it was measured. drawing: as the reader made it, None when it
    could not, and for what is no drawing of others.
    """

    waiting: Waiting
    outlines: tuple[Outline, ...] = ()
    notes: tuple[str, ...] = ()
    trouble: str = ""
    scale: Question | None = None
    size: Question | None = None
    sizes: tuple[str, ...] = ()
    bar: Question | None = None
    drawing: Drawing | None = None

    @property
    def ready(self) -> bool:
        """Tell whether everything that is wanted could be added now, and something is."""
        wanted = [o for o in self.outlines if o.wanted]
        asked = self.scale or self.size or self.bar
        return asked is None and bool(wanted) and all(o.ready for o in wanted)

    @property
    def otherwise(self) -> bool:
        """Tell whether another way to read it may make pieces: pages, or numbers for layers."""
        it = self.drawing
        return it is not None and (it.pages is not None or bool(it.layers))


def without_outlines(one: Waiting, drawing: Drawing, seen: Seen) -> SeenDrawing:
    """Return a drawing in which no line closes: how it is read may still be said otherwise."""
    error = BadInput(
        where=one.file,
        what=f"there is no closed outline among its {seen.lines} lines",
        expected="a closed line round each piece",
        try_="saying below how its pages lie together"
        if drawing.pages is not None
        else "joining the ends of the outline in the drawing",
    )
    return SeenDrawing(waiting=one, notes=seen.notes, trouble=str(error), drawing=drawing)


def size_shown(one: Waiting, sizes: Sequence[str]) -> str:
    """Return the size that is shown: the one chosen, or one in the middle; "" of a single one."""
    if one.size in sizes:
        return one.size
    return sizes[len(sizes) // 2] if sizes else ""


def all_outlines(
    one: Waiting, candidates: Sequence[Candidate]
) -> dict[int, tuple[Candidate, Candidate]]:
    """Return every outline by its number: as drawn, and as the maker has said it is.

    Lines inside that are pieces of their own come after the outline, under numbers that stay.
    """
    found: dict[int, tuple[Candidate, Candidate]] = {}
    for n, whole in enumerate(candidates):
        answers = one.about(n).answers
        found[n] = (whole, answered(whole, answers))
        for k, inner in own_pieces(whole, answers).items():
            number = INNER * (n + 1) + k
            found[number] = (inner, answered(inner, one.about(number).answers))
    return found


def typed_outline(
    one: Waiting, number: int, typed: TypedPiece, bought: Pattern, unit: Unit
) -> Outline:
    """Return a piece from typed measurements with what they do not say."""
    said = one.about(number)
    answers = typed_pieces.silenced(typed, said.answers)
    name = answers.name or typed.name
    taken = any(p.name == name for p in bought.pieces)
    asked = typed_pieces.allowance_asked(typed, answers)
    piece, trouble = None, ""
    try:
        piece = typed_pieces.piece_of(typed, answers, unit, name=name)
    except ClothwrightError as error:
        trouble = told(error, unit)
    return Outline(
        number=number,
        name=name,
        said=said,
        typed=typed,
        piece=piece,
        trouble=trouble,
        must=(*(name_question(name, said) if taken else ()), *([asked] if asked else [])),
        asked=typed_pieces.proposed(typed, answers),
        notes=(*(f"Checked: {c.words}" for c in typed.checks), *typed.took),
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
    allowance = allowance_question(candidate, said.answers, unit)
    if allowance:
        must.append(replace(allowance, piece=name))
    stated = candidate.stitching_said and not said.answers.allowance
    piece, trouble = None, ""
    asked: tuple[Question, ...] = ()
    notes: tuple[str, ...] = ()
    shown = said.answers if stated else whole_answers(said, shown_answers(said, candidate))
    try:
        made = drafted(candidate, name, shown, unit=unit, where=name)
        words = "; ".join(w for w in (made.piece.note, note) if w)
        piece, asked, notes = replace(made.piece, note=words), made.questions, made.notes
        if candidate.words.on_fold and piece.fold is None and not said.answers.fold:
            must += [q for q in asked if q.id == "fold"]
            asked = tuple(q for q in asked if q.id != "fold")
    except ClothwrightError as error:
        trouble = told(error, unit)
    return Outline(
        number=number,
        name=name,
        said=said,
        candidate=candidate,
        whole=whole,
        piece=piece,
        trouble=trouble,
        must=tuple(must),
        asked=asked,
        notes=notes,
        taken=taken,
    )


def shown_answers(said: Answered, candidate: Candidate) -> Answers:
    """Return the answers with an allowance to draw the piece by while none is answered."""
    if said.answers.allowance:
        return said.answers
    return replace(said.answers, allowance=DRAWN if candidate.stitching else NONE)


def whole_answers(said: Answered, answers: Answers | None = None) -> Answers:
    """Return the answers with the widths of single edges written into the allowance."""
    base = answers or said.answers
    own = [f"{edge}={width}" for edge, width in said.widths.items() if width.strip()]
    if not own or base.allowance == DRAWN:
        return base
    if base.allowance == NONE:
        return replace(base, add=", ".join((base.add or "0 mm", *own)))
    return replace(base, allowance=", ".join((base.allowance, *own)))


def name_question(name: str, said: Answered) -> tuple[Question, ...]:
    """Return the question what becomes of a piece of that name; () when it gives way."""
    if said.replace == "yes":
        return ()
    words = f'the workbook has a piece "{name}" already'
    return (Question(id="name", words=words, piece=name, choices=("another name", "replace it")),)


def to_add(one: SeenDrawing) -> list[Outline]:
    """Return the outlines whose pieces are added. Raises CannotDo: what is missing."""
    wanted = [o for o in one.outlines if o.wanted]
    missing = [q.words for q in (one.scale, one.size, one.bar) if q]
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
