"""Edits done on a workbook: plain functions, one for each kind.

An edit speaks of the workbook that was looked at (`base`); the desk is the workbook as it is now.
Places in the list of changes and numbers of rules are looked up in the one and found again in the
other: a change by its lasting name, a rule by what it says.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from clothwright.body.body import body_with
from clothwright.body.chart import chart_from
from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.rules.cut_from import CutFrom
from clothwright.rules.folded import Folded
from clothwright.rules.names import on_cloth, without_piece
from clothwright.rules.pin import Pin
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store import Opened, piece_from_svg
from clothwright.store.book.parts import part_with
from clothwright.store.lengths import length_text
from clothwright.units import Unit, parse_length, parse_unit
from clothwright.units.params import read_params
from clothwright.workbook import Settings, Step, Workbook, change_of
from clothwright.workroom.editing import kinds
from clothwright.workroom.pieces.adding import with_sizes


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """The workbook as it is now, and the one an edit was made on. fresh: begins new names."""

    book: Workbook
    ids: tuple[str, ...]
    base: Opened
    fresh: str = "new"

    def with_book(self, **values: Any) -> Desk:
        """Return the desk with a workbook that has other values."""
        return replace(self, book=replace(self.book, **values))

    def change(self, name: str) -> int:
        """Return where a change stands now, from 0. Raises BadInput, CannotDo."""
        lasting = name
        if name.isdigit() and name not in self.base.ids:
            if not 1 <= int(name) <= len(self.base.ids):
                last = len(self.base.ids)
                raise BadInput(
                    what=f"there is no change {name}",
                    expected=f"a number from 1 to {last}" if last else "a workbook with changes",
                )
            lasting = self.base.ids[int(name) - 1]
        if lasting in self.ids:
            return self.ids.index(lasting)
        if lasting in self.base.ids:
            raise CannotDo(
                what=f"change {self.base.ids.index(lasting) + 1} cannot be edited",
                why="it was taken out meanwhile",
                nearest="to bring it back with undo",
            )
        raise BadInput(what=f'there is no change "{name}"', expected="one in the list")

    def after(self, order: tuple[str, ...], place: int) -> int:
        """Return where something comes now that was to come at a place (from 0) of an order."""
        before = [i for i in order[:place] if i in self.ids]
        return self.ids.index(before[-1]) + 1 if before else 0

    def plan(self, name: str) -> Plan:
        """Return the plan that a name means; the implied one when there is none. BadInput."""
        wanted = name or self.base.book.plan().name
        if not any(p.name == wanted for p in self.book.plans) and not self.base.book.plans:
            return Plan(name=wanted)
        return self.book.plan(wanted)

    def with_plan(self, plan: Plan, was: str = "") -> Desk:
        """Return the desk with a plan put in the place of the one called `was` (or its own)."""
        old = was or plan.name
        plans = tuple(plan if p.name == old else p for p in self.book.plans)
        return self.with_book(plans=plans if plan in plans else (*plans, plan))

    def rule(self, edit: kinds.SetRule | kinds.RemoveRule) -> tuple[Plan, int]:
        """Return the plan and where in it the rule stands now, from 0. BadInput, CannotDo."""
        plan = self.plan(edit.plan)
        seen = self.base.book.plan(edit.plan).rules
        if not 1 <= edit.rule <= len(seen):
            raise BadInput(
                where=f'plan "{plan.name}"',
                what=f"there is no rule {edit.rule}",
                expected=f"a number from 1 to {len(seen)}" if seen else "a plan with rules",
            )
        wanted = seen[edit.rule - 1]
        nth = seen[: edit.rule].count(wanted)
        places = [i for i, r in enumerate(plan.rules) if r == wanted]
        if len(places) < nth:
            raise CannotDo(
                what=f'rule {edit.rule} of plan "{plan.name}" cannot be edited',
                why="it was changed or taken out meanwhile",
                nearest="to look at the rules as they are now",
            )
        return plan, places[nth - 1]


def _step(desk: Desk, step: Step, where: str) -> Step:
    kind = change_of(step.change, where=where)
    params = {k: tuple(v) if isinstance(v, list) else v for k, v in step.params.items()}
    read_params(kind.params, params, unit=desk.book.unit, where=where)
    return replace(step, params=params)


def _put(desk: Desk, place: int, step: Step, name: str) -> Desk:
    steps, ids = list(desk.book.steps), list(desk.ids)
    steps.insert(place, step)
    ids.insert(place, name)
    return replace(desk.with_book(steps=tuple(steps)), ids=tuple(ids))


def _without(desk: Desk, at: int) -> Desk:
    steps = desk.book.steps
    out = desk.with_book(steps=steps[:at] + steps[at + 1 :])
    return replace(out, ids=desk.ids[:at] + desk.ids[at + 1 :])


def _set(desk: Desk, at: int, step: Step) -> Desk:
    steps = desk.book.steps
    return desk.with_book(steps=(*steps[:at], step, *steps[at + 1 :]))


def _place(number: int, last: int) -> int:
    if 1 <= number <= last:
        return number - 1
    raise BadInput(what=f"there is no place {number} in the list", expected=f"1 to {last}")


def add_change(e: kinds.AddChange, desk: Desk) -> Desk:
    """Put a change in."""
    step = _step(desk, Step(change=e.kind, params=e.params, on=e.on, why=e.why), e.kind)
    order = desk.base.ids
    place = len(desk.ids)
    if e.at is not None and e.at != len(order) + 1:
        place = desk.after(order, _place(e.at, len(order) + 1))
    taken = {*desk.ids, *order}
    names = (f"{desk.fresh}-{k}" for k in range(1, len(taken) + 2))
    return _put(desk, place, step, next(n for n in names if n not in taken))


def set_change(e: kinds.SetChange, desk: Desk) -> Desk:
    """Give a change other parameters."""
    at = desk.change(e.change)
    old = desk.book.steps[at]
    params = {k: v for k, v in {**old.params, **e.params}.items() if v is not None}
    new = replace(old, params=params, why=old.why if e.why is None else e.why)
    return _set(desk, at, _step(desk, new, old.change))


def remove_change(e: kinds.RemoveChange, desk: Desk) -> Desk:
    """Take a change out."""
    return _without(desk, desk.change(e.change))


def move_change(e: kinds.MoveChange, desk: Desk) -> Desk:
    """Move a change."""
    at = desk.change(e.change)
    name, step = desk.ids[at], desk.book.steps[at]
    order = tuple(i for i in desk.base.ids if i != name)
    place = _place(e.to, len(order) + 1)
    rest = _without(desk, at)
    return _put(
        rest, len(rest.ids) if place == len(order) else rest.after(order, place), step, name
    )


def switch_change(e: kinds.SwitchChange, desk: Desk) -> Desk:
    """Switch a change."""
    at = desk.change(e.change)
    return _set(desk, at, replace(desk.book.steps[at], on=e.on))


def _new_name(kind: str, name: str, known: list[str]) -> None:
    if name in known:
        raise BadInput(
            what=f'there is a {kind} "{name}" already', expected="a name that is not taken"
        )
    if not name:
        raise BadInput(what=f"the {kind} has no name", expected="a name")


def add_cloth(e: kinds.AddCloth, desk: Desk) -> Desk:
    """Add a cloth."""
    cloth = part_with(Cloth, None, e.values, unit=desk.book.unit, where="new cloth")
    _new_name("cloth", cloth.name, [c.name for c in desk.book.cloths])
    return desk.with_book(cloths=(*desk.book.cloths, cloth))


def set_cloth(e: kinds.SetCloth, desk: Desk) -> Desk:
    """Give a cloth other values, and its new name to the rules that name it."""
    old = desk.book.cloth(e.cloth)
    new = part_with(Cloth, old, e.values, unit=desk.book.unit, where=f'cloth "{e.cloth}"')
    if new.name != old.name:
        _new_name("cloth", new.name, [c.name for c in desk.book.cloths])

    plans = tuple(
        replace(p, rules=tuple(on_cloth(r, old.name, new.name) for r in p.rules))
        for p in desk.book.plans
    )
    cloths = tuple(new if c.name == old.name else c for c in desk.book.cloths)
    return desk.with_book(cloths=cloths, plans=plans)


def remove_cloth(e: kinds.RemoveCloth, desk: Desk) -> Desk:
    """Take a cloth out, with the pins and folds on it."""
    name = desk.book.cloth(e.cloth).name
    for plan in desk.book.plans:
        for rule in plan.rules:
            if isinstance(rule, CutFrom) and rule.cloth == name:
                raise CannotDo(
                    what=f'cloth "{name}" cannot be taken out',
                    why=f'plan "{plan.name}" cuts {rule.piece} from it',
                    nearest="to take that rule out first",
                )
    plans = tuple(
        replace(
            p,
            rules=tuple(
                r for r in p.rules if not (isinstance(r, Pin | Folded) and r.cloth == name)
            ),
        )
        for p in desk.book.plans
    )
    return desk.with_book(cloths=tuple(c for c in desk.book.cloths if c.name != name), plans=plans)


def set_picture(e: kinds.SetPicture, desk: Desk) -> Desk:
    """Show a photo as the ground of a cloth."""
    return set_cloth(kinds.SetCloth(cloth=e.cloth, values={"print": {"picture": e.values}}), desk)


def remove_picture(e: kinds.RemovePicture, desk: Desk) -> Desk:
    """Show a cloth without its photo."""
    return set_cloth(kinds.SetCloth(cloth=e.cloth, values={"print": {"picture": None}}), desk)


def add_plan(e: kinds.AddPlan, desk: Desk) -> Desk:
    """Add a plan."""
    _new_name("plan", e.plan, [p.name for p in desk.book.plans])
    like = desk.book.plan(e.like).rules if e.like else ()
    rules = tuple(_rule(None, v, desk.book.unit) for v in e.rules)
    return desk.with_plan(Plan(name=e.plan, why=e.why, rules=like + rules))


def set_plan(e: kinds.SetPlan, desk: Desk) -> Desk:
    """Give a plan another name or reason."""
    old = desk.plan(e.plan)
    name = old.name if e.name is None else e.name
    if name != old.name:
        _new_name("plan", name, [p.name for p in desk.book.plans])
    chosen = name if desk.book.chosen_plan == old.name else desk.book.chosen_plan
    out = desk.with_plan(replace(old, name=name, why=old.why if e.why is None else e.why), old.name)
    return out.with_book(chosen_plan=chosen)


def remove_plan(e: kinds.RemovePlan, desk: Desk) -> Desk:
    """Take a plan out; if it was chosen, none is."""
    name = desk.book.plan(e.plan).name
    chosen = "" if desk.book.chosen_plan == name else desk.book.chosen_plan
    plans = tuple(p for p in desk.book.plans if p.name != name)
    return desk.with_book(plans=plans, chosen_plan=chosen)


def choose_plan(e: kinds.ChoosePlan, desk: Desk) -> Desk:
    """Choose a plan."""
    return desk.with_book(chosen_plan=desk.book.plan(e.plan).name if e.plan else "")


def _rule(
    was: PlacingRule | None, values: kinds.Values, unit: Unit, where: str = "placing rule"
) -> PlacingRule:
    return part_with(PlacingRule, was, values, unit=unit, where=where)


def add_rule(e: kinds.AddRule, desk: Desk) -> Desk:
    """Add a placing rule; one that is there already is not doubled."""
    plan = desk.plan(e.plan)
    rule = _rule(None, e.values, desk.book.unit)
    return desk.with_plan(replace(plan, rules=_once(plan.rules, rule)))


def _once(rules: tuple[PlacingRule, ...], rule: PlacingRule) -> tuple[PlacingRule, ...]:
    """Return the rules with one more; a pin takes the place of the same copy's earlier pin."""
    if isinstance(rule, Pin):
        rules = tuple(r for r in rules if not _pins(r, rule.piece, rule.copy))
    return rules if rule in rules else (*rules, rule)


def _pins(rule: PlacingRule, piece: str, copy: int) -> bool:
    return isinstance(rule, Pin) and (rule.piece, rule.copy) == (piece, copy)


def set_rule(e: kinds.SetRule, desk: Desk) -> Desk:
    """Give a placing rule other values."""
    plan, at = desk.rule(e)
    where = f'plan "{plan.name}", rule {e.rule}'
    rule = _rule(plan.rules[at], e.values, desk.book.unit, where)
    return desk.with_plan(replace(plan, rules=(*plan.rules[:at], rule, *plan.rules[at + 1 :])))


def remove_rule(e: kinds.RemoveRule, desk: Desk) -> Desk:
    """Take a placing rule out."""
    plan, at = desk.rule(e)
    return desk.with_plan(replace(plan, rules=plan.rules[:at] + plan.rules[at + 1 :]))


def pin_shape(e: kinds.PinShape, desk: Desk) -> Desk:
    """Pin a copy."""
    plan = desk.plan(e.plan)
    if e.copy < 1:
        raise BadInput(where="pin", what=f"there is no copy {e.copy}", expected="1 or more")
    pin = Pin(
        piece=e.piece,
        copy=e.copy,
        cloth=desk.book.cloth(e.cloth).name,
        x=e.x,
        y=e.y,
        turn_deg=e.turn_deg,
        flipped=e.flipped,
    )
    return desk.with_plan(replace(plan, rules=_once(plan.rules, pin)))


def unpin_shape(e: kinds.UnpinShape, desk: Desk) -> Desk:
    """Let a copy go."""
    plan = desk.plan(e.plan)
    rules = tuple(r for r in plan.rules if not _pins(r, e.piece, e.copy))
    return desk if rules == plan.rules else desk.with_plan(replace(plan, rules=rules))


def add_seam(e: kinds.AddSeam, desk: Desk) -> Desk:
    """Add a seam."""
    seam = part_with(Seam, None, e.values, unit=desk.book.unit, where="new seam")
    bought = desk.book.bought
    _new_name("seam", seam.name, [s.name for s in bought.seams])
    return desk.with_book(bought=replace(bought, seams=(*bought.seams, seam)))


def set_seam(e: kinds.SetSeam, desk: Desk) -> Desk:
    """Give a seam other values."""
    bought = desk.book.bought
    old = bought.seam(e.seam)
    new = part_with(Seam, old, e.values, unit=desk.book.unit, where=f'seam "{e.seam}"')
    if new.name != old.name:
        _new_name("seam", new.name, [s.name for s in bought.seams])
    seams = tuple(new if s.name == old.name else s for s in bought.seams)
    return desk.with_book(bought=replace(bought, seams=seams))


def remove_seam(e: kinds.RemoveSeam, desk: Desk) -> Desk:
    """Take a seam out."""
    bought = desk.book.bought
    name = bought.seam(e.seam).name
    seams = tuple(s for s in bought.seams if s.name != name)
    return desk.with_book(bought=replace(bought, seams=seams))


def add_pieces(e: kinds.AddPieces, desk: Desk) -> Desk:
    """Add pieces, all or none."""
    bought = desk.book.bought
    kept = {p.name: p for p in bought.pieces}
    added: list[Piece] = []
    for n, drawing in enumerate(e.drawings, start=1):
        piece = piece_from_svg(drawing.encode("utf-8"), f"drawing {n}")
        if not e.replace:
            _new_name("piece", piece.name, list(kept))
        kept[piece.name] = piece
        added.append(piece)
    known, _ = with_sizes(bought.sizes, _sizes(e.sizes, added), {p.name for p in added})
    return desk.with_book(bought=replace(bought, pieces=tuple(kept.values()), sizes=known))


def _sizes(plain: kinds.Values, drawn: Sequence[Piece]) -> SizeRange | None:
    """Return the sizes that came with pieces. Raises BadInput."""
    if not plain:
        return None
    names, own, drawings = plain.get("names"), plain.get("drawn"), plain.get("drawings")
    if not isinstance(names, list | tuple) or not isinstance(drawings, Mapping):
        raise BadInput(where="sizes", what="they cannot be read", expected="names and drawings")
    sets = [
        tuple(drawn)
        if name == own
        else tuple(
            piece_from_svg(str(d).encode("utf-8"), f"size {name}") for d in drawings.get(name, ())
        )
        for name in names
    ]
    return SizeRange(names=tuple(map(str, names)), drawn=str(own), pieces=tuple(sets))


def remove_piece(e: kinds.RemovePiece, desk: Desk) -> Desk:
    """Take a piece out, with what names it."""
    bought = desk.book.bought
    name = bought.piece(e.piece).name

    seams = tuple(s for s in bought.seams if all(r.piece != name for r in (*s.a, *s.b)))
    pieces = tuple(p for p in bought.pieces if p.name != name)
    plans = tuple(
        replace(p, rules=tuple(r for rule in p.rules for r in without_piece(rule, name)))
        for p in desk.book.plans
    )
    sizes = bought.sizes and bought.sizes.without(name)
    return desk.with_book(bought=Pattern(pieces=pieces, seams=seams, sizes=sizes), plans=plans)


def set_body(e: kinds.SetBody, desk: Desk) -> Desk:
    """Note measurements of the wearer."""
    return desk.with_book(body=body_with(desk.book.body, e.values, unit=desk.book.unit))


def set_chart(e: kinds.SetChart, desk: Desk) -> Desk:
    """Keep a size chart, or none."""
    if not e.text.strip():
        return desk.with_book(chart=None)
    unit = parse_unit(e.unit, where="chart, unit") if e.unit else desk.book.unit
    return desk.with_book(chart=chart_from(e.text, name=e.name, source=e.source, unit=unit))


def set_unit(e: kinds.SetUnit, desk: Desk) -> Desk:
    """Think in another unit; bare numbers in the changes get the unit they were meant in."""
    old, new = desk.book.unit, parse_unit(e.unit, where="unit")
    steps = tuple(replace(s, params=_said(s, old, new)) for s in desk.book.steps)
    return desk.with_book(unit=new, steps=steps)


def _said(step: Step, old: Unit, new: Unit) -> dict[str, object]:
    declared = change_of(step.change).params.__dataclass_fields__  # type: ignore[attr-defined]
    out = dict(step.params)
    for key, value in step.params.items():
        f = declared.get(key.replace("-", "_"))
        if f is None or f.metadata["kind"] != "length" or not isinstance(value, str | int | float):
            continue
        meant = parse_length(value, unit=old)
        if parse_length(value, unit=new) != meant:
            out[key] = length_text(meant, old)
    return out


def set_settings(e: kinds.SetSettings, desk: Desk) -> Desk:
    """Give the settings other values."""
    book = desk.book
    new = part_with(Settings, book.settings, e.values, unit=book.unit, where="settings")
    return desk.with_book(settings=new)


def rename_workbook(e: kinds.RenameWorkbook, desk: Desk) -> Desk:
    """Call the outfit something else."""
    if not e.title.strip():
        raise BadInput(where="title", what="it is empty", expected="what you call the outfit")
    return desk.with_book(title=e.title.strip())


def set_notes(e: kinds.SetNotes, desk: Desk) -> Desk:
    """Write other notes."""
    return desk.with_book(notes=e.notes)


def several(e: kinds.Several, desk: Desk) -> Desk:
    """Do several edits, each on what the ones before it left."""
    base = desk.base
    for edit in e.edits:
        seen = Desk(book=base.book, ids=base.ids, base=base, fresh=desk.fresh)
        desk = done(edit, replace(desk, base=base))
        after = done(edit, seen)
        base = Opened(book=after.book, revision=base.revision, ids=after.ids)
    return desk


DO: dict[type, Callable[[Any, Desk], Desk]] = {
    kinds.AddChange: add_change,
    kinds.SetChange: set_change,
    kinds.RemoveChange: remove_change,
    kinds.MoveChange: move_change,
    kinds.SwitchChange: switch_change,
    kinds.AddCloth: add_cloth,
    kinds.SetCloth: set_cloth,
    kinds.RemoveCloth: remove_cloth,
    kinds.SetPicture: set_picture,
    kinds.RemovePicture: remove_picture,
    kinds.AddPlan: add_plan,
    kinds.SetPlan: set_plan,
    kinds.RemovePlan: remove_plan,
    kinds.ChoosePlan: choose_plan,
    kinds.AddRule: add_rule,
    kinds.SetRule: set_rule,
    kinds.RemoveRule: remove_rule,
    kinds.PinShape: pin_shape,
    kinds.UnpinShape: unpin_shape,
    kinds.AddSeam: add_seam,
    kinds.SetSeam: set_seam,
    kinds.RemoveSeam: remove_seam,
    kinds.AddPieces: add_pieces,
    kinds.RemovePiece: remove_piece,
    kinds.SetBody: set_body,
    kinds.SetChart: set_chart,
    kinds.SetUnit: set_unit,
    kinds.SetSettings: set_settings,
    kinds.RenameWorkbook: rename_workbook,
    kinds.SetNotes: set_notes,
    kinds.Several: several,
}


def done(edit: kinds.Edit, desk: Desk) -> Desk:
    """Return the desk with an edit done. Raises BadInput, Mistakes, CannotDo."""
    return DO[type(edit)](edit, desk)
