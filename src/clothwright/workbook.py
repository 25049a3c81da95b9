"""The workbook: pieces as bought, the list of changes, cloths, plans, settings; replay and undo.

The pattern as bought is never touched. The changes are replayed on it in order; one that is
switched off is passed over, and one that cannot be done is reported while the rest go on.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import takewhile

from clothwright.body.body import Body
from clothwright.body.chart import SizeChart
from clothwright.body.toile import ToileNote
from clothwright.changes import CHANGES
from clothwright.changes.change import Change
from clothwright.changes.following import awaited, done_following
from clothwright.changes.named import Request
from clothwright.checks.check import BorderEdge, CheckSettings
from clothwright.cloth.cloth import Cloth
from clothwright.errors import ClothwrightError, named, not_known
from clothwright.lay.cut_piece import CutPiece
from clothwright.pattern.names import Ref, is_there
from clothwright.pattern.past import Done, History
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.names import refs_of
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.units.kinds import Length
from clothwright.units.params import read_params
from clothwright.words import Sentence, told, within

FREE = Plan(name="free", why="no placing rules: every piece where it fits best")
"""The plan of a workbook in which nobody has made one."""


MENDS = "mends "
"""What the reason for a change begins with that mends a finding of the walk."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One entry in the list of changes. params: text and numbers as the maker wrote them.

    toile: the name of the note of a toile that it answers, "" for none.
    """

    change: str
    params: Mapping[str, object] = field(default_factory=dict)
    on: bool = True
    why: str = ""
    toile: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Choices that hold for the whole workbook (mm, shares)."""

    checks: CheckSettings = CheckSettings()
    gap: Length = 2.0
    paper: str = "A4"
    for_child: bool = False
    """True when the garment is for a child: the guide then shows cord and sleepwear cautions."""
    currency: str = ""
    """What prices are in ("EUR", "$"); "" when it is not named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Workbook:
    """Everything the maker has decided about one outfit.

    body: the wearer's measurements; chart: the size chart of the pattern, as typed. wishes: what
    she wants of the print, by name, what matters most first; without any, what is usual.
    toile: what the trial garment showed. cut: what is cut already, which is kept beside the
    workbook, for no undo puts it back on the cloth: it is no part of what is saved and compared.
    """

    title: str
    unit: Unit = Unit.cm
    bought: Pattern = Pattern(pieces=())
    steps: tuple[Step, ...] = ()
    cloths: tuple[Cloth, ...] = ()
    plans: tuple[Plan, ...] = ()
    settings: Settings = Settings()
    chosen_plan: str = ""
    wishes: tuple[str, ...] = ()
    notes: str = ""
    body: Body = Body()
    chart: SizeChart | None = None
    toile: tuple[ToileNote, ...] = ()
    cut: tuple[CutPiece, ...] = field(default=(), compare=False)

    def cloth(self, name: str) -> Cloth:
        """Return a named cloth. Raises BadInput."""
        return named(self.cloths, name, "there is no cloth", "The workbook has no cloths.")

    def plan(self, name: str = "") -> Plan:
        """Return a named plan; without a name the chosen one, or the first. Raises BadInput.

        A workbook without plans has the one plan FREE, by its name too.
        """
        wanted = name or self.chosen_plan
        if not wanted and self.plans:
            return self.plans[0]
        if not self.plans and wanted in ("", FREE.name):
            return FREE
        return named(self.plans, wanted, "there is no plan", "The workbook has no plans.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What became of one step: its sentence, or why it could not be done."""

    number: int
    step: Step
    said: Sentence = ()
    error: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Replay:
    """The pattern after all changes that are on and possible, and the record of each.

    states: the pattern after each change in the list.
    """

    pattern: Pattern
    told: tuple[Told, ...]
    states: tuple[Pattern, ...] = ()


def change_of(name: str, *, where: str = "") -> Change[object]:
    """Return a kind of change by its id. Raises BadInput with the nearest known one."""
    for change in CHANGES:
        if change.id == name:
            return change
    raise not_known(f'there is no change "{name}"', name, [c.id for c in CHANGES], where=where)


def change_title(kind: str) -> str:
    """Return what a kind of change (its id) does, as the menu says it."""
    return next((c.title for c in CHANGES if c.id == kind), "Of a kind nobody knows")


def change_name(number: int, kind: str) -> str:
    """Return a change of the list as it is said within a sentence: its number, what it does."""
    return f"change {number} ({within(change_title(kind))})"


def replay(book: Workbook) -> Replay:
    """Apply the list of changes to the pieces as bought.

    The pattern's trail says where the names have gone; rules, pins and plans follow it, and its
    past where they name what is not there. A change that names what only one below it makes is
    told so.
    """
    done = _replayed(book)
    lost = not all(is_there(done.pattern, ref) for ref in _named_in(book))
    if not lost and not any(t.error for t in done.told):
        return done
    past = history_of(book, done.states)
    record = tuple(_below(book, done, t, past) if t.error else t for t in done.told)
    pattern = replace(done.pattern, past=past) if lost and book.steps else done.pattern
    return replace(done, told=record, pattern=pattern)


def _named_in(book: Workbook) -> Iterator[Ref]:
    """Yield what the plans, and the borders to be checked, name of the pieces."""
    for rule in (r for plan in book.plans for r in plan.rules):
        yield from (ref for _, ref in refs_of(rule))
    yield from (Ref("edge", b.piece, b.edge) for b in book.settings.checks.borders)


def _below(book: Workbook, done: Replay, t: Told, history: History) -> Told:
    """Return what is told of a change that could not be done, with the one below it that it needs.

    history: of the whole list. What is done depends on what stands above alone.
    """
    states = done.states[: t.number - 1]
    try:
        asked = _request(book, t.number, (book.bought, *states)[-1])
    except ClothwrightError:
        return t
    coming = History(*(tuple(d for d in steps if d.number > t.number) for steps in history))
    refusal = awaited(asked, history_of(book, states), coming)
    return t if refusal is None else replace(t, error=told(refusal, book.unit))


def _request(book: Workbook, number: int, pattern: Pattern) -> Request:
    """Return a change of the list, from 1, as it is asked of the pieces. Raises BadInput."""
    step = book.steps[number - 1]
    change = change_of(step.change, where=f"change {number}")
    where = change_name(number, step.change)
    params = read_params(change.params, step.params, unit=book.unit, where=where)
    return Request(change=change, params=params, pattern=pattern)


def _replayed(book: Workbook) -> Replay:
    """Apply the list of changes; each knows of those above it alone.

    The last few replays are remembered: what comes before the first change that differs is not
    done again.
    """
    record, states = _begun(book)
    for number, step in list(enumerate(book.steps, start=1))[len(record) :]:
        pattern = states[-1] if states else book.bought
        states.append(pattern)
        if not step.on:
            record.append(Told(number=number, step=step, said=("Switched off.",)))
            continue
        try:
            asked = _request(book, number, pattern)
            outcome = done_following(asked, partial(history_of, book, tuple(states[:-1])))
        except ClothwrightError as error:
            record.append(Told(number=number, step=step, error=told(error, book.unit)))
            continue
        trail = pattern.trail.then(outcome.trail)
        new = outcome.pattern
        states[-1] = new if trail == new.trail else replace(new, trail=trail)
        record.append(Told(number=number, step=step, said=outcome.said))
    pattern = states[-1] if states else book.bought
    done = Replay(pattern=pattern, told=tuple(record), states=tuple(states))
    _LAST.appendleft((book, done))
    return done


def history_of(book: Workbook, states: tuple[Pattern, ...]) -> History:
    """Return the first changes of the list, as many as there are states after one.

    Where some are switched off, also as it would be if they were on.
    """
    steps = book.steps[: len(states)]
    done = _done(steps, (book.bought, *states))
    if all(s.on for s in steps):
        return History(done, ())
    on = tuple(s if s.on else replace(s, on=True) for s in steps)
    whole = _replayed(replace(book, steps=on))
    return History(done, _done(steps, (book.bought, *whole.states)))


def _done(steps: tuple[Step, ...], at: tuple[Pattern, ...]) -> tuple[Done, ...]:
    """Return the changes that made a difference. at: the pieces before, and after each."""
    return tuple(
        Done(n, change_of(step.change).title, before, after, off=not step.on)
        for n, (step, before, after) in enumerate(zip(steps, at[:-1], at[1:], strict=True), start=1)
        if before is not after
    )


_LAST: deque[tuple[Workbook, Replay]] = deque(maxlen=8)
"""The replays done last."""


def _begun(book: Workbook) -> tuple[list[Told], list[Pattern]]:
    """Return the longest beginning of the list that was replayed lately: record, and patterns."""
    told: list[Told] = []
    states: list[Pattern] = []
    for was, done in tuple(_LAST):
        if was.unit is book.unit and was.bought == book.bought:
            pairs = zip(was.steps, book.steps, strict=False)
            same = sum(1 for _ in takewhile(lambda pair: _alike(*pair), pairs))
            if same > len(told):
                told, states = list(done.told[:same]), list(done.states[:same])
    return told, states


def _alike(a: Step, b: Step) -> bool:
    """Tell whether two steps say the same in the same way: 1 is not `true`, though they equal."""
    return a == b and repr(dict(a.params)) == repr(dict(b.params))


def check_settings(book: Workbook) -> CheckSettings:
    """Return the check settings with the edges that plans lay along a border, and the wearer.

    What is mended before anything is changed puts right what was bought, and is no change of it.
    """
    borders = [
        BorderEdge(piece=rule.piece, edge=rule.edge, plan=plan.name)
        for plan in book.plans
        for rule in plan.rules
        if isinstance(rule, OnBorder)
    ]
    shell = [c for c in book.cloths if c.material == "shell"]
    return replace(
        book.settings.checks,
        borders=book.settings.checks.borders + tuple(borders),
        body=tuple(book.body.figures().items()),
        stretches=bool(shell) and all(c.stretch > 0 for c in shell),
        bought=_put_right(book),
    )


def _put_right(book: Workbook) -> Pattern | None:
    """Return the pieces as bought with all that was mended first; None where no more was done."""
    first = tuple(takewhile(lambda s: not s.on or s.why.startswith(MENDS), book.steps))
    if len(first) == len(book.steps):
        return None
    mended = replace(book, steps=first)
    _, states = _begun(mended)
    return states[-1] if len(states) == len(first) > 0 else replay(mended).pattern
