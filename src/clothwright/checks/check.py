"""What a check is: a function Pattern -> findings, with its reason and its figures' source."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Pattern
from clothwright.units.kinds import Clearance, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderEdge:
    """An edge that some plan lays along a border: what the hem-straightness check looks at.

    rise_max: mm the edge may rise above (or dip below) the border before it is a fault.
    """

    piece: str
    edge: str
    plan: str = ""
    rise_max: Clearance = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckSettings:
    """Bands, in mm and degrees; a workbook may set its own. Defaults: design numbers, docs/sources.

    agree, notice: up to `agree` mm is no finding, up to `notice` a notice, more a fault.
    cap_ease_min, cap_ease_max: mm outside which a woven set-in cap is noticed (1/2 to 1 1/2 in).
    corner_deg: how far a joined edge may depart from fair (180 or 90 degrees) as sewn.
    body: the wearer's measurements, mm by their ids (body.measures); none were typed when empty.
    stretches: the cloth is a knit, so that a garment may be smaller than its wearer.
    bought: the pieces before the first change, where they are known.
    """

    agree: Length = 1.5
    notice: Length = 3.0
    cap_ease_min: Length = 12.7
    cap_ease_max: Length = 38.1
    corner_deg: float = 5.0
    borders: tuple[BorderEdge, ...] = ()
    body: tuple[tuple[str, float], ...] = ()
    stretches: bool = False
    bought: Pattern | None = None


@dataclass(frozen=True, slots=True)
class LookedAt:
    """What a check looked at: how many, the same in words ("17 seams"), and what it could not.

    unlooked: whole sentences; an all-clear without them would be a false one.
    """

    count: int
    words: str
    unlooked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check. `codes`: every finding code it may raise. looked: what it looks at in a pattern.

    of_body: it looks at nothing while nobody has been measured.
    """

    id: str
    title: str
    why: str
    source: str
    codes: tuple[str, ...]
    run: Callable[[Pattern, CheckSettings], Iterator[Finding]]
    looked: Callable[[Pattern, CheckSettings], LookedAt]
    of_body: bool = False
