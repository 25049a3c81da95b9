"""The workbooks that are open: found in one folder, read by revision, edited, undone, redone.

The one place through which a door reads and writes a workbook, a page as well as a command.
"""

from __future__ import annotations

import re
import threading
import tomllib
from collections.abc import Callable, Mapping
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

from clothwright.errors import BadInput, ClothwrightError, did_you_mean, one_of
from clothwright.lay.cut_piece import CutPiece
from clothwright.store import (
    BOOK_FILE,
    Opened,
    Saved,
    Undoable,
    create,
    holds_workbook,
    is_workbook,
    load,
    opened,
    readable,
)
from clothwright.store.disk import disk_told
from clothwright.store.history import recover
from clothwright.store.history import steps as history
from clothwright.store.history.recover import Earlier
from clothwright.store.noticed import Notice, noticed, put_away
from clothwright.units import Unit, parse_unit
from clothwright.workbook import Replay, Settings, Workbook, replay
from clothwright.workroom.cutting.already import cut_in, cut_stamp, follow_cloths
from clothwright.workroom.editing.committing import Committed, commit_edit
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.reading import edit_from

DEEP = 2
"""Workbooks are looked for in the folder, its folders, and theirs."""
MOST_SHELVED = 200
News = Mapping[str, object]
"""What those who look at a workbook are told: a kind, a topic, and what belongs to it."""
T = TypeVar("T")
JOINT = "~"
"""Stands for the "/" of a path in a workbook's name in addresses."""


def root_of(folder: Path, whole: bool | None = None) -> tuple[Path, Path | None]:
    """Return where a shelf stands, and the one workbook on it when the folder is one.

    whole: all of the folder; None decides by what the folder is. Raises BadInput.
    """
    if not folder.is_dir():
        raise BadInput(
            where=str(folder),
            what="there is no such folder",
            expected="a workbook's folder, or a folder of workbooks",
            try_="clothwright open",
        )
    here = folder.resolve()
    one = holds_workbook(here) if whole is None else not whole
    return (here.parent, here) if one else (here, None)


def begin(folder: Path, title: str, unit: str) -> None:
    """Make an empty workbook in a folder. title: "" takes the folder's name. Raises BadInput."""
    create(folder, empty_book(title or folder.name, parse_unit(unit, where="--unit")))


def empty_book(title: str, unit: Unit) -> Workbook:
    """Return a workbook with nothing in it, on the paper that is usual where `unit` is."""
    paper = "A4" if unit.is_metric else "Letter"
    return Workbook(title=title, unit=unit, settings=Settings(paper=paper))


def unit_of(folder: Path) -> Unit | None:
    """Return the unit a workbook is kept in, by its file alone; None where none can be read.

    What goes wrong is said in her unit, also when the rest of the workbook cannot be read.
    """
    if not is_workbook(folder):
        return None
    try:
        data = tomllib.loads(readable(folder / BOOK_FILE).read_text("utf-8"))
        return parse_unit(data.get("unit", Unit.cm.value))
    except (OSError, ValueError, TypeError, RecursionError, BadInput):
        return None


class NotThere(BadInput):
    """A workbook that is not on the shelf was asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What became of an edit, undo or redo: the new revision, and a sentence for the maker.

    step: what was undone or done again, "" when there was nothing.
    """

    revision: int
    words: str
    step: str = ""


@dataclass(slots=True)
class _Made:
    """Something made, or being made, of a revision and of whatever else (`of`)."""

    of: object
    job: Future[Any] = field(default_factory=Future)


def _to_nobody(name: str, news: News) -> None:
    """Tell nobody: nobody else looks at the workbook."""


@dataclass(slots=True)
class OpenBook:
    """One workbook. name: what it is called in addresses (its place below the shelf's folder).

    to: whom to tell by the workbook's name that it has changed; without it nobody is told.
    """

    name: str
    folder: Path
    to: Callable[[str, News], None] = _to_nobody
    _at: Opened | None = None
    _made: dict[str, _Made] = field(default_factory=dict)
    _lock: threading.RLock = field(default_factory=threading.RLock)
    _cut: tuple[object, tuple[CutPiece, ...]] = (None, ())

    def read(self) -> Opened:
        """Return the workbook as it is on the disk now. Raises BadInput, Mistakes."""
        with self._lock:
            now = self._with_cut(opened(self.folder, self._at))
            if now is not self._at:
                self._at, self._made = now, {}
            return now

    def look(self) -> Opened:
        """Return the workbook to be shown alone: no record of it is begun, and it has no revision.

        Raises BadInput, Mistakes.
        """
        return self._with_cut(Opened(book=load(self.folder), revision=0, ids=()))

    def _with_cut(self, at: Opened) -> Opened:
        """Return the workbook with what is cut of it, which is read when its file has changed."""
        with self._lock:
            stamp = cut_stamp(self.folder)
            if self._cut[0] != stamp:
                self._cut = (stamp, cut_in(self.folder, at.book))
            cut = self._cut[1]
        return at if at.book.cut is cut else replace(at, book=replace(at.book, cut=cut))

    def once(self, name: str, at: int, make: Callable[[], T], *, of: object = None) -> T:
        """Return what `make` makes of revision `at`, made once and kept until the next edit.

        of: what it is made of besides; when that is another, it is made anew and the old forgotten.
        It is made without any lock: whoever asks for the same meanwhile waits for it, nobody else.
        """
        with self._lock:
            if self._at is None or self._at.revision != at:
                mine, made = True, _Made(of)
            else:
                found = self._made.get(name)
                mine = found is None or found.of != of
                made = _Made(of) if found is None or mine else found
                self._made[name] = made
        if mine:
            self._make(name, made, make)
        result: T = made.job.result()
        return result

    def _make(self, name: str, made: _Made, make: Callable[[], object]) -> None:
        try:
            made.job.set_result(make())
        except BaseException as error:  # noqa: BLE001 (whoever waits for it is told as well)
            with self._lock:
                if self._made.get(name) is made:
                    del self._made[name]
            made.job.set_exception(error)

    def replayed(self, at: Opened) -> Replay:
        """Return the pattern after all changes, and the record of each."""
        return self.once("replay", at.revision, lambda: replay(at.book))

    def edit(self, edit: object, *, base: int, token: str = "") -> Result:
        """Do an edit, also one given as plain data ({"edit": "set-cloth", ...}); tell every page.

        base: the revision the sender looked at. Raises BadInput, Mistakes, CannotDo; then nothing
        was written.
        """
        told = edit if isinstance(edit, Edit) else edit_from(edit)
        was = self.read().book if cut_stamp(self.folder) else None
        done = commit_edit(self.folder, told, base=base, token=token)
        if was is not None:
            follow_cloths(self.folder, was, done.now.book)
        self._take(done)
        self.tell_changed(done.revision)
        return Result(revision=done.revision, words=done.words)

    def _take(self, done: Committed) -> None:
        """Keep the workbook that was just saved, with its replay, so that neither is made again."""
        with self._lock:
            was, made = self._at, self._made.get("replay")
            if done.replayed is not None:
                made = _Made(None)
                made.job.set_result(done.replayed)
            elif was is None or not _same_pieces(was.book, done.now.book):
                made = None
            self._at = self._with_cut(done.now)
            self._made = {} if made is None else {"replay": made}

    def undo(self, *, base: int | None = None) -> Result:
        """Undo the last step; base: the revision looked at, None whatever it is by now.

        Raises BadInput, Mistakes, CannotDo.
        """
        return self._went(
            history.undo(self.folder, base=base), "Undone", "There is nothing to undo."
        )

    def redo(self, *, base: int | None = None) -> Result:
        """Do the last undone step again; base as in `undo`. Raises BadInput, Mistakes, CannotDo."""
        return self._went(
            history.redo(self.folder, base=base), "Done again", "There is nothing to do again."
        )

    def steps(self) -> tuple[Undoable, ...]:
        """Return what can be undone and redone, oldest first. Raises BadInput, Mistakes."""
        return history.steps(self.folder)

    def days(self) -> tuple[str, ...]:
        """Return the day on which each change of the list was added, "" where nobody knows.

        As the maker's calendar has it, YYYY-MM-DD; () where the list is another by now.
        """
        with suppress(ClothwrightError, OSError, ValueError):
            at = history.when_added(self.folder)
            return tuple(
                datetime.fromisoformat(t).astimezone().date().isoformat() if t else "" for t in at
            )
        return ()

    def earlier(self, most: int = 0) -> tuple[Earlier, ...]:
        """Return the states that can be brought back, newest first; none while it can be opened.

        most: 0 for all. Raises BadInput when the disk fails.
        """
        with disk_told(str(self.folder), "what was saved earlier cannot be read"):
            return () if recover.opens(self.folder) else recover.earlier(self.folder, most)

    def bring_back(self, state: str = "") -> Result:
        """Bring an earlier state back; "" for the newest that is whole. Raises CannotDo, BadInput.

        Only a workbook that cannot be opened is brought back; what lies there is set aside.
        """
        saved = recover.bring_back(self.folder, state)
        self.tell_changed(saved.number)
        return Result(revision=saved.number, words=f"Brought back: {saved.words}", step=saved.words)

    def notices(self) -> tuple[Notice, ...]:
        """Return what is to be told about the workbook's folder; quick, and raises nothing."""
        return noticed(self.folder)

    def put_away(self, lies: str) -> str:
        """Tell a notice no more; say so. lies: what it speaks of. Raises BadInput."""
        put_away(self.folder, lies)
        self.tell("noticed")
        return "This is told no more. The file stays where it is."

    def _went(self, saved: Saved | None, lead: str, nothing: str) -> Result:
        if saved is None:
            return Result(revision=self.read().revision, words=nothing)
        self.tell_changed(saved.number)
        return Result(revision=saved.number, words=f"{lead}: {saved.words}", step=saved.words)

    def tell_changed(self, at: int) -> None:
        """Tell every page of this workbook that it is at another revision."""
        self.tell("book", revision=at)

    def tell(self, topic: str, **more: object) -> None:
        """Tell every page of this workbook that there is news on a topic ("lay", "plans")."""
        self.to(self.name, {"kind": "event", "topic": topic, **more})

    def progress(self, topic: str, words: str, *, share: float | None = None) -> None:
        """Tell how far a long work is. share: 0 to 1, None when nobody knows."""
        self.to(self.name, {"kind": "progress", "topic": topic, "words": words, "share": share})

    def stamp(self) -> tuple[object, ...]:
        """Return something that differs whenever the files may have been changed."""
        seen: list[object] = []
        for file in (self.folder / BOOK_FILE, self.folder / "pieces"):
            try:
                stat = file.stat()
                seen += [stat.st_mtime_ns, stat.st_size]
            except OSError:
                seen.append(None)
        return tuple(seen)


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """An open workbook as somebody looks at it, or None for a look at no workbook.

    open_book, at: the workbook, and its state in this look: `book` and `revision` belong together,
    and reading it once more might give another state.
    """

    open_book: OpenBook | None = None
    at: Opened | None = None

    @property
    def opened(self) -> OpenBook:
        """The open workbook, to edit it or to tell its readers something."""
        if self.open_book is None:
            raise LookupError("this page belongs to no workbook")
        return self.open_book

    @property
    def seen(self) -> Opened:
        """The workbook as it is in this look, with its revision."""
        if self.at is None:
            raise LookupError("this page belongs to no workbook")
        return self.at

    @property
    def book(self) -> Workbook:
        """The workbook as it is in this look."""
        return self.seen.book

    @property
    def revision(self) -> int:
        """Its revision; an edit is sent with it."""
        return self.at.revision if self.at else 0

    @property
    def replayed(self) -> Replay:
        """The pattern after all changes, and the record of each; replayed once a revision."""
        return self.opened.replayed(self.seen)


@dataclass(slots=True)
class Shelf:
    """A folder and the workbooks in it. only: the one workbook that is open, if not all are.

    to: whom to tell, by the workbook's name, that one has changed.
    """

    root: Path
    only: Path | None = None
    to: Callable[[str, News], None] = _to_nobody
    _books: dict[str, OpenBook] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def may_add(self) -> bool:
        """Tell whether new workbooks may be made in the folder."""
        return self.only is None

    def shelf(self) -> tuple[OpenBook, ...]:
        """Return every workbook here, by name."""
        root = self.root.resolve()
        folders = [self.only] if self.only is not None else list(_workbooks(root, DEEP))
        found: dict[str, OpenBook] = {}
        for folder in folders[:MOST_SHELVED]:
            name = JOINT.join(folder.resolve().relative_to(root).parts) or "here"
            with self._lock:
                book = self._books.setdefault(name, OpenBook(name=name, folder=folder, to=self.to))
            found[name] = book
        return tuple(found[name] for name in sorted(found))

    def book(self, name: str) -> OpenBook:
        """Return a workbook by its name in addresses. Raises BadInput.

        The name is looked up among those found, never made into a path.
        """
        known = self._books.get(name)
        if known is not None and holds_workbook(known.folder):
            return known
        shelf = {b.name: b for b in self.shelf()}
        if name in shelf:
            return shelf[name]
        hint = did_you_mean(name, shelf, "There are none yet.")
        raise NotThere(
            what=f'there is no workbook "{name}" here.{hint}',
            expected=one_of(shelf),
        )

    def add(self, name: str, book: Workbook) -> OpenBook:
        """Make a workbook in a new folder; a name that is taken gets a number. Raises BadInput."""
        if not self.may_add:
            raise BadInput(
                what="only one workbook is open here",
                expected="the whole folder",
                try_="clothwright open without a workbook",
            )
        plain = folder_name(name)
        target, n = self.root / plain, 2
        while target.exists():
            target, n = self.root / f"{plain} {n}", n + 1
        create(target, book)
        return self.book(target.name)


def _same_pieces(a: Workbook, b: Workbook) -> bool:
    """Tell whether the changes of two workbooks come to the same."""
    return (a.bought, a.steps, a.unit) == (b.bought, b.steps, b.unit)


def folder_name(title: str) -> str:
    """Return a folder's name for a title: its letters, figures and hyphens. Raises BadInput.

    >>> folder_name("Spring coat / 2")
    'Spring coat 2'
    """
    words = re.sub(r"[^\w\- ]+", " ", title, flags=re.UNICODE)
    plain = " ".join(words.split())[:60].strip(" .")
    if not plain:
        raise BadInput(
            where="title",
            what="a workbook needs a name" if not title.strip() else f'"{title}" has no letters',
            expected="some letters or digits",
            try_="Spring coat",
        )
    return plain


def _workbooks(folder: Path, deep: int) -> list[Path]:
    found = [folder] if holds_workbook(folder) else []
    if deep == 0 or found:
        return found
    try:
        inside = sorted(p for p in folder.iterdir() if p.is_dir() and not p.is_symlink())
    except OSError:
        return found
    for each in inside:
        if not each.name.startswith("."):
            found += _workbooks(each, deep - 1)
    return found
