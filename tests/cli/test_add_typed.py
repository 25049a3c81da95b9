"""Typed measurements on the command line (demo data)."""

from __future__ import annotations

from pathlib import Path

import pytest

from clothwright.cli.app import run
from clothwright.store import load
from clothwright.workroom.pieces import typing
from tests.intake.test_typed import SQUARE, example


@pytest.fixture
def said(tmp_path, monkeypatch, capsys):
    """Give said(*argv): code, words and complaints, in a folder with an empty workbook."""
    monkeypatch.chdir(tmp_path)
    assert run(["new", "mine", "--unit", "in"]) == 0

    def run_it(*argv: str) -> tuple[int, str, str]:
        capsys.readouterr()
        code = run(list(argv))
        out = capsys.readouterr()
        return code, " ".join(out.out.split()), " ".join(out.err.split())

    return run_it


def pieces() -> list[str]:
    return [p.name for p in load(Path("mine")).bought.pieces]


def test_the_example_of_the_page_is_added(said):
    """docs/typed.md: added in one go, every check told, its text kept to be corrected."""
    Path("skirt-front.txt").write_text(example(), encoding="utf-8")
    code, out, err = said("add", "mine", "skirt-front.txt")
    assert code == 0, err
    assert "checked: A to C: 0.2 mm more than the 67.1 cm measured" in out
    assert pieces() == ["skirt front"]
    (kept,) = typing.kept(Path("mine"), dict.fromkeys(pieces()))
    assert kept.pieces == ("skirt front",)
    assert said("walk", "mine")[0] in (0, 1)
    assert said("undo", "mine")[0] == 0
    assert pieces() == []


def test_a_diagonal_that_misses_adds_nothing(said):
    """Exit 2, the line, the figures and the likely point; the workbook is as it was."""
    wrong = example().replace("C is 25,7", "C is 27,5")
    Path("skirt-front.txt").write_text(wrong, encoding="utf-8")
    code, _, err = said("add", "mine", "skirt-front.txt")
    assert code == 2
    assert "skirt-front.txt, line 43 (check A to C 67,1 cm): measured 67.1 cm" in err
    assert 'One point explains it: C (line 10: "27,5 cm" would fit as 25.7 cm' in err
    assert pieces() == []
    assert not Path("mine/typed").exists()


def test_options_answer_what_the_text_does_not_say(said):
    """The allowance is asked; an option answers it, and contradicts nothing that is said."""
    Path("panel.txt").write_text(SQUARE, encoding="utf-8")
    assert "say this already" in said("add", "mine", "panel.txt", "--allowance", "1 cm")[2]
    assert "say this themselves" in said("add", "mine", "panel.txt", "--corners", "4")[2]
    silent = SQUARE.replace("allowance not included\n", "")
    Path("panel.txt").write_text(silent, encoding="utf-8")
    assert "--allowance none" in said("add", "mine", "panel.txt")[2]
    code, out, _ = said("add", "mine", "panel.txt", "--allowance", "none", "--name", "side panel")
    assert code == 0
    assert "no diagonal was measured to check" in out
    assert pieces() == ["side panel"]
    assert (
        "already"
        in said("add", "mine", "panel.txt", "--allowance", "none", "--name", "side panel")[2]
    )


def test_every_mistake_is_told_at_once(said):
    """Three wrong lines, three sentences with their numbers."""
    text = SQUARE + "X is 3 ells down from A\nnotch on sied 3 cm from C\ncheck A to Z 3\n"
    Path("panel.txt").write_text(text, encoding="utf-8")
    code, _, err = said("add", "mine", "panel.txt")
    assert code == 2
    assert all(f"line {n}" in err for n in (14, 15, 16))
    assert "Traceback" not in err
