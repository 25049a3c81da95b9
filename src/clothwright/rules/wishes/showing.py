"""What of an outfit a wish can be about: the pieces that show, their print, what they are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from clothwright.cloth.cloth import Cloth, after_washing
from clothwright.cloth.motions import ground, of_figure
from clothwright.cloth.prints import Figure, Print
from clothwright.pattern.closing import Closing, closings
from clothwright.pattern.parts import (
    called,
    centre_line,
    facing_names,
    front_or_back,
    held_together,
    is_pair,
    is_strip,
    points_on,
    runs_up,
    sleeve_names,
    worn_together,
)
from clothwright.pattern.patches import PatchPlace, patch_places
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.kinds.meets import Named, meeting
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.offers import Outfit
from clothwright.rules.plan import PlacingRule, Plan

LARGE_MM = 40.0
"""mm: what is not as wide is a small motif, and nobody places one (docs/sources.md, figures)."""
LARGE_SHARE = 2 / 3
"""A motif that is not so large as this share of the largest one is its ground."""


class Axes(NamedTuple):
    """How a piece lies, and the axes of the cloth that are then the body's height and width."""

    lies: str
    height: str
    width: str


ALONG = Axes(lies="along", height="along", width="across")
ACROSS = Axes(lies="across", height="across", width="along")


@dataclass(frozen=True, kw_only=True)
class Showing:
    """The pieces of an outfit that are cut from a printed cloth and seen when it is worn.

    start: the rules of the plan she starts from; they settle the grain of a piece. plans: all she
    has, that one first.
    """

    outfit: Outfit
    start: tuple[PlacingRule, ...] = ()
    plans: tuple[Plan, ...] = ()

    @property
    def pattern(self) -> Pattern:
        """The pieces as changed."""
        return self.outfit.pattern

    @cached_property
    def cloths(self) -> tuple[Cloth, ...]:
        """The cloths with a print, as they lie: after washing."""
        return tuple(after_washing(c) for c in self.outfit.cloths if c.print.has_design)

    @cached_property
    def outer(self) -> tuple[Piece, ...]:
        """The pieces that show: no facings."""
        inside = facing_names(self.pattern)
        return tuple(p for p in self.outfit.printed if p.name not in inside)

    @cached_property
    def patches(self) -> tuple[PatchPlace, ...]:
        """The pockets and the like that another piece has the place of."""
        shown = {p.name for p in self.outer}
        return tuple(p for p in patch_places(self.pattern) if {p.piece, p.on} <= shown)

    def ways_to_lie(self, piece: str) -> tuple[Axes, ...]:
        """Return the ways a piece may lie, as it is settled or its print stands; none on the bias.

        Without either, what a border can turn may lie across too, or what a plan of hers turns:
        what has a hem that one can run round, and what is sewn to that.
        """
        settled = self._settled(piece)
        if settled:
            return tuple(a for a in (ALONG, ACROSS) if a.lies == settled)
        design = self.print_of(piece)
        if design.up_deg is not None:
            return (ACROSS if design.up_deg % 180.0 else ALONG,)
        turned = (design.borders and piece in self._beside_hems) or piece in self._laid_across
        return (ALONG, ACROSS) if turned else (ALONG,)

    @cached_property
    def _beside_hems(self) -> frozenset[str]:
        hemmed = {p.name for ring in self.rings for p, _ in ring}
        groups = worn_together(self.pattern, [p.name for p in self.outer])
        return frozenset(n for group in groups if hemmed & set(group) for n in group)

    @cached_property
    def _laid_across(self) -> frozenset[str]:
        rules = (r for plan in self.plans for r in plan.rules if isinstance(r, OnGrain))
        return frozenset(r.piece for r in rules if r.grain == ACROSS.lies)

    def level_ways(self, piece: str) -> tuple[Axes, ...]:
        """Return those in which the print repeats up the body."""
        design = self.print_of(piece)
        return tuple(a for a in self.ways_to_lie(piece) if design.ground_repeat(a.height))

    @cached_property
    def sleeves(self) -> tuple[Piece, ...]:
        """What is sewn into an armhole."""
        names = sleeve_names(self.pattern)
        return tuple(p for p in self.outer if p.name in names)

    @cached_property
    def opens(self) -> dict[str, Closing]:
        """The pieces that open, by their names, each with the line where it does."""
        return {c.piece.name: c for c in closings(self.pattern)}

    def on_middle(self, piece: Piece) -> tuple[str, ...]:
        """Return the named points of a piece on the middle of the body; marks before corners."""
        opens = self.opens.get(piece.name)
        line = opens.line if opens is not None else centre_line(self.pattern, piece)
        return points_on(piece, line) if line is not None else ()

    @cached_property
    def collars(self) -> tuple[Piece, ...]:
        """What is held by one edge alone and stands up from it, cut on a fold: a collar."""
        held: dict[str, set[str]] = {}
        for seam in self.pattern.seams:
            for ref in seam.refs if seam.kind == "plain" else ():
                held.setdefault(ref.piece, set()).add(ref.edge)
        return tuple(
            p
            for p in self.outer
            if len(held.get(p.name, ())) == 1 and p.fold is not None and not _hems(p)
        )

    @cached_property
    def body(self) -> tuple[Piece, ...]:
        """What goes round the body: no sleeves, patches or bands; fronts first."""
        others = {p.name for p in (*self.sleeves, *self.collars)} | {p.piece for p in self.patches}
        mine = [
            p for p in self.outer if p.name not in others and not (is_strip(p) and not _hems(p))
        ]
        return tuple(sorted(mine, key=lambda p: front_or_back(p) != "front"))

    @cached_property
    def rings(self) -> tuple[tuple[tuple[Piece, Edge], ...], ...]:
        """The hems that go round, of the pieces that seams hold together; the longest first."""
        hemmed = [p for p in (*self.body, *self.sleeves) if _hems(p)]
        sets = held_together(self.pattern, [p.name for p in hemmed], kinds=("plain",))
        by_name = {p.name: p for p in hemmed}
        found = [tuple((by_name[n], e) for n in s for e in _hems(by_name[n])) for s in sets]
        return tuple(sorted(found, key=lambda ring: -sum(_around(p, e) for p, e in ring)))

    def print_of(self, piece: str) -> Print:
        """Return the print of the cloth a piece that shows is cut from."""
        materials = {c.material for c in self.pattern.piece(piece).cuts}
        return next(c.print for c in self.cloths if c.material in materials)

    def cloths_of(self, piece: str) -> tuple[Cloth, ...]:
        """Return the printed cloths a piece may be cut from."""
        materials = {c.material for c in self.pattern.piece(piece).cuts}
        return tuple(c for c in self.cloths if c.material in materials)

    @cached_property
    def sides(self) -> tuple[Seam, ...]:
        """The seams up the body between two different pieces of it."""
        return tuple(self._between({p.name for p in self.body}))

    def _between(self, names: set[str]) -> Iterator[Seam]:
        for seam in self.pattern.seams:
            a, b = {r.piece for r in seam.a}, {r.piece for r in seam.b}
            inside = seam.kind == "plain" and a | b <= names and not a & b
            if inside and runs_up(self.pattern, seam):
                yield seam

    def large_figures(self, piece: str) -> tuple[Figure, ...]:
        """Return the figures of the ground that are placed one by one, the largest first.

        What is small, or much smaller than another, is seen as a ground and not as a figure.
        """
        cloth = self.cloths_of(piece)[0]
        bands = [b.span(cloth.width) for b in cloth.print.borders]
        ground = [
            f for f in cloth.print.figures if not any(low <= f.y <= high for low, high in bands)
        ]
        least = max((LARGE_MM, *(LARGE_SHARE * 2 * f.radius for f in ground)))
        large = (f for f in ground if 2 * f.radius >= least)
        return tuple(sorted(large, key=lambda f: -f.radius))

    def leaves_clear(self, piece: str, figure: Figure, by: float) -> bool:
        """Tell whether any place lies so many mm clear of every copy of a figure."""
        cloth = self.cloths_of(piece)[0]
        motions = of_figure(figure, cloth.print, cloth.width)
        return motions.farthest((figure.x, figure.y)) > figure.radius + by

    def on_bias(self, piece: str) -> bool:
        """Tell whether a piece is settled to lie on the bias."""
        return self._settled(piece) == "bias"

    def _settled(self, piece: str) -> str:
        for rule in self.start:
            if isinstance(rule, OnGrain) and rule.piece == piece:
                return rule.grain
            if isinstance(rule, Chevron) and rule.bias and piece in (rule.piece_a, rule.piece_b):
                return "bias"
        return ""

    def twin_seam(self, piece: str) -> Seam | None:
        """Return the seam in which both of a pair are sewn together, as at a centre back."""
        mine = (s for s in self.pattern.seams if s.a == s.b and s.a[0].piece == piece)
        return next(mine, None)

    def met(self, seam: Seam) -> tuple[tuple[Named, Named], ...]:
        """Return the points that meet in a seam, the lowest on the body first."""
        piece = {n: self.pattern.piece(n) for n in seam.pieces}

        def height(pair: tuple[Named, Named]) -> float:
            (name, point), _ = pair
            return piece[name].up.dot(piece[name].point(point))

        return tuple(sorted(meeting(self.pattern, seam), key=height))


def _around(piece: Piece, hem: Edge) -> float:
    """Return how long a hem is when the piece is unfolded, or both of a pair are sewn, mm."""
    return hem.length * (2 if is_pair(piece) or piece.fold is not None else 1)


def _hems(piece: Piece) -> tuple[Edge, ...]:
    return tuple(e for e in piece.edges if e.role is Role.HEM)


def noun(design: Print) -> str:
    """Return what a print is made of, in a word: "bars" of a stripe or check, or "motifs"."""
    if design.look == "check" or design.look.startswith("stripes"):
        return "bars"
    one = bool(design.repeat_along) != bool(design.repeat_across)
    bare = not design.figures and design.picture is None and _repeats(design)
    return "bars" if (one or bare) and design.look != "figures" else "motifs"


def _repeats(design: Print) -> bool:
    return bool(design.repeat_along or design.repeat_across)


def bars_go_one_way(design: Print) -> bool:
    """Tell whether bars come out in another order on a piece that is turned end for end.

    Without a top of their own; a print with one is never turned so.
    """
    kinds = {each.signs for each in ground(design).operations}
    bars = _repeats(design) and noun(design) == "bars"
    return bars and design.up == "either" and (-1, -1) not in kinds


def thing_called(names: Sequence[str], otherwise: str = "body") -> str:
    """Return what the pieces of one thing are called together: "the coat", "the body"."""
    return f"the {called(names) or otherwise}"
