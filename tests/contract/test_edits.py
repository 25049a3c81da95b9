"""Every edit keeps its promises: done, undone, merged, said; see CONTRIBUTING.md."""

from __future__ import annotations

import inspect
import pkgutil
import re
import shutil
from dataclasses import fields
from importlib import import_module
from pathlib import Path

import pytest
from tests.contract.edits_table import BOOK, ROWS, Row

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.pattern.pattern import Seam
from clothwright.store import create, load, redo, revision, undo
from clothwright.workbook import Settings
from clothwright.workroom.editing import edits
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits import EDITS, cloths, seams, whole
from clothwright.workroom.editing.edits.whole import RenameWorkbook, SetNotes
from clothwright.workroom.editing.reading import READ, name_of

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


@pytest.mark.parametrize("row", ROWS, ids=row_id)
def test_said_as_a_sentence_in_her_unit(row: Row) -> None:
    """No key, id, dotted name or raw value; no mm in inches; a capital at the front."""
    assert row.words[:1].isupper()
    assert not NOT_WORDS.search(row.words), row.words


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
