"""Every edit keeps its promises: done, undone, merged, said; see CONTRIBUTING.md."""

from __future__ import annotations

import inspect
import os
import pkgutil
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from tests.contract.edits_table import BOOK, ROWS, Row
from tests.store.history.saving import revision
from tests.words.walker import strays

from clothwright.cli.app import run
from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Seam
from clothwright.store import Opened, create, load, redo, undo
from clothwright.units import Unit
from clothwright.workbook import Settings
from clothwright.workroom.editing import edits
from clothwright.workroom.editing.committing import apply_edit, commit_edit, edit_words
from clothwright.workroom.editing.edit import Edit, desk_of
from clothwright.workroom.editing.edits import EDITS, changes, cloths, seams, whole
from clothwright.workroom.editing.edits.whole import RenameWorkbook, SetNotes
from clothwright.workroom.editing.reading import READ, name_of
from clothwright.workroom.editing.typing import can_be_typed

ROOT = Path(__file__).parents[2]
NOT_WORDS = re.compile(r"\w\.\w|\w_\w|\{|\}|\bNone\b|\bTrue\b|\bmm\b|set-|<")
"""A dotted name, a key, a raw value, mm in a workbook of inches."""


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workbook as it was before any edit."""
    folder = tmp_path_factory.mktemp("edits") / "w"
    create(folder, BOOK)
    revision(folder)
    return folder


@pytest.fixture
def folder(first: Path, tmp_path: Path) -> Path:
    """A copy of it for one edit."""
    return Path(shutil.copytree(first, tmp_path / "w"))


def defined() -> set[type[Edit]]:
    """Every record of an edit in the files beside the list."""
    found = [
        import_module(f"{edits.__name__}.{m.name}") for m in pkgutil.iter_modules(edits.__path__)
    ]
    return {
        value
        for module in found
        for value in vars(module).values()
        if inspect.isclass(value)
        and issubclass(value, Edit)
        and value.__module__ == module.__name__
    }


def test_every_edit_is_in_the_list_once_and_has_a_row() -> None:
    """What a file of edits defines is listed, and each is in the table of promises."""
    assert len(set(EDITS)) == len(EDITS)
    assert defined() == set(EDITS)
    assert {type(row.edit) for row in ROWS} == set(EDITS)


def test_every_edit_is_explained_and_can_be_read_from_data() -> None:
    """Each has a docstring, fields of kinds that plain data can give, and its line in the docs."""
    page = (ROOT / "docs" / "history.md").read_text(encoding="utf-8")
    for kind in EDITS:
        assert kind.__doc__
        assert all(str(f.type) in READ for f in fields(kind)), kind
        assert f"`{name_of(kind)}`" in page, kind


def row_id(row: Row) -> str:
    return f"{name_of(type(row.edit))}: {row.words[:30]}"


@pytest.mark.parametrize("row", ROWS, ids=row_id)
def test_done_undone_and_done_again(folder: Path, row: Row) -> None:
    """It differs, undo brings back what was, redo what it did."""
    made = commit_edit(folder, row.edit, base=revision(folder))
    after = load(folder)
    assert made.now.book == after != BOOK
    begun, open_, _ = row.words.partition("…")
    assert made.saved.words.startswith(begun)
    assert open_ or made.saved.words == begun
    assert undo(folder) is not None
    assert load(folder) == BOOK
    assert redo(folder) is not None
    assert load(folder) == after


def test_what_mends_a_finding_is_refused_once_the_pieces_were_changed(folder: Path) -> None:
    """Two mends of one finding pressed one after the other: the second was found before the first.

    So it is when a change of the list was set otherwise. Whatever else was edited meanwhile does
    not matter.
    """
    row = next(r for r in ROWS if isinstance(r.edit, changes.AddChange) and r.edit.at is None)
    mend = replace(row.edit, found="yes")
    other = next(r for r in ROWS if isinstance(r.edit, changes.SetChange) and r.edit.params)
    earlier = revision(folder)
    commit_edit(folder, other.edit, base=earlier)
    with pytest.raises(CannotDo, match="changed after it was found"):
        commit_edit(folder, mend, base=earlier)
    seen = revision(folder)
    commit_edit(folder, SetNotes(notes="bought in spring"), base=seen)
    commit_edit(folder, mend, base=seen)
    once = load(folder)
    with pytest.raises(CannotDo, match="changed after it was found"):
        commit_edit(folder, mend, base=seen)
    assert load(folder) == once


@pytest.mark.parametrize("row", ROWS, ids=row_id)
def test_said_as_a_sentence_in_her_unit(row: Row) -> None:
    """No key, id, dotted name or raw value; no mm in inches; a capital at the front."""
    assert row.words[:1].isupper()
    assert not NOT_WORDS.search(row.words), row.words
    ids = tuple(f"c{n}" for n in range(len(BOOK.steps)))
    was = desk_of(Opened(book=BOOK, revision=1, ids=ids))
    now = was.done(row.edit)
    for unit in (Unit.inch, Unit.cm):
        words = edit_words(row.edit, was, now.with_book(unit=unit))
        assert strays(words, unit, BOOK.bought) == []


@pytest.mark.parametrize("row", ROWS, ids=row_id)
def test_put_together_with_what_others_did(folder: Path, row: Row) -> None:
    """Another device has saved something else since: both are there."""
    base = revision(folder)
    notes = isinstance(row.edit, SetNotes | whole.Several)
    other = RenameWorkbook(title="theirs") if notes else SetNotes(notes="theirs")
    commit_edit(folder, other, base=base)
    theirs = load(folder)
    made = commit_edit(folder, row.edit, base=base)
    assert len(made.merged) == 1
    now = load(folder)
    assert now != theirs
    assert (now.title, now.notes)[0 if notes else 1] == "theirs"


def bare(value: Any) -> Any:
    """The same, typed without a unit where it was said in inches, the unit of BOOK."""
    if isinstance(value, str):
        return re.sub(r"(?<=\d) in\b", "", value)
    if isinstance(value, tuple):
        return tuple(map(bare, value))
    if isinstance(value, Mapping):
        return {k: bare(v) for k, v in value.items()}
    if isinstance(value, Edit):
        return replace(value, **{f.name: bare(getattr(value, f.name)) for f in fields(value)})
    return value


@pytest.mark.parametrize("row", ROWS, ids=row_id)
def test_lengths_typed_are_meant_in_the_unit_that_was_looked_at(folder: Path, row: Row) -> None:
    """The unit has been changed elsewhere since: it is refused, or does what was meant."""
    base, edit = revision(folder), bare(row.edit)
    meant = apply_edit(apply_edit(BOOK, edit), whole.SetUnit(unit="cm"))
    commit_edit(folder, whole.SetUnit(unit="cm"), base=base)
    refused = ""
    try:
        commit_edit(folder, edit, base=base)
    except CannotDo as error:
        refused = str(error)
    assert "Lengths are shown in centimetres now" in refused or load(folder) == meant


def test_every_field_has_its_words() -> None:
    """A field that an edit can set is said by name in the record; a new one is not forgotten."""
    told = (
        (Cloth, cloths.CLOTH),
        (Print, cloths.PRINT),
        (Border, cloths.BORDER | {"name": None}),
        (Figure, {"name": None, "x": None, "y": None, "radius": None}),
        (Flaw, {"name": None, "ring": None, "margin": None}),
        (Seam, seams.SEAM),
        (Settings, whole.SETTINGS),
    )
    for kind, ways in told:
        assert {f.name for f in fields(kind)} == set(ways), kind


def typed(edit: Edit) -> list[str] | None:
    """The entries of an edit as they are typed, None where one holds a list of tables."""

    def told(name: str, value: Any) -> Iterator[str]:
        if isinstance(value, Mapping):
            for key, one in value.items():
                yield from told(f"{name}.{key}", one)
        elif isinstance(value, tuple | list):
            if not all(isinstance(one, str) for one in value):
                raise TypeError
            yield from (f"{name}[]={one}" for one in value)
        else:
            words = {True: "true", False: "false", None: "none"}
            yield f"{name}={words[value] if isinstance(value, bool | None) else value}"

    given = ((f.name, getattr(edit, f.name)) for f in fields(edit) if _said(f, edit))
    try:
        return [words for name, value in given for words in told(name, value)]
    except TypeError:
        return None


def _said(field: Any, edit: Edit) -> bool:
    value = getattr(edit, field.name)
    return value not in (field.default, {}, ())


def test_every_edit_can_be_typed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`clothwright edit` does each of the table; those left out are made of other edits' values."""
    done = set()
    for row in ROWS:
        entries = typed(row.edit)
        if entries is None or type(row.edit) is whole.Several:
            continue
        here = shutil.copytree(folder, folder.parent / f"typed-{len(done)}", dirs_exist_ok=True)
        name = name_of(type(row.edit))
        assert run(["edit", str(here), name, *entries]) == 0, capsys.readouterr().err
        assert row.words.partition("…")[0] in capsys.readouterr().out
        assert load(here) == apply_edit(BOOK, row.edit)
        done.add(name)
    assert done == {each.name for each in can_be_typed()}
    assert {name_of(k) for k in EDITS} - done == {"several", "put-plans", "add-pieces"}


THROWAWAY = '''

@dataclass(frozen=True, slots=True, kw_only=True)
class StarWorkbook(Edit):
    """Put stars behind the title."""

    stars: int = 1

    def do(self, desk: Desk) -> Desk:
        """Put them there."""
        return desk.with_book(title=desk.book.title + "*" * self.stars)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say how many."""
        return (f"Put {self.stars} stars behind the title",)
'''
TRY = """
import sys
from pathlib import Path
from clothwright.store import load, undo
from clothwright.workroom.editing.opened import OpenBook
book = OpenBook(name="w", folder=Path(sys.argv[1]))
base = book.read().revision
book.edit({"edit": "set-notes", "notes": "theirs"}, base=base)
print(book.edit({"edit": "star-workbook", "stars": 2}, base=base).words)
print(load(book.folder).title, book.undo().step)
"""


def test_a_throwaway_edit_is_one_record_and_one_line(folder: Path, tmp_path: Path) -> None:
    """Planted in one file and named in the tuple, it is read, done, merged, said and undone."""
    skip = shutil.ignore_patterns("__pycache__", "static", "templates")
    shutil.copytree(ROOT / "src", tmp_path / "src", ignore=skip)
    here = tmp_path / "src" / "clothwright" / "workroom" / "editing" / "edits"
    with (here / "whole.py").open("a", encoding="utf-8") as file:
        file.write(THROWAWAY)
    listed = (here / "__init__.py").read_text(encoding="utf-8")
    line = "    whole.Several,\n"
    assert line in listed
    (here / "__init__.py").write_text(listed.replace(line, line + "    whole.StarWorkbook,\n"))
    done = subprocess.run(
        [sys.executable, "-c", TRY, str(folder)],
        env={**os.environ, "PYTHONPATH": str(tmp_path / "src")},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.stdout.splitlines() == [
        'Put 2 stars behind the title (put together with: "Other notes")',
        f"{BOOK.title}** Put 2 stars behind the title",
    ], done.stderr
