"""Drawings that have come in and wait for answers: kept beside the workbook until they are added.

Each lies in a folder of its own, as it came, with what has been answered about it. Nothing of it is
part of the workbook; putting it off, closing the page or a power cut loses nothing.
"""

from __future__ import annotations

import re
import secrets
import shutil
from collections.abc import Callable
from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path as FilePath

from clothwright.errors import BadInput, CannotDo
from clothwright.intake.waiting.said import Sitting, Waiting
from clothwright.store.beside import places
from clothwright.store.beside.kept import Damaged, read_kept, sound, write_kept
from clothwright.store.beside.places import sitting_file, stored_drawing
from clothwright.store.book.lock import held
from clothwright.store.disk import disk_told, write_whole
from clothwright.workroom.pieces.adding import kind_of

MOST_WAITING = 30
UNKEPT = "inbox", "it could not be saved"


def put_in(folder: FilePath, file: str, data: bytes) -> Waiting:
    """Put a drawing into a workbook's inbox. Raises BadInput when no reader can read its name.

    What is in the file is not looked at here: `sitting.look` reads it.
    """
    name = " ".join(re.split(r"[/\\]", file)[-1].split())[:120]
    title, suffix = kind_of(name)
    if not data:
        raise BadInput(where=name, what="the file is empty", expected=f"a {title}")
    if len(waiting(folder)) >= MOST_WAITING:
        raise CannotDo(
            what=f'"{name}" was not added',
            why=f"{MOST_WAITING} drawings are waiting already",
            nearest="to add or to throw away some of them first",
        )
    now = datetime.now(UTC)
    key = f"{now:%Y%m%d-%H%M%S}-{secrets.token_hex(3)}"
    place = places.inbox(folder) / key
    one = Waiting(id=key, file=name, came=now.isoformat(), stored=place / f"drawing{suffix}")
    try:
        with disk_told(*UNKEPT):
            write_whole(one.stored, data)
        _write(place, one)
    except BadInput:
        shutil.rmtree(place, ignore_errors=True)
        raise
    return one


def waiting(folder: FilePath) -> tuple[Waiting, ...]:
    """Return the drawings of a workbook's inbox, oldest first.

    One whose answers are damaged, or not there, waits without any.
    """
    try:
        names = sorted(p.name for p in places.inbox(folder).iterdir() if p.is_dir())
    except OSError:
        return ()
    found = (_read(folder, name) for name in names)
    return tuple(w for w in found if w is not None)


def one_waiting(folder: FilePath, key: str) -> Waiting:
    """Return a drawing of the inbox. Raises BadInput. The key is looked up, never made a path."""
    for one in waiting(folder):
        if one.id == key:
            return one
    raise BadInput(
        what="there is no such drawing in the inbox",
        expected="one that is waiting",
        try_="choosing the file again",
    )


def file_of(place: FilePath) -> str:
    """Return what a waiting drawing was called, by its own folder; "" when that is not kept."""
    kept = sound(read_kept(sitting_file(place), Sitting))
    return kept.file if kept else ""


def throw_away(folder: FilePath, key: str) -> None:
    """Take a drawing out of the inbox. Raises BadInput."""
    one = one_waiting(folder, key)
    with held(folder):
        shutil.rmtree(one.stored.parent, ignore_errors=True)


def answer(folder: FilePath, key: str, change: Callable[[Waiting], Waiting]) -> Waiting:
    """Keep other answers about a drawing; two devices answer one after the other.

    change: from what is answered now to what it becomes; what it raises is passed on and nothing
    is written. Raises BadInput.
    """
    with held(folder):
        one = one_waiting(folder, key)
        after = change(one)
        _write(one.stored.parent, after)
    return after


def _write(place: FilePath, one: Waiting) -> None:
    write_kept(sitting_file(place), Sitting(**{f.name: getattr(one, f.name) for f in FIELDS}))


def _read(folder: FilePath, key: str) -> Waiting | None:
    place = places.inbox(folder) / key
    stored = stored_drawing(place)
    if stored is None:
        return None
    found = read_kept(sitting_file(place), Sitting)
    kept = sound(found)
    if kept is None:
        damaged = found if isinstance(found, Damaged) else None
        return Waiting(id=key, file=_called(damaged, stored), came="", stored=stored)
    return Waiting(id=key, stored=stored, **{f.name: getattr(kept, f.name) for f in FIELDS})


def _called(found: Damaged | None, stored: FilePath) -> str:
    """Return what a drawing was called, as far as damaged answers still say it."""
    name = found.still_says("file") if found else ""
    right = FilePath(name).suffix.lower() == stored.suffix.lower() and name.isprintable()
    return name[:120] if right else stored.name


FIELDS = fields(Sitting)
