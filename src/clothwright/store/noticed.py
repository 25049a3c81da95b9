"""What was noticed about a workbook's folder, said until she puts it away.

A notice hinders nothing: the workbook is open beside it. What stands in the way of opening one is
an error instead.
"""

from __future__ import annotations

import contextlib
import re
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from clothwright.errors import BadInput
from clothwright.store.aside import ASIDE, SetAside, all_aside, set_aside
from clothwright.store.beside.kept import read_kept, sound, write_kept
from clothwright.store.book.lock import held
from clothwright.store.folder import refuse_links, sync_copies
from clothwright.store.history.record import RECORD, read_record

AWAY = f"{ASIDE}/put-away.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """Something to be told about the folder.

    said: whole sentences: what happened, what was kept, what to do. lies: the path in the
    workbook's folder of what it speaks of, which is also what it is put away by. was: the path of
    the file that was set aside, "" where none was.
    """

    said: str
    lies: str
    was: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PutAway:
    """Which notices were put away, by what they speak of."""

    FORMAT: ClassVar[str] = "clothwright-put-away/1"
    away: tuple[str, ...] = ()


def noticed(folder: Path) -> tuple[Notice, ...]:
    """Return what is to be told about a workbook's folder; quick where there is nothing."""
    with contextlib.suppress(BadInput):
        refuse_links(folder)
        return _noticed(folder)
    return ()  # the link is told where the workbook is opened


def _noticed(folder: Path) -> tuple[Notice, ...]:
    every = _every(folder)
    away = _away(folder) if every else ()
    return tuple(n for n in every if n.lies not in away)


def is_noticed(folder: Path, file: Path) -> bool:
    """Tell whether a notice speaks of what lay in a file's place."""
    was = file.relative_to(folder).as_posix()
    return any(n.was == was for n in noticed(folder))


def put_away(folder: Path, lies: str) -> None:
    """Tell a notice no more; what it speaks of stays where it is. Raises BadInput."""
    with held(folder):
        there = [n.lies for n in _every(folder)]
        if lies not in there:
            raise BadInput(what="there is no such notice any more", try_="loading the page again")
        away = {*_away(folder), lies} & set(there)
        write_kept(folder / AWAY, PutAway(away=tuple(sorted(away))))


def _every(folder: Path) -> tuple[Notice, ...]:
    here = _record_here(folder)
    found = (*here, *all_aside(folder))
    aside = [Notice(said=_aside_said(it), lies=it.lies, was=it.was) for it in found]
    return (*aside, *(Notice(said=_copy_said(n), lies=n) for n in sync_copies(folder)))


def _record_here(folder: Path) -> tuple[SetAside, ...]:
    """Set a damaged record aside as soon as it is seen; return it where that cannot be done.

    It stays in its place until something is saved, and is read as far as it can be.
    """
    with contextlib.suppress(OSError):
        if not read_record(folder).damaged:
            return ()
        try:
            set_aside(folder, folder / RECORD)
        except OSError:
            return (SetAside(RECORD, "damaged", RECORD),)
    return ()


def _away(folder: Path) -> tuple[str, ...]:
    kept = sound(read_kept(folder / AWAY, PutAway))
    return kept.away if kept else ()


HOW = {
    "damaged": "was damaged",
    "newer": "was written by another version of Clothwright, which this one cannot read",
    "replaced": "was set aside when an earlier state was brought back",
}
"""What became of a file that was set aside, after what it is."""

WHAT = (
    (
        RECORD,
        "The record of what was done",
        "Every step that could still be read is kept, and undo passes over the others. "
        "Nothing has to be done.",
    ),
    (
        "ticks/cut.json",
        "The record of what is cut",
        "A piece may be cut though it is not held fixed here now. Look at the cloth before "
        "anything is laid anew, and tick again what is cut.",
    ),
    ("ticks/", "A list of ticks", "Its ticks are kept in that file; tick again what is done."),
    ("inbox/refused-seams", "The list of seams you said no to", "They may be suggested again."),
    (
        "inbox/",
        "What you said about a drawing or photo that waits to be added",
        "The drawing or photo itself is there; answer its questions again.",
    ),
    ("lays/", "A kept lay, or the ways to make a plan fit", "Lay that plan again to have it back."),
    (
        "workbook.toml",
        "The workbook's own text",
        "What you wrote into it by hand can be read there.",
    ),
    ("pieces/", "A drawing of a piece", "It is drawn again as it was."),
    ("chart.json", "The yardage chart", "It is worked out again when you ask for it."),
)
"""The path of a file begins so; what it is; what was kept and what is to do."""


def _aside_said(it: SetAside) -> str:
    what, then = next(
        ((what, then) for begin, what, then in WHAT if it.was.startswith(begin)),
        ("A file", "Nothing else was touched."),
    )
    return f"{what} {HOW[it.how]}. {then}"


COPIED = {
    "workbook": "the workbook",
    "pieces": "a piece's drawing",
    "history": "the record of saves",
    "chart": "the yardage chart",
    "lays": "a kept lay",
    "ticks": "a list of ticks",
    "inbox": "what waits to be added",
    "pictures": "the picture of a cloth",
    "photos": "the photo of a cloth",
    "typed": "a text of measurements",
}
"""What it is a second copy of, by what its path begins with."""


def _copy_said(lies: str) -> str:
    what = COPIED.get(re.split(r"[/. (_-]", lies)[0], "a file beside the workbook")
    return (
        f"There is a second copy of {what} in its folder. Programs that keep a folder the same on "
        "several devices leave one when two devices changed the same file. It is neither read nor "
        "touched. See whether it has anything your workbook is missing, then move it elsewhere."
    )
