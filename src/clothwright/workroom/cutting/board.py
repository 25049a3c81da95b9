"""How does it lie on the cloth? What the long table shows: the lay, its list, the piece in hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwright.drawing.lay import lay_picture
from clothwright.geometry.region import thinned_ring
from clothwright.lay.by_hand import LaidOut, held_words, may_turn, track_of
from clothwright.lay.order import LayingStep, laying_list
from clothwright.lay.problem import Point, Ring
from clothwright.lay.result import Placement
from clothwright.pattern.finding import Severity
from clothwright.picture.picture import Picture
from clothwright.rules.weighing.laid import Laid
from clothwright.store import Opened
from clothwright.units import Unit
from clothwright.words import counted, say, show_length
from clothwright.workbook import Workbook
from clothwright.workroom.cutting.already import is_spoilt
from clothwright.workroom.cutting.table import OnTable, table_of
from clothwright.workroom.cutting.ticks import done_ticks, ticks_lost
from clothwright.workroom.searching.lays import Lays, LayState

MOST_FAULTS = 3
UNPLACED = "lay-unplaced"
ROUGH_MM = 0.3
"""A drawing on the screen may stray this far from the cutting line."""
REACH_MM = 2.0
"""What is taken hold of may stray this far from the cutting line."""
STEPS_MM = ((1.0, "1 mm"), (10.0, "1 cm"))
STEPS_IN = ((25.4 / 16, "1/16 in"), (25.4 / 2, "1/2 in"))
"""How far a piece is pushed by a key or a press, and with Shift: mm, and in words."""
READY = (
    ("ready scale", "Measure the test square of the printed pages before anything is cut."),
    ("ready cloth", "Cloth washed or shrunk as it will be worn, pressed, its ends squared."),
    ("ready flat", "Cloth flat on the table, nothing hanging over, right side as the plan says."),
)
CHECKED = (
    ("check grain", "Measure every grain line to the selvedge at both ends once more."),
    ("check print", "Look at the border and the motifs under every piece."),
    ("check count", "Count the pieces: each is there, each turned over where the list says so."),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TickedStep:
    """One step of the laying list, with its ticks. words: where the piece lies.

    pinned, chosen: as the piece is; one that is cut is no longer said to be pinned.
    """

    step: LayingStep
    words: str
    chosen: bool
    pinned: bool
    laid: bool
    cut: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ToTick:
    """One thing to tick before or after laying. key: of its tick, not shown."""

    key: str
    words: str
    done: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPiece:
    """A piece on the cloth, to be taken hold of. place: where it lies, mm and degrees.

    held: for along and across, whether its rules bind it there. ring: its outline with few corners;
    middle: where a pin goes through it.
    """

    row: TickedStep
    place: Placement
    held: tuple[bool, bool]
    ring: Ring
    middle: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """The piece in hand. held: where its rules let it lie, in sentences. turns: it may turn.

    spoilt: it is cut, and to be cut once more.
    """

    row: TickedStep
    held: tuple[str, ...]
    turns: bool
    spoilt: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One cloth of the lay on the table.

    cloths: those that something lies on. holds: in drawing order. mark: what ticks belong to.
    fresh: searched for as the problem is now, not moved by hand since. stays: pieces that are
    pinned or cut. done: steps ticked as laid. lost: earlier ticks of this lay could not be read.
    """

    cloth: str
    cloths: tuple[str, ...]
    used: str
    title: str
    picture: Picture
    holds: tuple[BoardPiece, ...]
    rows: tuple[TickedStep, ...]
    before: tuple[ToTick, ...]
    after_laid: tuple[ToTick, ...]
    hand: Hand | None
    stays: int
    folded: bool
    fresh: bool
    mark: str
    done: int
    lost: bool
    laid: Laid


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """How the chosen plan lies. kind: "good", "notice" or "bad", as its sentences say.

    steps: how far a press pushes a piece, mm and in words. board: None while nothing is laid.
    """

    plan: str
    busy: bool
    kind: str
    sentences: tuple[str, ...]
    steps: tuple[tuple[float, str], ...]
    board: Board | None


def cutting_of(lays: Lays, at: Opened, *, piece: str = "", cloth: str = "") -> Cutting:
    """Return how the chosen plan lies, with the piece (a shape) in hand and the cloth looked at.

    at: the workbook as it is looked at; words are in its unit. A piece or cloth that is not there
    counts as none. Raises BadInput.
    """
    unit = at.book.unit
    state, on = table_of(lays, at)
    kind, sentences = _verdict(state, on, unit)
    return Cutting(
        plan=state.plan,
        busy=state.busy,
        kind=kind,
        sentences=sentences,
        steps=STEPS_MM if unit.is_metric else STEPS_IN,
        board=None if on is None else _board(lays, at, on, piece, cloth),
    )


def _verdict(state: LayState, on: OnTable | None, unit: Unit) -> tuple[str, tuple[str, ...]]:
    """Return how the lay stands: "good", "notice" or "bad", and sentences."""
    if state.stage == "failed":
        return "bad", (f"It cannot be laid. {state.trouble}",)
    if on is None:
        return "notice", ("Being laid.",) if state.busy else ("This plan is not laid yet.",)
    out = ["Being laid around what stays; the best so far is shown."] if state.busy else []
    wrong = (f for f in on.laid.faults if f.severity is Severity.FAULT or f.code == UNPLACED)
    faults = list(dict.fromkeys(say(f.words, unit) for f in wrong))
    short = on.laid.lay.short_by
    if short:
        out.append(f"The cloth is too short by {show_length(short, unit)}.")
    if faults:
        out += faults[:MOST_FAULTS]
        if len(faults) > MOST_FAULTS:
            out.append(f"And {len(faults) - MOST_FAULTS} more.")
        if not state.busy:
            out.append("Do not cut by it yet: lay the rest around the pieces that stay.")
    elif not on.fresh and not short:
        out += _kept("Moved by hand, and judged anew: ", on.laid, unit)
    elif not out:
        out += _kept("It fits; ", on.laid, unit)
    compiled = on.laid.compiled
    told = (*compiled.notes, *(say(words, unit) for words in compiled.of_cut))
    out += told
    if state.busy or not (faults or short or told or compiled.gave_way):
        return "notice" if state.busy else "good", tuple(out)
    return "bad" if faults or short else "notice", tuple(out)


def _kept(first: str, laid: Laid, unit: Unit) -> Iterator[str]:
    """Yield that rules are kept, or which of them gave way and are not."""
    missed = laid.compiled.gave_way
    yield f"{first}nothing overlaps, {'but not' if missed else 'and'} every rule is kept."
    yield from (say(words, unit) for words in missed)


def _board(lays: Lays, at: Opened, on: OnTable, piece: str, cloth: str) -> Board:
    unit, laid, table = at.book.unit, on.laid, on.table
    steps = laying_list(laid.compiled, laid.lay)
    cloths = tuple(dict.fromkeys(s.cloth for s in steps))
    there = table.places[piece].region if piece in table.places else ""
    cloth = cloth if cloth in cloths else there or cloths[0]
    chosen = piece if there == cloth else ""
    done = done_ticks(lays.opened.folder, laid.plan.name, on.mark)
    rows = tuple(_row(s, table, done, chosen, unit) for s in steps if s.cloth == cloth)
    used = f"{show_length(laid.lay.used.get(cloth, 0.0), unit)} used"
    return Board(
        cloth=cloth,
        cloths=cloths,
        used=used,
        title=f"The lay on {cloth}: {counted(len(rows), 'piece')}, {used}",
        picture=lays.opened.once(
            f"lay drawn {cloth}",
            at.revision,
            lambda: _on_screen(laid, cloth, unit),
            of=(on.mark, on.fresh),
        ),
        holds=_holds(table, rows),
        rows=rows,
        before=_lines(READY, done),
        after_laid=_lines(CHECKED, done),
        hand=next((_hand(on, at.book, r) for r in rows if r.chosen), None),
        stays=len(table.pins),
        folded=bool(laid.folds),
        fresh=on.fresh,
        mark=on.mark,
        done=sum(r.laid for r in rows),
        lost=ticks_lost(lays.opened.folder, laid.plan.name, on.mark),
        laid=laid,
    )


def _row(
    step: LayingStep, table: LaidOut, done: frozenset[str], chosen: str, unit: Unit
) -> TickedStep:
    return TickedStep(
        step=step,
        words=step.words(unit),
        chosen=step.shape == chosen,
        pinned=step.shape in table.pins - table.cut,
        laid=f"lay {step.number}" in done or step.shape in table.cut,
        cut=step.shape in table.cut,
    )


def _lines(lines: tuple[tuple[str, str], ...], done: frozenset[str]) -> tuple[ToTick, ...]:
    return tuple(ToTick(key=k, words=w, done=k in done) for k, w in lines)


def _hand(on: OnTable, book: Workbook, row: TickedStep) -> Hand:
    shape = on.table.shapes[row.step.shape]
    return Hand(
        row=row,
        held=held_words(on.table, shape.id, book.unit),
        turns=may_turn(shape) and not row.cut,
        spoilt=is_spoilt(book, on.laid, shape.id),
    )


def _holds(table: LaidOut, rows: tuple[TickedStep, ...]) -> tuple[BoardPiece, ...]:
    of = {r.step.shape: r for r in rows}
    return tuple(_hold(table, of[name]) for name in table.shapes if name in of)


def _hold(table: LaidOut, row: TickedStep) -> BoardPiece:
    place = table.places[row.step.shape]
    ring, (along, across) = place.outline, (track_of(table, place, axis) for axis in (0, 1))
    return BoardPiece(
        row=row,
        place=place,
        held=(along is None or not along.free, across is None or not across.free),
        ring=thinned_ring(ring, REACH_MM),
        middle=(sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)),
    )


def _on_screen(laid: Laid, cloth: str, unit: Unit) -> Picture:
    """Return one cloth of a lay with outlines as fine as a screen shows: a third less to send."""
    rough = tuple(
        replace(p, outline=thinned_ring(p.outline, ROUGH_MM)) for p in laid.lay.placements
    )
    lay = replace(laid.lay, placements=rough)
    return lay_picture(laid.compiled, lay, cloth, unit, folds=laid.folds)
