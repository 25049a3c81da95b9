"""Looks: what each role's lines, areas and words look like. Widths and dashes in mm on paper.

Two looks. PRINT is for patterns at full size: black and grey lines, nothing filled, so that it
costs little ink and a copier cannot spoil it. TABLE is for plans and guides: the cutting table,
cloth with its selvedges, pieces the colour of tissue, chalk lines. Every role that can lie beside
another differs from it by width or dash as well as by colour, so both looks read in black and
white.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from clothwright.picture.picture import DrawnRole

R = DrawnRole


class Pen(NamedTuple):
    """A line: width in mm on paper, colour as #rrggbb, dash as on, off, ... in mm."""

    width: float
    colour: str
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A pen for every role, a colour for the areas that are filled, a colour for words.

    fills: a role that is not in it is not filled. inks: a role that is not in it writes in the
    colour of its pen. sheer: how much an area of a role hides of what lies under it, from 0 to 1;
    all of it when it is not in it.
    """

    name: str
    pens: Mapping[DrawnRole, Pen]
    fills: Mapping[DrawnRole, str]
    inks: Mapping[DrawnRole, str]
    sheer: Mapping[DrawnRole, float] = field(default_factory=lambda: MappingProxyType({}))

    def pen(self, role: DrawnRole) -> Pen:
        """The pen a role's lines are drawn with."""
        return self.pens[role]

    def fill(self, role: DrawnRole) -> str | None:
        """The colour of a role's areas, or None when they stay open."""
        return self.fills.get(role)

    def hides(self, role: DrawnRole) -> float:
        """How much a role's areas hide of what lies under them, from 0 to 1."""
        return self.sheer.get(role, 1.0)

    def ink(self, role: DrawnRole) -> str:
        """The colour of a role's words."""
        return self.inks.get(role) or self.pens[role].colour


INK = "#1c1a18"
GRAPHITE = "#4a4744"
PENCIL = "#7d7974"
"""Greys with a trace of warmth: what pencil and ink leave on paper."""

_PAGE_LINES = {
    R.PAGE: Pen(0.2, PENCIL, (2.4, 1.6)),
    R.TRIM: Pen(0.2, GRAPHITE),
    R.TEST: Pen(0.2, PENCIL),
}

PRINT = Look(
    name="print",
    pens=MappingProxyType(
        {
            R.CUT: Pen(0.5, INK),
            R.STITCH: Pen(0.3, GRAPHITE, (4.0, 2.0)),
            R.FOLD: Pen(0.5, INK, (12.0, 2.0, 2.0, 2.0)),
            R.HEM: Pen(0.3, GRAPHITE, (8.0, 2.5)),
            R.GRAIN: Pen(0.35, INK),
            R.NOTCH: Pen(0.5, INK),
            R.DART: Pen(0.35, GRAPHITE, (5.0, 1.5)),
            R.LEVEL: Pen(0.2, PENCIL, (1.0, 2.0)),
            R.MARK: Pen(0.35, INK),
            R.LABEL: Pen(0.25, INK),
            R.PIECE: Pen(0.2, PENCIL),
            R.CLOTH: Pen(0.25, GRAPHITE),
            R.SELVEDGE: Pen(0.7, GRAPHITE),
            R.BORDER: Pen(0.25, GRAPHITE, (6.0, 1.5, 1.5, 1.5)),
            R.MOTIF: Pen(0.2, PENCIL, (0.6, 1.4)),
            R.FLAW: Pen(0.5, INK, (1.5, 1.0)),
            R.MEASURE: Pen(0.18, GRAPHITE),
            R.LEFTOVER: Pen(0.25, PENCIL, (3.0, 3.0)),
            R.FAULT: Pen(0.9, INK, (2.0, 1.0)),
            **_PAGE_LINES,
        }
    ),
    fills=MappingProxyType({R.PAGE: "#e4e2de", R.NOTCH: INK, R.MARK: INK, R.GRAIN: INK}),
    inks=MappingProxyType({R.PAGE: PENCIL, R.TEST: PENCIL, R.LEVEL: GRAPHITE, R.STITCH: GRAPHITE}),
)
"""Patterns at full size on paper."""

WALNUT = "#5b4636"
TISSUE = "#f5e8c8"
LINEN = "#c9d3d2"
TAPE = "#8a6d1f"
BRICK = "#a3362b"
PRINTED = "#3d5a63"

TABLE = Look(
    name="table",
    pens=MappingProxyType(
        {
            R.CUT: Pen(0.35, INK),
            R.STITCH: Pen(0.2, GRAPHITE, (1.6, 0.9)),
            R.FOLD: Pen(0.4, INK, (4.0, 0.8, 0.8, 0.8)),
            R.HEM: Pen(0.2, GRAPHITE, (3.0, 1.0)),
            R.GRAIN: Pen(0.25, INK),
            R.NOTCH: Pen(0.35, INK),
            R.DART: Pen(0.25, GRAPHITE, (2.2, 0.7)),
            R.LEVEL: Pen(0.15, PENCIL, (0.5, 0.9)),
            R.MARK: Pen(0.25, INK),
            R.LABEL: Pen(0.2, INK),
            R.PIECE: Pen(0.2, WALNUT),
            R.CLOTH: Pen(0.3, WALNUT),
            R.SELVEDGE: Pen(0.8, WALNUT),
            R.BORDER: Pen(0.25, WALNUT, (2.5, 0.7, 0.7, 0.7)),
            R.MOTIF: Pen(0.2, PRINTED),
            R.FLAW: Pen(0.5, BRICK, (0.8, 0.6)),
            R.MEASURE: Pen(0.18, TAPE),
            R.LEFTOVER: Pen(0.3, "#5f7a5a", (1.6, 1.6)),
            R.FAULT: Pen(0.8, BRICK, (1.2, 0.6)),
            **_PAGE_LINES,
        }
    ),
    fills=MappingProxyType(
        {
            R.PIECE: TISSUE,
            R.CLOTH: LINEN,
            R.SELVEDGE: "#a9b6b5",
            R.BORDER: "#9fb0b3",
            R.MOTIF: PRINTED,
            R.FLAW: "#e8c3bb",
            R.LEFTOVER: "#dfe8d8",
            R.FAULT: "#efb6ac",
            R.PAGE: "#e4e2de",
            R.NOTCH: INK,
            R.MARK: INK,
            R.GRAIN: INK,
            R.MEASURE: TAPE,
        }
    ),
    inks=MappingProxyType(
        {R.MEASURE: "#5a4712", R.PAGE: GRAPHITE, R.TEST: PENCIL, R.STITCH: GRAPHITE}
    ),
    sheer=MappingProxyType({R.PIECE: 0.3}),
)
"""Lay plans and the pictures of a guide."""

LOOKS = (PRINT, TABLE)
