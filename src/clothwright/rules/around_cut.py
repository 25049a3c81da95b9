"""What is cut, beside the pieces, cloths and rules as they are now: it stays, and is told.

A copy that is cut stands among the others with the piece it was cut from, in its one way to lie.
What has no copy any more, or is to be cut once more, is a thing on the cloth that no rule knows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence
from clothwright.geometry.vec import turn_apart
from clothwright.lay.compiled import Compiled, shape_of
from clothwright.lay.copies import Copy, copy_of
from clothwright.lay.cut_piece import CutPiece
from clothwright.lay.problem import Pinned, Rule, Shape, cut_of
from clothwright.pattern.names import Ref
from clothwright.pattern.past import called_now
from clothwright.pattern.pattern import Pattern
from clothwright.rules.cut_told import differing, moved, no_cloth, no_piece, other_cloth, unkept
from clothwright.rules.standing import WITHIN_DEG
from clothwright.rules.table import CuttingTable, Landmark, Lying

CUT = "cut"
"""How the ids of rules begin that say where something is cut."""
LIES: Sentence = ("what is cut lies where it was cut",)
"""What those rules ask, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AroundCut:
    """What is cut. at: by the name of its shape, the piece and its place.

    others: what no rule knows. told: how it does not go with the pieces and the plan as they are.
    """

    at: Mapping[str, CutPiece] = field(default_factory=dict)
    others: tuple[Copy, ...] = ()
    told: tuple[Sentence, ...] = ()

    @property
    def known(self) -> tuple[str, ...]:
        """The names of the shapes that are copies of pieces."""
        strange = {c.id for c in self.others}
        return tuple(n for n in self.at if n not in strange)

    def pin(self, name: str) -> Pinned:
        """Return the rule that a shape lies where it was cut."""
        at = self.at[name]
        return Pinned(
            id=f"{CUT} {name}",
            shape=name,
            region=at.cloth,
            x=at.x,
            y=at.y,
            turn_deg=at.turn_deg,
            flipped=at.flipped,
            cut=True,
        )

    def lying(self, copy: Copy, cloths: Sequence[Cloth]) -> Lying:
        """Return a copy in the one way it was cut."""
        at = self.at[copy.id]
        cloth = next(c for c in cloths if c.name == at.cloth)
        return Lying(copy=copy, cloths=(cloth,), turns_deg=(at.turn_deg,), tilt_deg=0.0)

    def unkept(
        self, table: CuttingTable, landmarks: Sequence[Landmark], rules: Sequence[Rule]
    ) -> list[Rule]:
        """Return the rules that what is cut does not keep itself, and pins of the plan for it."""
        mine = []
        for name in self.known:
            each = table.lying[name]
            shape = shape_of(each.copy, (each.cloth.name,), each.turns_deg, 0.0)
            own = {m.name: m.at for m in landmarks if m.shape == name}
            mine.append(replace(shape, points={**shape.points, **own}))
        return unkept(mine, [self.pin(name) for name in self.known], rules) if mine else []

    def shapes(self) -> tuple[Shape, ...]:
        """Return what no rule knows, as shapes."""
        where = [(c, self.at[c.id]) for c in self.others]
        return tuple(shape_of(c, (at.cloth,), (at.turn_deg,), 0.0) for c, at in where)


NOTHING_CUT = AroundCut()


def as_cut(pattern: Pattern, compiled: Compiled) -> Pattern:
    """Return the pattern with each piece as it was cut of which every copy is cut.

    What is sewn to it is compared with what is there, and not with what it would be by now.
    """
    cut = cut_of(compiled.problem)
    new = {}
    for piece in pattern.pieces:
        mine = [c for c in compiled.copies if c.piece.name == piece.name]
        known = {e.name for e in piece.edges}
        if mine and all(c.id in cut and {e.name for e in c.piece.edges} == known for c in mine):
            new[piece.name] = mine[0].piece
    pieces = tuple(new.get(p.name, p) for p in pattern.pieces)
    return pattern if pieces == pattern.pieces else replace(pattern, pieces=pieces)


def around_cut(
    pattern: Pattern,
    copies: Sequence[Copy],
    homes: Mapping[str, Sequence[str]],
    cloths: Sequence[Cloth],
    cut: Sequence[CutPiece],
) -> tuple[tuple[Copy, ...], AroundCut]:
    """Return the copies, each that is cut as it was cut, and what is cut.

    homes: the cloths each copy might be cut from as the plan has it. What was cut from a cloth that
    is no more is not laid again, and that is told.
    """
    now = {c.id: c for c in copies}
    found = dict(_copies_now(pattern, copies, cut))
    at: dict[str, CutPiece] = {}
    others: list[Copy] = []
    told: list[Sentence] = []
    for n, kept in enumerate(cut):
        mine = found.get(n)
        one = replace(kept, cloth=kept.cloth_among([c.name for c in cloths]))
        if not one.cloth:
            now.pop(mine.id if mine else "", None)
            told.append(no_cloth(kept))
        elif mine is None:
            strange = _strange(one, {*now, *at})
            others.append(strange)
            at[strange.id] = one
            told += [] if one.again else [no_piece(one)]
        else:
            was = _as_cut(one, mine.id)
            differs = differing(was, mine)
            now[mine.id] = was if moved(was, mine) else mine
            at[mine.id] = one
            told += [differs] if differs else []
            told += [] if one.cloth in homes[mine.id] else [other_cloth(mine.id, one, homes)]
    return tuple(now.values()), AroundCut(at=at, others=tuple(others), told=tuple(told))


def _as_cut(one: CutPiece, name: str) -> Copy:
    return copy_of(one.piece, name, one.copy, one.material, turned_over=one.flipped)


def _copies_now(
    pattern: Pattern, copies: Sequence[Copy], cut: Sequence[CutPiece]
) -> Iterator[tuple[int, Copy]]:
    """Yield the copy that each cut piece is: by its name, what that became, or else by its line."""
    taken: set[str] = set()
    left = [(n, one) for n, one in enumerate(cut) if not one.again]

    def named(one: CutPiece, copy: Copy) -> bool:
        return copy.piece.name in {
            r.piece for r in called_now(pattern, Ref("piece", one.piece.name, ""))
        }

    def drawn(one: CutPiece, copy: Copy) -> bool:
        return not moved(_as_cut(one, copy.id), copy)

    for is_it in (named, drawn):
        for n, one in tuple(left):
            key = (one.material, one.flipped, one.copy)
            like = (c for c in copies if (c.material, c.turned_over, c.copy) == key)
            mine = next((c for c in like if c.id not in taken and is_it(one, c)), None)
            if mine is not None:
                taken.add(mine.id)
                left.remove((n, one))
                yield n, mine


def _strange(one: CutPiece, taken: set[str]) -> Copy:
    """Return what is cut as a thing of its own, by a name that nothing else has."""
    names = (f"{one.shape}, cut before{f' {n}' if n else ''}" for n in range(len(taken) + 1))
    name = next(n for n in names if n not in taken)
    piece = replace(one.piece, name=f"{one.piece.name}, cut before")
    return copy_of(piece, name, one.copy, one.material, turned_over=one.flipped)


def without_odd(lying: Mapping[str, Lying], ground: AroundCut) -> dict[str, Lying]:
    """Return what the tops of all that lies on a cloth have to go by: of what is cut, what agrees.

    What is cut with its top another way than the first that is cut from its cloth counts no more.
    """
    first: dict[str, float] = {}
    for name in ground.known:
        first.setdefault(lying[name].cloth.name, lying[name].turns_deg[0])
    return {
        n: each
        for n, each in lying.items()
        if n not in ground.at
        or turn_apart(each.turns_deg[0], first[each.cloth.name]) <= 2 * WITHIN_DEG
    }
