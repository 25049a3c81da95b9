"""clothwright change: the list of changes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import open_book, out, table, write_json
from clothwright.errors import BadInput
from clothwright.words import with_lengths
from clothwright.workroom.changing.alike import said_alike
from clothwright.workroom.changing.forms import BY_TOPIC, form_named
from clothwright.workroom.changing.record import ChangeLine, found_in, lines_of
from clothwright.workroom.editing.asking import Field
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.changes import (
    AddChange,
    MoveChange,
    RemoveChange,
    RepeatChange,
    SetChange,
    SwitchChange,
)
from clothwright.workroom.editing.edits.whole import as_one
from clothwright.workroom.editing.opened import OpenBook

TYPED = {
    "edge": "PIECE.EDGE",
    "edges": "PIECE.EDGE, PIECE.EDGE",
    "point": "PIECE.POINT",
    "place": "PIECE.EDGE or PIECE.POINT",
    "dart": "PIECE.DART",
}
"""How a parameter of a kind is typed, where its kind does not say it."""


def change(
    workbook: Path,
    change: str = "",
    *params: Annotated[str, Parameter(allow_leading_hyphen=True)],
    why: str = "",
    at: int | None = None,
    edit: int | None = None,
    off: int | None = None,
    on: int | None = None,
    remove: int | None = None,
    move: tuple[int, int] | None = None,
    alike: bool = False,
    json: bool = False,
) -> int:
    """Change the pieces: add to the list of changes, edit it, or show it.

    The pattern as bought is never touched; the list is replayed on it. Without a change the list
    is shown. Each call is one step, which `clothwright undo` takes back.
    `clothwright change WORKBOOK kinds` shows every kind of change; a kind without its
    parameters says what it asks for:

    `clothwright change coat crop edges="front.hem,back.hem" length="17 in"`

    Parameters
    ----------
    workbook
        The workbook's folder.
    change
        The kind of change, or "kinds".
    params
        The change's parameters as NAME=VALUE.
    why
        Your reason, for the record.
    at
        Put it in at this place of the list instead of at the end.
    edit
        Give the change of this number these parameters instead.
    off
        Switch the change of this number off.
    on
        Switch it on again.
    remove
        Take the change of this number out of the list.
    move
        Move a change: its number, and its new place.
    alike
        Do the same to what goes with the pieces it changes: linings, facings. With a new change, or
        with the number of one that is there in --edit.
    json
        Write the record as JSON to standard output.
    """
    if change == "kinds":
        _kinds(open_book(workbook), params[0] if params else "")
        return 0
    if edit is not None and "=" in change:
        change, params = "", (change, *params)
    book = open_book(workbook)
    was = book.look()
    only = alike and edit is not None and not (change or params or why)
    also = "yes" if alike else ""
    edits = _edits(change, params, why=why, at=at, edit=edit, alike=also)
    edits = [RepeatChange(change=str(edit))] if only else edits
    edits += [] if off is None else [SwitchChange(change=str(off), on=False)]
    edits += [] if on is None else [SwitchChange(change=str(on), on=True)]
    edits += [] if remove is None else [RemoveChange(change=str(remove))]
    edits += [] if move is None else [MoveChange(change=str(move[0]), to=move[1])]
    if edits:
        was = book.read()
        book.edit(as_one(edits), base=was.revision)
    now = book.read() if edits else was
    done = book.replayed(now)
    lines = lines_of(now.book, done, book.days())
    if json:
        write_json({"format": "clothwright-record/1", "changes": _record(lines)}, "-")
        return 0
    _show(lines)
    if now.book != was.book:
        before, after = found_in(was.book), found_in(now.book, done)
        out.print(f"Findings: {before} before, {after} now. See them with: clothwright walk")
        changed = edit or at or len(now.book.steps)
        others = said_alike(now.book, changed, done) if change or edit is not None else ""
        added = len(now.book.steps) - len(was.book.steps)
        if also and added < (2 if edit is None else 1):
            out.print(
                "Nothing that goes with its pieces has the like of what it names: it is done there "
                "alone."
            )
        if others:
            out.print(f"With it goes {others}. The same there: --edit {changed} --alike")
    return 0


def _edits(
    change: str,
    params: Sequence[str],
    *,
    why: str,
    at: int | None,
    edit: int | None,
    alike: str,
) -> list[Edit]:
    """Return the edit that puts a change into the list or sets one; none when it is only shown."""
    given = _pairs(params)
    if edit is not None:
        return [
            SetChange(change=str(edit), params=given, why=why or None, kind=change, alike=alike)
        ]
    if not change:
        return []
    return [AddChange(kind=change, params=given, why=why, at=at, alike=alike)]


def _pairs(params: Sequence[str]) -> dict[str, object]:
    """Read NAME=VALUE (or --NAME=VALUE) tokens; true and false become flags."""
    out_: dict[str, object] = {}
    for token in params:
        name, equals, value = token.lstrip("-").partition("=")
        if not equals or not name:
            raise BadInput(
                where="change",
                what=f'"{token}" is no parameter',
                expected=with_lengths('NAME=VALUE, for example length="17 in"'),
            )
        word = value.strip()
        out_[name.strip().replace("-", "_")] = {"true": True, "false": False}.get(word, word)
    return out_


def _show(lines: Sequence[ChangeLine]) -> None:
    if not lines:
        out.print("No changes yet: the pieces are as bought.")
        out.print("Kinds of change: clothwright change WORKBOOK kinds")
    for line in lines:
        words = f"NOT DONE: {line.error}" if line.error else line.said
        day = f"  {line.day}." if line.day else ""
        why = f"  ({line.why})" if line.why else ""
        out.print(f"{line.number}. {words}{day}{why}")
        for f in line.figures:
            out.print(f"     {f.what}: {f.before} before, {f.after} after")


def _record(lines: Sequence[ChangeLine]) -> list[dict[str, object]]:
    return [
        {
            "number": line.number,
            "change": line.kind,
            "params": dict(line.params),
            "on": line.on,
            "why": line.why,
            "said": line.said,
            "error": line.error,
            "day": line.day,
            "figures": [f._asdict() for f in line.figures],
        }
        for line in lines
    ]


def _kinds(book: OpenBook, name: str) -> None:
    if not name:
        menu = [(id_, title, topic) for topic, kinds in BY_TOPIC for id_, title in kinds]
        table(("change", "what it does", "about"), menu)
        out.print("What one asks for: clothwright change WORKBOOK kinds NAME")
        return
    at = book.look()
    form = form_named(name, book.replayed(at).pattern, at.book.unit)
    out.print(f"{form.title}. {form.why}")
    rows = [
        (
            f.name,
            TYPED.get(f.kind, f.kind),
            "must be given" if f.must else f.left_out or "–",
            _about(f),
        )
        for f in form.fields
    ]
    table(("parameter", "typed as", "left out", "what it is"), rows)


def _about(field: Field) -> str:
    """Return what a parameter is called in a form, and what can be said of it."""
    choices = [
        f"{key or 'left out'}: {words}" for _, found in field.groups for key, words, _ in found
    ]
    more = (field.help, *choices) if field.kind == "choice" else (field.help,)
    return "; ".join(words for words in (field.label, *more) if words)
