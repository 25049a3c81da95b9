"""The placing rules of a plan, turned into rules on the shapes of a lay problem."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from clothwright.cloth import plan as asked
from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from clothwright.errors import BadInput, did_you_mean
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy, joined_halves
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.whole import TWIN

STRAIGHT_MM = 0.1
"""mm: an edge whose two ends lie this level is laid by both ends, else by its middle or fold."""


def compile_rules(at: Table) -> tuple[put.Rule, ...]:
    """Return every rule of the plan, once for each copy or pair of halves it binds.

    Raises BadInput when a rule names a point, a border, a repeat or an axis that is not there.
    """
    out: list[put.Rule] = []
    for number, rule in enumerate(at.plan.rules, start=1):
        out.extend(at.rule(f"{number}", rule))
    out.extend(at.nap_rules())
    return tuple(out)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """What the rules need to look up, gathered once. borders: by piece name."""

    pattern: Pattern
    cloths: Sequence[Cloth]
    plan: asked.Plan
    copies: Sequence[Copy]
    shapes: Mapping[str, put.Shape]
    borders: Mapping[str, tuple[asked.OnBorder, Border, Cloth]]

    def rule(self, number: str, rule: asked.PlacingRule) -> list[put.Rule]:
        """Return the shape rules for one rule of the plan."""
        ways: dict[type, Callable[[str, Any], list[put.Rule]]] = {
            asked.OnBorder: self._on_border,
            asked.AtPhase: self._at_phase,
            asked.Meets: self._meets,
            asked.Mirrored: self._mirrored,
            asked.Clear: self._clear,
            asked.KeepOff: self._keep_off,
            asked.OneWay: self._one_way,
            asked.Pin: self._pin,
        }
        way = ways.get(type(rule))
        if way is not None:
            return way(number, rule)
        if isinstance(rule, asked.Folded):
            self._folded(number, rule)
            return []
        self.pattern.piece(rule.piece)  # type: ignore[union-attr]
        return []

    def _folded(self, number: str, rule: asked.Folded) -> None:
        """A fold is no rule on shapes (`lay.folded` lays by it); its cloth must be there."""
        names = [c.name for c in self.cloths]
        if rule.cloth not in names:
            raise BadInput(
                where=self._where(number),
                what=f'there is no cloth "{rule.cloth}" to fold.{did_you_mean(rule.cloth, names)}',
                expected="one of " + ", ".join(names),
            )

    def _where(self, number: str) -> str:
        return f'plan "{self.plan.name}", rule {number}'

    def _of(self, piece: str, number: str) -> list[Copy]:
        """Return the copies a print rule binds: those cut from the cloth with the design."""
        self.pattern.piece(piece)
        mine = [c for c in self.copies if c.piece.name == piece]
        designed = [c for c in mine if self._cloth(c).print.has_design]
        if not mine:
            raise BadInput(
                where=self._where(number),
                what=f'"{piece}" is not cut from any cloth here',
                expected="a piece with a cut count in a material that a cloth has",
            )
        return designed or mine

    def _cloth(self, copy: Copy) -> Cloth:
        home = self.shapes[copy.id].regions[0]
        return next(c for c in self.cloths if c.name == home)

    def _point(self, shape: str, point: str, number: str) -> str:
        points = self.shapes[shape].points
        if point in points:
            return point
        raise BadInput(
            where=self._where(number),
            what=f'"{self.shapes[shape].piece}" has no point "{point}".'
            + did_you_mean(point, list(points)),
            expected="a corner, a notch, an inner point, or EDGE start, middle or end",
        )

    def _repeat(self, cloth: Cloth, axis: str, number: str) -> float:
        repeat = cloth.print.repeat(axis)
        if repeat is None:
            raise BadInput(
                where=self._where(number),
                what=f'the design of "{cloth.name}" does not repeat {axis} the selvedge',
                expected=f"a repeat {axis} in the cloth's print, or another rule",
            )
        return repeat

    def _on_border(self, number: str, rule: asked.OnBorder) -> list[put.Rule]:
        _, border, cloth = self.borders[rule.piece]
        y = border.line(cloth.width, rule.above)
        out: list[put.Rule] = []
        for copy in self._of(rule.piece, number):
            if cloth.name not in self.shapes[copy.id].regions:
                continue
            points = border_points(copy.piece, copy.piece.edge(rule.edge))
            out.append(
                put.OnLine(
                    id=f"{number} on-border {copy.id}",
                    shape=copy.id,
                    points=points,
                    axis="across",
                    at=y,
                )
            )
        return out

    def _at_phase(self, number: str, rule: asked.AtPhase) -> list[put.Rule]:
        out: list[put.Rule] = []
        copies = self._of(rule.piece, number)
        for copy in copies if rule.copies == "all" else copies[:1]:
            cloth = self._cloth(copy)
            point = self._point(copy.id, rule.point, number)
            for axis, phase in (("along", rule.along), ("across", rule.across)):
                if phase is None:
                    continue
                repeat = self._repeat(cloth, axis, number)
                out.append(
                    put.AtPhase(
                        id=f"{number} at-phase {axis} {copy.id}",
                        shape=copy.id,
                        point=point,
                        axis=axis,
                        phase=cloth.print.origin(axis) + phase,
                        repeat=repeat,
                    )
                )
        return out

    def _meets(self, number: str, rule: asked.Meets) -> list[put.Rule]:
        self._of(rule.piece_a, number), self._of(rule.piece_b, number)
        out: list[put.Rule] = []
        for a, b in joined_halves(self.pattern, self.copies, rule.piece_a, rule.piece_b):
            pa = self._point(a.shape, rule.point_a + (TWIN if a.twin else ""), number)
            pb = self._point(b.shape, rule.point_b + (TWIN if b.twin else ""), number)
            cloth = next(c for c in self.cloths if c.name == self.shapes[a.shape].regions[0])
            tag = f"{a.shape}{TWIN if a.twin else ''} / {b.shape}{TWIN if b.twin else ''}"
            out.extend(
                put.SamePhase(
                    id=f"{number} meets {axis} {tag}",
                    shape_a=a.shape,
                    point_a=pa,
                    shape_b=b.shape,
                    point_b=pb,
                    axis=axis,
                    repeat=self._repeat(cloth, axis, number),
                )
                for axis in self._axes(rule.match, a.shape, cloth, number)
            )
            out.append(put.SameTurn(id=f"{number} same way {tag}", shapes=(a.shape, b.shape)))
        return out

    def _axes(self, match: str, shape: str, cloth: Cloth, number: str) -> list[str]:
        """Return the cloth axes for "level", "upright" or "both", from how the piece lies."""
        crosswise = all(t % 180.0 == 90.0 for t in self.shapes[shape].turns_deg)
        level, upright = ("across", "along") if crosswise else ("along", "across")
        if match == "both":
            return [a for a in (level, upright) if cloth.print.repeat(a) is not None] or [level]
        if match not in ("level", "upright"):
            raise BadInput(
                where=self._where(number),
                what=f'"{match}" is no way to match.{did_you_mean(match, ["level", "upright"])}',
                expected="level, upright or both",
            )
        return [level if match == "level" else upright]

    def _mirrored(self, number: str, rule: asked.Mirrored) -> list[put.Rule]:
        copies = self._of(rule.piece, number)
        if len(copies) < 2:
            raise BadInput(
                where=self._where(number),
                what=f'"{rule.piece}" is not cut as a pair',
                expected="a piece cut as a pair, to lie mirrored",
            )
        first, second = copies[0], copies[1]
        cloth = self._cloth(first)
        point = self._point(first.id, rule.point, number)
        axes = cloth.print.axes_along if rule.way == "along" else cloth.print.axes_across
        if not axes:
            raise BadInput(
                where=self._where(number),
                what=f'the design of "{cloth.name}" has no mirror axis to count {rule.way}',
                expected="an axis in the cloth's print, or matching without mirroring",
            )
        other = "across" if rule.way == "along" else "along"
        out: list[put.Rule] = [
            put.MirrorPhase(
                id=f"{number} mirrored {rule.way} {rule.piece}",
                shape_a=first.id,
                point_a=point,
                shape_b=second.id,
                point_b=point,
                axis=rule.way,
                repeat=self._repeat(cloth, rule.way, number),
                about=cloth.print.origin(rule.way) + axes[0],
            ),
            put.SameTurn(id=f"{number} same way {rule.piece}", shapes=(first.id, second.id)),
        ]
        repeat = cloth.print.repeat(other)
        if repeat is not None:
            out.append(
                put.SamePhase(
                    id=f"{number} mirrored {other} {rule.piece}",
                    shape_a=first.id,
                    point_a=point,
                    shape_b=second.id,
                    point_b=point,
                    axis=other,
                    repeat=repeat,
                )
            )
        return out

    def _clear(self, number: str, rule: asked.Clear) -> list[put.Rule]:
        out: list[put.Rule] = []
        for copy in self._of(rule.piece, number):
            cloth = self._cloth(copy)
            figures = {f.name: f for f in cloth.print.figures}
            if rule.figure not in figures:
                raise BadInput(
                    where=self._where(number),
                    what=f'"{cloth.name}" has no figure "{rule.figure}".'
                    + did_you_mean(rule.figure, list(figures)),
                )
            figure = figures[rule.figure]
            names = [rule.point] + ([rule.point + TWIN] if copy.fold is not None else [])
            out.extend(
                put.KeepClear(
                    id=f"{number} clear {copy.id} {name}",
                    shape=copy.id,
                    point=self._point(copy.id, name, number),
                    radius=figure.radius + rule.by,
                    centre=(figure.x, figure.y),
                    repeat_along=cloth.print.repeat_along,
                    repeat_across=cloth.print.repeat_across,
                )
                for name in names
            )
        return out

    def _keep_off(self, number: str, rule: asked.KeepOff) -> list[put.Rule]:
        pairs = [(c, b) for c in self.cloths for b in c.print.borders if b.name == rule.border]
        if not pairs:
            known = [b.name for c in self.cloths for b in c.print.borders]
            raise BadInput(
                where=self._where(number),
                what=f'no cloth has a border "{rule.border}".{did_you_mean(rule.border, known)}',
                expected="one of " + (", ".join(known) or "(no cloth has a border)"),
            )
        out: list[put.Rule] = []
        for copy in self._of(rule.piece, number):
            for cloth, border in pairs:
                if cloth.name not in self.shapes[copy.id].regions:
                    continue
                ends = border.line(cloth.width), border.line(cloth.width, border.height)
                if max(ends) + rule.by <= min(ends) - rule.by:
                    raise BadInput(
                        where=self._where(number),
                        what=f'"{rule.piece}" may lie {-rule.by:g} mm over "{rule.border}", which '
                        "is more than the border is high",
                        expected="a distance of 0 or more",
                    )
                out.append(
                    put.KeepOff(
                        id=f"{number} keep-off {copy.id} {border.name}",
                        shape=copy.id,
                        region=cloth.name,
                        low=min(ends) - rule.by,
                        high=max(ends) + rule.by,
                    )
                )
        return out

    def _one_way(self, number: str, rule: asked.OneWay) -> list[put.Rule]:
        for piece in rule.pieces:
            self.pattern.piece(piece)
        out: list[put.Rule] = []
        for cloth in self.cloths:
            ids = tuple(
                c.id
                for c in self.copies
                if (not rule.pieces or c.piece.name in rule.pieces)
                and self.shapes[c.id].regions[0] == cloth.name
            )
            for k, group in enumerate(self._alike(ids)):
                if len(group) > 1:
                    out.append(put.SameTurn(id=f"{number} one-way {cloth.name} {k}", shapes=group))
        return out

    def _alike(self, ids: Sequence[str]) -> list[tuple[str, ...]]:
        """Group shapes by the direction their grain may take (pieces on a border lie crosswise)."""
        groups: dict[tuple[float, ...], list[str]] = {}
        for i in ids:
            key = tuple(sorted(t % 180.0 for t in self.shapes[i].turns_deg))
            groups.setdefault(key, []).append(i)
        return [tuple(g) for g in groups.values()]

    def _pin(self, number: str, rule: asked.Pin) -> list[put.Rule]:
        ids = [
            c.id
            for c in self._of(rule.piece, number)
            if c.copy == rule.copy and rule.cloth in self.shapes[c.id].regions
        ]
        return [
            put.Pinned(
                id=f"{number} pin {i}",
                shape=i,
                region=rule.cloth,
                x=rule.x,
                y=rule.y,
                turn_deg=rule.turn_deg,
                flipped=rule.flipped,
            )
            for i in ids
        ]

    def nap_rules(self) -> list[put.Rule]:
        """Return "all tops one way" for every cloth with a nap."""
        out: list[put.Rule] = []
        for cloth in self.cloths:
            if not cloth.nap:
                continue
            ids = [c.id for c in self.copies if self.shapes[c.id].regions[0] == cloth.name]
            for k, group in enumerate(self._alike(ids)):
                if len(group) > 1:
                    out.append(put.SameTurn(id=f"nap {cloth.name} {k}", shapes=group))
        return out


def border_points(piece: Piece, edge: Edge) -> tuple[str, ...]:
    """Return the names of the points of an edge that are put on a border's line.

    Both ends when they are level (square to the grain); else the end at the fold or centre, where
    the eye looks first; else the middle. Where an edge rises at its ends the border runs out there.
    """
    up = piece.up
    start, end = edge.path.start, edge.path.end
    if abs(up.dot(end - start)) <= STRAIGHT_MM:
        names = [f"{edge.name} start", f"{edge.name} end"]
        fold = piece.fold
        return tuple(names) + (tuple(n + TWIN for n in names) if fold is not None else ())
    i = piece.index(edge.name)
    centre = (Role.FOLD, Role.CENTRE)
    if piece.edges[i - 1].role in centre:
        return (f"{edge.name} start",)
    if piece.edges[(i + 1) % len(piece.edges)].role in centre:
        return (f"{edge.name} end",)
    return (f"{edge.name} middle",)
