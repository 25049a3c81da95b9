"""What damage at one place of a record may cost, and nothing more."""

from __future__ import annotations

import json
from collections.abc import Iterator

from clothwright.store.history.record import Record, Saved


def rows_of(whole: bytes) -> Iterator[tuple[range, int | None]]:
    """Yield where each row of a record lies, and the number of its line, None for a mark."""
    at = 0
    for row in whole.splitlines(keepends=True):
        yield range(at, at + len(row)), json.loads(row).get("number")
        at += len(row)


def lost_by(lines: tuple[Saved, ...], hit: int | None, said: Record, *, last: bool) -> str:
    """Return what a damaged record has lost besides the line that was hit; "" when nothing.

    lines: those that stood. hit: the number of the line that was hit. last: only the end of the
    file was hit, which a line cut short by a crash looks like.
    """
    rest = [s for s in lines if s.number != hit]
    if [s for s in said.lines if s.number != hit] != rest:
        return "a line that was not hit"
    if not said.damaged and not last:
        return "the damage is not noticed"
    saves = {s.number for s in rest if s.node == s.number}
    if not saves <= {s.number for s in said.chain()} | {hit}:
        return "undo does not go past it"
    return ""
