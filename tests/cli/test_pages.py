"""The docs say what the program does."""

from __future__ import annotations

import contextlib
import inspect
import re
import sys
from pathlib import Path

import pytest

from clothwright.cli.app import COMMANDS, run
from clothwright.store import load

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from tools.command_pages import page  # noqa: E402


@pytest.mark.parametrize("name", [c.name for c in COMMANDS])
def test_every_command_has_its_page_up_to_date(name):
    """docs/commands/NAME.md is what tools/command_pages.py writes."""
    assert (ROOT / "docs" / "commands" / f"{name}.md").read_text() == page(name)


@pytest.mark.parametrize("name", [c.name for c in COMMANDS])
def test_every_option_on_a_page_is_one_that_can_be_typed(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the command's own help offers, as the command line reads it; places in capitals too."""
    with contextlib.suppress(SystemExit):
        run([name, "--help"])
    offered = capsys.readouterr().out
    assert name in offered
    for label in re.findall(r"^\| `(\S+)` \|", page(name), flags=re.MULTILINE):
        assert re.search(rf"(?<![\w-]){label}(?![\w-])", offered), label


@pytest.mark.parametrize("command", COMMANDS, ids=lambda c: c.name)
def test_the_table_says_what_each_command_says(command):
    """The line of a command in the table is the first sentence of its help."""
    first = inspect.getdoc(command.load()).partition("\n\n")[0]
    assert command.words == " ".join(first.split())


def test_the_example_of_the_file_format_loads(tmp_path):
    """The workbook in docs/file-format.md is read without a fault, and says what it says."""
    from clothwright.geometry.path import polyline
    from clothwright.geometry.vec import Vec
    from clothwright.pattern.piece import Cut, Edge, Grain, Piece, Role
    from clothwright.rules.compile import compile_lay
    from clothwright.store import piece_to_svg
    from clothwright.workbook import replay
    from tests.lay.panels import asked

    text = re.search(r"```toml\n(.*?)```", (ROOT / "docs/file-format.md").read_text(), re.DOTALL)
    assert text
    (tmp_path / "workbook.toml").write_text(text.group(1))
    (tmp_path / "pieces").mkdir()
    corners = [(0, 0), (500, 0), (500, 600), (0, 600), (0, 0)]
    names = ["bottom", "right", "top", "left"]
    panel = Piece(
        name="panel",
        edges=tuple(
            Edge(
                name=n,
                path=polyline(corners[k : k + 2]),
                allowance=15.0,
                role=Role.HEM if n == "bottom" else Role.SEAM,
            )
            for k, n in enumerate(names)
        ),
        grain=Grain(start=Vec(250, 100), end=Vec(250, 500)),
        cuts=(Cut(how="pair"),),
    )
    (tmp_path / "pieces" / "panel.svg").write_text(piece_to_svg(panel))
    book = load(tmp_path)
    done = replay(book)
    assert not [t.error for t in done.told if t.error]
    assert done.pattern.piece("panel").edge("bottom").allowance == 50.0
    compiled = compile_lay(done.pattern, book.cloths, book.plan(), gap=book.settings.gap)
    assert {r.id.split()[1] for r in asked(compiled.problem)} == {"on-border", "at-phase"}
    assert book.cloths[0].length == 2500.0


def test_every_link_in_the_docs_leads_somewhere():
    """Relative links of README and docs name files that are there."""
    for file in [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *(ROOT / "docs").rglob("*.md")]:
        for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", file.read_text()):
            assert (file.parent / target).exists(), f"{file.name}: {target}"
