"""Edits of the cloths and what is printed on them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.contradictions import refuse_new
from clothwright.cloth.meanings import UPS
from clothwright.cloth.prints import Print
from clothwright.errors import CannotDo
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.names import with_cloth
from clothwright.rules.plan import PlacingRule
from clothwright.store.book.parts import part_with
from clothwright.words import Sentence
from clothwright.workroom.editing.differing import (
    Way,
    differing,
    either,
    length,
    named,
    other,
    share,
    text,
    within,
)
from clothwright.workroom.editing.edit import Desk, Edit, Values, new_name

BORDER: Mapping[str, Way] = {
    "side": lambda _, side: (f"along the {side} selvedge",),
    "base": length("its line from the selvedge"),
    "height": length("height"),
    "down": lambda _, down: (
        {
            "selvedge": "its bottom to the selvedge",
            "middle": "its bottom to the middle",
            "either": "no up or down",
        }[down],
    ),
    "repeat": length("comes again every", "comes again nowhere"),
}
PRINT: Mapping[str, Way] = {
    "borders": named("border", BORDER),
    "repeat_along": length("repeat along", "no repeat along"),
    "repeat_across": length("repeat across", "no repeat across"),
    "origin_along": length("repeat begins along at"),
    "origin_across": length("repeat begins across at"),
    "axes_along": other("other mirror lines across the cloth"),
    "axes_across": other("other mirror lines along the cloth"),
    "figures": named(
        "motif",
        {"x": length("along"), "y": length("across"), "radius": length("kept clear of by")},
    ),
    "up": lambda _, up: (
        (f"the print stands with its top {UPS[up]}",) if up in UPS else ("the print has no top",)
    ),
    "drop": lambda _, drop: (f"repeats {drop}",),
    "half_turn": either("the same after half a turn", "no half turn"),
    "look": lambda _, look: (f"drawn as {look}",),
    "picture": either("shown by a photo", "no photo"),
}
CLOTH: Mapping[str, Way] = {
    "name": lambda _, name: (f'called "{name}" now',),
    "width": length("width"),
    "length": length("length", "length still to buy"),
    "material": lambda _, material: (f"for the {material}",),
    "margin_lower": length("lower selvedge"),
    "margin_upper": length("upper selvedge"),
    "margin_start": length("lost at the cut end"),
    "margin_end": length("lost at the other end"),
    "outline": either("another outline", "no outline of its own"),
    "flaws": named("flaw", {"ring": other("another outline"), "margin": length("kept clear by")}),
    "nap": either("with a nap", "without a nap"),
    "shrink_along": share("shrinks along by"),
    "shrink_across": share("shrinks across by"),
    "stretch": share("stretches by"),
    "price_per_m": lambda _, price: ("another price" if price is not None else "no price",),
    "print": within(PRINT),
    "note": text("note"),
}
"""How each field of a cloth is said in the record."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AddCloth(Edit):
    """Add a cloth."""

    values: Values

    def do(self, desk: Desk) -> Desk:
        """Add it after the others, under a name that is not taken."""
        cloth = part_with(Cloth, None, self.values, unit=desk.book.unit, where="new cloth")
        new_name("cloth", cloth.name, [c.name for c in desk.book.cloths])
        refuse_new(cloth.print, Print(), f'cloth "{cloth.name}"')
        return desk.with_book(cloths=(*desk.book.cloths, cloth))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which, and how wide it is."""
        cloth = now.book.cloths[-1]
        return (f'Added the cloth "{cloth.name}", ', cloth.width, " wide")


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCloth(Edit):
    """Give a cloth other values; a new name goes into the plans that name it."""

    cloth: str
    values: Values

    def do(self, desk: Desk) -> Desk:
        """Read the values over those it has. Raises BadInput, Mistakes."""
        old = desk.book.cloth(self.cloth)
        where = f'cloth "{self.cloth}"'
        new = part_with(Cloth, old, self.values, unit=desk.book.unit, where=where)
        refuse_new(new.print, old.print, where)
        return _set(desk, old, new)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what differs."""
        at = [c.name for c in was.book.cloths].index(self.cloth)
        told = differing(was.book.cloths[at], now.book.cloths[at], CLOTH)
        return (f'Cloth "{self.cloth}": ', *(told or ("as it was",)))


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveCloth(Edit):
    """Take a cloth out, and the pins on it."""

    cloth: str

    def do(self, desk: Desk) -> Desk:
        """Take it out, with the pins and folds on it. Raises CannotDo while a rule cuts from it."""
        name = desk.book.cloth(self.cloth).name
        for plan in desk.book.plans:
            for rule in plan.rules:
                if isinstance(rule, CutFrom) and rule.cloth == name:
                    raise CannotDo(
                        what=f'cloth "{name}" cannot be taken out',
                        why=f'plan "{plan.name}" cuts {rule.piece} from it',
                        nearest="to take that rule out first",
                    )
        plans = tuple(
            replace(p, rules=tuple(r for r in p.rules if not _lies_on(r, name)))
            for p in desk.book.plans
        )
        cloths = tuple(c for c in desk.book.cloths if c.name != name)
        return desk.with_book(cloths=cloths, plans=plans)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'Removed the cloth "{self.cloth}"',)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPicture(Edit):
    """Show a photo as the ground of a cloth: file, width, height, along, across."""

    cloth: str
    values: Values

    def do(self, desk: Desk) -> Desk:
        """Set it in the print."""
        return _with_picture(desk, self.cloth, self.values)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say for which cloth."""
        return (f'Cloth "{self.cloth}": shown by its photo',)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePicture(Edit):
    """Show a cloth without its photo; what was measured on it stays."""

    cloth: str

    def do(self, desk: Desk) -> Desk:
        """Take it out of the print."""
        return _with_picture(desk, self.cloth, None)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say for which cloth."""
        return (f'Cloth "{self.cloth}": no photo any more',)


def _with_picture(desk: Desk, cloth: str, values: Values | None) -> Desk:
    return SetCloth(cloth=cloth, values={"print": {"picture": values}}).do(desk)


def _lies_on(rule: PlacingRule, cloth: str) -> bool:
    return isinstance(rule, Pin | Folded) and rule.cloth == cloth


def _set(desk: Desk, old: Cloth, new: Cloth) -> Desk:
    """Put a cloth in the place of another, its names into the rules that name it or its print."""
    if new.name != old.name:
        new_name("cloth", new.name, [c.name for c in desk.book.cloths])
    plans = tuple(
        replace(p, rules=tuple(with_cloth(r, old, new) for r in p.rules)) for p in desk.book.plans
    )
    cloths = tuple(new if c.name == old.name else c for c in desk.book.cloths)
    return desk.with_book(cloths=cloths, plans=plans)
