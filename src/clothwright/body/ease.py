"""Wearing ease: how much longer a garment's girth is than the body's, at the least."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.units import INCH

NEAR_MM = INCH / 16
"""Ease that is short by no more than this (1/16 in) is enough: figures are shown no finer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ease:
    """Least wearing ease at one level, in mm.

    level: the name of the pattern's level; measure: what is measured there on the body. least,
    usual: from and up to what a source asks for at the least; 0: nothing but that it closes.
    lower: for skirts and trousers.
    """

    level: str
    measure: str
    least: float
    usual: float
    source: str
    lower: bool | None = None


COLLEGE = "a university's costume text"
DRAFT = "a textbook draft and a magazine"
CLOSES = "what goes round has to close"

EASES: tuple[Ease, ...] = (
    Ease(level="bust", measure="bust", least=1.5 * INCH, usual=2 * INCH, source=COLLEGE),
    Ease(
        level="waist", measure="waist", least=0.75 * INCH, usual=INCH, source=COLLEGE, lower=False
    ),
    Ease(
        level="waist",
        measure="waist",
        least=0.5 * INCH,
        usual=0.75 * INCH,
        source=COLLEGE,
        lower=True,
    ),
    Ease(level="hip", measure="hip", least=2 * INCH, usual=2.75 * INCH, source=COLLEGE),
    Ease(level="biceps", measure="upper-arm", least=2 * INCH, usual=2 * INCH, source=DRAFT),
    Ease(level="thigh", measure="thigh", least=INCH, usual=INCH, source=COLLEGE),
    Ease(level="neck", measure="neck-base", least=0.0, usual=0.0, source=CLOSES),
    Ease(level="wrist", measure="wrist", least=0.0, usual=0.0, source=CLOSES),
    Ease(level="high bust", measure="high-bust", least=0.0, usual=0.0, source=CLOSES),
    Ease(level="under bust", measure="under-bust", least=0.0, usual=0.0, source=CLOSES),
)
"""Least ease for woven cloth (docs/sources.md, ease): guides, not laws."""

LEVELS = {e.level: e.measure for e in EASES}
"""Which measurement goes with which level of a pattern."""


def ease_at(level: str, *, lower: bool) -> Ease | None:
    """Return the least ease at a level of a garment. lower: a skirt or trousers (no bust level).

    >>> [round(ease_at("waist", lower=it).least / INCH, 2) for it in (True, False)]
    [0.5, 0.75]
    """
    found = (e for e in EASES if e.level == level and e.lower in (None, lower))
    return next(found, None)
