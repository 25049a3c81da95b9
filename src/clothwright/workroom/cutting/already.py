"""What is cut already: kept beside the workbook, and taken back by nothing but an act of its own.

Undo, edits and other plans leave it alone. Wherever a workbook is opened it has it
(`Workbook.cut`), so that every search lays around it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.errors import BadInput, ClothwrightError
from clothwright.lay.cut_piece import CutPiece
from clothwright.lay.order import laying_list
from clothwright.lay.problem import cut_of
from clothwright.rules.weighing.laid import Laid, lay_mark
from clothwright.store.beside.cut import keep_cut, kept_cut
from clothwright.store.beside.places import cut_file, ticks_file
from clothwright.store.book.lock import held
from clothwright.workbook import Workbook
from clothwright.workroom.cutting.ticks import done_ticks
from clothwright.workroom.searching.laying import compile_plan, recall

TICK = "cut "
"""How the key of a tick begins that says a piece is cut; its number in the laying list follows."""


def cut_stamp(folder: FilePath) -> tuple[int, ...]:
    """Return something that differs whenever what is cut may have been changed."""
    try:
        stat = cut_file(folder).stat()
    except OSError:
        return ()
    return (stat.st_mtime_ns, stat.st_size, stat.st_ino)


def cut_in(folder: FilePath, book: Workbook) -> tuple[CutPiece, ...]:
    """Return what is cut of a workbook; where none was kept so far, what was ticked on its lays.

    A program before this one kept a tick for each lay, and no drawing. Raises nothing.
    """
    found = kept_cut(folder)
    return tuple(_ticked(folder, book)) if found is None else found


def tick_cut(folder: FilePath, book: Workbook, laid: Laid, key: str, *, done: bool) -> None:
    """Say that a piece of a lay is cut where it lies, or take that back. Raises BadInput.

    key: of its tick. Undone is what was said of this piece alone.
    """
    number = key.removeprefix(TICK)
    step = next((s for s in laying_list(laid.compiled, laid.lay) if f"{s.number}" == number), None)
    if step is None:
        raise BadInput(where="ticks", what="there is no such piece", expected="one of the list")
    was = _where_cut(laid, step.shape)
    if not done:
        _kept(folder, book, lambda all_: [c for c in all_ if was is None or not _is_at(c, was)])
    elif was is None:
        _kept(folder, book, lambda all_: [*all_, _as_it_lies(laid, step.shape)])


def cut_again(folder: FilePath, book: Workbook, laid: Laid, shape: str) -> bool:
    """Have a piece that is cut be cut once more from what is left, or after all not.

    Return whether it is to be cut once more. The cloth where it lay stays gone. Raises BadInput.
    """
    was = _where_cut(laid, shape)
    if was is None:
        raise BadInput(where="piece", what=f'"{shape[:60]}" is not cut', expected="one that is")
    again = not is_spoilt(book, laid, shape)
    _kept(
        folder,
        book,
        lambda all_: [replace(c, again=again) if _is_at(c, was) else c for c in all_],
    )
    return again


def is_spoilt(book: Workbook, laid: Laid, shape: str) -> bool:
    """Tell whether a shape is what was cut of a piece that is to be cut once more."""
    was = _where_cut(laid, shape)
    return was is not None and any(c.again and _is_at(c, was) for c in book.cut)


def follow_cloths(folder: FilePath, was: Workbook, now: Workbook) -> None:
    """Let what is cut follow a cloth that was renamed: undone, it has its old name again.

    Raises BadInput.
    """
    if len(was.cloths) != len(now.cloths):
        return
    both = zip(was.cloths, now.cloths, strict=True)
    new = {a.name: b.name for a, b in both if a.name != b.name}
    names = [c.name for c in was.cloths]
    mine = [c.cloth_among(names) for c in was.cut]
    if new.keys() & set(mine):
        _kept(
            folder,
            was,
            lambda all_: [
                replace(c, called=(*c.called, new[n])) if (n := c.cloth_among(names)) in new else c
                for c in all_
            ],
        )


def _kept(
    folder: FilePath,
    book: Workbook,
    change: Callable[[Sequence[CutPiece]], Sequence[CutPiece]],
) -> None:
    with held(folder):
        keep_cut(folder, change(cut_in(folder, book)))


def _where_cut(laid: Laid, shape: str) -> CutPiece | None:
    """Return a shape of a lay as it was cut, None when it is not."""
    if shape not in cut_of(laid.compiled.problem):
        return None
    return _as_it_lies(laid, shape)


def _as_it_lies(laid: Laid, shape: str) -> CutPiece:
    copy = laid.compiled.copy(shape)
    place = next(p for p in laid.lay.placements if p.shape == shape)
    return CutPiece(
        shape=shape,
        piece=copy.piece,
        copy=copy.copy,
        material=copy.material,
        cloth=place.region,
        x=place.x,
        y=place.y,
        turn_deg=place.turn_deg,
        flipped=place.flipped,
    )


def _is_at(one: CutPiece, other: CutPiece) -> bool:
    """Tell whether two are of the same place, where but one piece can have been cut."""
    same = ("x", "y", "turn_deg", "flipped", "material")
    here = {one.cloth, *one.called} & {other.cloth, *other.called}
    return bool(here) and all(getattr(one, name) == getattr(other, name) for name in same)


def _ticked(folder: FilePath, book: Workbook) -> Iterator[CutPiece]:
    """Yield the pieces of kept lays that an earlier program's ticks say are cut."""
    if not any(b'"cut ' in f.read_bytes() for f in _lists(folder)):
        return
    for plan in book.plans or (book.plan(),):
        try:
            start = compile_plan(replace(book, cut=()), plan)
            laid = recall(folder, book, plan.name, start)
        except ClothwrightError:
            continue
        if laid is None:
            continue
        done = done_ticks(folder, plan.name, lay_mark(laid.lay))
        for step in laying_list(laid.compiled, laid.lay):
            if f"{TICK}{step.number}" in done:
                yield _as_it_lies(laid, step.shape)


def _lists(folder: FilePath) -> list[FilePath]:
    try:
        return sorted(ticks_file(folder, "a", "0").parent.glob("*.*.json"))
    except OSError:
        return []
