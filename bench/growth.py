"""How opening, walking, printing and the guide grow with the number of pieces.

    python bench/growth.py [--pieces 10,30,100,150] [--profile print]

The demo outfit is taken as often as it needs, under other names, and saved as a workbook. Figures
are process time, so that what else the machine does counts little. The exponent is the slope of log
time over log pieces between the last two; n log n has 1.2 there. Each is done once, in a process of
its own with nothing in memory.
"""

from __future__ import annotations

import argparse
import cProfile
import math
import multiprocessing
import pstats
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from multiprocessing.connection import Connection
from pathlib import Path

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.lay.lying import lie, used_on
from clothwright.lay.result import Lay, Placement
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.refs import EdgeRef
from clothwright.rules.weighing.laid import Laid, laid_so
from clothwright.store import create, load
from clothwright.workbook import Workbook
from clothwright.workroom.cloth.pictures import photos_in
from clothwright.workroom.cutting.printing import printed_pieces
from clothwright.workroom.searching.laying import compile_plan
from clothwright.workroom.sewing.guiding import write_guide
from clothwright.workroom.walking.report import walk_report


def grown(count: int) -> Workbook:
    """Return the demo with as many pieces, its own ones again and again under other names."""
    book = replace(coat_and_skirt(), steps=())
    pieces = book.bought.pieces
    times = -(-count // len(pieces))
    tags = ["" if k == 0 else f" {k + 1}" for k in range(times)]
    more = tuple(replace(p, name=p.name + tag) for tag in tags for p in pieces)[:count]
    there = {p.name for p in more}

    def tagged(refs: tuple[EdgeRef, ...], tag: str) -> tuple[EdgeRef, ...]:
        return tuple(EdgeRef(r.piece + tag, r.edge, r.reversed) for r in refs)

    seams = [
        replace(s, name=s.name + tag, a=tagged(s.a, tag), b=tagged(s.b, tag))
        for tag in tags
        for s in book.bought.seams
    ]
    kept = tuple(s for s in seams if all(r.piece in there for r in (*s.a, *s.b)))
    cloths = tuple(replace(c, length=None) for c in book.cloths)
    plans = tuple(replace(p, rules=()) for p in book.plans[:1])
    return replace(
        book,
        bought=Pattern(pieces=more, seams=kept),
        cloths=cloths,
        plans=plans,
        chosen_plan=plans[0].name,
    )


def work(name: str, folder: Path) -> Callable[[], object]:
    """Return what is timed, all it needs being there already; nothing is in memory for it."""
    if name == "open":
        return lambda: load(folder)
    book = load(folder)
    if name == "walk":
        return lambda: walk_report(book)
    if name == "print":
        return lambda: printed_pieces(book, paper="A4")
    laid = in_a_row(book)
    return lambda: write_guide(book, [laid], folder / "guide", photos_in(folder))


def in_a_row(book: Workbook) -> Laid:
    """Return a lay of every piece one behind the other: the guide grows, not the search."""
    start = compile_plan(book, book.plan(""))
    problem = start.compiled.problem
    placed: list[Placement] = []
    x = dict.fromkeys((r.name for r in problem.regions), 0.0)
    for shape in problem.shapes:
        region = shape.regions[0]
        at = lie(shape, region=region, x=0.0, y=0.0, turn_deg=0.0, flipped=False)
        xs, ys = zip(*at.outline, strict=True)
        move = {"x": x[region] - min(xs), "y": 30.0 - min(ys)}
        placed.append(lie(shape, region=region, turn_deg=0.0, flipped=False, **move))
        x[region] += max(xs) - min(xs) + 5.0
    used = {name: used_on(name, placed) for name in x}
    return laid_so(start, Lay(placements=tuple(placed), used=used, fits=True), ())


def timed(name: str, folder: Path, profiled: bool, line: Connection) -> None:
    """Do one of them once in this process; send the seconds of process time."""
    do = work(name, folder)
    profile = cProfile.Profile(time.process_time)
    began = time.process_time()
    profile.runcall(do) if profiled else do()
    line.send(time.process_time() - began)
    if profiled:
        pstats.Stats(profile).sort_stats("cumulative").print_stats(45)


def main() -> None:
    """Time each at each size; print the table with the exponents."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--pieces", default="10,30,100,150")
    parser.add_argument("--profile", default="", help="one of them, to be profiled")
    given = parser.parse_args()
    sizes = [int(n) for n in given.pieces.split(",")]
    names = [given.profile] if given.profile else ["open", "walk", "print", "guide"]
    took: dict[str, list[float]] = {name: [] for name in names}
    context = multiprocessing.get_context("spawn")
    for count in sizes:
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place) / "book"
            create(folder, grown(count))
            for name in names:
                ours, theirs = context.Pipe()
                it = context.Process(target=timed, args=(name, folder, bool(given.profile), theirs))
                it.start()
                theirs.close()
                took[name].append(ours.recv())
                it.join()
                print(f"{name} of {count}: {took[name][-1]:.2f} s", flush=True)
    print("| s of process time | " + " | ".join(f"{n} pieces" for n in sizes) + " | exponent |")
    print("| --- |" + " --: |" * (len(sizes) + 1))
    for name, row in took.items():
        slope = "" if len(sizes) < 2 else f"{_slope(sizes[-2:], row[-2:]):.2f}"
        print(f"| {name} | " + " | ".join(f"{t:.2f}" for t in row) + f" | {slope} |")


def _slope(sizes: list[int], times: list[float]) -> float:
    (a, b), (s, t) = sizes, times
    return math.log(t / s) / math.log(b / a)


if __name__ == "__main__":
    main()
