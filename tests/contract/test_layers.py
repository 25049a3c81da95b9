"""The layers contract holds, and notices when somebody breaks it."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[2]


def lint_imports(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run import-linter with the settings and the package found in `folder`."""
    run = "from importlinter.cli import lint_imports_command as m; m()"
    return subprocess.run(
        [sys.executable, "-c", run, "--no-cache", "pyproject.toml"],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder / "src"), "COLUMNS": "200", "NO_COLOR": "1"},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the package and its settings to plant faults in."""
    skip = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "src", tmp_path / "src", ignore=skip)
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def plant(folder: Path, module: str, line: str) -> None:
    """Add `line` at the end of a module of the copy, which is made if it is not there."""
    path = folder / "src" / "clothwright" / module
    path.parent.mkdir(exist_ok=True)
    with path.open("a", encoding="utf-8") as out:
        out.write(f"\n{line}\n")


def test_the_contracts_hold() -> None:
    """Imports go one way down; the judge and shapely keep to their places."""
    answer = lint_imports(ROOT)
    assert answer.returncode == 0, answer.stdout + answer.stderr


def test_the_copy_is_what_is_checked(copy: Path) -> None:
    """A copy without faults passes, so that a failure below is the planted fault's alone."""
    answer = lint_imports(copy)
    assert answer.returncode == 0, answer.stdout + answer.stderr


class Breach(NamedTuple):
    """An import that must not be, and the contract that has to say so."""

    module: str
    line: str
    contract: str


LAYERS = "imports go one way down"
JUDGE = "the judge knows the problem and the result, nothing of the search"
QUESTION = "problem and result of a lay know nothing of how it is found or judged"
DOORS = "doors know the workroom, words, units, errors and pictures, nothing else of ours"
STORE = "rooms of the store: the book knows nothing of its history or of what lies beside it"
SHAPELY = "shapely stays behind geometry.region and the lay"

BREACHES = {
    "the book imports history": Breach(
        "store/book/planted.py", "import clothwright.store.history.steps", STORE
    ),
    "a reader of values imports the book": Breach(
        "store/values.py", "import clothwright.store.book.format", STORE
    ),
    "checks import changes": Breach("checks/planted.py", "import clothwright.changes", LAYERS),
    "the lay imports checks": Breach("lay/planted.py", "import clothwright.checks", LAYERS),
    "the lay imports the rules": Breach("lay/planted.py", "import clothwright.rules", LAYERS),
    "the rules import changes": Breach("rules/planted.py", "import clothwright.changes", LAYERS),
    "geometry imports pattern": Breach("geometry/planted.py", "import clothwright.pattern", LAYERS),
    "errors import units": Breach("errors.py", "import clothwright.units", LAYERS),
    "cloth imports pattern": Breach("cloth/planted.py", "import clothwright.pattern", LAYERS),
    "intake imports outputs": Breach("intake/planted.py", "import clothwright.outputs", LAYERS),
    "outputs import the store": Breach("outputs/planted.py", "import clothwright.store", LAYERS),
    "the store imports the doors": Breach(
        "store/book/planted.py", "import clothwright.web.keys", LAYERS
    ),
    "import inside a function": Breach(
        "geometry/planted.py", "def late():\n    import clothwright.pattern", LAYERS
    ),
    "a package nobody listed": Breach("stray/__init__.py", "", LAYERS),
    "a module nobody listed": Breach("stray.py", "", LAYERS),
    "the judge imports the search": Breach("lay/judge.py", "import clothwright.lay.planted", JUDGE),
    "the problem imports the search": Breach(
        "lay/problem.py", "import clothwright.lay.planted", QUESTION
    ),
    "the result imports the judge": Breach(
        "lay/result.py", "import clothwright.lay.judge", QUESTION
    ),
    "a command imports the store": Breach("cli/planted.py", "import clothwright.store", DOORS),
    "a page imports a rule": Breach(
        "web/pages/planted.py", "from clothwright.rules.kinds.pin import Pin", DOORS
    ),
    "a page imports the workbook": Breach("web/planted.py", "import clothwright.workbook", DOORS),
    "a drawing imports shapely": Breach("drawing/planted.py", "import shapely", SHAPELY),
    "a path imports shapely": Breach(
        "geometry/planted.py", "from shapely.geometry import LineString", SHAPELY
    ),
}


@pytest.mark.parametrize("name", BREACHES)
def test_a_breach_is_noticed(copy: Path, name: str) -> None:
    """Each planted import breaks exactly the contract that forbids it, and is named."""
    breach = BREACHES[name]
    plant(copy, "lay/planted.py", "")
    plant(copy, breach.module, breach.line)
    answer = lint_imports(copy)
    assert answer.returncode != 0
    broken = re.findall(r"^(.+) BROKEN", answer.stdout, re.MULTILINE)
    assert broken == [breach.contract], answer.stdout + answer.stderr
    assert breach.module.removesuffix(".py").split("/")[0] in answer.stdout.split("BROKEN", 1)[1]


def test_every_contract_has_a_breach() -> None:
    """No contract stands in pyproject.toml that nobody has tried to break."""
    data = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    named = {c["name"] for c in data["tool"]["importlinter"]["contracts"]}
    assert {b.contract for b in BREACHES.values()} == named


def test_every_lower_room_is_closed_to_the_doors() -> None:
    """A room that is new in the layers has its place in the list of what doors do not import."""
    data = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    contracts = {c["id"]: c for c in data["tool"]["importlinter"]["contracts"]}
    rooms = {r.strip("() ") for line in contracts["layers"]["layers"] for r in line.split("|")}
    open_ = {"__main__", "cli", "web", "workroom", "words", "units", "errors", "picture"}
    closed = {m.removeprefix("clothwright.") for m in contracts["doors"]["forbidden_modules"]}
    assert closed == rooms - open_
