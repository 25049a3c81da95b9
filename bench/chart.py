"""The yardage chart: lays an hour by one and two workers, and the demo against the width table.

python bench/chart.py
"""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path

from clothwright.cloth.widths import convert
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.workroom.chart import Cell, chart, tasks_of

IN = 25.4


def throughput() -> None:
    """Time the same eight cells by one and by two workers."""
    tasks = tasks_of(
        coat_and_skirt(),
        widths=(1150.0, 1250.0, 1400.0, 1500.0),
        naps=(False, True),
        plans=("skirt only",),
        seconds=3.0,
    )
    took = {}
    for workers in (1, 2):
        with tempfile.TemporaryDirectory() as folder:
            began = time.perf_counter()
            chart(tasks, Path(folder), workers=workers)
            took[workers] = time.perf_counter() - began
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0
    print(
        f"{len(tasks)} lays: 1 worker {took[1]:.1f} s, 2 workers {took[2]:.1f} s, "
        f"ratio {took[1] / took[2]:.2f} (aim: at least 1.7; load average {load:.1f})"
    )


def against_the_table() -> None:
    """Print real lays at two widths beside what the table converts one to."""
    tasks = tasks_of(coat_and_skirt(), widths=(45 * IN, 60 * IN), naps=(False,), seconds=6.0)
    with tempfile.TemporaryDirectory() as folder:
        cells = chart(tasks, Path(folder), workers=2)
    by: dict[str, list[Cell]] = {}
    for cell in cells:
        by.setdefault(cell.plan, []).append(cell)
    for plan, (narrow, wide) in by.items():
        if narrow.need is None or wide.need is None:
            print(f"{plan}: no lay ({narrow.why or wide.why})")
            continue
        a, b = narrow.need / 914.4, wide.need / 914.4
        rule = convert(a, 45, 60)
        print(
            f"{plan}: {a:.2f} yd at 45 in, {b:.2f} at 60 in; the table says {rule:.2f} "
            f"(off by {b - rule:+.2f} yd; aim: within 1/4)"
        )


if __name__ == "__main__":
    throughput()
    against_the_table()
