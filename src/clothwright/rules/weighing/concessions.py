"""What might be given up so that a plan fits: rules, hem depth, facings, a gap, a seam, the grain.

Each concession names itself in the maker's words, says what it costs in look, and holds exactly
what makes it so. Whether it helps is found out by laying it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.cloth.cloth import Cloth
from clothwright.errors import joined
from clothwright.pattern.finding import Mend
from clothwright.pattern.parts import facing_names, held_together, is_strip
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Join, Piece, Role, signed_area
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.known import kind_of, stance
from clothwright.rules.names import pieces_of
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.units import INCH
from clothwright.words import Sentence, listed

LEAST_HEM_MM = 1.25 * INCH
"""mm: a hem is offered no shallower than this, unless the maker allows less."""

HEM_GUIDE = (
    ("skirt", 2.0, 3.0),
    ("coat", 1.5, 2.0),
    ("jacket", 1.5, 2.0),
    ("dress", 1.5, 2.0),
    ("trouser", 0.625, 1.25),
    ("shorts", 0.625, 1.25),
    ("blouse", 0.375, 0.75),
    ("shirt", 0.375, 0.625),
    ("top", 0.75, 1.25),
)
"""A word in a piece's name, and the usual hem depth in inches (docs/sources.md, hem depths, B)."""

SHIFTS = (INCH / 2, INCH)
"""mm: by so much what lies on a border is offered to lie elsewhere on it."""
LARGEST = 4
"""So many of the largest pieces are offered with a seam through them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amendment:
    """What is done to a plan, and to the pieces for it.

    drop: numbers of the plan's rules (from 1). add: rules put in; put: rules that take the place of
    those of these numbers. changes: of the pieces, put at
    the end of those there are; they hold for every plan. gap: mm between cutting lines, None as it
    is. parts: (piece, its parts) where a change cuts a piece in two.
    """

    drop: tuple[int, ...] = ()
    add: tuple[PlacingRule, ...] = ()
    put: tuple[tuple[int, PlacingRule], ...] = ()
    changes: tuple[Mend, ...] = ()
    gap: float | None = None
    parts: tuple[tuple[str, tuple[str, str]], ...] = ()

    @property
    def touched(self) -> frozenset[int]:
        """Return the numbers of the rules that it drops or puts another way."""
        return frozenset((*self.drop, *(n for n, _ in self.put)))

    def rules(self, plan: Plan) -> tuple[PlacingRule, ...]:
        """Return the plan's rules with it."""
        put = dict(self.put)
        kept = ((n, r) for n, r in enumerate(plan.rules, start=1) if n not in self.drop)
        return (*(put.get(n, r) for n, r in kept), *self.add)


def together(edits: Sequence[Amendment]) -> Amendment:
    """Return several edits as one."""
    gaps = [e.gap for e in edits if e.gap is not None]
    return Amendment(
        drop=tuple(sorted({n for e in edits for n in e.drop})),
        add=tuple(dict.fromkeys(r for e in edits for r in e.add)),
        put=tuple(p for e in edits for p in e.put),
        changes=tuple(c for e in edits for c in e.changes),
        gap=min(gaps) if gaps else None,
        parts=tuple(p for e in edits for p in e.parts),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Concession:
    """One thing to give up.

    key: names it for good, whatever the order. what: in the maker's words. look: what it costs in
    look and wear. loss: how much is seen of it, 0 (nothing) to 5 (the border breaks off at a seam).
    """

    key: str
    kind: str
    what: Sentence
    look: tuple[Sentence, ...]
    loss: int
    edit: Amendment


def concessions(
    pattern: Pattern,
    plan: Plan,
    cloths: Sequence[Cloth],
    short: Sequence[Cloth],
    *,
    gap: float,
    least_hem: float,
) -> tuple[Concession, ...]:
    """Return everything that might be given up on those of the cloths that are too short.

    gap: mm between cutting lines now. least_hem: mm, the shallowest hem offered.
    """
    found = (
        *single_layer(plan),
        *_gap(gap),
        *_hems(pattern, short, least_hem),
        *_facings(pattern, plan, cloths, short),
        *_pieced(pattern, short),
        *_looser(pattern, plan),
        *_rules(pattern, plan, short),
        *_across(pattern, plan, short),
    )
    seen: set[str] = set()
    return tuple(c for c in found if not (c.key in seen or seen.add(c.key)))  # type: ignore[func-returns-value]


# --- the fold -----------------------------------------------------------------------------------


def single_layer(plan: Plan) -> tuple[Concession, ...]:
    """Return the concession to lay single what the plan lays double, if it folds a cloth."""
    numbers = [i for i, r in enumerate(plan.rules, start=1) if isinstance(r, Folded)]
    names = [r.cloth for r in plan.rules if isinstance(r, Folded)]
    if not numbers:
        return ()
    return (
        Concession(
            key="single layer",
            kind="fold",
            what=(
                f"lay the {listed(names)} single: pieces on the fold unfolded, pairs one by one",
            ),
            look=(("nothing is seen of it; there are more lines to cut",),),
            loss=0,
            edit=Amendment(drop=tuple(numbers)),
        ),
    )


# --- the gap ------------------------------------------------------------------------------------


def _gap(gap: float) -> Iterator[Concession]:
    if gap > 0:
        yield Concession(
            key="gap",
            kind="gap",
            what=(
                "lay the pieces edge to edge, with no room between cutting lines (now ",
                gap,
                ")",
            ),
            look=(("nothing is seen of it; cut with care, one cut serves both pieces",),),
            loss=0,
            edit=Amendment(gap=0.0),
        )


# --- hems ---------------------------------------------------------------------------------------


def _hems(pattern: Pattern, short: Sequence[Cloth], least: float) -> Iterator[Concession]:
    hemmed = [
        p
        for p in pattern.pieces
        if any(e.role is Role.HEM and e.allowance > least + 0.5 for e in p.edges)
    ]
    for group in held_together(pattern, [p.name for p in hemmed], kinds=("plain", "facing")):
        if not any(_cut_from(pattern.piece(n), short) for n in group):
            continue
        edges = [
            (pattern.piece(n), e)
            for n in group
            for e in pattern.piece(n).edges
            if e.role is Role.HEM and e.allowance > least + 0.5
        ]
        by_join: dict[str, list[str]] = {}
        for piece, e in edges:
            by_join.setdefault(_corners(piece, e.name), []).append(f"{piece.name}.{e.name}")
        deepest = max(e.allowance for _, e in edges)
        yield Concession(
            key=f"hem {', '.join(group)}",
            kind="hem",
            what=("hem ", listed(group), " ", least, " deep instead of ", deepest),
            look=(_hem_look(group, least),),
            loss=1,
            edit=Amendment(
                changes=tuple(
                    Mend(
                        change="set-hem",
                        params={"edges": names, "depth": f"{least:.4g} mm", "corners": corners},
                    )
                    for corners, names in by_join.items()
                )
            ),
        )


def _corners(piece: Piece, hem: str) -> str:
    """How the corners of a hem are cut now, as set-hem calls it."""
    i = piece.index(hem)
    joins = {piece.edges[i].join, piece.edges[(i + 1) % len(piece.edges)].join}
    if Join.FOLDED in joins:
        return "folded"
    return "squared" if joins & {Join.SQUARED_BEFORE, Join.SQUARED_AFTER} else "extended"


def _hem_look(group: Sequence[str], least: float) -> Sentence:
    words = " ".join(group).lower()
    guide = next(((w, a, b) for w, a, b in HEM_GUIDE if w in words), None)
    if guide is None or guide[1] * INCH <= least + 0.5:
        return ("the hem hangs lighter, and leaves less to let down",)
    return (
        f"shallower than the guide for a {guide[0]} (",
        guide[1] * INCH,
        " to ",
        guide[2] * INCH,
        ", American Sewing Guild): it hangs lighter, and leaves less to let down",
    )


# --- facings ------------------------------------------------------------------------------------


def _facings(
    pattern: Pattern, plan: Plan, cloths: Sequence[Cloth], short: Sequence[Cloth]
) -> Iterator[Concession]:
    names = [n for n in facing_names(pattern) if _cut_from(pattern.piece(n), short)]
    moved = {r.piece for r in plan.rules if isinstance(r, CutFrom)}
    names = [n for n in names if n not in moved]
    short_names = {c.name for c in short}
    others = [c for c in cloths if c.name not in short_names and c.material != "interfacing"]
    sets = list(held_together(pattern, names, kinds=("plain", "facing")))
    sets += [(n,) for n in names if (n,) not in sets]
    for cloth in others:
        for group in sets:
            add = tuple(
                CutFrom(piece=n, material=m, cloth=cloth.name)
                for n in group
                for m in _materials(pattern.piece(n), short)
            )
            drop = tuple(
                i
                for i, r in enumerate(plan.rules, start=1)
                if kind_of(r).on_print and pieces_of(r) & set(group)
            )
            yield Concession(
                key=f"facing {', '.join(group)} from {cloth.name}",
                kind="facing",
                what=(f"cut {listed(group)} from the {cloth.name}",),
                look=(
                    (
                        f"the {cloth.name} shows where a facing turns over; interface it so that "
                        "it carries the edge as the shell would",
                    ),
                ),
                loss=1,
                edit=Amendment(add=add, drop=drop),
            )


# --- a seam through a piece ---------------------------------------------------------------------


def _pieced(pattern: Pattern, short: Sequence[Cloth]) -> Iterator[Concession]:
    """Offer a seam on the fold, or along a level, of each of the largest pieces."""
    mine = [p for p in pattern.pieces if _cut_from(p, short)]
    for piece in sorted(mine, key=lambda p: -_size(p))[:LARGEST]:
        if piece.fold is not None:
            yield _seam(piece, "fold", f"its {piece.fold.name}, cut as a pair", None)
        for level in piece.levels:
            parts = f"{piece.name} upper", f"{piece.name} lower"
            yield _seam(piece, level.name, f"the {level.name} line", parts)
        if is_strip(piece):
            start, end = _across_the_middle(piece)
            if start:
                yield _seam(piece, "middle", "its middle", None, start=start, end=end)


def _seam(
    piece: Piece,
    line: str,
    words: str,
    parts: tuple[str, str] | None,
    *,
    start: str = "",
    end: str = "",
) -> Concession:
    where = {"start": start, "end": end} if start else {"line": line}
    if start:
        parts = f"{piece.name} one", f"{piece.name} two"
        where["names"] = ", ".join(parts)
    change = Mend(change="piece-panel", params={"piece": piece.name, **where})
    return Concession(
        key=f"seam {piece.name} {line}",
        kind="seam",
        what=(f"piece {piece.name} with a seam at {words}",),
        look=((f"one more seam, at {words} of {piece.name}: hide it in a quiet part",),),
        loss=2,
        edit=Amendment(changes=(change,), parts=((piece.name, parts),) if parts else ()),
    )


def _size(piece: Piece) -> float:
    return sum(1 if c.how == "once" else 2 for c in piece.cuts[:1]) * signed_area(piece)


def _across_the_middle(piece: Piece) -> tuple[str, str]:
    """Return the middles of a strip's two long edges that face each other, or two empty names."""
    long = sorted(piece.edges, key=lambda e: -e.length)[:2]
    low, high = piece.outline.bounds()
    middles = [e.path.point_at(e.length / 2) for e in long]
    if middles[0].distance(middles[1]) > 1.5 * min(high - low):
        return "", ""
    return f"{long[0].name} middle", f"{long[1].name} middle"


# --- rules --------------------------------------------------------------------------------------


def _looser(pattern: Pattern, plan: Plan) -> Iterator[Concession]:
    """Offer what keeps a rule and gives it room: it may be missed a little, the border shifted."""
    for number, rule in enumerate(plan.rules, start=1):
        for loose in kind_of(rule).loosened(rule):
            yield Concession(
                key=f"room {number} {loose.way}",
                kind="room",
                what=loose.what,
                look=(loose.look,),
                loss=1,
                edit=Amendment(put=((number, loose.rule),)),
            )
    on = {n: r for n, r in enumerate(plan.rules, start=1) if isinstance(r, OnBorder)}
    for group in held_together(pattern, [r.piece for r in on.values()], kinds=("plain",)):
        for border in dict.fromkeys(r.border for r in on.values() if r.piece in group):
            mine = {n: r for n, r in on.items() if r.piece in group and r.border == border}
            yield from (_shifted(mine, mm) for shift in SHIFTS for mm in (shift, -shift))


def _shifted(rules: Mapping[int, OnBorder], mm: float) -> Concession:
    """Lay what stands on a border by so many mm further in on it."""
    names, border = listed([r.piece for r in rules.values()]), next(iter(rules.values())).border
    way, other = ("higher", "lower") if mm > 0 else ("lower", "higher")
    return Concession(
        key=f"shift {names} {way} {abs(mm):.4g}",
        kind="room",
        what=(f"lay {names} ", abs(mm), f" {way} on the {border}"),
        look=((f"the {border} lies ", abs(mm), f" {other} on the body"),),
        loss=1,
        edit=Amendment(put=tuple((n, replace(r, above=r.above + mm)) for n, r in rules.items())),
    )


def _rules(pattern: Pattern, plan: Plan, short: Sequence[Cloth]) -> Iterator[Concession]:
    on = [r.piece for r in plan.rules if isinstance(r, OnBorder)]
    sets = list(held_together(pattern, on, kinds=("plain",)))
    for group in sets:
        yield _off_border(plan, group, short, whole=True)
    for group in sets:
        if len(group) > 1:
            for name in group:
                yield _off_border(plan, (name,), short, whole=False)
    yield from _into_borders(pattern, plan, short)
    for number, rule in enumerate(plan.rules, start=1):
        dropped = kind_of(rule).dropped
        if dropped is not None:
            what, look = dropped(rule)
            yield Concession(
                key=f"rule {number}",
                kind="rule",
                what=joined(what),
                look=(joined(look),),
                loss=2,
                edit=Amendment(drop=(number,)),
            )


def _off_border(
    plan: Plan, group: Sequence[str], short: Sequence[Cloth], *, whole: bool
) -> Concession:
    """Take pieces off the border; what only spoke of the border's figure on them goes as well."""
    ground = any(c.print.repeat_along or c.print.repeat_across for c in short)
    drop = []
    edges = []
    for i, rule in enumerate(plan.rules, start=1):
        if not pieces_of(rule) & set(group):
            continue
        if isinstance(rule, OnBorder):
            drop.append(i)
            edges.append(f"{rule.piece} {rule.edge}")
        elif isinstance(rule, AtPhase | Mirrored | Meets) and not ground:
            drop.append(i)
    look: list[Sentence] = [(f"no border at {listed(edges)}",)]
    if not whole:
        look.append(("the border breaks off at the seams beside it",))
    return Concession(
        key=f"border {', '.join(group)}",
        kind="border",
        what=(f"leave {listed(group)} off the border",),
        look=tuple(look),
        loss=4 if whole else 5,
        edit=Amendment(drop=tuple(drop)),
    )


def _into_borders(pattern: Pattern, plan: Plan, short: Sequence[Cloth]) -> Iterator[Concession]:
    """Let pieces run into a border that they keep off, because of a rule or for want of one.

    On a border with a top only those that may lie upright on it: a piece along the grain may not.
    """
    turned = {r.piece for r in plan.rules if isinstance(r, OnGrain) and r.grain != "along"}
    found = [(i, stance(r)) for i, r in enumerate(plan.rules, start=1)]
    borders = {b.name: b.up_deg is not None for c in short for b in c.print.borders}
    for border, has_top in borders.items():
        said = [(i, s.piece, s.way) for i, s in found if s is not None and s.border == border]
        on = {piece for _, piece, way in said if way != "off"}
        mine = [
            p.name
            for p in pattern.pieces
            if p.name not in on and _cut_from(p, short) and (p.name in turned or not has_top)
        ]
        for group in held_together(pattern, mine, kinds=("plain", "facing")):
            yield Concession(
                key=f"into {border} {', '.join(group)}",
                kind="rule",
                what=(f"let {listed(group)} run into the border {border}",),
                look=((f"the border {border} may show on {listed(group)}",),),
                loss=2,
                edit=Amendment(
                    drop=tuple(i for i, piece, _ in said if piece in group),
                    add=tuple(MayRunInto(piece=p, border=border) for p in group),
                ),
            )


# --- across the grain ---------------------------------------------------------------------------


def _across(pattern: Pattern, plan: Plan, short: Sequence[Cloth]) -> Iterator[Concession]:
    bordered = {r.piece for r in plan.rules if isinstance(r, OnBorder)}
    facings = facing_names(pattern)
    for piece in pattern.pieces:
        if not _cut_from(piece, short) or piece.name in bordered:
            continue
        if not (is_strip(piece) or piece.name in facings):
            continue
        old = [
            (i, r)
            for i, r in enumerate(plan.rules, start=1)
            if isinstance(r, OnGrain) and r.piece == piece.name
        ]
        if any(r.grain != "along" for _, r in old):
            continue
        yield Concession(
            key=f"across {piece.name}",
            kind="across",
            what=(f"lay {piece.name} across the grain, or along it, as it fits",),
            look=(
                (
                    "Off the grain: cut across, it gives a little more and shades differently; "
                    "interface it along its length",
                ),
            ),
            loss=3,
            edit=Amendment(
                drop=tuple(i for i, _ in old), add=(OnGrain(piece=piece.name, grain="across"),)
            ),
        )


# --- small questions ----------------------------------------------------------------------------


def _cut_from(piece: Piece, cloths: Sequence[Cloth]) -> bool:
    return bool(_materials(piece, cloths))


def _materials(piece: Piece, cloths: Sequence[Cloth]) -> list[str]:
    """Return the materials of a piece that these cloths are."""
    mine = {c.material for c in cloths}
    return [m for m in dict.fromkeys(c.material for c in piece.cuts) if m in mine]
