"""`clothwright together`, and a change that is done to what goes with its pieces, too."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwright.cli.app import run
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.store import create, load


@pytest.fixture
def coat(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The coat and skirt of the demo, without changes."""
    monkeypatch.chdir(tmp_path)
    book = coat_and_skirt()
    create(tmp_path / "coat", type(book)(title=book.title, unit=book.unit, bought=book.bought))
    return tmp_path / "coat"


def said(capsys: pytest.CaptureFixture[str], *argv: str) -> tuple[int, str]:
    code = run([*argv])
    told = capsys.readouterr()
    return code, " ".join((told.out + told.err).split())


def test_proposed_confirmed_said_and_taken_out(
    coat: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is proposed is told with its edges; confirmed it is kept, and each step is told."""
    code, told = said(capsys, "together", "coat")
    assert code == 0
    assert "lining back, as lining: with coat back (" in told
    n = told.partition(" lining back, as")[0].split()[-1]
    assert said(capsys, "together", "coat", "--confirm", n)[0] == 0
    (one,) = load(coat).bought.companions
    assert (one.piece, one.kind, one.by) == ("lining back", "lining", "bought")
    assert said(capsys, "together", "coat", "--confirm", "all")[0] == 0
    assert len(load(coat).bought.companions) == 6
    assert "No piece" not in said(capsys, "together", "coat")[1]
    told = said(capsys, "together", "coat", "--take-out", "lining back")[1]
    assert 'The piece "lining back" goes with no other.' in told
    told = said(capsys, "together", "coat", "--add", "lining back", "coat back")[1]
    assert "goes with coat back, as lining" in told
    assert len(load(coat).bought.companions) == 6


def test_a_change_is_done_to_what_goes_with_it(
    coat: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Offered after the change, done by its number; or at once, as one step to be undone."""
    said(capsys, "together", "coat", "--confirm", "all")
    lengthen = ["lengthen", "pieces=coat back", "level=waist", "by=1 in"]
    code, told = said(capsys, "change", "coat", *lengthen)
    assert code == 0, told
    assert "With it goes lining back. The same there: --edit 1 --alike" in told
    code, told = said(capsys, "change", "coat", "--edit", "1", "--alike")
    assert code == 0, told
    assert "2. Lengthened lining back by 1 in at the waist line." in told
    assert len(load(coat).steps) == 2
    code, told = said(capsys, "change", "coat", "--edit", "1", "--alike")
    assert code != 0
    assert "is done to nothing else" in told
    said(capsys, "undo", "coat", "--steps", "2")
    assert load(coat).steps == ()
    code, told = said(capsys, "change", "coat", *lengthen, "--alike")
    assert code == 0, told
    assert [s.params["pieces"] for s in load(coat).steps] == ["coat back", ("lining back",)]
    said(capsys, "undo", "coat")
    assert load(coat).steps == ()


def test_a_change_that_nothing_follows_is_made_all_the_same(
    coat: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Asked for it and for what goes with it, it is done alone where nothing does; it says so."""
    said(capsys, "together", "coat", "--confirm", "all")
    hem = ["set-allowance", "edges=coat back.hem", "amount=2 in"]
    code, told = said(capsys, "change", "coat", *hem, "--alike")
    assert code == 0, told
    assert len(load(coat).steps) == 1
    assert "it is done there alone" in told
    code, told = said(capsys, "change", "coat", "--edit", "1", "amount=1 in", "--alike")
    assert (code, load(coat).steps[0].params["amount"]) == (0, "1 in"), told
    assert "it is done there alone" in told


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (["--confirm", "99"], "does not say which proposals"),
        (["--add", "lining bak", "coat back"], 'Did you mean "lining back"'),
        (["--add", "coat front", "coat back"], "does not say what a piece is"),
        (["--add", "coat back", "coat back", "--kind", "lining"], "with itself"),
        (["--take-out", "coat back"], "nothing is said to go with"),
    ],
)
def test_what_cannot_go_together_is_a_sentence(
    coat: Path, capsys: pytest.CaptureFixture[str], argv: list[str], words: str
) -> None:
    """Nothing is kept, and the nearest is told."""
    code, told = said(capsys, "together", "coat", *argv)
    assert code == 2
    assert words.lower() in told.lower()
    assert load(coat).bought.companions == ()
