"""Damage in the record of saves costs the line it hit and no other."""

from __future__ import annotations

import json

import pytest

from clothwright.store import create, load, opened, redo, undo
from clothwright.store import steps as steps_of
from clothwright.store.history.record import RECORD, read_record
from tests.store.book.test_file import BOOK, state
from tests.store.history.damaging import lost_by, rows_of
from tests.store.history.saving import save_step

EVERY = 23
"""Damage at every so many bytes of a line, besides its ends; `bench/lost.py` tries them all."""


@pytest.fixture(scope="module")
def saved(tmp_path_factory):
    """A workbook with some ten steps, two of them undone and one done again."""
    folder = tmp_path_factory.mktemp("damage") / "w"
    create(folder, BOOK)
    for n in range(1, 8):
        save_step(folder, state(n), words=f"to {n}")
    undo(folder)
    undo(folder)
    redo(folder)
    return folder, (folder / RECORD).read_bytes(), load(folder)


def set_aside(folder):
    """The damaged records that were set aside."""
    return sorted(folder.glob("set-aside/history/steps.jsonl.damaged-*"))


@pytest.mark.parametrize("letter", [b"~", b"\n", b'"', b"{"])
def test_damage_at_every_byte_loses_the_line_it_hit_at_most(saved, letter):
    """Read after damage at any place, every other line is there, and the chain keeps its saves."""
    folder, whole, _ = saved
    file = folder / RECORD
    lines = read_record(folder).lines
    try:
        for places, hit in rows_of(whole):
            ends = {places[0], places[-2], places[-1]}
            for place in sorted({*ends, *places[::EVERY]}):
                if whole[place : place + 1] != letter:
                    file.write_bytes(whole[:place] + letter + whole[place + 1 :])
                    last = place == len(whole) - 1
                    assert not lost_by(lines, hit, read_record(folder), last=last), place
    finally:
        file.write_bytes(whole)


def test_undo_works_on_past_the_damage_and_the_damaged_file_is_set_aside(saved):
    """For each line, damage in its middle: the workbook opens, and undo and redo go all the way."""
    folder, whole, book = saved
    file = folder / RECORD
    text = {
        f: f.read_bytes() for f in folder.rglob("*") if f.is_file() and "history" not in f.parts
    }
    file.write_bytes(whole)
    read_at = read_record(folder).lines[-1].node
    rows = whole.splitlines(keepends=True)
    at = 0
    for n, row in enumerate(rows):
        for f, data in text.items():
            f.write_bytes(data)
        place = at + len(row) // 2
        broken = whole[:place] + b"~" + whole[place + 1 :]
        file.write_bytes(broken)
        assert opened(folder).book == book
        highest = read_record(folder).last_number
        undone = 0
        while undo(folder) is not None:
            undone += 1
        assert undone >= 5, n
        assert [f.read_bytes() for f in set_aside(folder)].count(broken) == 1
        assert not read_record(folder).damaged
        assert opened(folder).revision > highest
        for _ in range(undone):
            assert redo(folder) is not None
        lost_here = json.loads(row).get("number") == read_at
        assert lost_here or load(folder) == book
        assert len(steps_of(folder)) >= 6
        at += len(row)
    assert len(set_aside(folder)) == len(rows)


def test_lines_without_a_sum_still_read(saved):
    """A record written before there were sums says the same."""
    folder, whole, _ = saved
    (folder / RECORD).write_bytes(whole)
    said = read_record(folder)
    plain = b""
    for row in whole.splitlines():
        data = json.loads(row)
        data.pop("sum", None)
        plain += json.dumps(data, ensure_ascii=False).encode() + b"\n"
    (folder / RECORD).write_bytes(plain)
    old = read_record(folder)
    assert (old.lines, old.pending, old.damaged) == (said.lines, said.pending, False)


def test_what_looks_like_a_line_inside_a_text_is_text(tmp_path):
    """Names and words may hold what lines begin with, and every line is still there."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    odd = ("called {", '{"number": 7}', '{"done": 1}\n{', "{", '"{"')
    for n, words in enumerate(odd, start=1):
        save_step(folder, state(n), words=words)
    record = read_record(folder)
    assert not record.damaged
    assert tuple(s.words for s in record.lines[-len(odd) :]) == odd
