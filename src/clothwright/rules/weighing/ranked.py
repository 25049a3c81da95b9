"""Laid plans weighed by her wishes: how much of each is had, which plan beats which, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from clothwright.errors import Sentence, joined
from clothwright.geometry.vec import turn_apart
from clothwright.lay.judge import residuals
from clothwright.lay.meeting.values import WHOLE, SeamMeeting, worse_of_each
from clothwright.lay.problem import LayProblem, Shape
from clothwright.lay.result import Placement
from clothwright.rules.known import kind_of
from clothwright.rules.names import pieces_in
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.other_order import other_order
from clothwright.rules.weighing.print_facts import missing_mm, print_cost
from clothwright.rules.wishes.asked import asked_alone
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.words import begun, is_met, listed

SAME_MM = 1.0
"""Lengths nearer than this count as the same when plans are weighed against each other."""
NO_PLACE_MM = 1e9
"""A piece without a place is worse than any length."""
SAME_SEAM_MM = 5.0
"""Lengths of seams nearer than this count as the same."""
SAME_SHARE = 0.02
"""Shares nearer than this count as the same."""
STEP = 0.05
"""Shares are ranked in steps of this, so that a hair of one wish does not outweigh the next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """A laid plan, weighed by wishes.

    had: by the name of a wish, in her order, the way in which the lay has it whole, None where it
    has not. points: the share of what it asks that the lay keeps, 0 to 1; shares: that, together
    with how far the print meets along its seams, 0 to 1. missing: mm of the seams along which what
    crosses them does not meet, a border that stops among it; broken: mm along which the print does
    not run on, and is not mirrored either. beaten_by: name of a plan as good in every respect and
    better in one, or ""; because: in what it is better, a clause.
    """

    laid: Laid
    had: Mapping[str, Grant | None]
    points: Mapping[str, float]
    shares: Mapping[str, float]
    missing: float
    broken: float
    beaten_by: str = ""
    because: Sentence = ()

    @property
    def name(self) -> str:
        """The plan's name."""
        return self.laid.plan.name

    @property
    def lacks(self) -> tuple[str, ...]:
        """The wishes that it does not have whole."""
        return tuple(n for n, grant in self.had.items() if grant is None)

    @property
    def short(self) -> float:
        """By how many mm it does not fit; very much for every piece that has no place."""
        lay = self.laid.lay
        return NO_PLACE_MM * len(lay.unplaced) or lay.short_by or 0.0

    @property
    def used(self) -> float:
        """Length used of the cloths that are in hand, else of all, mm."""
        return self.laid.used_in_hand


def weighed(laid: Sequence[Laid], wishes: Sequence[Wish]) -> tuple[Weighed, ...]:
    """Return laid plans, the best first: beaten ones last, then what fits, then by her wishes.

    wishes: what matters most first; what is asked for a wish counts only between plans that keep as
    much for all those before it. Then, again in her order, how far the print meets along the seams
    of each; then the shorter one. All are laid for the same pieces and cloths.
    """
    asking = _Asking()
    measured = sorted((_measured(one, wishes, asking) for one in laid), key=_place)
    return tuple(sorted((_told(one, measured) for one in measured), key=_place))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asking:
    """What grants ask of a lay when nothing else does, each found out once."""

    known: dict[tuple[Grant, str], LayProblem | None] = field(default_factory=dict)

    def of(self, grant: Grant, laid: Laid) -> LayProblem | None:
        """Return what a grant asks, its pieces as it says or else as they lie; None: impossible."""
        key = grant, grant.lies or _laid_across(grant, laid)
        if key not in self.known:
            self.known[key] = asked_alone(grant.rules, key[1], laid.pattern, laid.cloths)
        return self.known[key]


def _laid_across(grant: Grant, laid: Laid) -> str:
    """Return "across" where all pieces of a grant that turns none lie so, else ""."""
    if any(kind_of(r).turns for r in grant.rules):
        return ""
    pieces = pieces_in(grant.rules)
    mine = (p for p in laid.lay.placements if laid.compiled.copy(p.shape).piece.name in pieces)
    turns = [p.turn_deg for p in mine]
    return "across" if turns and all(round(t) % 180 == 90 for t in turns) else ""


def _measured(laid: Laid, wishes: Sequence[Wish], asking: _Asking) -> Weighed:
    """Measure every wish in a lay, whichever rules it was laid by."""
    seams = {m.seam: m for m in worse_of_each(laid.meetings)}
    shares: dict[str, float] = {}
    points: dict[str, float] = {}
    had: dict[str, Grant | None] = {}
    for wish in wishes:
        each = [(_kept(g, asking.of(g, laid), laid), -n, g) for n, g in enumerate(wish.grants)]
        kept, _, best = max(each, key=lambda e: e[:2])
        points[wish.name] = kept
        had[wish.name] = best if kept == 1.0 else None
        shares[wish.name] = _share(wish, kept, seams, whole=not laid.lay.unplaced)
    return Weighed(
        laid=laid,
        had=had,
        points=points,
        shares=shares,
        missing=missing_mm(laid.meetings),
        broken=sum(_broken(m) for m in seams.values()),
    )


def _broken(m: SeamMeeting) -> float:
    """Return along how much of a seam the print neither runs on nor is mirrored, mm."""
    return m.printed * (1.0 - sum(m.shares.get(kind, 0.0) for kind in WHOLE))


def _share(wish: Wish, points: float, seams: Mapping[str, SeamMeeting], *, whole: bool) -> float:
    """Return how much of a wish a lay has.

    Half of it is what it asks at its points, half how far the print meets along its seams. whole:
    every piece is laid; else a seam that is not there does not meet. (A seam that the print leaves
    plain is not there either.)
    """
    along = [seams[s].share if s in seams else 0.0 for s in wish.seams if s in seams or not whole]
    return (points + sum(along) / len(along)) / 2 if along else points


def _kept(grant: Grant, problem: LayProblem | None, laid: Laid) -> float:
    """Return the share of a grant's rules that a lay keeps; none where a piece lies otherwise.

    None either where a piece has no place; rules that name none are about all of them.
    """
    if problem is None:
        return 0.0
    pieces = pieces_in(grant.rules)
    shapes = {s.id: s for s in problem.shapes if s.piece in pieces}
    if not pieces and laid.lay.unplaced:
        return 0.0
    placed = {p.shape: p for p in laid.lay.placements if p.shape in shapes}
    if len(placed) < len(shapes) or not all(_lies(shapes[n], p) for n, p in placed.items()):
        return 0.0
    found = residuals(problem, laid.lay)
    return sum(is_met(mm) for mm in found.values()) / len(found) if found else 1.0


def _lies(shape: Shape, placed: Placement) -> bool:
    """Tell whether a shape is turned in one of its ways."""
    return any(turn_apart(placed.turn_deg, t) <= shape.tilt_deg + 0.01 for t in shape.turns_deg)


# --- against each other ---------------------------------------------------------------------------


def _place(one: Weighed) -> tuple[object, ...]:
    had, seen = (tuple(-round(s / STEP) for s in of.values()) for of in (one.points, one.shares))
    return bool(one.beaten_by), one.short > SAME_MM, had, seen, one.short, one.used


def _told(one: Weighed, all_: Sequence[Weighed]) -> Weighed:
    """Return a plan with the best of those that beat it, and in what.

    all_: the best first; of those that come to the same the first one stays.
    """
    before = all_[: all_.index(one)]
    better = ((o, _beats(o, one)) for o in all_ if o is not one and _as_good(o, one))
    found = next(((o, why) for o, why in better if why or o in before), None)
    if found is None:
        return one
    return replace(one, beaten_by=found[0].name, because=found[1] or ("comes to the same",))


def _as_good(a: Weighed, b: Weighed) -> bool:
    """Tell whether a plan is nowhere worse than another.

    The length and the seams of a plan with pieces that have no place say nothing.
    """
    whole = not (a.laid.lay.unplaced or b.laid.lay.unplaced)
    lengths = ((a.short, b.short), *(((a.used, b.used),) if whole else ()))
    seams = ((a.missing, b.missing), (a.broken, b.broken)) if whole else ()
    return (
        all(a.shares[n] >= b.shares[n] - SAME_SHARE for n in a.shares)
        and all(a.points[n] >= b.points[n] - SAME_SHARE for n in a.points)
        and all(x <= y + SAME_MM for x, y in lengths)
        and all(x <= y + SAME_SEAM_MM for x, y in seams)
    )


def _beats(a: Weighed, b: Weighed) -> Sentence:
    """Return in what a plan is better than one that is nowhere better, nothing if in nothing."""
    if b.laid.lay.unplaced and not a.laid.lay.unplaced:
        return (f"has a place for {listed(tuple(b.laid.lay.unplaced))} too",)
    said = [*_more_of(a, b)]
    if b.used > a.used + SAME_MM and not b.laid.lay.unplaced:
        said.append(("takes ", b.used - a.used, " less cloth"))
    return joined(*(p for s in said for p in (" and ", s)))[1:] if said else ()


def _more_of(a: Weighed, b: Weighed) -> Iterator[Sentence]:
    """Yield what a plan has more of than another that is nowhere better."""
    if a.short < b.short - SAME_MM:
        yield ("fits better",)
    more = [n for n, share in a.shares.items() if share > b.shares[n] + SAME_SHARE]
    if more:
        yield (f"has more of what you wish: {listed(more)}",)
    elif b.laid.lay.unplaced:
        return
    elif a.missing < b.missing - SAME_SEAM_MM:
        yield ("meets along ", b.missing - a.missing, " more of the seams")
    elif a.broken < b.broken - SAME_SEAM_MM:
        yield ("runs on along ", b.broken - a.broken, " more of the seams")


def verdict(one: Weighed, wishes: Sequence[Wish]) -> tuple[Sentence, ...]:
    """Return in whole sentences which wishes a laid plan has, in which way, and which it lacks."""
    ways = ((w.name, one.had[w.name]) for w in wishes)
    has = [joined((name,), *(((" ", *g.how),) if g.how else ())) for name, g in ways if g]
    said: list[Sentence] = [("It has ", *_listed(has), ".")] if has else []
    said += [(f"It lacks “{w.name}”: {w.without}.",) for w in wishes if one.had[w.name] is None]
    said += one.laid.compiled.gave_way
    said += [(words,) for words in other_order(one.laid)]
    if one.laid.lay.unplaced:
        said.append((_no_place(one) + ".",))
    return tuple(said)


def _no_place(one: Weighed) -> str:
    return f"It is not whole: it has no place for {listed(tuple(one.laid.lay.unplaced))}"


def _listed(said: Sequence[Sentence]) -> Sentence:
    """Return clauses after each other, as `words.listed` does names."""
    out: Sentence = ()
    for n, words in enumerate(said):
        out = joined(out, "" if n == 0 else " and " if n + 1 == len(said) else ", ", words)
    return out


def differences(one: Weighed, other: Weighed, wishes: Sequence[Wish]) -> tuple[Sentence, ...]:
    """Return in whole sentences what a plan has otherwise than another, usually the first."""
    return tuple((*said, ".") for said in _differences(one, other, wishes))


def _differences(one: Weighed, other: Weighed, wishes: Sequence[Wish]) -> Iterator[Sentence]:
    for wish in wishes:
        mine, its = one.had[wish.name], other.had[wish.name]
        if mine is None and its is not None:
            yield (f"It lacks “{wish.name}”: {wish.without}",)
        elif mine is not None and its is None:
            yield (f"It has “{wish.name}”",)
        elif mine is not its and mine is not None and its is not None:
            yield joined(f"It has “{wish.name}” ", mine.how, ", not ", its.how)
    for words in other_order(one.laid):
        yield (words.removesuffix("."),)
    lost = one.laid.lay.unplaced
    if lost:
        yield (_no_place(one),)
    if lost or other.laid.lay.unplaced:
        return
    for cost in print_cost(other.laid.meetings, one.laid.meetings):
        yield (begun(str(cost[0])), *cost[1:])
    apart = one.used - other.used
    if abs(apart) > SAME_MM:
        yield ("It takes ", abs(apart), " more cloth" if apart > 0 else " less cloth")
