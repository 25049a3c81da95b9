"""The lay engine's one door: a problem and a time in, the best lay found out.

Whatever ends the search (time, rounds, a wish to stop, Ctrl-C, a dead child), the best lay so far
comes back. Cloths that share no shape and no rule are laid one after another, each with its share
of the time; the first lay of all of them is there before any is made better. Free parts come first:
their search may end early, and what it leaves goes to the bound ones.
"""

from __future__ import annotations

import contextlib
import math
import os
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from clothwright.lay.comb import all_free, draft_from, job_for, packable, strip
from clothwright.lay.fit import Score, holds, lay_from, score
from clothwright.lay.ground import around
from clothwright.lay.improve import Best, first_lay, improve
from clothwright.lay.model import Model, prepare
from clothwright.lay.packer import Packed, Packer
from clothwright.lay.place import ItemPlace, LayDraft, find_spot, laid_points, lay_out
from clothwright.lay.problem import LayProblem, Shape, names_of
from clothwright.lay.result import NOT_REACHED, Lay
from clothwright.lay.sound import check_problem
from clothwright.lay.tolerance import best_pointed

OnBetter = Callable[[Lay], None]
ENDLESS = 1 << 60
PRESSES = 6
PRESS_TIME = 0.4
PRESS_SHARE = 0.03
"""Time kept for the last pressing together: at most this many seconds, and this share."""
FIRST_WAIT = 0.5
"""How long (s) the packer, when it does it all, is waited for before a first lay of our own."""
TRYING_SHARE = 0.2
TRYING_LEAST = 0.3
"""Share of the time, and the least time (s), for places within the tolerances of rules."""
LEAST_PACKING = 0.3
"""With less time than this (s) left no child process is started."""


@dataclass(slots=True, kw_only=True)
class Clock:
    """When to stop, and why."""

    began: float
    seconds: float
    should_stop: Callable[[], bool] | None
    why: str = ""
    until: float = math.inf

    def left(self) -> float:
        """Seconds left of the whole search."""
        return self.began + self.seconds - time.perf_counter()

    def stop(self) -> bool:
        """True when the search (or its present part) is over."""
        if self.should_stop is not None and not self.why and self.should_stop():
            self.why = "interrupted"
        if not self.why and self.left() <= 0.0:
            self.why = "time"
        return bool(self.why) or time.perf_counter() >= self.until


@dataclass(slots=True, kw_only=True)
class LaidTogether:
    """Cloths and shapes that must be laid together, and the best lay of them so far."""

    model: Model
    best: Best
    floor: float

    def ideal(self) -> bool:
        """Everything is placed and the length is the least that any lay could have."""
        return self.nearly(1e-3)

    def nearly(self, within: float = 2.0) -> bool:
        """Everything is placed, within so many mm of the least that any lay could have."""
        return self.best.score[:2] == (0, 0.0) and self.best.score[2] <= self.floor + within


@dataclass(slots=True, kw_only=True)
class Solving:
    """One search: its parts, its clock and whom it tells."""

    problem: LayProblem
    seed: int
    clock: Clock
    on_better: OnBetter | None
    parts: list[LaidTogether] = field(default_factory=list)
    rounds: int = 0
    first: bool = False

    def lay(self) -> Lay:
        """The best lays of all parts as one."""
        seconds = time.perf_counter() - self.clock.began
        return _merged(self, seconds)

    def tell(self) -> None:
        """Tell of a better lay, once every part has one; one stopped half made is never told."""
        if self.on_better is None or not self.first:
            return
        lay = self.lay()
        if lay.whole:
            self.on_better(lay)


def solve(
    problem: LayProblem,
    *,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    on_better: OnBetter | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Lay:
    """The best lay found in `seconds`; shapes that can have no place are named with the reason.

    seconds: wall time; the answer comes within a second of it. 0 gives the first lay.
    seed: the same seed and the same `rounds` give the same lay, whatever the machine's speed, as
        long as the time does not run out first.
    rounds: how many tries per group of cloths; with it, only the search that counts rounds runs
        (no child process whose work depends on time).
    on_better: called with each better lay, the first one included where that is whole.
    should_stop: asked often; when it says so, the best lay so far is returned.

    Raises BadInput (or Mistakes) when the problem itself is unsound.
    """
    check_problem(problem)
    clock = Clock(began=time.perf_counter(), seconds=seconds, should_stop=should_stop)
    ground = around(problem)
    tell = on_better and (lambda lay: on_better(ground.whole(lay)))
    run = Solving(problem=ground.rest, seed=seed, clock=clock, on_better=tell)
    try:
        _search(run, rounds)
    except KeyboardInterrupt:
        clock.why = "interrupted"
    return ground.whole(replace(run.lay(), stopped=clock.why))


def _search(run: Solving, rounds: int | None) -> None:
    helpers: list[Packer | None] = []
    with contextlib.ExitStack() as stack:
        for piece in split(run.problem):
            model = prepare(best_pointed(piece, _while_trying(run, rounds)))
            turns = [group[0] if group else 0.0 for group in model.groups]
            alone = rounds is not None or run.clock.left() < LEAST_PACKING
            packer = None if alone else _early(run, model, turns, stack)
            helpers.append(packer)
            best = _first(run, model, packer)
            run.parts.append(LaidTogether(model=model, best=best, floor=least_length(model)))
        run.first = True
        run.tell()
        pairs = sorted(
            zip(run.parts, helpers, strict=True), key=lambda pair: not all_free(pair[0].model)
        )
        weights = [len(part.model.items) for part, _ in pairs]
        for number, (part, packer) in enumerate(pairs):
            share = weights[number] / max(1, sum(weights[number:]))
            left = run.clock.left() * share
            run.clock.until = time.perf_counter() + left - min(PRESS_TIME, PRESS_SHARE * left)
            if part.nearly():
                _press(part, run, timed=rounds is None)
            if not (part.ideal() or run.clock.stop()):
                _improve_part(run, part, packer, rounds)
                _press(part, run, timed=rounds is None)
                _straighten(part)
    if all(part.ideal() for part in run.parts):
        run.clock.why = run.clock.why or "nothing to improve"
    elif not run.clock.why:
        run.clock.why = "time" if rounds is None else "rounds"


def _while_trying(run: Solving, rounds: int | None) -> Callable[[], bool]:
    """Tolerances are tried for a share of the time, or to the end where rounds are counted."""
    until = run.clock.began + max(TRYING_LEAST, TRYING_SHARE * run.clock.seconds)

    def over() -> bool:
        if run.clock.should_stop is not None and run.clock.should_stop():
            return True
        return rounds is None and time.perf_counter() > until

    return over


def _first(run: Solving, model: Model, packer: Packer | None) -> Best:
    """The first lay: the packer's when it is at work on everything and quick, else our own."""
    if packer is not None:
        nothing = LayDraft(refused=dict.fromkeys(range(len(model.items)), "not laid yet"))
        turns = [group[0] if group else 0.0 for group in model.groups]
        best = Best(draft=nothing, score=score(model, nothing), order=[], turns=turns)
        part = LaidTogether(model=model, best=best, floor=0.0)
        sides = LayDraft(spots=[_nowhere(k) for k in range(len(model.items))])
        packed = packer.latest(FIRST_WAIT)
        if packed is not None:
            _take(run, part, packed, sides)
        if not best.draft.refused:
            return best
    best = first_lay(model, _only_when_told(run.clock))
    _make_honest(model, best)
    return best


def _only_when_told(clock: Clock) -> Callable[[], bool]:
    """The first lay is finished even when the time is up, unless someone wants to stop."""
    return lambda: clock.should_stop is not None and clock.should_stop()


def _early(
    run: Solving, model: Model, turns: Sequence[float], stack: contextlib.ExitStack
) -> Packer | None:
    """The packer at work on a wholly free part while the first lay is still being made."""
    if run.parts or not all_free(model) or len(model.items) != len(run.problem.shapes):
        return None
    if any(not _fits_across(model, k) for k in range(len(model.items))):
        return None
    everything = LayDraft(spots=[_nowhere(k) for k in range(len(model.items))])
    packer = _packer(run, model, everything, turns, workers=_cores())
    if packer is not None:
        stack.callback(packer.close)
    return packer


def _fits_across(model: Model, index: int) -> bool:
    low, high = strip(model)
    room = high - low
    options = model.items[index].options
    return any(o.kind.high[1] - o.kind.low[1] <= room for o in options)


def _nowhere(index: int) -> ItemPlace:
    return ItemPlace(item=index, ground=0, option=0, x=0.0, y=0.0)


def _packer(
    run: Solving, model: Model, draft: LayDraft, turns: Sequence[float], *, workers: int
) -> Packer | None:
    left = min(run.clock.left(), run.clock.until - time.perf_counter())
    seconds = max(1, math.ceil(left - 0.25))
    job = job_for(model, draft, turns, seconds=seconds, seed=run.seed, workers=workers)
    if job is None or not job.items:
        return None
    try:
        return Packer(job)
    except OSError:
        return None


# --- one part -----------------------------------------------------------------------------------


def _improve_part(
    run: Solving, part: LaidTogether, packer: Packer | None, rounds: int | None
) -> None:
    def told(_draft: LayDraft, _score: Score) -> None:
        run.tell()

    rng = np.random.default_rng([run.seed, len(part.model.items)])

    def stop() -> bool:
        return run.clock.stop() or part.ideal()

    if rounds is not None:
        run.rounds += improve(part.model, part.best, rng=rng, stop=stop, told=told, rounds=rounds)
        return
    if all_free(part.model):
        _pack_all(run, part, packer)
    with _comb_packer(run, part) as watch:
        run.rounds += improve(part.model, part.best, rng=rng, stop=watch, told=told, rounds=ENDLESS)


def _pack_all(run: Solving, part: LaidTogether, packer: Packer | None) -> None:
    """The packer on everything, until time is up or it has no more to say."""
    mine = packer is None
    if packer is None:
        packer = _packer(run, part.model, part.best.draft, part.best.turns, workers=_cores())
    if packer is None:
        return
    try:
        while not (run.clock.stop() or part.ideal()):
            packed = packer.latest(0.02)
            if packed is not None:
                _take(run, part, packed, part.best.draft)
                if part.nearly():
                    _press(part, run, timed=True)
            elif packer.ended:
                return
        packed = packer.latest()
        if packed is not None:
            _take(run, part, packed, part.best.draft)
    finally:
        if mine:
            packer.close()


def _cores() -> int:
    """How many cores this search may use: all, or as many as CLOTHWRIGHT_CORES says."""
    asked = os.environ.get("CLOTHWRIGHT_CORES", "")
    return max(1, int(asked) if asked.isdigit() else os.cpu_count() or 1)


@contextlib.contextmanager
def _comb_packer(run: Solving, part: LaidTogether) -> Iterator[Callable[[], bool]]:
    """A stop rule that also takes in what the packer finds round the comb of bound shapes."""
    packer: Packer | None = None
    base = part.best.draft
    if packable(part.model) and not all_free(part.model) and run.clock.left() > LEAST_PACKING:
        base = LayDraft(spots=list(part.best.draft.spots), refused=dict(part.best.draft.refused))
        packer = _packer(run, part.model, base, part.best.turns, workers=1)

    def watch() -> bool:
        if packer is not None:
            packed = packer.latest()
            if packed is not None:
                _take(run, part, packed, base)
        return run.clock.stop() or part.ideal()

    try:
        yield watch
        watch()
    finally:
        if packer is not None:
            packer.close()


def _take(run: Solving, part: LaidTogether, packed: Packed, base: LayDraft) -> None:
    """Count the packer's lay when it is better and true."""
    model = part.model
    draft = draft_from(model, packed, base)
    held = {spot.item for spot in draft.spots}
    missing = [k for k in range(len(model.items)) if k not in held and k not in draft.refused]
    if missing:
        draft = lay_out(model, missing, part.best.turns, start=draft, tilted=part.best.tilted)
    worth = score(model, draft)
    if worth < part.best.score and holds(model, draft):
        part.best.draft, part.best.score = draft, worth
        part.best.order = [s.item for s in sorted(draft.spots, key=lambda s: s.x)] + sorted(
            draft.refused
        )
        run.tell()


def _press(part: LaidTogether, run: Solving, *, timed: bool) -> None:
    """Shapes slid and re-laid towards the cut end one by one, as long as that gains."""
    model = part.model
    changed = True
    until = time.perf_counter() + (PRESS_TIME if timed else math.inf)
    for _ in range(PRESSES):
        if not changed or run.clock.why == "interrupted" or time.perf_counter() > until:
            return
        changed = False
        spots = sorted(part.best.draft.spots, key=lambda spot: spot.x)
        for spot in list(spots):
            if time.perf_counter() > until:
                break
            others = [other for other in spots if other.item != spot.item]
            if model.items[spot.item].pin is not None:
                continue
            laid = laid_points(model, others)
            better = find_spot(model, spot.item, others, laid, part.best.turns, True)
            if (
                better is not None
                and better.ground == spot.ground
                and (_end(model, better) < _end(model, spot) - 1e-3)
            ):
                spots[spots.index(spot)] = better
                changed = True
        draft = LayDraft(spots=spots, refused=dict(part.best.draft.refused))
        worth = score(model, draft)
        if not (worth < part.best.score and holds(model, draft)):
            return
        part.best.draft, part.best.score = draft, worth
        run.tell()


def _straighten(part: LaidTogether) -> None:
    """Shapes whose tilt gains nothing go back to their exact turn."""
    model, best = part.model, part.best
    for spot in list(best.draft.spots):
        if not model.items[spot.item].options[spot.option].tilted:
            continue
        others = [other for other in best.draft.spots if other.item != spot.item]
        exact = find_spot(model, spot.item, others, laid_points(model, others), best.turns)
        if exact is None or model.items[exact.item].options[exact.option].tilted:
            continue
        draft = LayDraft(spots=[*others, exact], refused=dict(best.draft.refused))
        worth = score(model, draft)
        if worth[:3] <= best.score[:3] and holds(model, draft):
            best.draft, best.score = draft, worth


def _end(model: Model, spot: ItemPlace) -> float:
    return spot.x + model.items[spot.item].options[spot.option].kind.high[0]


def _make_honest(model: Model, best: Best) -> None:
    """A first lay that fails its exact check (it should not) keeps what passes."""
    if holds(model, best.draft):
        return
    kept = LayDraft(refused=dict(best.draft.refused))
    for spot in best.draft.spots:
        if holds(model, LayDraft(spots=[*kept.spots, spot])):
            kept.spots.append(spot)
        else:
            kept.refused[spot.item] = ""
    best.draft, best.score = kept, score(model, kept)


def least_length(model: Model) -> float:
    """A length that no lay can beat: the longest piece, or all areas over the usable width."""
    if len(model.grounds) != 1 or not model.items:
        return 0.0
    ground = model.grounds[0]
    longest = max(min(o.kind.high[0] - o.kind.low[0] for o in i.options) for i in model.items)
    area = sum(item.options[0].kind.area for item in model.items)
    least = ground.start + max(longest, area / (ground.high - ground.low))
    return max(least, ground.region.cut_to)


# --- parts of a problem -------------------------------------------------------------------------


def split(problem: LayProblem) -> list[LayProblem]:
    """The problem as independent ones: cloths that share no shape and no rule."""
    parent = {("cloth", region.name): ("cloth", region.name) for region in problem.regions}
    parent |= {("shape", shape.id): ("shape", shape.id) for shape in problem.shapes}

    def root(key: tuple[str, str]) -> tuple[str, str]:
        while parent[key] != key:
            key = parent[key]
        return key

    def join(a: tuple[str, str], b: tuple[str, str]) -> None:
        parent[root(a)] = root(b)

    for shape in problem.shapes:
        for name in _homes(shape, problem):
            join(("shape", shape.id), ("cloth", name))
    for rule in problem.rules:
        names = names_of(rule)
        for name in names[1:]:
            join(("shape", names[0]), ("shape", name))
    found: dict[tuple[str, str], LayProblem] = {}
    for region in problem.regions:
        key = root(("cloth", region.name))
        if key in found:
            continue
        shapes = tuple(s for s in problem.shapes if root(("shape", s.id)) == key)
        ids = {shape.id for shape in shapes}
        found[key] = replace(
            problem,
            regions=tuple(r for r in problem.regions if root(("cloth", r.name)) == key),
            shapes=shapes,
            rules=tuple(r for r in problem.rules if names_of(r) and names_of(r)[0] in ids),
        )
    return list(found.values())


def _homes(shape: Shape, problem: LayProblem) -> tuple[str, ...]:
    return shape.regions or tuple(region.name for region in problem.regions)


def _merged(run: Solving, seconds: float) -> Lay:
    """The parts' lays as one, in the problem's order."""
    lays = [lay_from(part.model, part.best.draft, part.best.turns) for part in run.parts]
    placed = {place.shape: place for lay in lays for place in lay.placements}
    unplaced = {name: why for lay in lays for name, why in lay.unplaced.items()}
    used = {name: end for lay in lays for name, end in lay.used.items()}
    for shape in run.problem.shapes:
        if shape.id not in placed and shape.id not in unplaced:
            unplaced[shape.id] = NOT_REACHED
    over = max((lay.short_by or 0.0 for lay in lays), default=0.0)
    return Lay(
        placements=tuple(placed[s.id] for s in run.problem.shapes if s.id in placed),
        unplaced={s.id: unplaced[s.id] for s in run.problem.shapes if s.id in unplaced},
        used={r.name: used.get(r.name, 0.0) for r in run.problem.regions},
        fits=not unplaced and over == 0.0,
        short_by=None if unplaced else over,
        seed=run.seed,
        seconds=seconds,
        rounds=run.rounds,
    )
