"""One edit on the page is worked out once: counted by instruments, not by the clock."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from clothwright import workbook
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.drawing import piece
from clothwright.outputs import tiled_pdf
from clothwright.store import create
from clothwright.store.book import file, piece_read, piece_svg
from clothwright.units import reading
from clothwright.web.keys import Keys
from clothwright.web.page import Asked
from clothwright.web.pages import PAGES
from clothwright.web.rendering import whole
from clothwright.web.room import Room
from clothwright.workroom.cutting.printing import printed_pieces
from clothwright.workroom.editing.edits.pieces import AddPieces

HEM = {
    "edit": "add-change",
    "kind": "set-hem",
    "params": {"edges": "skirt front.hem", "depth": "4,25 cm"},
}
WIDTH = {"edit": "set-cloth", "cloth": "bordered wool", "values": {"width": "140,75 cm"}}


@contextmanager
def counting(*functions: Callable[..., Any]) -> Iterator[Counter[str]]:
    """Count the calls of functions, however they were imported, in this thread, from cold."""
    bare = [getattr(f, "__wrapped__", f) for f in functions]
    for each in functions:  # what another test has had made before does not count as made
        getattr(each, "cache_clear", lambda: None)()
    codes = {f.__code__: f.__name__ for f in bare}
    counts: Counter[str] = Counter()

    def look(frame: FrameType, event: str, _: object) -> None:
        if event == "call" and frame.f_code in codes:
            counts[codes[frame.f_code]] += 1

    sys.setprofile(look)
    try:
        yield counts
    finally:
        sys.setprofile(None)


@pytest.fixture
def asked(tmp_path: Path) -> Asked:
    """The page looked at, with the big demo on it."""
    create(tmp_path / "w", coat_and_skirt())
    room = Room(root=tmp_path, only=tmp_path / "w")
    asked = Asked(room=room, keys=Keys()).with_book(room.shelf()[0])
    for name in ("changes", "cloth"):
        show(asked, name)
    return asked


def show(asked: Asked, name: str) -> str:
    """Show a page of the workbook as it is now."""
    page = next(p for p in PAGES if p.name == name)
    return whole(page, asked.with_book(asked.opened), PAGES)


@pytest.mark.parametrize(("edit", "name", "replays"), [(HEM, "changes", 1), (WIDTH, "cloth", 0)])
def test_the_changes_are_replayed_once(asked: Asked, edit: object, name: str, replays: int) -> None:
    """An edit of a change and the page that shows it replay the list once; other edits never."""
    with counting(workbook.replay) as counts:
        asked.opened.edit(edit, base=asked.revision)
        show(asked, name)
    assert counts["replay"] == replays


@pytest.mark.parametrize("edit", [HEM, WIDTH])
def test_each_length_is_read_from_its_text_once(
    asked: Asked, edit: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As typed, each text is taken apart once: by the edit, the file's proof and the page after."""
    taken: Counter[str] = Counter()
    parts = reading._parts

    def counted(text: str) -> object:
        taken[text] += 1
        return parts(text)

    monkeypatch.setattr(reading, "_parts", counted)
    reading._length_text.cache_clear()
    asked.opened.edit(edit, base=asked.revision)
    show(asked, "changes")
    assert any("4,25" in t or "140,75" in t or "4.25" in t for t in taken)
    assert set(taken.values()) == {1}


@pytest.mark.parametrize("edit", [HEM, WIDTH])
def test_pieces_that_are_as_they_were_are_not_written(asked: Asked, edit: object) -> None:
    """No drawing is made, none is read anew, none is touched on the disk."""
    drawings = {f: f.stat().st_mtime_ns for f in (asked.opened.folder / "pieces").iterdir()}
    with counting(piece_svg.piece_to_svg, piece_read.piece_from_svg, file.write_whole) as counts:
        asked.opened.edit(edit, base=asked.revision)
        show(asked, "changes")
    assert (counts["piece_to_svg"], counts["piece_from_svg"]) == (0, 0)
    assert {f: f.stat().st_mtime_ns for f in drawings} == drawings
    assert 0 < counts["write_whole"] <= 3  # the record's copy, workbook.toml, and its mark


def test_a_piece_put_in_the_place_of_another_is_the_only_one_written(asked: Asked) -> None:
    """One drawing is made; the others keep their files."""
    folder = asked.opened.folder / "pieces"
    before = {f.name: f.stat().st_mtime_ns for f in folder.iterdir()}
    first = replace(asked.book.bought.pieces[0], note="from another sheet")
    with counting(piece_svg.piece_to_svg) as counts:
        asked.opened.edit(AddPieces(pieces=(first,), replace=True), base=asked.revision)
    after = {f.name: f.stat().st_mtime_ns for f in folder.iterdir()}
    assert counts["piece_to_svg"] == 1
    assert len([name for name in after if after[name] != before.get(name)]) == 1


def test_a_print_job_plans_its_pages_once_and_draws_each_piece_once() -> None:
    """All that is printed by one job: pages, sheet, drawings, from one drawing of each piece."""
    book = checked_waistcoat()
    with counting(tiled_pdf.plan_pages, piece.piece_picture) as counts:
        files = printed_pieces(book)
    assert {f.name.split("/")[0] for f in files} >= {"pieces-a4.pdf", "pieces-sheet.pdf", "pieces"}
    assert counts == {"plan_pages": 1, "piece_picture": len(book.bought.pieces)}


def test_the_instruments_count() -> None:
    """A function called twice is counted twice; one that is not asked about, not at all."""
    with counting(reading.parse_length) as counts:
        reading.parse_length("1 in", unit=reading.Unit.cm)
        reading.parse_length("1 in", unit=reading.Unit.cm)
        reading.parse_angle_deg("1")
    assert counts == {"parse_length": 2}
