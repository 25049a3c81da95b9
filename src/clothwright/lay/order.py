"""In which order to lay the pieces, and where each goes, measured from selvedge and cut end."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.problem import cut_of
from clothwright.lay.result import Lay
from clothwright.lay.sewn import placement_move
from clothwright.units import Unit
from clothwright.words import show_length

NO_LINE_MM = 1.0
"""A grain line shorter than this is none: the middle of the piece is measured instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayingStep:
    """One piece to lay down.

    tail, head: the ends of its grain line on the cloth, mm (x from the cut end, y from the lower
    selvedge); for a piece without a grain line the middle of its outline, twice.
    low, high: corners of the box around its cutting line. cut: it is cut there already.
    """

    number: int
    shape: str
    piece: str
    copy: int
    cloth: str
    material: str
    turned_over: bool
    turn_deg: float
    tail: Vec
    head: Vec
    low: Vec
    high: Vec
    cut: bool = False

    @property
    def called(self) -> str:
        """The piece, with what has to be known of it: "coat front 2 (turned over, cut)"."""
        notes = ["turned over"] * self.turned_over + ["cut"] * self.cut
        return f"{self.shape} ({', '.join(notes)})" if notes else self.shape

    def ends(self, unit: Unit) -> tuple[tuple[str, str], tuple[str, str]]:
        """Return where tail and head lie, each along the cloth and up from its lower selvedge."""
        a, b = self.tail, self.head
        said = [show_length(v, unit) for v in (a.x, a.y, b.x, b.y)]
        return (said[0], said[1]), (said[2], said[3])

    def words(self, unit: Unit) -> str:
        """Say in sentences where it lies, lengths in `unit`."""
        over = "Turned over. " if self.turned_over else ""
        tail, head = (f"{along} along, {up} up" for along, up in self.ends(unit))
        if (self.head - self.tail).norm < NO_LINE_MM:
            return f"{over}Its middle at {tail}."
        return f"{over}Grain line from {tail}, to {head}."


def laying_list(compiled: Compiled, lay: Lay) -> tuple[LayingStep, ...]:
    """Return the pieces in laying order: cloth by cloth, from the cut end on, lower selvedge first.

    Steps of 100 mm along the selvedge count as one row, so that a hand's breadth does not send
    the maker from one selvedge to the other.
    """
    names = [r.name for r in compiled.problem.regions]
    cut = cut_of(compiled.problem)
    rows = []
    for placement in lay.placements:
        copy = compiled.copy(placement.shape)
        move = placement_move(copy, placement)
        xs, ys = [p[0] for p in placement.outline], [p[1] for p in placement.outline]
        low, high = Vec(min(xs), min(ys)), Vec(max(xs), max(ys))
        grain = copy.piece.grain
        ends = (grain.start, grain.end) if grain is not None else None
        tail, head = (move.apply(e) for e in ends) if ends else ((low + high) / 2,) * 2
        rows.append((placement, copy, low, high, tail, head))
    rows.sort(key=lambda r: (names.index(r[0].region), r[2].x // 100, r[2].y))
    return tuple(
        LayingStep(
            number=i,
            shape=p.shape,
            piece=copy.piece.name,
            copy=copy.copy,
            cloth=p.region,
            material=copy.material,
            turned_over=p.flipped,
            turn_deg=p.turn_deg,
            tail=tail,
            head=head,
            low=low,
            high=high,
            cut=p.shape in cut,
        )
        for i, (p, copy, low, high, tail, head) in enumerate(rows, start=1)
    )
