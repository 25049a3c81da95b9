"""clothwright choose: what can be wished for, and how a wish that is none is refused."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from clothwright.cli import app
from clothwright.cli.app import run
from clothwright.demo import checked_waistcoat
from clothwright.store import create

CLI = Path(app.__file__).parent


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The checked waistcoat."""
    create(tmp_path / "w", checked_waistcoat())
    return tmp_path / "w"


def test_what_can_be_wished_for_is_listed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By name, what is usual marked, what matters most first; nothing is laid."""
    assert run(["choose", str(folder), "--wishes"]) == 0
    told = capsys.readouterr().out
    names = ["middle of the front", "middle of the back", "matched pocket", "one way up"]
    places = [told.index(name) for name in names]
    assert places == sorted(places)
    assert told.count("usual") >= 4
    assert not list(folder.glob("lays/*"))


def test_a_wish_that_is_none_is_refused_with_the_nearest(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A slip of the keys is told, and what was meant."""
    assert run(["choose", str(folder), "--wish", "midle of the front"]) == 2
    assert 'Did you mean "middle of the front"' in capsys.readouterr().err


@pytest.mark.parametrize("command", ["choose", "compare", "guide", "lay"])
def test_what_writes_pictures_says_which_photo_they_lack(command: str) -> None:
    """Every place that draws with a cloth's photo lists its files and what they are without.

    Read off the program, for a search and its pages would take seconds; that the sentence is right
    is tested with the photos (tests/workroom/cloth).
    """
    calls = [
        [c.func.id for c in ast.walk(function) if isinstance(c, ast.Call) and named(c)]
        for function in ast.parse(Path(CLI, f"{command}.py").read_text("utf-8")).body
        if isinstance(function, ast.FunctionDef)
    ]
    drawn = [c for c in calls if "photos_in" in c]
    assert drawn
    assert all(c.count("pictures_written") == c.count("photos_in") for c in drawn)
    assert all(c.count("lost_words") == c.count("photos_in") for c in drawn)


def named(call: ast.Call) -> bool:
    return isinstance(call.func, ast.Name)
