"""One edit on the page: what is read, replayed and written for it, counted by instruments."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from clothwright import workbook
from clothwright.geometry.transform import translation
from clothwright.pattern.whole import moved
from clothwright.store import load, piece_to_svg
from clothwright.store.book import piece_read
from clothwright.units import reading

BOOK = "/b/coat-and-skirt"


class Counted:
    """What an edit costs. texts: lengths read from text. drawn: drawings read as pieces.

    applied: changes that were done. written: files that were put in place, by their endings.
    """

    def __init__(self) -> None:
        self.texts: list[str] = []
        self.drawn = self.applied = 0
        self.written: list[str] = []

    def clear(self) -> None:
        self.__init__()

    def endings(self) -> Counter[str]:
        return Counter(Path(name).suffix for name in self.written)


@pytest.fixture
def counted(monkeypatch):
    """Count what is read anew: a length that is known by its text is not read again."""
    count = Counted()
    texts, piece = reading._length_text, piece_read._Reader.piece
    params, put = workbook.read_params, Path.replace

    def text_read(text, unit):
        known = texts.cache_info().misses
        mm = texts(text, unit)
        count.texts += [text] * (texts.cache_info().misses - known)
        return mm

    def piece_seen(reader, name):
        count.drawn += 1
        return piece(reader, name)

    def change_done(*args, **more):
        count.applied += 1
        return params(*args, **more)

    def file_put(draft, file):
        count.written.append(Path(file).name)
        return put(draft, file)

    monkeypatch.setattr(reading, "_length_text", text_read)
    monkeypatch.setattr(piece_read._Reader, "piece", piece_seen)
    monkeypatch.setattr(workbook, "read_params", change_done)
    monkeypatch.setattr(Path, "replace", file_put)
    return count


def edited(desk, count: Counted, edit: dict, page: str) -> None:
    """Look at the page, make the edit, look at the page again; count from the edit on."""
    assert desk.client.get(f"{BOOK}/{page}").status_code == 200
    base = desk.room.book("coat-and-skirt").read().revision
    count.clear()
    answer = desk.post(f"{BOOK}/edit", json={"base": base, "edit": edit})
    assert answer.status_code == 200, answer.text
    assert desk.client.get(f"{BOOK}/{page}").status_code == 200


def test_an_edit_of_a_cloth(desk, counted):
    """The one length as typed, and as it is written; no piece, no change; the text and its copy."""
    edit = {"edit": "set-cloth", "cloth": "bordered wool", "values": {"length": "3.4567 m"}}
    edited(desk, counted, edit, "cloth")
    assert counted.texts == ["3.4567 m", "3456.7 mm"]
    assert (counted.drawn, counted.applied) == (0, 0)
    assert counted.endings() == {".toml": 1, ".gz": 1}


def test_a_change_added_to_eight(desk, counted):
    """The eight before it are not done again, for the edit or for the page that shows it."""
    params = {"edges": ["skirt front.hem"], "depth": "5.4321 cm"}
    edited(desk, counted, {"edit": "add-change", "kind": "set-hem", "params": params}, "changes")
    assert counted.texts == ["5.4321 cm"]
    assert (counted.drawn, counted.applied) == (0, 1)
    assert counted.endings() == {".toml": 1, ".gz": 1}


def test_one_piece_of_eleven_anew(desk, counted):
    """Its drawing is read as it comes and as it is written; the ten others are left alone."""
    piece = moved(load(desk.folder / "coat-and-skirt").bought.pieces[0], translation((5.0, 0.0)))
    edit = {"edit": "add-pieces", "pieces": [piece_to_svg(piece)], "replace": True}
    edited(desk, counted, edit, "pieces")
    assert counted.texts == []
    assert counted.drawn <= 2
    assert counted.endings() == {".toml": 1, ".svg": 1, ".gz": 2}
    assert load(desk.folder / "coat-and-skirt").bought.pieces[0] == piece
