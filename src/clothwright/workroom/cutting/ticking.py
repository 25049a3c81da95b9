"""The boxes of the laying list: what is laid belongs to a lay, what is cut to the cloth."""

from __future__ import annotations

from clothwright.errors import CannotDo
from clothwright.store import Opened
from clothwright.workroom.cutting.already import TICK, cut_again, tick_cut
from clothwright.workroom.cutting.table import laid_table
from clothwright.workroom.cutting.ticks import set_ticks
from clothwright.workroom.searching.lays import TOPIC, Lays


def tick_line(lays: Lays, at: Opened, key: str, lay: str, *, done: bool) -> None:
    """Tick or untick a line of the chosen plan's laying list. Raises BadInput, CannotDo.

    key: of the tick. lay: the mark of the lay that was looked at, "" for the one on the table.
    """
    on, folder = laid_table(lays, at), lays.opened.folder
    if not key.startswith(TICK):
        set_ticks(folder, on.laid.plan.name, lay or on.mark, {key: done})
    elif lay not in ("", on.mark):
        raise CannotDo(
            what="nothing was ticked",
            why="the pieces lie otherwise by now than on the page that was looked at",
            nearest="to look at the page as it is now, and at the cloth, and to tick it there",
        )
    else:
        tick_cut(folder, at.book, on.laid, key, done=done)
        lays.opened.tell(TOPIC)
    lays.opened.tell("ticks")


def lay_once_more(lays: Lays, at: Opened, shape: str) -> str:
    """Let a piece that is cut be laid once more on what is left, or after all not; say so.

    As `tick_line`.
    """
    again = cut_again(lays.opened.folder, at.book, laid_table(lays, at).laid, shape)
    lays.opened.tell(TOPIC)
    lays.opened.tell("ticks")
    if again:
        return f"“{shape}” is to be cut once more. Lay the rest to give it a place."
    return "What was cut counts again, and is not cut once more."
