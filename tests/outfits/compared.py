"""What the program tells of every seam of a lay, held against what is seen on the painted cloth.

python -m tests.outfits.compared [--seeds 20]     every outfit and demo, every plan, by chance, too
"""

from __future__ import annotations

import argparse
import json
import math
from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.cloth import Cloth
from clothwright.demo import DEMOS
from clothwright.rules.weighing.laid import Laid
from clothwright.workroom.searching.laying import lay_plan
from tests.outfits import OUTFITS
from tests.outfits.chance import printed
from tests.outfits.closed import closed
from tests.outfits.placing import scattered
from tests.outfits.seen import Points, Seen, seen
from tests.outfits.sewn import Sewn, sewn

BOOKS = {**OUTFITS, **{d.name: d.make for d in DEMOS}}
SHARE, MM = 0.01, 0.5
"""How far what is told may be from what is seen; of a share half a step at either end beside."""
ODD_TURNS = (0.0, 0.0, 180.0, 90.0, 270.0, 45.0, 315.0, 7.0, 22.5, 40.0)
HAIR = 0.02
"""Shares nearer to each other than this may be told either way round."""
Report = dict[str, Any]
Told = tuple[str, float | None, float, float]


def told_of(laid: Laid) -> Report:
    """Return what the program tells of a lay, as a stranger reads it."""
    found: Report = json.loads(json.dumps(laid.report))
    return found


def looked_at(laid: Laid) -> Iterator[tuple[Sewn, Cloth, Seen]]:
    """Yield what meets in a lay and has something printed along it, as its JSON has it."""
    told = told_of(laid)
    for join in (*closed(laid.pattern, told["placements"]), *sewn(laid.pattern, told)):
        cloth = laid.compiled.cloth(join.cloth)
        if cloth.print.has_design:
            look = seen(join, cloth)
            if look.says.any():
                yield join, cloth, look


def differences(laid: Laid, told: Report | None = None) -> list[str]:
    """Return, a line each, where what is told of a lay's seams is not what is seen.

    told: what is told, where it is not what the program tells of that lay.
    """
    seams = list((told or told_of(laid))["seams"])
    out: list[str] = []
    for join, _, look in looked_at(laid):
        where = f"{join.seam.name} of {', '.join(join.shapes)}"
        mine = (join.seam.name, join.half, list(join.shapes))
        same = [m for m in seams if (m["seam"], m["half"], m["shapes"]) == mine]
        if not same:
            out.append(f"{where}: not told")
            continue
        seams.remove(same[0])
        for name, its, ours, limit in (*whole(same[0], look), *sections(same[0], join, look)):
            if (its is None) != math.isnan(ours) or (its is not None and abs(its - ours) > limit):
                out.append(f"{where}: {name} is told as {its}, seen as {ours:.3f}")
    return [*out, *(f"{m['seam']} of {m['shapes']}: not seen" for m in seams)]


def whole(told: Report, look: Seen) -> Iterator[Told]:
    """Yield what is told and what is seen of one seam: shares of 1, and mm."""
    share = SHARE + 1.0 / look.at[-1]
    yield "share", told["share"], look.share(), share
    for kind in {*told["shares"], *map(str, look.kind)} - {"plain"}:
        yield f"share that is {kind}", told["shares"].get(kind, 0.0), look.share(kind), share
    known = look.crossing[~np.isnan(look.crossing)]
    yield "worst, mm", told["worst_mm"], _most(look.crossing), MM
    yield "mean, mm", told["mean_mm"], float(known.mean()) if len(known) else math.nan, MM
    yield "height, mm", told["level_mm"], _most(look.height), MM
    yield "side, mm", told["upright_mm"], _most(look.side), MM
    yield "stops, mm", told["stops_mm"], float((look.kind == "stops").mean() * look.at[-1]), 1.0
    yield f"most of it being {told['kind']}", 1.0, holds(told["kind"], look.kind), 0.5


def sections(told: Report, join: Sewn, look: Seen) -> Iterator[Told]:
    """Yield where the seam is divided, and what is told and seen of each section."""
    marks = [mark["at_mm"] for mark in told["marks"]]
    for name, at in (*join.a.knots.items(), *join.a.darts, *join.b_darts):
        yield f"a mark at {name}, mm", min(marks, key=lambda m: abs(m - at)), at, 3.1
    for part in told["sections"]:
        low, high = part["start"]["at_mm"], part["end"]["at_mm"]
        name = f"from {part['start']['name']} to {part['end']['name']}"
        mine = (look.at > low) & (look.at < high)
        limit = SHARE + 1.0 / (high - low)
        kinds = look.kind[mine]
        printed = max(1, int((kinds != "plain").sum()))
        share = float((look.within[mine] & (kinds != "plain")).sum() / printed)
        yield f"share {name}", part["share"], share, limit
        yield f"most {name} being {part['kind']}", 1.0, holds(part["kind"], kinds), 0.5


BETTER = ("runs on", "mirrored", "level", "upright")


def holds(kind: str, kinds: NDArray[np.str_]) -> float:
    """Return 1 if a kind of meeting is the best that half of the printed places show, else 0.

    What runs on or is mirrored is level and upright as well. Places that show one kind a hair more
    often than another may be told as either.
    """
    known = kinds[kinds != "plain"]
    if not len(known):
        return float(kind == "plain")
    shares = {k: float((known == k).mean()) for k in {*BETTER, *known.tolist()}}
    for each in ("level", "upright"):
        shares[each] += shares["runs on"] + shares["mirrored"]
    for each in BETTER:
        if shares[each] >= 0.5 + HAIR:
            return float(kind == each)
        if shares[each] >= 0.5 - HAIR and kind == each:
            return 1.0
    rest = {k: v for k, v in shares.items() if k not in BETTER}
    return float(kind in rest and rest[kind] >= max(rest.values()) - HAIR)


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
    parser.add_argument("--prints", type=int, default=0)
    parser.add_argument("--only", action="append", default=[])
    asked = parser.parse_args()
    for name, make in BOOKS.items():
        if asked.only and name not in asked.only:
            continue
        book = make()
        laid = [lay_plan(book, p.name, seconds=60.0, rounds=2) for p in book.plans]
        laid += [scattered(book, seed, ODD_TURNS) for seed in range(asked.seeds)]
        laid += [scattered(printed(book, n), n, ODD_TURNS) for n in range(asked.prints)]
        found = [line for each in laid for line in differences(each)]
        print(
            f"{name}: {len(laid)} lays, {len(found)} differences", *found, sep="\n    ", flush=True
        )


if __name__ == "__main__":
    main()
