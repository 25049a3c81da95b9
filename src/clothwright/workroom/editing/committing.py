"""The one door for edits: done on what the sender looked at, put together with what came since.

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
from clothwright.words import say
from clothwright.workbook import Replay, Workbook, replay
from clothwright.workroom.editing import kinds
from clothwright.workroom.editing.doing import Desk, done
from clothwright.workroom.editing.words import MOST, edit_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Committed:
    """What became of an edit.

    now: the workbook with it. saved: its step. merged: steps of others since the sender looked,
    which it was put together with. again: True when this very message had been done before, or the
    workbook was that way already, so that nothing was written.
    """

    now: Opened
    saved: Saved
    merged: tuple[Saved, ...] = ()
    again: bool = False

    @property
    def revision(self) -> int:
        """The revision to send with the next edit."""
        return self.now.revision


def apply_edit(book: Workbook, edit: kinds.Edit, ids: Sequence[str] = ()) -> Workbook:
    """Return the workbook with an edit done. ids: the lasting names of its changes.

    Without ids a change is named by its number. Raises BadInput, Mistakes, CannotDo; the workbook
    given stays as it is.
    """
    names = tuple(ids) or tuple(f"here-{k + 1}" for k in range(len(book.steps)))
    seen = Opened(book=book, revision=0, ids=names)
    return done(edit, Desk(book=book, ids=names, base=seen)).book


def touches(edit: kinds.Edit, at: Opened) -> tuple[Key, ...]:
    """Return what an edit touches: ("cloth", "linen", "width"). Raises what doing it raises."""
    after = done(edit, Desk(book=at.book, ids=at.ids, base=at))
    return touched(at.book, at.ids, after.book, after.ids)


def commit_edit(folder: Path, edit: kinds.Edit, *, base: int, token: str = "") -> Committed:
    """Do an edit on the workbook in a folder and save it as a step that can be undone.

    base: the revision that was looked at. When others have saved since, the edit is put together
    with theirs where it touches other things; else CannotDo says what they did, and nothing is
    written. token: a mark of the sender's own; the same edit sent twice with it is done once.
    Raises BadInput, Mistakes, CannotDo.
    """
    merged: tuple[Saved, ...] = ()
    was = 0

    def make(now: Now) -> Made | Saved:
        nonlocal merged, was
        was = now.last.number
        if token:
            before = next((s for s in reversed(now.record.lines) if s.token == token), None)
            if before is not None:
                return before
        if base > now.last.number:
            history.refuse_moved(now, base, _not_done(edit))
        made = _made(now, edit, base, token)
        merged = now.record.since(base)
        return made

    saved = history.step(folder, make)
    now = history.opened(folder)
    again = saved.number <= was
    return Committed(now=now, saved=saved, merged=() if again else merged, again=again)


def _not_done(edit: kinds.Edit) -> str:
    return f'"{edit_words(edit)}" was not done'


def _made(now: Now, edit: kinds.Edit, base: int, token: str) -> Made:
    seen, here = now.opened_at(base), now.opened()
    fresh = f"c{now.record.last_number + 1}"
    mine = done(edit, Desk(book=seen.book, ids=seen.ids, base=seen, fresh=fresh))
    words, relied = edit_words(edit, seen), leans(edit, seen)
    keys = touched(seen.book, seen.ids, mine.book, mine.ids)
    after = mine
    if base != here.revision and keys:
        after = _together(
            now,
            edit,
            Desk(book=here.book, ids=here.ids, base=seen, fresh=fresh),
            (keys, relied),
            words,
        )
    elif not keys:
        after = Desk(book=here.book, ids=here.ids, base=seen)
    result = replay(after.book) if _works_pieces(edit) or base != here.revision else None
    if result is not None:
        _refuse_undone(edit, after, seen, result)
        if base != here.revision:
            _refuse_broken(after, result, (here, Opened(book=mine.book, revision=0, ids=mine.ids)))
        words = _said(edit, after, seen, result) or words
    return Made(book=after.book, words=words, ids=after.ids, leans=relied, token=token)


def _together(
    now: Now,
    edit: kinds.Edit,
    desk: Desk,
    mine: tuple[tuple[Key, ...], tuple[Key, ...]],
    words: str,
) -> Desk:
    """Return the edit done on the workbook as it is now. Raises CannotDo where it cannot be."""
    keys, relied = mine
    for line in now.record.since(desk.base.revision):
        met = clash(keys, (*line.touches, *line.leans)) or clash(relied, line.touches)
        if met is None:
            continue
        try:
            after = done(edit, desk)
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
    return done(edit, desk)


def _thing(met: tuple[Key, Key], desk: Desk) -> str:
    """Say what two steps both touch, by the longer key."""
    key = max(met, key=len)
    if not key:
        return "the workbook"
    if key[0] == "change" and len(key) > 1:
        known = desk.base.ids
        return f"change {known.index(key[1]) + 1}" if key[1] in known else "a change"
    if len(key) > 2 and key[0] == "plan":
        part = f"the pin of {key[3]} {key[4]}" if key[2] == "pin" and len(key) > 4 else "a rule"
        return part + f' of plan "{key[1]}"' if key[2] in ("pin", "rule") else f'plan "{key[1]}"'
    if len(key) > 1 and key[0] in ("cloth", "plan", "seam", "piece"):
        return f'{key[0]} "{key[1]}"' + (f" ({', '.join(key[2:])})" if len(key) > 2 else "")
    return f"the {key[0].replace('_', ' ')}" + (f" ({', '.join(key[1:])})" if len(key) > 1 else "")


def leans(edit: kinds.Edit, at: Opened) -> tuple[Key, ...]:
    """Return what an edit relies on without touching it."""
    out: list[Key] = []
    if isinstance(edit, kinds.Several):
        return tuple(dict.fromkeys(k for e in edit.edits for k in leans(e, at)))
    plan = getattr(edit, "plan", None)
    if isinstance(plan, str) and not isinstance(edit, kinds.AddPlan):
        name = plan
        if not name:
            name = at.book.plan().name
            out.append(("chosen_plan",))
        out.append(("plan", name, "name"))
    if isinstance(edit, kinds.PinShape):
        out += [("cloth", edit.cloth, "name"), ("piece", edit.piece, "name")]
    if isinstance(edit, kinds.AddRule | kinds.SetRule) and isinstance(
        edit.values.get("cloth"), str
    ):
        out.append(("cloth", edit.values["cloth"], "name"))
    if getattr(edit, "values", None) or getattr(edit, "params", None):
        out.append(("unit",))
    return tuple(out)


def _works_pieces(edit: kinds.Edit) -> bool:
    if isinstance(edit, kinds.Several):
        return any(_works_pieces(e) for e in edit.edits)
    return isinstance(edit, kinds.AddChange | kinds.SetChange)


def _mine(edit: kinds.Edit, after: Desk, seen: Opened) -> int | None:
    """Return where the change stands that an edit adds or sets; None for other edits."""
    if isinstance(edit, kinds.AddChange):
        new = [i for i in after.ids if i.startswith(f"{after.fresh}-") and i not in seen.ids]
        return after.ids.index(new[-1]) if new else None
    return after.change(edit.change) if isinstance(edit, kinds.SetChange) else None


def _refuse_undone(edit: kinds.Edit, after: Desk, seen: Opened, result: Replay) -> None:
    """Raise CannotDo when the change that was added or set cannot be done on these pieces."""
    at = _mine(edit, after, seen)
    if at is not None and result.told[at].error:
        step = after.book.steps[at]
        raise CannotDo(
            what=f"{step.change} was not {'added' if isinstance(edit, kinds.AddChange) else 'set'}",
            why=result.told[at].error,
        )


def _refuse_broken(after: Desk, result: Replay, parents: tuple[Opened, Opened]) -> None:
    """Raise CannotDo when a change can be done in both states, and not in both put together."""
    broken = {
        name: told.error for name, told in zip(after.ids, result.told, strict=True) if told.error
    }
    for parent in parents if broken else ():
        told = zip(parent.ids, replay(parent.book).told, strict=True)
        known = {name for name, t in told if t.error}
        broken = {name: e for name, e in broken.items() if name not in known}
    for name, error in broken.items():
        raise CannotDo(
            what="this does not go together with what was done meanwhile",
            why=f"change {after.ids.index(name) + 1} could not be done then: {error}",
            nearest="to look at the workbook as it is now, and to do it again",
        )


def _said(edit: kinds.Edit, after: Desk, seen: Opened, result: Replay) -> str:
    """Return the sentence of the change that was added or set, for the record."""
    at = _mine(edit, after, seen)
    if at is None or not after.book.steps[at].on:
        return ""
    words = say(result.told[at].said, after.book.unit)
    words = words if isinstance(edit, kinds.AddChange) else f"change {at + 1}: {words}"
    return words if len(words) <= MOST else words[: MOST - 1].rstrip() + "…"


def at_once(at: Opened, edit: kinds.Edit) -> Opened:
    """Return the workbook with an edit done and nothing saved: what a drag shows. BadInput."""
    after = done(edit, Desk(book=at.book, ids=at.ids, base=at))
    return replace(at, book=after.book, ids=after.ids)
