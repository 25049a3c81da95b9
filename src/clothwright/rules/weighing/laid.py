"""A plan laid on the cloths: the lay, what the judge says of it, what is used, left and bought."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from functools import cached_property

from clothwright.cloth.cloth import Cloth, to_buy
from clothwright.geometry.area import polygon_area
from clothwright.lay.compiled import Compiled
from clothwright.lay.fold_search import with_folds
from clothwright.lay.folded import Fold
from clothwright.lay.judge import judge, residuals
from clothwright.lay.leftover import Rest, bias_yield, largest_rest
from clothwright.lay.meeting.seams import between_cloths, meetings
from clothwright.lay.meeting.values import SeamMeeting
from clothwright.lay.problem import CutTogether, LayProblem
from clothwright.lay.report import lay_report
from clothwright.lay.result import Lay
from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds.folded import Folded, asked_folds
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.tolerances import seam_tolerances
from clothwright.units import Unit
from clothwright.words import counted, listed, say, show_length

BIAS_MM = 1.25 * 25.4
"""mm: width of the bias strip that a leftover is measured in (1 1/4 in)."""


@dataclass(frozen=True, kw_only=True)
class Laid:
    """One plan laid on the cloths: the lay, what the judge says of it, and how the print meets.

    cloths: as the maker described them (before washing).
    """

    plan: Plan
    pattern: Pattern
    cloths: tuple[Cloth, ...]
    compiled: Compiled
    lay: Lay
    folds: tuple[Fold, ...] = ()
    """How cloths were folded for it; the lay itself is stated on the opened-out cloth."""
    uncut: str = ""
    """The fingerprint of what would be laid if nothing were cut; "" where nothing is."""

    @cached_property
    def mark(self) -> str:
        """The fingerprint of what is laid: pieces, cloths, rules and the folds asked for."""
        return digest(self.compiled.problem, asked_folds(self.plan))

    @property
    def kept_mark(self) -> str:
        """The fingerprint a kept lay has to have; what is cut by now is looked at in the lay."""
        return self.uncut or self.mark

    @cached_property
    def faults(self) -> tuple[Finding, ...]:
        """What the independent judge finds wrong; empty for a lay that may be cut."""
        return judge(self.compiled.problem, self.lay)

    @cached_property
    def residuals(self) -> Mapping[str, float]:
        """How far each rule is from being met as it was asked, mm."""
        return residuals(self.compiled.as_asked, self.lay)

    @cached_property
    def meetings(self) -> tuple[SeamMeeting, ...]:
        """How the print meets along every seam it crosses, on both sides of the body."""
        tolerances = seam_tolerances(self.plan, self.pattern)
        return meetings(self.pattern, self.compiled, self.lay, tolerances)

    @cached_property
    def between_cloths(self) -> Mapping[str, tuple[str, ...]]:
        """The seams that join two printed cloths, which are not compared, with the copies."""
        return between_cloths(self.pattern, self.compiled, self.lay)

    @property
    def laid_cloths(self) -> tuple[Cloth, ...]:
        """The cloths that something is laid on."""
        return tuple(c for c in self.cloths if c.name in self.lay.used)

    @property
    def off_grain(self) -> tuple[str, ...]:
        """Names of pieces that do not lie along the selvedge, the usual grain."""
        names = {p.shape for p in self.lay.placements if round(p.turn_deg) % 180 != 0}
        return tuple(sorted({self.compiled.copy(n).piece.name for n in names}))

    @property
    def on_bias(self) -> tuple[str, ...]:
        """Names of those that lie slantwise, nearer to the bias than to a selvedge or cut end."""
        slanting = [p for p in self.lay.placements if abs((p.turn_deg + 45.0) % 90.0 - 45.0) > 22.5]
        return tuple(sorted({self.compiled.copy(p.shape).piece.name for p in slanting}))

    @property
    def left_over(self) -> dict[str, float]:
        """Length left beyond the lay on each cloth of fixed length, mm (0 when it is short)."""
        return {
            r.name: max(0.0, r.length - r.margin_end - self.lay.used.get(r.name, 0.0))
            for r in self.compiled.problem.regions
            if r.length is not None
        }

    def usable_width(self, cloth: str) -> float:
        """Return the width between the margins of a cloth, mm."""
        r = next(r for r in self.compiled.problem.regions if r.name == cloth)
        return r.width - r.margin_lower - r.margin_upper

    @cached_property
    def rests(self) -> tuple[Rest, ...]:
        """The largest empty rectangle of every cloth in hand, where there is one."""
        found = (
            largest_rest(self.compiled.problem, self.lay, r.name)
            for r in self.compiled.problem.regions
            if r.length is not None
        )
        return tuple(r for r in found if r is not None)

    @property
    def filled(self) -> dict[str, float]:
        """Share of each used length that is covered by pieces (0 to 1)."""
        out = {}
        for name, used in self.lay.used.items():
            area = sum(
                abs(polygon_area(p.outline)) for p in self.lay.placements if p.region == name
            )
            out[name] = area / (used * self.compiled.cloth(name).width) if used > 0 else 0.0
        return out

    @property
    def used_in_hand(self) -> float:
        """Length used of the cloths that are in hand, else of all, mm."""
        hand = [c.name for c in self.cloths if c.length is not None]
        return sum(u for n, u in self.lay.used.items() if not hand or n in hand)

    @property
    def buy(self) -> dict[str, float]:
        """Length to buy of each cloth that is still to be bought, mm before washing."""
        return {
            c.name: to_buy(self.lay.used[c.name], c.shrink_along)
            for c in self.cloths
            if c.length is None and c.name in self.lay.used
        }

    @property
    def cost(self) -> float | None:
        """Price of what is used or bought of every cloth with a price; None when none has one.

        In the workbook's currency, to its hundredth; prices are by the metre.
        """
        priced = [c for c in self.cloths if c.price_per_m is not None and c.name in self.lay.used]
        if not priced:
            return None
        total = sum(
            (c.price_per_m or 0.0) * to_buy(self.lay.used[c.name], c.shrink_along) / 1000.0
            for c in priced
        )
        return round(total, 2)

    def fit_words(self, unit: Unit) -> str:
        """Say whether the plan fits, or by how much it does not; lengths in `unit`.

        What fits with a rule that gave way to another does not just fit.
        """
        if self.lay.fits:
            gone = len(self.compiled.gave_way)
            but = f", but {counted(gone, 'rule')} of yours {'is' if gone == 1 else 'are'} not kept"
            return "fits" + (but if gone else "")
        if self.lay.unplaced:
            return f"does not fit: no place for {listed(tuple(self.lay.unplaced))}"
        short = self.lay.short_by
        return "does not fit" if short is None else f"short by {show_length(short, unit)}"

    @property
    def comes_near(self) -> bool:
        """Tell whether it fits with a rule that gave way to another."""
        return self.lay.fits and bool(self.compiled.gave_way)

    def fault_words(self, unit: Unit) -> tuple[str, ...]:
        """Return what the judge finds wrong, a sentence each, lengths in `unit`; none twice."""
        return tuple(dict.fromkeys(say(f.words, unit) for f in self.faults))

    @property
    def report(self) -> dict[str, object]:
        """The lay as plain data (docs/lay-json.md)."""
        return {
            **lay_report(self.compiled, self.lay, plan=self.plan.name, meetings=self.meetings),
            "not_compared": list(self.between_cloths),
            "digest": self.kept_mark,
            "folds": [asdict(fold) for fold in self.folds],
            "faults": [f.code for f in self.faults],
            "off_grain": list(self.off_grain),
            "left_over": [
                {"cloth": n, "length_mm": round(left, 3), "width_mm": self.usable_width(n)}
                for n, left in self.left_over.items()
            ],
            "rests": [
                {
                    "cloth": r.region,
                    "x_mm": r.x,
                    "y_mm": r.y,
                    "along_mm": r.along,
                    "across_mm": r.across,
                    "bias_mm": round(bias_yield(r.along, r.across, BIAS_MM).pieced, 1),
                }
                for r in self.rests
            ],
            "filled": {n: round(share, 4) for n, share in self.filled.items()},
            "to_buy_mm": {n: round(v, 2) for n, v in self.buy.items()},
            "cost": self.cost,
        }


def laid_so(start: Laid, lay: Lay, folds: Sequence[Fold] = ()) -> Laid:
    """Return a plan laid this way; with folds, the judge measures their mirror images too."""
    compiled = with_folds(start.compiled, folds) if folds else start.compiled
    return replace(start, lay=lay, compiled=compiled, folds=tuple(folds))


def digest(problem: LayProblem, folds: Sequence[Folded] = ()) -> str:
    """Return a fingerprint of a lay problem: a kept lay counts only for the same problem.

    folds: those the plan asks for; where a fold came to lie does not count.
    """
    rules = tuple(r for r in problem.rules if not isinstance(r, CutTogether))
    asked = repr(replace(problem, rules=rules)) + (repr(tuple(folds)) if folds else "")
    return hashlib.sha256(asked.encode()).hexdigest()[:16]


def lay_mark(lay: Lay) -> str:
    """Return a fingerprint of where every piece of a lay lies, to 0.01 mm."""
    rows = sorted(
        (p.shape, p.region, round(p.x, 2), round(p.y, 2), round(p.turn_deg, 2), p.flipped)
        for p in lay.placements
    )
    return hashlib.sha256(repr(rows).encode()).hexdigest()[:16]


def rank(laid: Laid) -> tuple[int, int, float, float]:
    """Return a sort key: sound first, everything placed, least short, least used (both mm)."""
    lay = laid.lay
    short = lay.short_by if lay.short_by is not None else 1e9
    return (len(laid.faults), len(lay.unplaced), short, sum(lay.used.values()))


def short_cloths(laid: Laid) -> tuple[str, ...]:
    """Return the cloths of fixed length that a lay runs past, or whose pieces found no place."""
    names = []
    lost = {r for s in laid.lay.unplaced for r in _homes(laid, s)}
    for r in laid.compiled.problem.regions:
        if r.length is None and r.outline is None and r.name not in lost:
            continue
        end = (r.length or max((x for x, _ in r.outline or ()), default=0.0)) - r.margin_end
        if laid.lay.used.get(r.name, 0.0) > end + 1e-6 or r.name in lost:
            names.append(r.name)
    return tuple(names)


def _homes(laid: Laid, shape: str) -> tuple[str, ...]:
    return next(s.regions for s in laid.compiled.problem.shapes if s.id == shape)
