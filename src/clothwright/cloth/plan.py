"""A plan: one answer to "where does the print go?", as placing rules in the maker's words.

Rules name pieces and their points ("front.hem start"); `level` and `upright` are seen on the body:
level = how high up the body a line of the design lies, upright = how far to the side.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class OnBorder:
    """An edge lies along a border, its stitching (or fold) line `above` mm from the base line.

    All copies of the piece turn so that the border's "down" points down the body, or up it with
    `upside_down`.
    """

    piece: str
    edge: str
    border: str
    above: float = 0.0
    upside_down: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPhase:
    """A point lies at a phase of the repeat (mm from phase 0); None leaves that way free.

    copies: "all", or "first" (the second of a pair is then tied by another rule).
    """

    piece: str
    point: str
    along: float | None = None
    across: float | None = None
    copies: str = "all"


@dataclass(frozen=True, slots=True, kw_only=True)
class Meets:
    """Two points that are sewn together lie at the same phase of the design.

    match: "level" (bars round the body meet), "upright" (bars up the body meet) or "both".
    """

    piece_a: str
    point_a: str
    piece_b: str
    point_b: str
    match: str = "level"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirrored:
    """The two copies of a pair lie mirrored about an axis of the figure, seen at one point.

    way: "along" or "across": on which cloth axis the mirror position is counted. The other way the
    two copies lie at the same phase, where the cloth repeats that way.
    """

    piece: str
    point: str
    way: str = "along"


@dataclass(frozen=True, slots=True, kw_only=True)
class Clear:
    """A point keeps clear of every copy of a figure by `by` mm beyond the figure's own edge."""

    piece: str
    point: str
    figure: str
    by: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOff:
    """A whole piece, allowance included, keeps off a border by `by` mm or more."""

    piece: str
    border: str
    by: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OneWay:
    """All tops one way: these pieces (empty = every piece on the cloth) turn alike."""

    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OnGrain:
    """A piece lies "along", "across" or on the "bias", tilted by up to `tilt_deg` from it."""

    piece: str
    grain: str
    tilt_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFrom:
    """A piece meant for one material is cut from a named cloth instead."""

    piece: str
    material: str
    cloth: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """One copy stays where the maker laid it (see lay.problem for the frame)."""

    piece: str
    copy: int
    cloth: str
    x: float
    y: float
    turn_deg: float
    flipped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """A cloth is laid double: "lengthwise", "partial" or "crosswise".

    depth: mm of doubled cloth from the fold, for a partial fold; None leaves it to the search.
    """

    cloth: str
    way: str
    depth: float | None = None


PlacingRule = (
    OnBorder
    | AtPhase
    | Meets
    | Mirrored
    | Clear
    | KeepOff
    | OneWay
    | OnGrain
    | CutFrom
    | Folded
    | Pin
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A named set of placing rules, and the words that say what it is for."""

    name: str
    why: str = ""
    rules: tuple[PlacingRule, ...] = ()
