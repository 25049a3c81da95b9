"""The scripts of the page: types by tsc, pure modules by node's own test runner."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

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


COLOUR = re.compile(
    r"(?<![\w&(])#[0-9a-f]{3,8}\b(?![\w-])|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|light-dark)\("
    r"|(?::|,|\s)(?:white|black|red|green|blue|yellow|orange|brown|pink|gray|grey|silver)(?=[\s;,)])",
    re.IGNORECASE,
)
"""A colour written out, in any of the ways of a style sheet."""


def colours_of(file: Path) -> list[str]:
    """Every colour that a template, script or style sheet names; remarks may."""
    text = re.sub(r"/\*.*?\*/|^\s*//.*?$", "", file.read_text(), flags=re.DOTALL | re.MULTILINE)
    if file.suffix == ".html":  # words for people speak of colours; attributes name them
        text = " ".join(re.findall(r'(?:fill|stroke|color|style|bgcolor)="([^"]*)"', text))
        text = f" {text};"
    return COLOUR.findall(text)


def test_colours_stand_in_the_tokens_alone() -> None:
    """No template, script or other style sheet names a colour."""
    static = JS.parent
    files = [*JS.rglob("*.js"), *(static.parent / "templates").glob("*.html")]
    files += [f for f in (static / "css").glob("*.css") if f.name != "tokens.css"]
    assert len(files) > 60
    assert [(f.name, found) for f in files if (found := colours_of(f))] == []


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.css", "a { color: #fff; }"),
        ("a.css", "a { border: 1px solid black; }"),
        ("a.css", "a { fill: rgb(1 2 3 / 4%); }"),
        ("a.js", 'knob.setAttribute("fill", "#e3127e");'),
        ("a.html", '<path fill="white" d="M0 0"/>'),
        ("a.html", '<p style="color: #fff">'),
    ],
)
def test_a_planted_colour_is_found(tmp_path: Path, name: str, text: str) -> None:
    """The search above can fail."""
    (tmp_path / name).write_text(text)
    assert colours_of(tmp_path / name) != []


def test_every_token_is_used_and_every_use_has_one() -> None:
    """A colour that nothing uses is gone; none is asked for that is not there."""
    sheets = {f.name: f.read_text() for f in (JS.parent / "css").glob("*.css")}
    others = [*JS.rglob("*.js"), *(JS.parents[1] / "templates").glob("*.html")]
    everything = "".join([*sheets.values(), *(f.read_text() for f in others)])
    named = set(re.findall(r"^\s*(--[\w-]+):", sheets["tokens.css"], re.MULTILINE))
    used = set(re.findall(r"var\((--[\w-]+)", everything))
    set_elsewhere = set(re.findall(r"(--[\w-]+)(?:: |\")", everything))  # by a sheet, a script
    assert named - used == set()
    assert used - named - set_elsewhere == set()
