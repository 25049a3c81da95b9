"""One garment while it is put together: the view of each copy, and where it lies in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from clothwright.drawing.flat import (
    BACK,
    BESIDE,
    FRONT,
    GAP_MM,
    UPRIGHT,
    Garment,
    Joined,
    Part,
    SewnOn,
    View,
    area_of,
    beyond,
    lying_on,
    reach_of,
    resting,
    ring_of,
    section_of,
    shifted,
)
from clothwright.drawing.hanging import hung, laid_along, leaning, seen_from, turned
from clothwright.drawing.seen_as import seen_as
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.lay.copies import Copy
from clothwright.lay.problem import Ring
from clothwright.lay.sewn import placement_move
from clothwright.pattern.parts import named_view

FAR_MM = 1e5
PARTS = ("centre", "center", "side", "upper", "lower", "left", "right", "panel", "gore", "yoke")
"""Words before "front" and "back" that name a part of a garment."""


@dataclass(slots=True, kw_only=True)
class Making:
    """One garment while it is put together."""

    copies: Mapping[str, Copy]
    plain: Sequence[Sequence[Joined]]
    caps: Sequence[Sequence[Joined]]
    rings: Mapping[str, Ring]
    patches: Sequence[SewnOn] = ()
    closed: Mapping[str, Path] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    @classmethod
    def of(
        cls,
        copies: Mapping[str, Copy],
        rows: Iterable[tuple[str, tuple[Joined, ...]]],
        patches: Iterable[SewnOn] = (),
        closed: Mapping[str, Path] | None = None,
    ) -> Making:
        """Return the garment of these copies, with the seams (kind, places) that join them.

        patches: what may be sewn flat on them. closed: by a piece's name, its line that lies on its
        twin's when the garment is closed, in the piece as drawn.
        """
        mine = [(kind, row) for kind, row in rows if row[0][0] in copies]
        return cls(
            copies=copies,
            plain=[row for kind, row in mine if kind == "plain"],
            caps=[row for kind, row in mine if kind == "cap"],
            rings={k: ring_of(c) for k, c in copies.items()},
            patches=[p for p in patches if p.under in copies],
            closed=closed or {},
        )

    def garment(self, *, several: bool) -> Garment:
        """Put it together. several: the pattern has other garments or loose pieces besides."""
        sleeves = {b for row in self.caps for _, _, b, _ in row}
        seen = seen_as(self.copies, self.plain, sleeves)
        self.notes += seen.notes
        views = seen.views
        front = self._view([k for k, v in views.items() if v == FRONT], views)
        back = self._view([k for k, v in views.items() if v == BACK], views)
        back = self._level(front, back)
        front = [*front, *self._sleeves(front)]
        for band in seen.bands:
            front, back = [*front, *self._band(band, front)], [*back, *self._band(band, back)]
        drawn = {p.shape for p in (*front, *back)}
        beside = self._row([k for k in self.copies if k not in drawn])
        named = ((FRONT, front), (BACK, back), (BESIDE, beside))
        return Garment(
            name=self._name(several=several),
            views=tuple(
                View(name=n, parts=tuple(lying_on(p, self.patches))) for n, p in named if p
            ),
            notes=tuple(dict.fromkeys(self.notes)),
        )

    def _name(self, *, several: bool) -> str:
        """Return the words that stand before "front" and "back" in the names of its pieces.

        What names a part, as in "front panel" or "side front", is no name of a garment.
        """
        for copy in self.copies.values():
            words = copy.piece.name.split()
            last = len(words) == 2 and words[1].lower() == named_view(copy.piece)
            if last and words[0].lower() not in PARTS:
                return words[0]
        return "other pieces" if several and not self._worn() else "garment"

    def _worn(self) -> bool:
        return any(named_view(c.piece) for c in self.copies.values())

    # --- one view ---------------------------------------------------------------------------------

    def _view(self, shapes: Sequence[str], views: Mapping[str, str]) -> list[Part]:
        """Put the copies of one view together, from its centre outwards."""
        rest = sorted(shapes, key=self._rank)
        centre: list[Part] = []
        halves: dict[int, list[list[Part]]] = {1: [], -1: []}
        while rest:
            parts = self._grown(rest[0], rest)
            rest = [k for k in rest if k not in {p.shape for p in parts}]
            hand = 0 if self._has_centre(parts) else self._hand(parts, views)
            if hand:
                halves[hand].append(parts)
            elif not centre:
                x0, _, x1, _ = View(name="", parts=tuple(parts)).box
                centre = shifted(parts, Vec(-(x0 + x1) / 2, 0.0))
            else:
                name = self.copies[parts[0].shape].piece.name
                self.notes.append(f'No seam joins "{name}" to its neighbours. It lies beside.')
        if not centre and all(halves.values()):
            closed = any(self._opens_at(parts) is not None for parts in halves[1])
            how = (
                "closed, right half over left as worn"
                if closed
                else "with its two halves edge to edge"
            )
            self.notes.append(f"The {views[shapes[0]]} is drawn {how}.")
        sides = (self._side(centre, hand, halves[hand]) for hand in halves)
        return sorted((*centre, *(p for side in sides for p in side)), key=self._laps)

    def _side(
        self, centre: Sequence[Part], hand: int, halves: Sequence[Sequence[Part]]
    ) -> list[Part]:
        """Lay parts to one side of the centre; where there is none, with their closing line on it.

        hand: 1 for the right, -1 for the left.
        """
        out: list[Part] = []
        for parts in halves:
            at = None if centre else self._opens_at(parts)
            if at is None:
                out += beyond(parts, hand, reach_of([*centre, *out], hand))
            else:
                out += shifted(parts, Vec(-at, 0.0))
        return out

    def _opens_at(self, parts: Sequence[Part]) -> float | None:
        """Return where the line lies on which parts close, mm to the right; None if they do not."""
        for part in parts:
            copy = self.copies[part.shape]
            line = self.closed.get(copy.piece.name)
            if line is not None:
                move = placement_move(copy, resting(copy)).then(part.move)
                return (move.apply(line.start).x + move.apply(line.end).x) / 2
        return None

    def _laps(self, part: Part) -> bool:
        """Tell whether a part is the half that lies on top, the left one in the picture."""
        x0, _, x1, _ = View(name="", parts=(part,)).box
        return self.copies[part.shape].piece.name in self.closed and x0 + x1 < 0.0

    def _rank(self, k: str) -> tuple[bool, bool, float]:
        """Return what a view begins with: a fold, a piece named for the view, the largest."""
        copy = self.copies[k]
        return copy.fold is None, not named_view(copy.piece), -area_of(self.rings[k])

    def _grown(self, start: str, free: Sequence[str]) -> list[Part]:
        """Hang from one copy all that seams join to it; the two of a pair lean alike."""
        parts = hung(start, free, self.rings, self.plain)
        names = [self.copies[p.shape].piece.name for p in parts]
        leans = [by for n, by in zip(names, leaning(parts), strict=True) if names.count(n) > 1]
        return turned(parts, -sum(leans) / len(leans)) if leans else parts

    def _has_centre(self, parts: Sequence[Part]) -> bool:
        names = [self.copies[p.shape].piece.name for p in parts]
        folded = any(self.copies[p.shape].fold is not None for p in parts)
        return folded or any(names.count(n) > 1 for n in names)

    def _hand(self, parts: Sequence[Part], views: Mapping[str, str]) -> int:
        """Return 1 when their seams to the other view and to sleeves lie on the right, else -1."""
        moves = {p.shape: p.move for p in parts}
        x0, _, x1, _ = View(name="", parts=tuple(parts)).box
        away = [
            moves[k].apply(p).x - (x0 + x1) / 2
            for row in self.plain
            for k in moves
            for _, p, other, _ in seen_from(row, k)
            if views.get(other, "") not in ("", views[k])
        ]
        away += [
            moves[k].apply(p).x - (x0 + x1) / 2
            for row in self.caps
            for k, p, _, _ in row
            if k in moves
        ]
        if not away:
            return 0
        return 1 if sum(away) > 0 else -1

    def _level(self, front: list[Part], back: list[Part]) -> list[Part]:
        """Shift the back so that its side seam's lower end is as high as the front's."""
        ahead, behind = ({p.shape: p.move for p in parts} for parts in (front, back))
        pairs = [
            (ahead[a].apply(p).y, behind[b].apply(q).y)
            for row in self.plain
            for k in ahead
            for a, p, b, q in seen_from(row, k)
            if b in behind
        ]
        if not pairs:
            return back
        low = min(pairs)
        return shifted(back, Vec(0.0, low[0] - low[1]))

    # --- what is not in one view ------------------------------------------------------------------

    def _sleeves(self, front: Sequence[Part]) -> list[Part]:
        """Lay sleeves opened out beside the front, underarm level with underarm."""
        moves = {p.shape: p.move for p in front}
        out: list[Part] = []
        for row in self.caps:
            sewn = [(moves[a].apply(p), q) for a, p, _, q in row if a in moves]
            mine = list(dict.fromkeys(k for _, _, k, _ in row))
            if not sewn or mine[0] in {p.shape for p in out}:
                continue
            hand = 1 if sum(p.x for p, _ in sewn) > 0 else -1
            sleeve = self._grown(mine[0], mine)
            at = {p.shape: p.move for p in sleeve}
            ends = [at[k].apply(q).y for _, _, k, q in row if k in at]
            level = Vec(0.0, min(p.y for p, _ in sewn) - min(ends))
            far = reach_of([*front, *out], hand) + GAP_MM
            out += beyond(shifted(sleeve, level), hand, far)
        if out:
            self.notes.append("The sleeves lie opened out beside the front, underarm level.")
        return out

    def _band(self, k: str, view: Sequence[Part]) -> list[Part]:
        """Lay the sections of a strip along what each is sewn to in a view."""
        shown = {p.shape: p for p in view}
        places = [j for row in self.plain for j in seen_from(row, k)]
        sewn = [(p, shown[n].move.apply(q), n) for _, p, n, q in places if n in shown]
        if len(sewn) < 2:
            return []
        all_of = [p for _, p, _, _ in places]
        far = max(all_of, key=all_of[0].distance)
        if far.distance(all_of[0]) < 1.0:
            return []
        along = (far - all_of[0]).unit
        ends = [p.dot(along) for p in all_of]
        sewn.sort(key=lambda place: place[0].dot(along))
        out = []
        for run in _runs(sewn, along, 3.0 * (max(ends) - min(ends)) / len(ends)):
            low, high = run[0][0].dot(along), run[-1][0].dot(along)
            low = -FAR_MM if low <= min(ends) + 1.0 else low
            high = FAR_MM if high >= max(ends) - 1.0 else high
            ring = section_of(self.rings[k], along, low, high)
            others = [shown[n].outline for n in dict.fromkeys(n for _, _, n in run)]
            move, off = laid_along([(p, q) for p, q, _ in run], ring, others)
            out.append(Part(shape=k, ring=ring, move=move, off=off))
        return out

    def _row(self, shapes: Sequence[str]) -> list[Part]:
        """Lay copies upright in a row."""
        out: list[Part] = []
        x = 0.0
        for k in shapes:
            part = Part(shape=k, ring=self.rings[k], move=UPRIGHT)
            x0, y0, x1, _ = View(name="", parts=(part,)).box
            out += shifted([part], Vec(x - x0, -y0))
            x += x1 - x0 + GAP_MM
        return out


def _runs(
    places: Sequence[tuple[Vec, Vec, str]], along: Vec, step: float
) -> list[list[tuple[Vec, Vec, str]]]:
    """Return places of a strip in runs: none in a run is more than a step (mm) from the next."""
    runs: list[list[tuple[Vec, Vec, str]]] = []
    for place in places:
        if runs and (place[0] - runs[-1][-1][0]).dot(along) <= step:
            runs[-1].append(place)
        else:
            runs.append([place])
    return runs
