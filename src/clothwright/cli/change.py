"""clothwright change: the list of changes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import MISSING, fields
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.changes import CHANGES
from clothwright.cli.saying import open_book, out, table, write_json
from clothwright.errors import BadInput
from clothwright.units import Unit
from clothwright.words import say, show_fraction, show_length
from clothwright.workbook import Told, Workbook, change_of
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.changes import (
    AddChange,
    MoveChange,
    RemoveChange,
    SetChange,
    SwitchChange,
)
from clothwright.workroom.editing.edits.whole import Several
from clothwright.workroom.walking.checking import findings_of

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
    json
        Write the record as JSON to standard output.
    """
    if change == "kinds":
        _kinds(params[0] if params else "")
        return 0
    if edit is not None and "=" in change:
        change, params = "", (change, *params)
    book = open_book(workbook)
    edits = _edits(change, params, why=why, at=at, edit=edit)
    edits += [] if off is None else [SwitchChange(change=str(off), on=False)]
    edits += [] if on is None else [SwitchChange(change=str(on), on=True)]
    edits += [] if remove is None else [RemoveChange(change=str(remove))]
    edits += [] if move is None else [MoveChange(change=str(move[0]), to=move[1])]
    was = book.read() if edits else book.look()
    if edits:
        one = edits[0] if len(edits) == 1 else Several(edits=tuple(edits))
        book.edit(one, base=was.revision)
    now = book.read() if edits else was
    told = book.replayed(now).told
    if json:
        write_json({"format": "clothwright-record/1", "changes": _record(now.book, told)}, "-")
        return 0
    _show(now.book, told)
    if now.book != was.book:
        _before_after(was.book, now.book)
    return 0


def _edits(
    change: str, params: Sequence[str], *, why: str, at: int | None, edit: int | None
) -> list[Edit]:
    """Return the edit that puts a change into the list or sets one; none when it is only shown."""
    given = _pairs(params)
    if edit is not None:
        kind = change_of(change).id if change else ""
        return [SetChange(change=str(edit), params=given, why=why or None, kind=kind)]
    if not change:
        return []
    return [AddChange(kind=change_of(change).id, params=given, why=why, at=at)]


def _pairs(params: Sequence[str]) -> dict[str, object]:
    """Read NAME=VALUE (or --NAME=VALUE) tokens; true and false become flags."""
    out_: dict[str, object] = {}
    for token in params:
        name, equals, value = token.lstrip("-").partition("=")
        if not equals or not name:
            raise BadInput(
                where="change",
                what=f'"{token}" is no parameter',
                expected='NAME=VALUE, for example length="17 in"',
            )
        word = value.strip()
        out_[name.strip().replace("-", "_")] = {"true": True, "false": False}.get(word, word)
    return out_


def _show(book: Workbook, told: Sequence[Told]) -> None:
    if not told:
        out.print("No changes yet: the pieces are as bought.")
        out.print("Kinds of change: clothwright change WORKBOOK kinds")
    for t in told:
        words = f"NOT DONE: {t.error}" if t.error else say(t.said, book.unit)
        why = f"  ({t.step.why})" if t.step.why else ""
        out.print(f"{t.number}. {t.step.change}: {words}{why}", markup=False)


def _before_after(before: Workbook, after: Workbook) -> None:
    was, now = len(findings_of(before)), len(findings_of(after))
    out.print(f"Findings: {was} before, {now} now. See them with: clothwright walk")


def _record(book: Workbook, told: Sequence[Told]) -> list[dict[str, object]]:
    return [
        {
            "number": t.number,
            "change": t.step.change,
            "params": dict(t.step.params),
            "on": t.step.on,
            "why": t.step.why,
            "said": say(t.said, book.unit),
            "error": t.error,
        }
        for t in told
    ]


def _kinds(name: str) -> None:
    if not name:
        table(("change", "what it does"), [(c.id, c.title) for c in CHANGES])
        out.print("What one asks for: clothwright change WORKBOOK kinds NAME")
        return
    change = change_of(name)
    out.print(f"{change.title}. {change.why}", markup=False)
    rows = [
        (
            f.name,
            TYPED.get(f.metadata["kind"], f.metadata["kind"]),
            "must be given"
            if f.default is MISSING
            else _default_words(f.default, kind=f.metadata["kind"]),
            f.metadata["help"],
        )
        for f in fields(change.params)  # type: ignore[arg-type]
    ]
    table(("parameter", "typed as", "left out", "what it is"), rows)


def _default_words(value: object, *, kind: str) -> str:
    """Say what a parameter is when it is left out; lengths in mm, nothing as a dash."""
    if value is None or value in ("", ()):
        return "–"
    if kind == "share" and isinstance(value, float):
        return show_fraction(value)
    if kind == "length" and isinstance(value, int | float):
        return show_length(float(value), Unit.mm)
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)
