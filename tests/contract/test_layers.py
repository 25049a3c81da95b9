"""The layers contract holds, and notices when somebody breaks it."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[2]


LINTER = """
import contextlib, io, json, sys
from importlinter.cli import lint_imports

print(json.dumps(None), flush=True)
for cache in sys.stdin:
    told = io.StringIO()
    with contextlib.redirect_stdout(told), contextlib.redirect_stderr(told):
        code = lint_imports(config_filename="pyproject.toml", cache_dir=cache.strip())
    print(json.dumps([code, told.getvalue()]), flush=True)
"""
"""Checks the package in its folder for every line it reads; of files only what is new is read."""


class Answer(NamedTuple):
    """What import-linter said, and whether it was content (0)."""

    code: int
    words: str


@dataclass(frozen=True)
class Linter:
    """Import-linter at work on the settings and the package found in `folder`."""

    folder: Path
    process: subprocess.Popen[str]
    cache: Path

    def __call__(self) -> Answer:
        """Check the package as it is now."""
        assert self.process.stdin
        assert self.process.stdout
        self.process.stdin.write(f"{self.cache}\n")
        self.process.stdin.flush()
        return Answer(*json.loads(self.process.stdout.readline()))


@contextmanager
def linter(folder: Path, cache: Path) -> Iterator[Linter]:
    """Run import-linter on what is in `folder`, until all is asked."""
    with subprocess.Popen(
        [sys.executable, "-c", LINTER],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder / "src"), "COLUMNS": "200", "NO_COLOR": "1"},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout
        process.stdout.readline()
        yield Linter(folder, process, cache)
        process.stdin.close()  # type: ignore[union-attr]


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Linter]:
    """A copy of the package and its settings to plant faults in, and who checks it."""
    folder = tmp_path_factory.mktemp("copy")
    skip = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "src", folder / "src", ignore=skip)
    shutil.copy(ROOT / "pyproject.toml", folder)
    with linter(folder, folder / "cache") as lint:
        yield lint


@contextmanager
def planted(folder: Path, lines: Mapping[str, str]) -> Iterator[None]:
    """Have lines at the end of modules of the copy, which are made if they are not there."""
    files = {folder / "src" / "clothwright" / m: line for m, line in lines.items()}
    before = {f: f.read_text(encoding="utf-8") if f.exists() else None for f in files}
    made = [f.parent for f in files if not f.parent.exists()]
    for file, line in files.items():
        file.parent.mkdir(exist_ok=True)
        file.write_text(f"{before[file] or ''}\n{line}\n", encoding="utf-8")
    try:
        yield
    finally:
        for file, text in before.items():
            file.unlink() if text is None else file.write_text(text, encoding="utf-8")
        for each in made:
            each.rmdir()


def test_the_contracts_hold(tmp_path: Path) -> None:
    """Imports go one way down; the judge and shapely keep to their places."""
    with linter(ROOT, tmp_path) as lint:
        answer = lint()
    assert answer.code == 0, answer.words


def test_the_copy_is_what_is_checked(copied: Linter) -> None:
    """A copy without faults passes, so that a failure below is the planted fault's alone."""
    answer = copied()
    assert answer.code == 0, answer.words


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
def test_a_breach_is_noticed(copied: Linter, name: str) -> None:
    """Each planted import breaks exactly the contract that forbids it, and is named.

    What it is planted in is as before afterwards: the next breach is alone again.
    """
    breach = BREACHES[name]
    with planted(copied.folder, {"lay/planted.py": "", breach.module: breach.line}):
        answer = copied()
    assert answer.code != 0
    broken = re.findall(r"^(.+) BROKEN", answer.words, re.MULTILINE)
    assert broken == [breach.contract], answer.words
    assert breach.module.removesuffix(".py").split("/")[0] in answer.words.split("BROKEN", 1)[1]


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
