"""Every broken input: one sentence, exit code 2, no traceback, nothing lost."""

from __future__ import annotations

import pytest

from clothwright.cli.app import run
from tests.broken_inputs import BROKEN


def test_there_are_at_least_twenty():
    """The promise is twenty."""
    assert len(BROKEN) >= 20
    assert len({name for name, _, _ in BROKEN}) == len(BROKEN)


@pytest.mark.parametrize(("write", "words"), [c[1:] for c in BROKEN], ids=[c[0] for c in BROKEN])
def test_broken_input(write, words, tmp_path, capsys):
    """The sentence says what was wrong; the exit code is 2; what was there is still there."""
    argv = write(tmp_path)
    before = {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    code = run(argv)
    told = capsys.readouterr().err
    assert code == 2, told
    assert words in told
    assert "Traceback" not in told
    after = {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    assert before.items() <= after.items()
