"""Each check on an outfit of thirty pieces and more: first look, and after one piece has changed.

    python bench/checks.py

Aim: all of them together, with a change, well under 100 ms.
"""

from __future__ import annotations

import statistics
import time
from dataclasses import replace

from many import many

from clothwright.checks import CHECKS, run_check, run_checks
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.pattern.piece import Piece
from clothwright.workbook import check_settings

RUNS = 15


def touched(piece: Piece, by: float) -> Piece:
    """The piece with other allowances, so that its cutting line must be drawn again."""
    edges = tuple(
        replace(e, allowance=e.allowance + by if e.allowance else 0.0) for e in piece.edges
    )
    return replace(piece, edges=edges)


def main() -> None:
    """Print milliseconds per check."""
    book = coat_and_skirt()
    pattern, settings = many(3).bought, check_settings(book)
    began = time.perf_counter()
    found = run_checks(pattern, settings)
    first = (time.perf_counter() - began) * 1000
    print(
        f"{len(pattern.pieces)} pieces, {len(pattern.seams)} seams, {len(found)} findings; "
        f"first look {first:.1f} ms"
    )
    whole = []
    for k in range(RUNS):
        changed = pattern.with_piece(touched(pattern.pieces[0], 0.01 * (k + 1)))
        began = time.perf_counter()
        run_checks(changed, settings)
        whole.append((time.perf_counter() - began) * 1000)
    print(
        f"after a change of one piece: median {statistics.median(whole):.1f} ms, "
        f"worst {max(whole):.1f} ms"
    )
    for check in CHECKS:
        took = []
        for _ in range(RUNS):
            began = time.perf_counter()
            run_check(check, pattern, settings)
            took.append((time.perf_counter() - began) * 1000)
        print(f"  {check.id:<20} {statistics.median(took):6.2f} ms")


if __name__ == "__main__":
    main()
