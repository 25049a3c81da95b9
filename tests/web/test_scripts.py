"""The scripts of the page: types by tsc, pure modules by node's own test runner."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

from tests.web.conftest import node, node_tool

ROOT = Path(__file__).parents[2]
JS = ROOT / "src" / "clothwright" / "web" / "static" / "js"


def run(*command: object) -> subprocess.CompletedProcess[str]:
    """Run a command in the root of the project."""
    words = [str(c) for c in command]
    return subprocess.run(words, cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)


def test_pure_modules() -> None:
    """Every tests/web/js/*.test.js passes under node --test."""
    files = sorted((ROOT / "tests" / "web" / "js").glob("*.test.js"))
    assert files
    answer = run(node(), "--test", *files)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    assert re.search(r"^# pass [1-9]", answer.stdout, re.MULTILINE)


def test_types() -> None:
    """tsc --checkJs finds nothing in the modules."""
    node()
    answer = run(node_tool(".bin/tsc"), "-p", "jsconfig.json")
    assert answer.returncode == 0, answer.stdout


def test_every_script_asks_to_be_checked() -> None:
    """Each file begins with @ts-check, and imports only its neighbours."""
    for file in JS.rglob("*.js"):
        text = file.read_text()
        assert text.startswith("// @ts-check")
        for source in re.findall(r'from "([^"]+)"', text):
            assert (file.parent / source).is_file()


def test_colours_stand_in_the_tokens_alone() -> None:
    """Templates and scripts name no colour; the style sheets name few, all of them paired."""
    for file in [*JS.rglob("*.js"), *(JS.parents[1] / "templates").glob("*.html")]:
        assert not re.search(r"#[0-9a-f]{6}\b|rgb\(", file.read_text()), file.name
