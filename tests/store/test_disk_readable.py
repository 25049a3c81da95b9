"""Nothing of a workbook is waited at for ever: pipes lie where files should."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from dataclasses import replace

import pytest

from clothwright.errors import BadInput
from clothwright.store import create, load
from clothwright.store.history.recover import earlier, opens
from clothwright.store.history.steps import BOOK_FILE
from clothwright.workroom.editing.opened import unit_of
from tests.store.book.test_file import BOOK
from tests.store.history.saving import save_step

pytestmark = pytest.mark.skipif(os.name != "posix", reason="pipes are those of POSIX")


@pytest.fixture(autouse=True)
def ended() -> Iterator[None]:
    """Who waits at a pipe is woken, and fails."""

    def hangs(*_: object) -> None:
        pytest.fail("it hangs")

    before = signal.signal(signal.SIGALRM, hangs)
    signal.alarm(20)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


@pytest.mark.parametrize("what", [BOOK_FILE, "history/steps.jsonl", "copy", "drawing"])
def test_a_workbook_with_a_pipe_is_refused_and_what_was_saved_is_found(tmp_path, what):
    """What is asked about a workbook that does not open: does it, its unit, its states before."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    save_step(folder, replace(load(folder), title="y"), words="y")
    copies = sorted((folder / "history" / "copies").rglob("*.gz"))
    drawings = sorted((folder / "pieces").glob("*.svg"))
    file = {"copy": copies[0], "drawing": drawings[0]}.get(what, folder / what)
    file.unlink()
    os.mkfifo(file)
    with pytest.raises(BadInput):
        load(folder)
    assert opens(folder) == (what not in (BOOK_FILE, "drawing"))
    unit_of(folder)
    assert isinstance(earlier(folder), tuple)
