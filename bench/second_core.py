"""What a second core adds: rounds of the bound search by one and by two workers, same time.

python bench/second_core.py
"""

from __future__ import annotations

import os

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.workroom.laying import lay_by_many, lay_plan

SECONDS = 15.0

if __name__ == "__main__":
    book = coat_and_skirt()
    for plan in book.plans:
        os.environ["CLOTHWRIGHT_CORES"] = "1"
        one = lay_plan(book, plan.name, seconds=SECONDS)
        two = lay_by_many(book, plan.name, seconds=SECONDS, workers=2)
        cloth = "bordered wool"
        print(
            f"{plan.name}: rounds {one.lay.rounds} and {two.lay.rounds}, "
            f"ratio {two.lay.rounds / max(1, one.lay.rounds):.2f} (aim: at least 1.6); "
            f"used {one.lay.used[cloth]:.0f} and {two.lay.used[cloth]:.0f} mm"
        )
