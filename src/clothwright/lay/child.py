"""The free packer's own process: a strip-packing job from standard input, lays to standard output.

Run as a file, it imports nothing of this package, so that it starts fast; a crash of the packer (a
panic on bad input is a BaseException there, and its trace goes to standard error) ends this process
and nothing else. Lays are written as they are found, one JSON object a line:
{"width": mm, "placed": [[id, turn_deg, x, y], ...]}, the last with "final": true.
"""

from __future__ import annotations

import json
import os
import sys
import threading
from typing import Any

POLL = 0.04


def _told(solution: Any, *, final: bool = False) -> None:
    placed = [[p.id, p.rotation, *p.translation] for p in solution.placed_items]
    line = {"width": solution.width, "placed": placed}
    if final:
        line["final"] = True
    sys.stdout.write(json.dumps(line) + "\n")
    sys.stdout.flush()


def _watch(progress: Any, feasible: frozenset[int], done: threading.Event) -> None:
    best = float("inf")
    parent = os.getppid()
    while True:
        ended = done.wait(POLL)
        if os.getppid() != parent:
            os._exit(1)  # who asked for the lay is gone
        found = [s for kind, s in progress.drain() if int(kind) in feasible]
        if found:
            least = min(found, key=lambda s: s.width)
            if least.width < best:
                best = least.width
                try:
                    _told(least)
                except OSError:
                    os._exit(1)  # nobody listens any more
        if ended:
            return


def main() -> None:
    """Solve the job on standard input."""
    import spyrrow  # noqa: PLC0415 (its import may fail, and must then fail here only)

    job = json.load(sys.stdin)
    items = [
        spyrrow.Item(item["id"], [tuple(p) for p in item["ring"]], 1, item["turns"])
        for item in job["items"]
    ]
    instance = spyrrow.StripPackingInstance("", job["height"], items)
    config = spyrrow.StripPackingConfig(
        early_termination=job["early"],
        min_items_separation=job["gap"] or None,
        total_computation_time=job["seconds"],
        num_workers=job["workers"],
        seed=job["seed"],
    )
    progress = spyrrow.ProgressQueue()
    kinds = spyrrow.ReportType
    feasible = frozenset(int(k) for k in (kinds.ExplFeas, kinds.CmprFeas, kinds.Final))
    done = threading.Event()
    watcher = threading.Thread(target=_watch, args=(progress, feasible, done), daemon=True)
    watcher.start()
    solution = instance.solve(config, progress)
    done.set()
    watcher.join()
    _told(solution, final=True)


if __name__ == "__main__":
    main()
