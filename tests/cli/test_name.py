"""`clothwright name`: levels, points, corners and notches of a piece, in all its sizes."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwright.cli.app import run
from clothwright.demo.three_sizes import three_sizes
from clothwright.pattern.piece import Piece
from clothwright.store import create, load


@pytest.fixture
def skirt(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The skirt in three sizes, without changes and plans (demo data)."""
    monkeypatch.chdir(tmp_path)
    book = three_sizes()
    create(tmp_path / "w", type(book)(title="w", unit=book.unit, bought=book.bought))
    return tmp_path / "w"


def front(folder: Path) -> Piece:
    return load(folder).bought.piece("skirt front")


def test_what_is_named_is_kept_in_every_size(skirt: Path) -> None:
    """A level 5 cm above the hem, a point beside it, a corner, a notch; one step, undone as one."""
    argv = ["--level", "low=hem start, 5 cm", "--point", "spot=hem start, 3 cm, 4 cm"]
    argv += ["--corner", "low corner=side"]
    before = front(skirt)
    assert run(["name", "w", "skirt front", *argv]) == 0
    piece = front(skirt)
    rise = piece.up.dot(piece.level("low").at - piece.point("hem start"))
    assert rise == pytest.approx(50.0)
    away = piece.point("spot") - piece.point("hem start")
    assert (away.x, away.y) == (pytest.approx(30.0), pytest.approx(40.0))
    assert piece.point("low corner") == piece.edge("side").path.start
    sizes = load(skirt).bought.sizes
    assert sizes is not None
    for drawn in sizes.each("skirt front"):
        place = drawn.level("low").at
        assert drawn.up.dot(place - drawn.point("hem start")) == pytest.approx(50.0)
        assert "low corner" in drawn.points()
    assert run(["undo", "w"]) == 0
    assert front(skirt) == before


def test_a_named_corner_can_be_spoken_of(skirt: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A change at the new level is done; then its name is not taken away."""
    assert run(["name", "w", "skirt front", "--level", "low=hem start, 20 cm"]) == 0
    change = ["pieces=skirt front", "level=low", "by=2 cm"]
    assert run(["change", "w", "lengthen", *change]) == 0
    assert "Lengthened skirt front" in capsys.readouterr().out
    assert run(["name", "w", "skirt front", "--corner", "tip=side"]) == 0
    assert run(["change", "w", "move-edge", "corner=skirt front.tip", "by=1 cm"]) == 0
    assert run(["name", "w", "skirt front", "--corner", "toe=side"]) != 0
    assert 'cannot be called "toe"' in capsys.readouterr().err


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        ([], "nothing is named"),
        (["--level", "low"], "does not say what is called so"),
        (["--level", "low=hem strat"], 'Did you mean "hem start"'),
        (["--level", "low=hem start, wide"], "wide"),
        (["--notch", "x=side 99"], "no notch 99"),
        (["--notch", "x=side"], "does not say what is called so"),
        (["--corner", "a.b=side"], "without a dot"),
        (["--corner", "x=sid"], 'Did you mean "side"'),
        (["--point", "hem start=hem end"], "already"),
    ],
)
def test_what_cannot_be_named_is_a_sentence(
    skirt: Path, capsys: pytest.CaptureFixture[str], argv: list[str], words: str
) -> None:
    """Nothing is changed, and the nearest is told."""
    before = load(skirt)
    assert run(["name", "w", "skirt front", *argv]) == 2
    assert words.lower() in capsys.readouterr().err.lower()
    assert load(skirt) == before
