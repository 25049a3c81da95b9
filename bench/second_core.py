"""What a second core adds: rounds of the bound search by one worker and by two, in the same time.

    python bench/second_core.py [--seconds 15] [--pairs 3]

Rounds differ much from seed to seed (a changed order is laid again from where it changes), so the
two searches that run at once are held against the same two, same seeds, each run alone. Alone and
together take turns; the ratio is that of the medians, so that other work on the machine falls on
both. `CLOTHWRIGHT_CORES=1` throughout: a search is one worker.
"""

from __future__ import annotations

import argparse
import os
import statistics
from dataclasses import dataclass

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.workroom.searching.laying import lay_by_many, lay_plan

AIM = 1.6


@dataclass(frozen=True, kw_only=True)
class Gain:
    """Rounds of one plan: of one search alone (mean of the two seeds), and of two at once.

    used: mm of cloth, best of either seed alone and of both at once, one per pair.
    """

    plan: str
    alone: tuple[float, ...]
    together: tuple[float, ...]
    used_alone: tuple[float, ...]
    used_together: tuple[float, ...]

    @property
    def ratio(self) -> float:
        """Return the rounds of two over those of one, of the medians."""
        return statistics.median(self.together) / max(1.0, statistics.median(self.alone))

    @property
    def ratios(self) -> tuple[float, ...]:
        """Return the same pair by pair."""
        return tuple(b / max(1.0, a) for a, b in zip(self.alone, self.together, strict=True))


def plans() -> tuple[str, ...]:
    return tuple(p.name for p in coat_and_skirt().plans)


def gain(plan: str, seconds: float, pairs: int) -> Gain:
    """Run a plan's search alone and twice at once, in turns."""
    os.environ["CLOTHWRIGHT_CORES"] = "1"
    book = coat_and_skirt()
    alone, together, used_alone, used_together = [], [], [], []
    for seed in range(pairs):
        ones = [lay_plan(book, plan, seconds=seconds, seed=seed + more) for more in (0, 1000)]
        two = lay_by_many(book, plan, seconds=seconds, seed=seed, workers=2)
        alone.append(statistics.mean(one.lay.rounds for one in ones))
        together.append(float(two.lay.rounds))
        used_alone.append(min(sum(one.lay.used.values()) for one in ones))
        used_together.append(sum(two.lay.used.values()))
    return Gain(
        plan=plan,
        alone=tuple(alone),
        together=tuple(together),
        used_alone=tuple(used_alone),
        used_together=tuple(used_together),
    )


def main() -> None:
    """Print a line for each plan of the demo."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--seconds", type=float, default=15.0)
    parser.add_argument("--pairs", type=int, default=3)
    asked = parser.parse_args()
    for plan in plans():
        row = gain(plan, asked.seconds, asked.pairs)
        said = ", ".join(f"{r:.2f}" for r in row.ratios)
        ones, twos = statistics.median(row.alone), statistics.median(row.together)
        mm_one, mm_two = statistics.mean(row.used_alone), statistics.mean(row.used_together)
        print(
            f"{plan}: rounds {ones:.0f} alone, {twos:.0f} by two at once, ratio {row.ratio:.2f} "
            f"(pair by pair {said}; aim: at least {AIM}); used {mm_one:.0f} and {mm_two:.0f} mm",
            flush=True,
        )


if __name__ == "__main__":
    main()
