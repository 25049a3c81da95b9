"""A change that would mend something, shown beside it with the button that makes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwright.changes.change import Outcome
from clothwright.errors import ClothwrightError
from clothwright.pattern.finding import Mend
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say, to_do, told, within
from clothwright.words.exact import computed_text
from clothwright.workbook import MENDS, change_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Mending:
    """A change that mends something. change, params, why: as it is added to the list.

    mend: the same, lengths in mm. does: its sentence for the record. after: what is then found.
    trouble: why it cannot be done here, else "". tried: what else was tried, and what that would
    upset. alike: "yes" where the same is done with it to what goes with its pieces. other: what
    would mend it if what that one supposes is so (`supposed`, such as "front was changed by
    mistake").
    """

    title: str
    change: str
    params: Mapping[str, object]
    why: str
    mend: Mend
    does: str = ""
    after: str = ""
    trouble: str = ""
    tried: str = ""
    alike: str = ""
    supposed: str = ""
    other: Mending | None = None

    @property
    def or_else(self) -> str:
        """What else would mend it, and when; "" for nothing."""
        other = self.other
        return f"Or, if {other.supposed}: {within(other.asks)}" if other else ""

    @property
    def asks(self) -> str:
        """Say what is to be done, as something that has not been done yet."""
        return to_do(self.does)


def mending_of(
    mend: Mend, pattern: Pattern, unit: Unit, what: str
) -> tuple[Mending, Outcome | None]:
    """Return a change as it is offered, and what it does; None where it cannot be done.

    what: the name of what it mends.
    """
    change = change_of(mend.change)
    mending = Mending(
        title=change.title,
        change=mend.change,
        params={name: _entry(value, unit) for name, value in mend.params.items()},
        why=f"{MENDS}{what}",
        mend=mend,
    )
    try:
        read = read_params(change.params, mending.params, unit=unit, where=change.title)
        outcome = change.apply(pattern, read)
    except ClothwrightError as error:
        return replace(mending, trouble=told(error, unit)), None
    return replace(mending, does=say(outcome.said, unit)), outcome


def _entry(value: object, unit: Unit) -> object:
    """Return a parameter as a workbook has it: lengths (mm) as text in her unit."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return computed_text(value, unit)
    return [str(v) for v in value] if isinstance(value, tuple | list) else str(value)
