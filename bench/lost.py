"""Nothing of hers is lost: kills, full and read-only disks, two writers, a damaged record.

    python bench/lost.py [--only kills,served] [--scale 0.1]

A workbook of the demo is saved, ticked, answered and laid by real processes while they are killed,
and by others while the disk says no; what was acknowledged has to be there. Root is needed to mount
a small disk, and to become somebody who may not write.
"""

from __future__ import annotations

import argparse
import importlib
import multiprocessing
import tempfile
from multiprocessing import forkserver
from pathlib import Path

# Nothing heavy is read here: each process that the program begins reads this file again.
PARTS = {
    "kills": ("killing:kill_commands", 200),
    "served": ("killing_served:kill_server", 100),
    "full": ("unwritable:full", 20),
    "read-only": ("unwritable:readonly", 2),
    "two-commands": ("unwritable:two_commands", 200),
    "command-and-page": ("unwritable:command_and_page", 200),
    "bytes": ("spoiling:spoil", 1),
}
"""Each part: the function that does it in a folder, and how often."""
READ = [
    "killing",
    "tests.web.killable",
    *(f"clothwright.cli.{name}" for name in ("edit", "undo", "redo", "lay", "chart")),
    *(f"clothwright.web.pages.{name}" for name in ("sew", "add", "plans", "pieces")),
]
"""What the processes that are killed have read before they begin."""


def main() -> None:
    """Do each part, print its row, and whatever was lost."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--only", default=",".join(PARTS))
    parser.add_argument("--scale", type=float, default=1.0, help="so many times as often")
    given = parser.parse_args()
    multiprocessing.get_context("forkserver").set_forkserver_preload(READ)
    forkserver.ensure_running()
    print("| what | times | acknowledged | cut off or refused | lost |")
    print("| --- | --: | --: | --: | --: |", flush=True)
    for name in given.only.split(","):
        target, count = PARTS[name]
        module, _, own = target.partition(":")
        with tempfile.TemporaryDirectory() as place:
            do = getattr(importlib.import_module(module), own)
            it = do(Path(place), max(1, round(count * given.scale)))
        row = (it.times, it.acknowledged, it.not_done, len(it.lost))
        print(f"| {name} | " + " | ".join(map(str, row)) + " |", flush=True)
        for words in it.lost[:20]:
            print(f"  lost: {words}", flush=True)


if __name__ == "__main__":
    main()
