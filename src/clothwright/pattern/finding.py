"""A finding: what a check, an intake or the judge of a lay has to say, as data."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field


class Severity(enum.Enum):
    """How much a finding weighs. SKIPPED (could not run) is not a pass: it outweighs a NOTE."""

    NOTE = "note"
    SKIPPED = "skipped"
    NOTICE = "notice"
    FAULT = "fault"


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """The place a finding speaks of; empty strings where a field does not apply.

    point: a named corner, notch or mark, or a lay shape's id. other: the second shape of an
    overlap. rule: id of the lay's rule that is not met.
    """

    piece: str = ""
    edge: str = ""
    seam: str = ""
    point: str = ""
    other: str = ""
    rule: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mend:
    """A change that would mend the finding: the change's id and its parameters (mm as floats)."""

    change: str
    params: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One finding. `words` is a sentence whose floats are lengths in mm (see words.say).

    code: stable kebab-case id, never renamed once shipped.
    measured, expected: numbers in `unit` ("mm", "deg", "count", "").
    mend: the change that would mend it; others: what to try where that one upsets something else.
    """

    code: str
    severity: Severity
    where: Where = Where()
    measured: float | None = None
    expected: float | None = None
    unit: str = ""
    words: tuple[str | float, ...] = ()
    mend: Mend | None = None
    others: tuple[Mend, ...] = ()

    @property
    def mends(self) -> tuple[Mend, ...]:
        """Return every change that may mend it, in the order to try them."""
        return (self.mend, *self.others) if self.mend else ()
