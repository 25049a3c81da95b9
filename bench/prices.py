"""What each kind of placing rule costs in length: the same plan with it and without.

    python bench/prices.py [--rounds 30] [--seeds 3] [--only mirrored] [--out prices.md]

Both are laid with the same seeds and rounds, one after the other. The outfits are those of
tests/outfits and the demos; what a rule costs depends on them, so each line says which.
"""

from __future__ import annotations

import argparse
import statistics
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.outfits import OUTFITS

from clothwright.cloth.prints import Print
from clothwright.demo import coat_and_skirt
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.clear import Clear
from clothwright.rules.kinds.figure_centred import FigureCentred
from clothwright.rules.kinds.figure_whole import FigureWhole
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import lay_plan

Rules = tuple[PlacingRule, ...]
SIDE = Meets(piece_a="front", point_a="side hem", piece_b="back", point_b="side hem")
NOTCH = Meets(
    piece_a="front",
    point_a="armhole notch front",
    piece_b="sleeve",
    point_b="cap notch front",
)
COAT = "coat and skirt"
SKIRT_HEMS = tuple(
    OnBorder(piece=p, edge="hem", border="woven border") for p in ("skirt front", "skirt back")
)


@dataclass(frozen=True, kw_only=True)
class Case:
    """A kind of rule on an outfit: the plan's other rules, and those that are priced.

    plain: the plan without them is laid on the same cloth with nothing printed on it, as what is
    named nowhere keeps off a border.
    """

    kind: str
    outfit: str
    says: str
    rules: Rules
    beside: Rules = ()
    plain: bool = False

    def book(self, plan: str) -> Workbook:
        """Return the outfit for a plan, "with" or "without"."""
        made: Callable[[], Workbook] = OUTFITS.get(self.outfit, coat_and_skirt)
        plans = (
            Plan(name="without", rules=self.beside),
            Plan(name="with", rules=(*self.beside, *self.rules)),
        )
        book = replace(made(), plans=plans, chosen_plan="with")
        if self.plain and plan == "without":
            bare = tuple(replace(c, print=Print()) for c in book.cloths)
            return replace(book, cloths=bare, plans=(Plan(name="without"),), chosen_plan="")
        return book


SHIRT, DRESS, BLOUSE, VEST = "checked shirt", "large figure", "brick blouse", "one-way vest"
CASES = (
    Case(kind="at-phase", outfit=SHIRT, says="back centred on a bar",
         rules=(AtPhase(piece="back", point="centre back", across=0.0),)),
    Case(kind="mirrored", outfit=SHIRT, says="fronts mirrored",
         rules=(Mirrored(piece="front", point="button 1", way="across"),)),
    Case(kind="meets", outfit=SHIRT, says="side seams level", rules=(SIDE,)),
    Case(kind="meets", outfit=SHIRT, says="front notch of the sleeve level, sides matched",
         rules=(NOTCH,), beside=(SIDE,)),
    Case(kind="meets", outfit=SHIRT, says="the same, within 10 mm",
         rules=(replace(NOTCH, within=10.0),), beside=(SIDE,)),
    Case(kind="several", outfit=SHIRT, says="fronts mirrored, back centred, sides and notch level",
         rules=(AtPhase(piece="back", point="centre back", across=0.0),
                Mirrored(piece="front", point="button 1", way="across"), SIDE, NOTCH)),
    Case(kind="one-way", outfit=SHIRT, says="all tops one way",
         rules=(OneWay(pieces=("front", "back", "sleeve")),)),
    Case(kind="on-grain", outfit=SHIRT, says="sleeves on the bias",
         rules=(OnGrain(piece="sleeve", grain="bias"),)),
    Case(kind="at-phase", outfit=DRESS, says="front centred on the large figure",
         rules=(AtPhase(piece="front", point="neck end", across=180.0),)),
    Case(kind="clear", outfit=DRESS, says="bust points clear of the large figure",
         rules=(Clear(piece="front", point="bust point", figure="peony"),)),
    Case(kind="figure-centred", outfit=DRESS, says="the back's middle on a large figure's",
         rules=(FigureCentred(piece="back", point="centre neck", figure="peony",
                              match="upright"),)),
    Case(kind="figure-whole", outfit=DRESS, says="no large figure cut by the front's darts",
         rules=(FigureWhole(piece="front", figure="peony", lines="inside"),)),
    Case(kind="folded", outfit=BLOUSE, says="cloth folded lengthwise",
         rules=(Folded(cloth="bricks", way="lengthwise"),)),
    Case(kind="meets", outfit=VEST, says="pockets take up the front's figure, one way up",
         rules=(Meets(piece_a="front", point_a="pocket corner", piece_b="pocket",
                      point_b="upper corner", match="both"),)),
    Case(kind="keep-off", outfit=COAT, says="all off the border, as what no rule puts on it",
         rules=(), plain=True),
    Case(kind="on-border", outfit=COAT, says="skirt hems on the border, the coat off it",
         rules=SKIRT_HEMS, plain=True),
    Case(kind="at-phase", outfit=COAT, says="the same, centre front on the border's figure",
         rules=(AtPhase(piece="skirt front", point="centre front", along=0.0),),
         beside=SKIRT_HEMS),
    Case(kind="mirrored", outfit=COAT, says="the same, skirt backs mirrored on the border",
         rules=(Mirrored(piece="skirt back", point="centre hem"),), beside=SKIRT_HEMS),
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Price:
    """mm used of the printed cloth without and with the rules, a figure a seed."""

    case: Case
    without: tuple[float, ...]
    having: tuple[float, ...]

    @property
    def dearer(self) -> tuple[float, ...]:
        """By how many mm each seed's lay is longer with the rules."""
        return tuple(b - a for a, b in zip(self.without, self.having, strict=True))

    @property
    def line(self) -> str:
        """The row of the table."""
        a, b = statistics.mean(self.without), statistics.mean(self.having)
        low, high = min(self.dearer), max(self.dearer)
        spread = "" if high - low < 0.5 else f" ({low:+.0f} to {high:+.0f})"
        return (
            f"| {self.case.kind} | {self.case.outfit}: {self.case.says} | {a:.0f} | {b:.0f} | "
            f"{b - a:+.0f}{spread} | {100 * (b / a - 1):+.1f} % |"
        )


def price(case: Case, rounds: int, seeds: int) -> Price:
    """Lay a case with and without its rules, in turns; a lay that may not be cut ends the bench."""
    printed = {c.name for c in case.book("with").cloths if c.print.has_design}
    found: dict[str, list[float]] = {"without": [], "with": []}
    for seed in range(seeds):
        for name, row in found.items():
            laid = lay_plan(case.book(name), name, seconds=1e4, rounds=rounds, seed=seed)
            if laid.faults or laid.lay.unplaced:
                raise SystemExit(f"{case.outfit}, {case.says}, {name}: {laid.lay.unplaced}")
            row.append(sum(mm for cloth, mm in laid.lay.used.items() if cloth in printed))
    return Price(case=case, without=tuple(found["without"]), having=tuple(found["with"]))


def table(rounds: int, seeds: int, only: list[str]) -> Iterator[str]:
    """Yield the lines of the table as they are measured."""
    yield "| rule | on | mm without | mm with | dearer by | |"
    yield "| --- | --- | --: | --: | --: | --: |"
    for case in CASES:
        if not only or case.kind in only:
            yield price(case, rounds, seeds).line


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=30)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--only", action="append", default=[])
    parser.add_argument("--out", type=Path)
    asked = parser.parse_args()
    lines = []
    for line in table(asked.rounds, asked.seeds, asked.only):
        print(line, flush=True)
        lines.append(line)
        if asked.out:
            asked.out.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
