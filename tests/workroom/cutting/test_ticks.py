"""Ticks at the table: kept, merged, never twice."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from clothwright.errors import BadInput
from clothwright.store import create
from clothwright.store.beside.places import ticks_file
from clothwright.store.noticed import noticed
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.cutting.ticks import (
    MOST_LISTS,
    done_ticks,
    read_ticks,
    set_ticks,
)

LAY, OTHER = "0123abcd", "fedc9876"


def test_a_tick_survives_and_setting_it_again_changes_nothing(tmp_path):
    """Idempotent: the same word twice leaves the file byte for byte as it is."""
    set_ticks(tmp_path, "all hems", LAY, {"lay 1": True, "lay 2": True}, device="phone")
    file = ticks_file(tmp_path, "all hems", LAY)
    before = file.read_bytes()
    set_ticks(tmp_path, "all hems", LAY, {"lay 1": True}, device="laptop")
    assert file.read_bytes() == before
    assert done_ticks(tmp_path, "all hems", LAY) == {"lay 1", "lay 2"}
    assert read_ticks(tmp_path, "all hems", LAY)["lay 1"].device == "phone"
    set_ticks(tmp_path, "all hems", LAY, {"lay 1": False})
    assert done_ticks(tmp_path, "all hems", LAY) == {"lay 2"}


def test_another_lay_has_its_own_ticks(tmp_path):
    """What was ticked on one lay says nothing about another, and comes back with it."""
    set_ticks(tmp_path, "a", LAY, {"lay 1": True})
    assert done_ticks(tmp_path, "a", "ffff") == frozenset()
    assert done_ticks(tmp_path, "b", LAY) == frozenset()
    set_ticks(tmp_path, "a", "ffff", {"lay 2": True})
    assert done_ticks(tmp_path, "a", LAY) == {"lay 1"}


def test_the_later_word_counts_whichever_comes_in_first(tmp_path):
    """A phone that was away sends old ticks: they do not undo what was said since."""
    old, new = "2020-01-01T10:00:00Z", "2020-01-01T11:00:00+00:00"
    set_ticks(tmp_path, "a", LAY, {"lay 1": True, "lay 2": False}, at=new)
    set_ticks(tmp_path, "a", LAY, {"lay 1": False, "lay 2": True, "lay 3": True}, at=old)
    assert done_ticks(tmp_path, "a", LAY) == {"lay 1", "lay 3"}
    set_ticks(tmp_path, "a", LAY, {"lay 1": False}, at="2999-01-01T00:00:00Z")
    set_ticks(tmp_path, "a", LAY, {"lay 1": True})
    assert "lay 1" in done_ticks(tmp_path, "a", LAY)


def test_a_damaged_file_is_no_ticks_and_is_mended_by_the_next(tmp_path):
    """Half a file counts as none."""
    set_ticks(tmp_path, "a", LAY, {"lay 1": True})
    file = ticks_file(tmp_path, "a", LAY)
    for text in ("{", "[]", json.dumps({"format": "clothwright-ticks/1", "ticks": {"x": 3}})):
        file.write_text(text)
        assert read_ticks(tmp_path, "a", LAY) == {}
    set_ticks(tmp_path, "a", LAY, {"lay 2": True})
    assert done_ticks(tmp_path, "a", LAY) == {"lay 2"}


def test_damaged_ticks_are_set_aside_and_those_of_other_lays_stay(tmp_path):
    """Ticking on after damage loses nothing: the file is kept whole, told, and never read again."""
    create(tmp_path, Workbook(title="w", unit=Unit.cm))
    set_ticks(tmp_path, "a", OTHER, {"lay 1": True})
    set_ticks(tmp_path, "a", LAY, {"lay 1": True})
    file = ticks_file(tmp_path, "a", LAY)
    broken = file.read_bytes()[:-9]
    file.write_bytes(broken)
    set_ticks(tmp_path, "a", LAY, {"lay 2": True})
    newer = file.read_bytes().replace(b"ticks/1", b"ticks/2")
    file.write_bytes(newer)
    set_ticks(tmp_path, "a", LAY, {"lay 3": True})
    assert done_ticks(tmp_path, "a", LAY) == {"lay 3"}
    assert done_ticks(tmp_path, "a", OTHER) == {"lay 1"}
    kept = {(tmp_path / n.lies).read_bytes(): n for n in noticed(tmp_path)}
    assert set(kept) == {broken, newer}
    assert kept[broken].said.startswith("A list of ticks was damaged.")
    assert "another version" in kept[newer].said
    for n in range(MOST_LISTS + 2):
        set_ticks(tmp_path, "a", f"{n:064d}", {"lay 1": True})
    assert len(noticed(tmp_path)) == 2
    assert len(list((tmp_path / "ticks").iterdir())) == MOST_LISTS


@pytest.mark.parametrize("lay", ["", "../x", "a/b", "x" * 65])
def test_no_file_outside_the_folder(tmp_path, lay):
    """A digest is letters and digits; nothing else makes a file name."""
    with pytest.raises(BadInput, match="names no lay"):
        set_ticks(tmp_path, "a", lay, {"lay 1": True})
    set_ticks(tmp_path, "../../a", LAY, {"lay 1": True})
    assert ticks_file(tmp_path, "../../a", LAY).parent == tmp_path / "ticks"


def test_bad_ticks_are_told(tmp_path):
    """Empty keys and times that are none."""
    with pytest.raises(BadInput, match="key"):
        set_ticks(tmp_path, "a", LAY, {"": True})
    with pytest.raises(BadInput, match="no time"):
        set_ticks(tmp_path, "a", LAY, {"lay 1": True}, at="noon")


def test_old_lists_go(tmp_path):
    """The folder does not grow for ever."""
    for k in range(MOST_LISTS + 5):
        set_ticks(tmp_path, "a", f"{k:04x}", {"lay 1": True})
    assert len(list((tmp_path / "ticks").iterdir())) == MOST_LISTS


def test_a_second_copy_of_a_list_stays(tmp_path):
    """What a syncing folder left beside the lists is the oldest of all, and is not removed."""
    set_ticks(tmp_path, "a", LAY, {"lay 1": True})
    copy = tmp_path / "ticks" / f"a.{LAY} (1).json"
    copy.write_text("{}")
    os.utime(copy, (1, 1))
    for k in range(MOST_LISTS + 2):
        set_ticks(tmp_path, "a", f"{k:04x}", {"lay 1": True})
    assert copy.exists()


TICKER = """
import sys
from pathlib import Path
from clothwright.workroom.cutting.ticks import set_ticks
for k in range(20):
    set_ticks(Path(sys.argv[1]), "a", "0123abcd", {f"{sys.argv[2]} {k}": True}, device=sys.argv[2])
"""


def test_two_devices_at_once_lose_no_tick(tmp_path):
    """Two processes tick at the same time: every tick is there."""
    both = [
        subprocess.Popen(
            [sys.executable, "-c", TICKER, str(tmp_path), who], cwd=Path(__file__).parents[3]
        )
        for who in ("phone", "laptop")
    ]
    assert [p.wait(timeout=180) for p in both] == [0, 0]
    assert len(done_ticks(tmp_path, "a", LAY)) == 40
