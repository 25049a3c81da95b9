"""clothwright recover: a workbook that cannot be opened, brought back from its copies."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out, table
from clothwright.errors import BadInput


def recover(workbook: Path, *, state: int = 0, dry_run: bool = False) -> None:
    """Bring back a workbook whose files are lost or damaged, from copies kept at every save.

    The states there are copies of are listed, the newest first, and the newest whole one is brought
    back, or the one you choose. What lies in its place is set aside, not removed, and `clothwright
    undo` goes on from there. A workbook that can be opened is left as it is.

    Parameters
    ----------
    workbook
        The workbook's folder.
    state
        The number of the state to bring back, from the list; 0 for the newest whole one.
    dry_run
        Show the list, and bring nothing back.
    """
    book = open_book(workbook)
    states = book.earlier()
    lines = [
        (str(n), s.when or "unknown", s.words, "" if s.whole else "damaged")
        for n, s in enumerate(states, start=1)
    ]
    if lines:
        table(("", "when", "what was done", ""), lines)
    if dry_run and lines:
        return
    if states and not 0 <= state <= len(states):
        raise BadInput(
            where="--state",
            what=f"there is no state {state}",
            expected=f"a number from 1 to {len(states)}",
        )
    done = book.bring_back(states[state - 1].state if states and state else "")
    out.print(f"{done.words}.")
    out.print(f"What lay there is in {workbook / 'set-aside'}.")
