"""Changes as somebody might fill their forms who presses whatever is offered."""

from __future__ import annotations

from random import Random

from clothwright.changes import CHANGES
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.workbook import Step
from clothwright.workroom.changing.forms import form_named
from clothwright.workroom.editing.asking import Field
from clothwright.workroom.editing.offers import TICKED

LEFT_EMPTY = 0.6
"""How often a field that may be left empty is."""


def any_step(pattern: Pattern, rng: Random, kind: str = "") -> Step:
    """A change of any kind, or of this one, each field filled with what its form offers.

    What a form has nothing to offer for stays empty, as she would leave it: it is refused then.
    """
    kind = kind or rng.choice(CHANGES).id
    fields = form_named(kind, pattern, Unit.cm).fields
    filled = ((f.name, _filled(f, rng)) for f in fields if f.must or rng.random() > LEFT_EMPTY)
    return Step(change=kind, params={name: value for name, value in filled if value != ""})


def _filled(field: Field, rng: Random) -> object:
    """What is typed, ticked or chosen in a field; lengths within 5 cm, some with a minus."""
    if field.parts:
        return ", ".join(f"{name} {rng.choice(group)[0]}" for name, group in field.parts)
    keys = [key for _, group in field.groups for key, _, _ in group]
    if field.kind in TICKED:
        return rng.sample(keys, min(len(keys), rng.choice((1, 1, 2, 3))))
    if keys:
        return rng.choice(keys)
    match field.kind:
        case "flag":
            return rng.random() < 0.5
        case "length":
            return f"{rng.choice((1, 1, -1)) * rng.choice((0.3, 0.6, 1, 1.5, 2.5, 5))} cm"
        case "angle":
            return rng.choice((-20, -5, 5, 10, 30))
        case "share":
            return rng.choice(("25 %", "50 %", "100 %"))
        case "count":
            return rng.choice((1, 2, 3, 5))
        case _:
            return ""
