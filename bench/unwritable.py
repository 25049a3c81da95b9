"""A disk that is full or may not be written to, and two who write at once."""

from __future__ import annotations

import contextlib
import io
import multiprocessing
import os
import random
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from killing import Figures, new_book
from killing_served import Caller, deaf
from tests.small_disk import NOBODY, as_nobody, filled, mount, unmount
from tests.store.book.test_file import state
from tests.web.conftest import own_port
from tests.web.killable import serve_apart
from tests.workroom.test_disk_says_no import WRITES, begun, held_by

from clothwright.cli.app import run
from clothwright.errors import ELSEWHERE, ROOM, ClothwrightError
from clothwright.store import load, opened, steps, undo
from clothwright.workroom.cloth import photos

photos.apart = lambda *_: None  # type: ignore[assignment]


def full(root: Path, count: int) -> Figures:
    """Fill a real disk of 2 MB at random points, and write in every way; make room, and go on."""
    figures, rng, disk = Figures(), random.Random(3), root / "disk"
    for name, write in WRITES.items():
        for _ in range(count):
            if not mount(disk, 2_000_000):
                raise SystemExit("no disk may be mounted here: this part needs root")
            try:
                _written(begun(disk / "w"), write, figures, (filled, disk, rng.randrange(24_000)))
            except AssertionError as error:
                figures.lost.append(f"{name}: {error}")
            finally:
                unmount(disk)
    return figures


def _written(folder: Path, write: Callable, figures: Figures, inside: tuple) -> None:  # type: ignore[type-arg]
    """Write once while the disk says no; check that it is old or new, whole, and goes on."""
    before, said = held_by(folder), ""
    how, *given = inside
    with how(*given):
        try:
            write(folder)
        except ClothwrightError as error:
            said = str(error)
    figures.times += 1
    figures.not_done += bool(said)
    figures.acknowledged += not said
    after = held_by(folder)
    assert (after == before) == bool(said), f"said {said!r}, and the files are otherwise"
    assert not said or ROOM in said or ELSEWHERE in said, said
    assert said == "" or load(folder) == state(2)
    if said:
        write(folder)
        assert held_by(folder) != before, "it does not go on"
    assert undo(folder) is not None


@contextlib.contextmanager
def _closed(places: list[Path]):  # type: ignore[no-untyped-def]
    modes = {p: p.stat().st_mode & 0o777 for p in places}
    for place, mode in modes.items():
        place.chmod(mode & 0o555)
    try:
        with as_nobody():
            yield
    finally:
        for place, mode in modes.items():
            if place.exists():
                place.chmod(mode)


def readonly(root: Path, count: int) -> Figures:
    """Write in every way, as another, where nothing may be written; then where files may not be.

    count: of each. Files that are her own and read only are replaced, or it is told.
    """
    figures = Figures()
    root.chmod(0o755)
    for name, write in WRITES.items():
        for k in range(2 * count):
            folder = begun(root / f"{name} {k}")
            places = [folder, *folder.rglob("*")]
            if k % 2:
                for place in places:
                    os.chown(place, NOBODY, NOBODY)
                places = [p for p in places if p.is_file()]
            try:
                _written(folder, write, figures, (_closed, places))
            except AssertionError as error:
                figures.lost.append(f"{name}: {error}")
    return figures


# --- two at once ----------------------------------------------------------------------------------


def commanding(folder: Path, cloth: str, count: int, line) -> None:  # type: ignore[no-untyped-def]
    """Set the note of one cloth again and again by commands; again where another is saving."""
    again = 0
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        for n in range(count):
            edit = ["edit", str(folder), "set-cloth", f"cloth={cloth}", f"values.note={cloth} {n}."]
            while run(edit) != 0:
                again += 1
    line.send(again)


def calling(folder: Path, cloth: str, count: int, line, *, port: int) -> None:  # type: ignore[no-untyped-def]
    """Do so through the server, each from the revision that the one before it led to."""
    mine, revision = Caller(port), opened(folder).revision
    for n in range(count):
        edit = {"edit": "set-cloth", "cloth": cloth, "values": {"note": f"{cloth} {n}."}}
        revision = mine.asks("edit", {"base": revision, "edit": edit})["revision"]
    line.send(0)


def two(folder: Path, count: int, *writers: Callable) -> Figures:  # type: ignore[type-arg]
    """Have two write at once; every edit of both is in the record, once; the last in the file."""
    figures = Figures()
    context = multiprocessing.get_context("forkserver")
    lines, ours = [], []
    for cloth, write in zip(("check", "lining"), writers, strict=True):
        mine, theirs = context.Pipe(duplex=False)
        it = context.Process(target=write, args=(folder, cloth, count, theirs))
        it.start()
        lines.append(mine)
        ours.append(it)
    figures.not_done = sum(line.recv() for line in lines)
    for it in ours:
        it.join(30)
    figures.times = figures.acknowledged = 2 * count
    words = [s.words for s in steps(folder)]
    for cloth in ("check", "lining"):
        found = [w for w in words if f'"{cloth}"' in w]
        if len(found) != count:
            figures.lost.append(f"{len(found)} edits of {cloth}, {count} acknowledged")
        if load(folder).cloth(cloth).note != f"{cloth} {count - 1}.":
            figures.lost.append(f"the last note of {cloth} is another")
    return figures


def two_commands(root: Path, count: int) -> Figures:
    """Two commands."""
    return two(new_book(root), count, commanding, commanding)


def command_and_page(root: Path, count: int) -> Figures:
    """A command and a page."""
    folder, port = new_book(root), own_port()
    it = serve_apart(root, port)
    while deaf(port):
        time.sleep(0.05)
    try:
        return two(folder, count, commanding, partial(calling, port=port))
    finally:
        it.kill()
        it.join()
