"""Undo and redo that outlast a restart: every save is a step, with a copy of what was saved.

The order of a step: copies of the new state, a line in the record, the workbook itself, the mark
"done" in the record. A crash at any moment leaves a workbook that opens, and a record that is
whole or shorter by one step. What was changed in a text editor becomes a step of its own, found
out at the next look.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.store.book.file import (
    NOT_SAVED,
    SAFE,
    Ready,
    free_name,
    made_ready,
    pieces_of,
    put_down,
    read_text,
    tidy,
    way_back_named,
)
from clothwright.store.book.format import read_table, said_by, to_plain, up_to_date
from clothwright.store.book.lock import Lock, held
from clothwright.store.book.pictures import drop_pictures
from clothwright.store.book.sync import synced
from clothwright.store.disk import BOOK_FILE
from clothwright.store.folder import refuse_links
from clothwright.store.history.copies import (
    State,
    drop_unnamed,
    is_still,
    keep,
    kept,
    on_disk,
    remember,
)
from clothwright.store.history.record import (
    Key,
    Record,
    Saved,
    add_line,
    mark,
    mended,
    read_record,
    rewrite,
)
from clothwright.store.history.touched import EVERYTHING, carried, touched
from clothwright.workbook import Workbook

MOST_STEPS = 500
"""How many steps are kept; older ones are dropped, some at a time."""

OUTSIDE = "edited outside"
FOUND = "the workbook as it was found"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A workbook as it is at a revision. ids: the lasting names of its changes, in order."""

    book: Workbook
    revision: int
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What is to be saved. words: what was done ("crop front at 432 mm").

    ids: the lasting names of the changes. leans: what it relies on. token: the sender's own mark.
    """

    book: Workbook
    words: str
    ids: tuple[str, ...]
    leans: tuple[Key, ...] = ()
    token: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Undoable:
    """One step that undo and redo go along. undone: it is undone now, and redo brings it back."""

    number: int
    at: str
    words: str
    kind: str
    undone: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Now:
    """The workbook under the lock: what lies on the disk, and the record up to it."""

    folder: Path
    state: State
    record: Record
    last: Saved

    def opened(self) -> Opened:
        """Return the workbook as it is now. Raises BadInput, Mistakes."""
        return Opened(book=self.state.workbook(), revision=self.last.number, ids=self.last.ids)

    def opened_at(self, revision: int) -> Opened:
        """Return the workbook as it was at a revision. Raises CannotDo when it is not kept."""
        if revision == self.last.number:
            return self.opened()
        line = self.record.line(revision)
        if line is None:
            raise CannotDo(
                what="this cannot be put together with what was done since",
                why=f"revision {revision} of the workbook is not in its record",
                nearest="to open the workbook as it is now, and to do it again",
            )
        book = kept(self.folder, line.state).workbook()
        return Opened(book=book, revision=revision, ids=line.ids)


def opened(folder: Path, known: Opened | None = None) -> Opened:
    """Return the workbook with its revision: another number for every other state.

    known: the workbook as it was opened before; it is returned while it is still the one. An edit
    by hand becomes a step first, and a workbook without a record gets one, which begins here.
    Raises BadInput, Mistakes.
    """
    with way_back_named(folder):
        refuse_links(folder)
        quick = _undisturbed(folder)
        if quick is not None:
            if known is not None and known.revision == quick.last.number:
                return known
            return quick.opened()
        with _now(folder) as (now, _):
            return now.opened()


def step(folder: Path, make: Callable[[Now], Made | Saved]) -> Saved:
    """Save what `make` returns for the workbook as it is now, in one go; return the step.

    make: runs under the lock, so that nobody else saves in between. When it returns a step that
    was saved before, or a workbook that is as it was, nothing is written. Raises what it raises,
    BadInput, Mistakes.
    """
    with _now(folder) as (now, lock):
        made = make(now)
        if isinstance(made, Saved):
            return made
        was = now.opened()
        if made.book == was.book and made.ids == was.ids:
            return now.last
        text = now.state.text
        ready = made_ready(made.book, folder, text, pieces_of(was.book))
        number = now.record.last_number + 1
        line = Saved(
            number=number,
            at=time_now(),
            kind="save",
            words=made.words,
            state="",
            node=number,
            tip=number,
            parent=now.last.node,
            ids=made.ids,
            touches=touched(was.book, was.ids, made.book, made.ids),
            leans=made.leans,
            token=made.token,
        )
        return _write(now, lock, ready, line)


def undo(folder: Path, *, base: int | None = None) -> Saved | None:
    """Undo the last step; return it with the new revision, or None when there is none to undo.

    base: the revision that was looked at; CannotDo when the workbook has moved on since. Raises
    BadInput, Mistakes.
    """
    with _now(folder) as (now, lock):
        refuse_moved(now, base, "nothing was undone")
        chain = now.record.chain()
        before = [s for s in chain if s.number < now.last.node]
        if not before:
            return None
        undone = next((s for s in chain if s.number == now.last.node), now.last)
        return _go(now, lock, before[-1], undone=undone)


def redo(folder: Path, *, base: int | None = None) -> Saved | None:
    """Do the last undone step again; return it with the new revision, or None when there is none.

    base: as in `undo`. Raises BadInput, Mistakes, CannotDo.
    """
    with _now(folder) as (now, lock):
        refuse_moved(now, base, "nothing was done again")
        chain = now.record.chain()
        after = next((s for s in chain if s.number > now.last.node), None)
        if after is None:
            return None
        return _go(now, lock, after, undone=None)


def when_added(folder: Path) -> tuple[str, ...]:
    """Return when each change of the list was added (UTC), in order; "" where nobody knows.

    Reads and writes nothing else; () where the list is not the one of the record. Raises BadInput.
    """
    refuse_links(folder)
    record = read_record(folder)
    if record.last is None or on_disk(folder).id != record.last.state:
        return ()
    first: dict[str, str] = {}
    for line in record.lines:
        at = "" if line.kind == "start" else line.at
        first |= {name: at for name in line.ids if name not in first}
    return tuple(first[name] for name in record.last.ids)


def steps(folder: Path) -> tuple[Undoable, ...]:
    """Return the steps that can be undone and redone, oldest first; reads and writes nothing else.

    An edit by hand that no step tells of yet comes last, with number 0. Raises BadInput, Mistakes.
    """
    refuse_links(folder)
    record = read_record(folder)
    if record.last is None:
        return ()
    state = on_disk(folder).id
    if record.pending and state != record.last.state and len(record.lines) > 1:
        record = replace(record, lines=record.lines[:-1])
    if record.last is None:
        return ()
    here = record.last.node
    out = tuple(
        Undoable(number=s.number, at=s.at, words=s.words, kind=s.kind, undone=s.number > here)
        for s in record.chain()
    )
    if state != record.last.state:
        by_hand = Undoable(number=0, at="", words=OUTSIDE, kind="outside", undone=False)
        out = (*(s for s in out if not s.undone), by_hand)
    return out


def refuse_moved(now: Now, base: int | None, what: str) -> None:
    """Raise CannotDo when the workbook is not at revision `base` any more, saying what was done."""
    if base is None or base == now.last.number:
        return
    since = now.record.since(base)
    raise CannotDo(
        what=what,
        why="the workbook has moved on since: " + told(since)
        if since
        else "the workbook's record was begun anew since",
        nearest="to look at it as it is now, and to do it again",
    )


def told(lines: tuple[Saved, ...], most: int = 3) -> str:
    """Say what steps did, the newest first."""
    words = [f'"{said_of(s)}"' for s in reversed(lines)]
    more = f" and {len(words) - most} more" if len(words) > most else ""
    return ", ".join(words[:most]) + more


def said_of(line: Saved) -> str:
    """Say what a line of the record did."""
    lead = {"undo": "undone: ", "redo": "done again: ", "back": "brought back: "}
    return lead.get(line.kind, "") + line.words


def time_now() -> str:
    """Return the time, UTC, as the record writes it."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def _undisturbed(folder: Path) -> Now | None:
    """Return the workbook when disk and record agree, without the lock; else None."""
    try:
        record = read_record(folder)
        if record.last is None or record.pending:
            return None
        state = on_disk(folder)
    except (OSError, ClothwrightError):
        return None
    if state.id != record.last.state:
        return None
    return Now(folder=folder, state=state, record=record, last=record.last)


@contextmanager
def _now(folder: Path) -> Iterator[tuple[Now, Lock]]:
    """Hold the lock over a workbook whose record tells of all that was done to it."""
    refuse_links(folder)
    with way_back_named(folder):
        read_text(folder)
    with held(folder, NOT_SAVED, SAFE) as lock:
        with way_back_named(folder):
            now = _settled(folder)
        tidy(folder, lock, now.state.drawings)
        yield now, lock


def _settled(folder: Path) -> Now:
    """Return the state on the disk and a record that ends with it."""
    state, record = on_disk(folder), mended(folder, read_record(folder))
    last = record.last
    if last is not None and record.pending:
        record = mark(folder, record, done=state.id == last.state)
        last = record.last
    if last is None or state.id != last.state:
        last = _found(folder, state, record)
        record = mark(folder, add_line(folder, record, last), done=True)
    return Now(folder=folder, state=state, record=record, last=last)


def _found(folder: Path, state: State, record: Record) -> Saved:
    """Return the line of a state that was found on the disk: the first, or one edited by hand."""
    book = state.workbook()
    number, last = record.last_number + 1, record.last
    ids: tuple[str, ...] = tuple(f"c{number}-{k + 1}" for k in range(len(book.steps)))
    touches = EVERYTHING
    if last is not None:
        try:
            before = kept(folder, last.state).workbook()
        except ClothwrightError:
            before = None
        if before is not None:
            ids = carried(before.steps, last.ids, book.steps, f"c{number}")
            touches = touched(before, last.ids, book, ids)
    return Saved(
        number=number,
        at=time_now(),
        kind="start" if last is None else "outside",
        words=FOUND if last is None else OUTSIDE,
        state=keep(folder, state),
        node=number,
        tip=number,
        parent=0 if last is None else last.node,
        ids=ids,
        touches=touches,
    )


def _go(now: Now, lock: Lock, target: Saved, *, undone: Saved | None) -> Saved:
    """Go to the state of another save, backwards over `undone` or forwards to the target."""
    over = target if undone is None else undone
    ready = _back(now, kept(now.folder, target.state))
    line = replace(
        over,
        number=now.record.last_number + 1,
        at=time_now(),
        kind="redo" if undone is None else "undo",
        node=target.number,
        tip=now.last.tip,
        parent=0,
        ids=target.ids,
        leans=(),
        token="",
    )
    return _write(now, lock, ready, line)


def _back(now: Now, old: State) -> Ready:
    """Return what brings an old state back, its text to the letter.

    A drawing whose file holds something else by now gets another file, which the text then names.
    """
    table = read_table(old.text, BOOK_FILE)
    here = now.state.drawings
    files: dict[str, str] = {}
    new: dict[str, bytes] = {}
    for row in table.pieces:
        data, file = old.drawing(row.file), row.file
        if here.get(file) != data:
            if file in here or (now.folder / file).exists():
                taken = {*here, *new, *(r.file for r in table.pieces)}
                file = free_name(row.name, taken, now.folder)
            new[file] = data
        files[row.key] = file
    text, book = old.book.decode("utf-8"), old.workbook()
    if any(files[row.key] != row.file for row in table.pieces):
        said = said_by(table, book.unit)
        text = synced(up_to_date(old.text, BOOK_FILE), said, to_plain(book, files))
    return Ready(text, files, new, frozenset(here) - set(files.values()), book)


def _write(now: Now, lock: Lock, ready: Ready, line: Saved) -> Saved:
    """Write copies, line, workbook and mark, in this order; return the line as written.

    What is there now is kept as well: its copy may have been damaged since, and undo needs it.
    """
    folder, here = now.folder, now.state.drawings
    keep(folder, now.state)
    drawings = {file: ready.new.get(file) or here[file] for file in ready.files.values()}
    text = ready.text
    raw = now.state.book if text == now.state.text else text.encode("utf-8")
    state = State(book=raw, drawings=drawings)
    line = replace(line, state=keep(folder, state))
    if not is_still(folder, now.state):
        raise BadInput(
            where=str(folder),
            what="somebody edited the workbook's files this very moment",
            expected="the files as they were a moment ago",
            try_="again; nothing was overwritten",
        )
    record = add_line(folder, now.record, line)
    try:
        put_down(folder, ready, now.state.text, lock)
    except OSError:
        mark(folder, record, done=False)
        raise
    _trim(folder, mark(folder, record, done=True))
    remember(state, ready.book)
    return line


def _trim(folder: Path, record: Record) -> None:
    """Drop what is older than the kept steps, and its copies, once there is enough of it."""
    if len(record.lines) <= MOST_STEPS + MOST_STEPS // 5:
        return
    chain = record.chain()[-MOST_STEPS:]
    wanted = {s.number for s in (*chain, *record.lines[-MOST_STEPS:])}
    if record.last is not None:
        wanted.add(record.last.node)
    lines = tuple(s for s in record.lines if s.number in wanted)
    rewrite(folder, lines)
    drop_unnamed(folder, {s.state for s in lines})
    with contextlib.suppress(ClothwrightError, ValueError):
        drop_pictures(folder, [kept(folder, s.state).text for s in lines])
