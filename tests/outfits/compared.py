"""What the program tells of every seam of a lay, held against what is seen on the painted cloth.

python -m tests.outfits.compared [--seeds 20]     every outfit and demo, every plan, by chance, too
"""

from __future__ import annotations

import argparse
import json
import math
from collections.abc import Iterator, Sequence

import numpy as np

from clothwright.cloth.cloth import Cloth
from clothwright.demo import DEMOS
from clothwright.lay.meeting.values import SeamMeeting
from clothwright.rules.weighing.laid import Laid
from clothwright.workroom.searching.laying import lay_plan
from tests.outfits import OUTFITS
from tests.outfits.placing import scattered
from tests.outfits.seen import Points, Seen, seen
from tests.outfits.sewn import Sewn, sewn

BOOKS = {**OUTFITS, **{d.name: d.make for d in DEMOS}}
SHARE, MM = 0.01, 0.5
"""How far what is told may be from what is seen."""
ODD_TURNS = (0.0, 0.0, 180.0, 90.0, 270.0, 45.0, 315.0, 7.0, 22.5, 40.0)
Told = tuple[str, float | None, float]


def looked_at(laid: Laid) -> Iterator[tuple[Sewn, Cloth, Seen]]:
    """Yield every seam of a lay along which something is printed, as its JSON has it."""
    for join in sewn(laid.pattern, json.loads(json.dumps(laid.report))):
        cloth = laid.compiled.cloth(join.cloth)
        if cloth.print.has_design:
            look = seen(join, cloth)
            if look.says.any():
                yield join, cloth, look


def differences(laid: Laid, meetings_told: Sequence[SeamMeeting] = ()) -> list[str]:
    """Return, a line each, where what is told of a lay's seams is not what is seen.

    meetings_told: what is told, where it is not what the program tells of that lay.
    """
    told = list(meetings_told or laid.meetings)
    out: list[str] = []
    for join, _, look in looked_at(laid):
        where = f"{join.seam.name} of {', '.join(join.shapes)}"
        same = [m for m in told if (m.seam, m.shapes) == (join.seam.name, join.shapes)]
        if not same:
            out.append(f"{where}: not told")
            continue
        meeting = same[0]
        told.remove(meeting)
        for name, its, ours in rows(meeting, look):
            limit = MM if name.endswith("mm") else SHARE
            if (its is None) != math.isnan(ours) or (its is not None and abs(its - ours) > limit):
                out.append(f"{where}: {name} is told as {its}, seen as {ours:.3f}")
    return [*out, *(f"{m.seam} of {', '.join(m.shapes)}: not seen" for m in told)]


def rows(told: SeamMeeting, look: Seen) -> Iterator[Told]:
    """Yield what is told and what is seen of one seam: shares of 1, and mm."""
    yield "share", told.share, look.share()
    shares = {kind.value: share for kind, share in told.shares.items()}
    for kind in {*shares, *map(str, look.kind)} - {"plain"}:
        yield f"share that is {kind}", shares.get(kind, 0.0), look.share(kind)
    yield "worst, mm", told.worst, _most(look.crossing)
    known = look.crossing[~np.isnan(look.crossing)]
    yield "mean, mm", told.mean, float(known.mean()) if len(known) else math.nan
    if not look.bias.any():
        yield "height, mm", told.level, _most(look.height)
        yield "side, mm", told.upright, _most(look.side)


def _most(values: Points) -> float:
    return math.nan if np.isnan(values).all() else float(np.nanmax(values))


def best_share(join: Sewn, cloth: Cloth, tolerance: float = 2.0) -> float:
    """Return the largest share that could meet: side b moved over the cloth, looked at each time.

    For two pieces on a cloth without a border, none of them on the bias. Seams up the body and
    those round it each have the best place of their own.
    """
    repeats = (cloth.print.repeat_along or 0.0, cloth.print.repeat_across or 0.0)
    counts = [(0, 0)]
    for axis, repeat in enumerate(repeats):
        for by in np.arange(0.0, repeat, 1.0):
            moved = (float(by), 0.0) if axis == 0 else (0.0, float(by))
            look = seen(join, cloth, tolerance, step=3.0, moved=moved)
            counts.append((int(look.within[look.rises].sum()), int(look.within[~look.rises].sum())))
    return sum(max(rows) for rows in zip(*counts, strict=True)) / len(look.at)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--only", action="append", default=[])
    asked = parser.parse_args()
    for name, make in BOOKS.items():
        if asked.only and name not in asked.only:
            continue
        book = make()
        laid = [lay_plan(book, p.name, seconds=60.0, rounds=2) for p in book.plans]
        laid += [scattered(book, seed, ODD_TURNS) for seed in range(asked.seeds)]
        found = [line for each in laid for line in differences(each)]
        print(
            f"{name}: {len(laid)} lays, {len(found)} differences", *found, sep="\n    ", flush=True
        )


if __name__ == "__main__":
    main()
