"""When a plan does not fit: ways to fit that were tried by laying them, each with its cost."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from clothwright.errors import ClothwrightError
from clothwright.lay.bound import least_used
from clothwright.lay.problem import LayProblem
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve, split
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.concessions import (
    LEAST_HEM_MM,
    Amendment,
    Concession,
    concessions,
    single_layer,
    together,
)
from clothwright.rules.weighing.laid import Laid, digest, short_cloths
from clothwright.rules.weighing.print_facts import print_cost
from clothwright.units import Unit
from clothwright.words import Sentence, listed, say, to_buy

TRY = 1.0
"""s: how long a way to fit is laid that does not fit at once."""
OTHERS = 0.6
"""s: a cloth still to be bought is laid so long where a way to fit gives it more to carry."""
FIRST_SHARE = 0.6
"""Share of the time for each way alone; the rest goes to the nearest, and to several together."""
NEAR = 3
"""How many ways that came nearest are tried again."""
PROMISE = 5.0
"""How much a way that surely frees all that is missing counts against how much is seen of it."""
HOPELESS = 4
"""Ways that surely cannot fit are laid only while fewer than this may: to be put together."""
MOST_TOGETHER = 4
ENOUGH = 3
"""So many concessions at most are put together; so many ways that fit are enough of one size."""
SEEN_MM = 1.0
"""mm: a print that meets worse by less than this is not told."""


@dataclass(frozen=True, kw_only=True)
class WayToFit:
    """One way to fit, tried: what is given up, and the lay of the plan as it would be.

    given: the concessions, one or several together. before: the lay that did not fit. unit: in
    which what is to buy is told.
    """

    given: tuple[Concession, ...]
    laid: Laid
    before: Laid
    unit: Unit

    @property
    def key(self) -> str:
        """Names the way for good, whatever its place in the list."""
        return " + ".join(c.key for c in self.given)

    @property
    def plan(self) -> Plan:
        """The plan as it would be."""
        return self.laid.plan

    @property
    def edit(self) -> Amendment:
        """The exact edits that make it so."""
        return together([c.edit for c in self.given])

    @property
    def what(self) -> Sentence:
        """What it is, in the maker's words."""
        out: list[str | float] = []
        for c in self.given:
            out += ["; and " if out else "", *c.what]
        return tuple(out)

    def tried(self, unit: Unit) -> str:
        """Say what was tried and whether it fits, lengths in `unit`."""
        return f"{say(self.what, unit)}: {self.laid.fit_words(unit)}"

    @property
    def fits(self) -> bool:
        """True when everything now has its place, by the judge too."""
        return self.laid.lay.fits and not self.laid.faults

    @property
    def short_by(self) -> float | None:
        """How many mm are still missing; 0 when it fits; None where no length would help."""
        return 0.0 if self.fits else self.laid.lay.short_by

    @property
    def used(self) -> dict[str, float]:
        """Length used of every cloth, mm."""
        return dict(self.laid.lay.used)

    @cached_property
    def look(self) -> tuple[Sentence, ...]:
        """What it costs in look and wear, with what the lay itself shows."""
        out = [s for c in self.given for s in c.look]
        if self.edit.changes:
            out.append(STEPS)
        out += print_cost(self.before.meetings, self.laid.meetings)
        bias = [n for n in self.laid.on_bias if n not in self.before.on_bias]
        off = [n for n in self.laid.off_grain if n not in (*self.before.off_grain, *bias)]
        for way, names in (("across the grain", off), ("on the bias", bias)):
            out += [(f"cut {way}: {listed(names)}",)] if names else []
        out += _more_to_buy(self.before, self.laid, self.unit)
        return tuple(dict.fromkeys(out))

    @property
    def loss(self) -> int:
        """How much is seen of it, 0 (nothing) upwards; several together add up."""
        return sum(c.loss for c in self.given)


STEPS: Sentence = ("the pieces change for every plan of the workbook",)


MakePlan = Callable[[Amendment, str], Laid | None]
"""Returns the plan with an edit made, under a name, compiled and not laid; None if it cannot be.

Raises ClothwrightError as well where it cannot."""


def ways_to_fit(
    laid: Laid,
    made: MakePlan,
    *,
    unit: Unit,
    gap: float,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    least_hem: float | None = None,
    told: Callable[[WayToFit], None] | None = None,
) -> tuple[WayToFit, ...]:
    """Return ways to fit for a plan that does not fit, those that fit first, the least seen first.

    laid: the plan laid too long. made: makes what is tried. unit: in which what is to buy is told.
    gap: mm between cutting lines now. seconds: for all together. Each way is laid; one that fits
    stops its own search. When none fits alone, those that save most are tried together.
    rounds: a way is laid for so many (docs of `solve`) instead of for its share of the seconds.
    least_hem: mm, the shallowest hem offered; None for the usual one.
    told: called with each way as it has been tried.
    """
    if laid.lay.fits:
        return ()
    until = time.monotonic() + seconds
    trial = _Trial(made=made, unit=unit, before=laid, seed=seed, rounds=rounds, until=until)
    trial.know(laid)
    short = short_cloths(laid)
    found = concessions(
        laid.pattern,
        laid.plan,
        laid.cloths,
        [c for c in laid.cloths if c.name in short],
        gap=gap,
        least_hem=LEAST_HEM_MM if least_hem is None else least_hem,
    )
    starts = _hopeful(trial.starts((c,) for c in found))
    tried = _first_lays(trial, starts, told)
    tried = _longer(trial, tried, told, until=trial.until - (1 - FIRST_SHARE) * seconds)
    tried = _nearest_again(trial, tried, told)
    if not any(w.fits for w in tried):
        tried += _put_together(trial, tried, found, told)
    return tuple(sorted(tried, key=_worth))


def _hopeful(starts: list[_Start]) -> list[_Start]:
    """Return those that may fit, and of those that surely cannot only the nearest few."""
    may = [s for s in starts if s.excess <= 0]
    return may + [s for s in starts if s.excess > 0][: max(0, HOPELESS - len(may))]


def _worth(way: WayToFit) -> tuple[bool, float, float, float]:
    short = way.short_by
    missing = 1e9 if short is None else short
    if way.fits:
        return (False, way.loss, len(way.given), way.laid.used_in_hand)
    return (True, missing, way.loss, way.laid.used_in_hand)


# --- trying -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Start:
    """A way ready to be laid; excess: mm by which it cannot fit whatever the search does."""

    given: tuple[Concession, ...]
    laid: Laid
    excess: float

    @property
    def loss(self) -> int:
        return sum(c.loss for c in self.given)


@dataclass(kw_only=True)
class _Trial:
    """The laying of many ways within one time. known: lays of parts that ways have in common."""

    made: MakePlan
    unit: Unit
    before: Laid
    seed: int
    rounds: int | None
    until: float
    known: dict[str, Lay] = field(default_factory=dict)

    def left(self) -> float:
        """Seconds left."""
        return self.until - time.monotonic()

    def know(self, laid: Laid) -> None:
        """Take in how the cloths to be bought lie already: most ways do not touch them."""
        for part in split(laid.compiled.problem):
            ids = {s.id for s in part.shapes}
            placed = tuple(p for p in laid.lay.placements if p.shape in ids)
            if len(placed) == len(ids) and all(r.length is None for r in part.regions):
                used = {r.name: laid.lay.used.get(r.name, 0.0) for r in part.regions}
                self.known[digest(part)] = Lay(placements=placed, used=used, fits=True)

    def starts(self, given: Iterable[tuple[Concession, ...]]) -> list[_Start]:
        """Return the ways that change the problem at all, the most promising first."""
        same = {self.before.mark}
        out = []
        for each in given:
            start = self._start(each)
            if start is None:
                continue
            mark = digest(start.laid.compiled.problem)
            if mark not in same:
                same.add(mark)
                out.append(start)
        return sorted(out, key=lambda s: (max(0.0, s.excess), self._promise(s)))

    def _promise(self, start: _Start) -> float:
        """How soon a way is tried: little is seen of it, or it frees as much as is missing."""
        missing = self.before.lay.short_by or 1.0
        frees = (_excess(self.before) - start.excess) / missing
        return start.loss - PROMISE * min(1.0, max(0.0, frees))

    def _start(self, given: tuple[Concession, ...]) -> _Start | None:
        given = (*(c for c in single_layer(self.before.plan) if c not in given), *given)
        edit = together([c.edit for c in given])
        try:
            laid = self.made(edit, f"{self.before.plan.name}, {_short_name(given)}")
        except ClothwrightError:
            return None
        return None if laid is None else _Start(given=given, laid=laid, excess=_excess(laid))

    def again(self, way: WayToFit) -> _Start:
        """Return a way ready to be laid once more."""
        return _Start(given=way.given, laid=way.laid, excess=0.0)

    def lay(self, start: _Start, seconds: float, times: int = 1) -> WayToFit:
        """Lay a way: the cloths of fixed length as long as needed, the others once.

        times: so often the rounds, where it goes by rounds; 0 is the first lay alone.
        """
        rounds = None if self.rounds is None else self.rounds * times
        problem = start.laid.compiled.problem
        lays = []
        for part in split(problem):
            if any(r.length is not None or r.outline is not None for r in part.regions):
                lays.append(self._fixed(part, seconds, rounds))
            else:
                mark = digest(part)
                if mark not in self.known:
                    self.known[mark] = self._solve(part, OTHERS, self.rounds)
                lays.append(self.known[mark])
        laid = replace(start.laid, lay=_merged(problem, lays, self.seed))
        return WayToFit(given=start.given, laid=laid, before=self.before, unit=self.unit)

    def _fixed(self, part: LayProblem, seconds: float, rounds: int | None) -> Lay:
        fits = [False]

        def better(lay: Lay) -> None:
            fits[0] = lay.fits

        return self._solve(part, seconds, rounds, on_better=better, should_stop=lambda: fits[0])

    def _solve(self, part: LayProblem, seconds: float, rounds: int | None, **asked: Any) -> Lay:
        seconds = seconds if rounds is None else max(0.0, self.left())
        return solve(part, seconds=seconds, seed=self.seed, rounds=rounds, **asked)


def _merged(problem: LayProblem, lays: Sequence[Lay], seed: int) -> Lay:
    placed = {p.shape: p for lay in lays for p in lay.placements}
    unplaced = {k: v for lay in lays for k, v in lay.unplaced.items()}
    used: Mapping[str, float] = {k: v for lay in lays for k, v in lay.used.items()}
    over = max((lay.short_by or 0.0 for lay in lays), default=0.0)
    return Lay(
        placements=tuple(placed[s.id] for s in problem.shapes if s.id in placed),
        unplaced=unplaced,
        used={r.name: used.get(r.name, 0.0) for r in problem.regions},
        fits=not unplaced and over == 0.0,
        short_by=None if unplaced else over,
        seed=seed,
        seconds=sum(lay.seconds for lay in lays),
        rounds=sum(lay.rounds for lay in lays),
        stopped="it fits" if not unplaced and over == 0.0 else "time",
    )


def _excess(laid: Laid) -> float:
    """Return by how many mm the least thinkable length is more than there is (negative: room)."""
    problem = laid.compiled.problem
    return max(
        (
            least_used(problem, r) - (r.length - r.margin_end)
            for r in problem.regions
            if r.length is not None
        ),
        default=0.0,
    )


def _first_lays(
    trial: _Trial, starts: Sequence[_Start], told: Callable[[WayToFit], None] | None
) -> list[WayToFit]:
    """Give each way its first lay: quickly made, and some fit at once."""
    tried: list[WayToFit] = []
    for start in starts:
        if trial.left() <= 0 and tried:
            break
        tried.append(trial.lay(start, 0.0, 0))
        if told is not None and tried[-1].fits:
            told(tried[-1])
    return tried


def _longer(
    trial: _Trial,
    tried: list[WayToFit],
    told: Callable[[WayToFit], None] | None,
    *,
    until: float,
) -> list[WayToFit]:
    """Lay what does not fit yet again for a second, the nearest first."""
    out = list(tried)
    for way in sorted((w for w in tried if not w.fits), key=_worth):
        if time.monotonic() + TRY > until:
            break
        again = trial.lay(trial.again(way), TRY)
        if _worth(again) < _worth(way):
            out[out.index(way)] = again
        if told is not None:
            told(again)
    return out


def _nearest_again(
    trial: _Trial, tried: list[WayToFit], told: Callable[[WayToFit], None] | None
) -> list[WayToFit]:
    """Lay the ways that came nearest again, for longer."""
    near = sorted((w for w in tried if not w.fits and _saves(w)), key=_worth)[:NEAR]
    share = trial.left() / (4 * NEAR)
    out = list(tried)
    for way in near:
        if share < TRY or way.short_by is None:
            continue
        again = trial.lay(trial.again(way), share, NEAR)
        if _worth(again) < _worth(way):
            out[out.index(way)] = again
            if told is not None:
                told(again)
    return out


def _put_together(
    trial: _Trial,
    tried: Sequence[WayToFit],
    found: Sequence[Concession],
    told: Callable[[WayToFit], None] | None,
) -> list[WayToFit]:
    """Add one concession after another to the way that came nearest, until it fits."""
    best = min(tried, key=_worth, default=None)
    out: list[WayToFit] = []
    while best is not None and not best.fits and len(best.given) < MOST_TOGETHER:
        more = [(*best.given, c) for c in found if not any(_clash(c, g) for g in best.given)]
        step: list[WayToFit] = []
        for start in trial.starts(more):
            if trial.left() < TRY:
                break
            step.append(trial.lay(start, min(1.5 * TRY, trial.left())))
            if told is not None:
                told(step[-1])
            if sum(w.fits for w in step) >= ENOUGH:
                break
        out += step
        nearest = min(step, key=_worth, default=None)
        if nearest is None or not _worth(nearest) < _worth(best):
            break
        best = nearest
    return out


def _saves(way: WayToFit) -> bool:
    """Tell whether less is missing than before."""
    if way.short_by is None or way.before.lay.short_by is None:
        return way.short_by is not None
    return way.short_by < way.before.lay.short_by - SEEN_MM


def _clash(a: Concession, b: Concession) -> bool:
    """Tell whether two concessions do something to the same rule or piece."""
    if a.key == b.key or a.edit.touched & b.edit.touched:
        return True
    touched = [
        {getattr(r, "piece", "") for r in c.edit.add} | {name for name, _ in c.edit.parts}
        for c in (a, b)
    ]
    return bool(touched[0] & touched[1])


def _short_name(given: Sequence[Concession]) -> str:
    words = [c.key.split(" from ")[0] if c.kind == "facing" else c.key for c in given]
    leads = {"border": "no border on", "facing": "lining", "rule": "without", "room": "room for"}
    out = []
    for c, w in zip(given, words, strict=True):
        lead, _, rest = w.partition(" ")
        out.append(f"{leads.get(c.kind, lead)} {rest}".strip())
    return " and ".join(out)


# --- what it costs ------------------------------------------------------------------------------


def _more_to_buy(before: Laid, after: Laid, unit: Unit) -> list[Sentence]:
    """Say how much more of a cloth must be bought (to the first lay: a little generous)."""
    out: list[Sentence] = []
    for name, need in after.buy.items():
        more = need - before.buy.get(name, 0.0)
        if more > 10.0:
            out.append((f"buy {to_buy(more, unit)} more of the {name}",))
    return out
