"""The one way to write: an edit on what was looked at, put together with what came since.

Two edits go together when they touch different things. What an edit touches is found by comparing
the workbook before and after it, so that no kind of edit can forget to say; what it only relies on
(the plan a rule is added to must not be taken away) it says itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from clothwright.errors import CannotDo, ClothwrightError
from clothwright.store import Opened, Saved
from clothwright.store.history import steps as history
from clothwright.store.history.record import Key
from clothwright.store.history.steps import Made, Now
from clothwright.store.history.touched import clash, touched
from clothwright.words import say, within
from clothwright.workbook import Replay, Workbook, change_title, replay
from clothwright.workroom.editing.edit import Desk, Edit, desk_of

MOST = 160
"""Letters of the longest words kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Committed:
    """What became of an edit.

    now: the workbook with it. saved: its step. words: what was done, for the maker. merged: steps
    of others since the sender looked, which it was put together with. again: True when this very
    message had been done before, or the workbook was that way already, so that nothing was
    written. replayed: the pattern after all changes, when it had to be known to do the edit.
    """

    now: Opened
    saved: Saved
    words: str
    merged: tuple[Saved, ...] = ()
    again: bool = False
    replayed: Replay | None = None

    @property
    def revision(self) -> int:
        """The revision to send with the next edit."""
        return self.now.revision


def apply_edit(book: Workbook, edit: Edit, ids: Sequence[str] = ()) -> Workbook:
    """Return the workbook with an edit done. ids: the lasting names of its changes.

    Without ids a change is named by its number. Raises BadInput, Mistakes, CannotDo; the workbook
    given stays as it is.
    """
    names = tuple(ids) or tuple(f"here-{k + 1}" for k in range(len(book.steps)))
    return desk_of(Opened(book=book, revision=0, ids=names)).done(edit).book


def touches(edit: Edit, at: Opened) -> tuple[Key, ...]:
    """Return what an edit touches: ("cloth", "linen", "width"). Raises what doing it raises."""
    after = desk_of(at).done(edit)
    return touched(at.book, at.ids, after.book, after.ids)


def edit_words(edit: Edit, was: Desk, now: Desk) -> str:
    """Return what an edit did, for the record, in the unit of the workbook."""
    said = say(edit.said(was, now), now.book.unit)
    return said if len(said) <= MOST else said[: MOST - 1].rstrip() + "…"


def commit_edit(folder: Path, edit: Edit, *, base: int, token: str = "") -> Committed:
    """Do an edit on the workbook in a folder and save it as a step that can be undone.

    base: the revision that was looked at. When others have saved since, the edit is put together
    with theirs where it touches other things; else CannotDo says what they did, and nothing is
    written. token: a mark of the sender's own; the same edit sent twice with it is done once.
    Raises BadInput, Mistakes, CannotDo.
    """
    done: _Done | None = None
    was = 0

    def make(now: Now) -> Made | Saved:
        nonlocal done, was
        was = now.last.number
        if token:
            before = next((s for s in reversed(now.record.lines) if s.token == token), None)
            if before is not None:
                return before
        if base > now.last.number:
            history.refuse_moved(now, base, "nothing was changed")
        done = _done(now, edit, base)
        return replace(done.made, token=token)

    saved = history.step(folder, make)
    if done is None:
        return Committed(now=history.opened(folder), saved=saved, words=saved.words, again=True)
    now = Opened(book=done.made.book, revision=saved.number, ids=saved.ids)
    if saved.number <= was:
        words = "It was that way already."
        return Committed(now=now, saved=saved, words=words, again=True, replayed=done.replayed)
    words = saved.words
    if done.merged:
        words += f" (put together with: {history.told(done.merged)})"
    return Committed(now=now, saved=saved, words=words, merged=done.merged, replayed=done.replayed)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Done:
    """An edit done and not yet saved; what it was put together with; its replay, if one was due."""

    made: Made
    merged: tuple[Saved, ...]
    replayed: Replay | None


def _done(now: Now, edit: Edit, base: int) -> _Done:
    here = now.opened()
    seen = here if base == here.revision else now.opened_at(base)
    fresh = f"c{now.record.last_number + 1}"
    was = desk_of(seen, fresh=fresh)
    after = mine = was.done(edit)
    relied = edit.leans(seen)
    keys = touched(seen.book, seen.ids, mine.book, mine.ids)
    if seen is not here:
        was = desk_of(here, base=seen, fresh=fresh)
        words = edit_words(edit, desk_of(seen), mine)
        after = _together(now, edit, was, (keys, relied), words) if keys else was
    works = {d.edit.works(d.was, d.now) for d in after.did if keys} - {""}
    replayed = replay(after.book) if works or (seen is not here and keys) else None
    if replayed is not None:
        told = dict(zip(after.ids, replayed.told, strict=True))
        after = replace(after, told=told)
        _refuse_undone(works, after)
        if seen is not here:
            _refuse_broken(after, (here, Opened(book=mine.book, revision=0, ids=mine.ids)))
    made = Made(
        book=after.book,
        words=edit_words(edit, was, after) if keys else "",
        ids=after.ids,
        leans=relied,
    )
    return _Done(made=made, merged=now.record.since(base), replayed=replayed)


def _together(
    now: Now,
    edit: Edit,
    desk: Desk,
    mine: tuple[tuple[Key, ...], tuple[Key, ...]],
    words: str,
) -> Desk:
    """Return the edit done on the workbook as it is now. Raises CannotDo where it cannot be.

    mine: what it touches, and what it leans on.
    """
    keys, relied = mine
    for line in now.record.since(desk.base.revision):
        met = clash(keys, (*line.touches, *line.leans)) or clash(relied, line.touches)
        if met is None:
            continue
        try:
            after = desk.done(edit)
        except ClothwrightError:
            after = None
        if after is not None and after.book == desk.book:
            return after
        raise CannotDo(
            what=f'"{words}" was not done',
            why=f"meanwhile {_thing(met, desk)} was changed by another step: "
            + history.told((line,)),
            nearest="to look at it as it is now, and to do it again",
        )
    return desk.done(edit)


def _thing(met: tuple[Key, Key], desk: Desk) -> str:
    """Say what two steps both touch, by the longer key."""
    key = max(met, key=len)
    if not key:
        return "the workbook"
    if key[0] == "change" and len(key) > 1:
        known = desk.base.ids
        return f"change {known.index(key[1]) + 1}" if key[1] in known else "a change"
    if len(key) > 2 and key[0] == "plan":
        part = f"the pin of {key[3]}" if key[2] == "pin" and len(key) > 4 else "a rule"
        return part + f' of plan "{key[1]}"' if key[2] in ("pin", "rule") else f'plan "{key[1]}"'
    if len(key) > 1 and key[0] == "companion":
        return f'what "{key[1]}" goes with'
    if len(key) > 1 and key[0] in ("cloth", "plan", "seam", "piece"):
        return f'{key[0]} "{key[1]}"'
    return f"the {key[0].replace('_', ' ')}"


def _refuse_undone(works: set[str], after: Desk) -> None:
    """Raise CannotDo when a change that was added or set cannot be done on these pieces."""
    for name in works:
        told = after.told.get(name)
        if told is not None and told.error:
            verb = "set" if name in after.base.ids else "added"
            title = change_title(told.step.change)
            raise CannotDo(what=f"the change ({within(title)}) was not {verb}", why=told.error)


def _refuse_broken(after: Desk, parents: tuple[Opened, Opened]) -> None:
    """Raise CannotDo when a change can be done in both states, and not in both put together."""
    broken = {name: told.error for name, told in after.told.items() if told.error}
    for parent in parents if broken else ():
        told = zip(parent.ids, replay(parent.book).told, strict=True)
        known = {name for name, t in told if t.error}
        broken = {name: e for name, e in broken.items() if name not in known}
    for name, error in broken.items():
        raise CannotDo(
            what="this does not go together with what was done meanwhile",
            why=f"{after.called(name)} could not be done then: {error}",
            nearest="to look at the workbook as it is now, and to do it again",
        )
