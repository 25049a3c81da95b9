"""What the pages' scripts say by themselves is read as all else is: a sentence in either unit."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

import clothwright.web
from clothwright.units import Unit
from tests.words.shown import demo
from tests.words.walker import Offence, offences

UNITS = (Unit.inch, Unit.cm)
SCRIPTS = sorted((Path(clothwright.web.__file__).parent / "static" / "js").glob("*.js"))
BEFORE_A_PATTERN = "(,=:[!&|?{};\n"
"""After one of these a slash begins a regular expression."""


def texts(script: str) -> Iterator[str]:
    """Yield the texts of a script, comments left out; what is put into one is left out."""
    at = 0
    while at < len(script):
        at, said = _next(script, at)
        yield from said


def _next(script: str, at: int) -> tuple[int, list[str]]:
    """Return where the next token begins, and the texts in this one."""
    one = script[at]
    if script.startswith("//", at):
        return (script.find("\n", at) + 1 or len(script)), []
    if script.startswith("/*", at):
        return script.index("*/", at) + 2, []
    if one == "/" and (script[:at].rstrip(" ")[-1:] or "\n") in BEFORE_A_PATTERN:
        return _pattern(script, at + 1), []
    if one in "\"'":
        end = at + 1
        while script[end] != one:
            end += 2 if script[end] == "\\" else 1
        return end + 1, [script[at + 1 : end]]
    return _template(script, at + 1) if one == "`" else (at + 1, [])


def _pattern(script: str, at: int) -> int:
    group = False
    while script[at] != "/" or group:
        group = script[at] == "[" or (group and script[at] != "]")
        at += 2 if script[at] == "\\" else 1
    return at + 1


def _template(script: str, at: int) -> tuple[int, list[str]]:
    words, inside = "", list[str]()
    while script[at] != "`":
        if not script.startswith("${", at):
            words, at = words + script[at], at + 1
            continue
        words, at, deep = words + "…", at + 2, 1
        while deep:
            deep += (script[at] == "{") - (script[at] == "}")
            if not deep:
                at += 1
                break
            at, said = _next(script, at)
            inside += said
    return at + 1, [words, *inside]


def is_said(text: str) -> bool:
    """Tell whether a text may be read: words with spaces between them, no selector or markup."""
    return " " in text.strip() and not any(mark in text for mark in ("[", "<", "#", "data-", "--"))


def found_in(script: str, place: str) -> set[Offence]:
    """Return what the sentences of a script should not say, in a workbook of either unit."""
    books = (demo("checked-waistcoat", unit) for unit in UNITS)
    said = [text for text in texts(script) if is_said(text)]
    return {hit for book in books for text in said for hit in offences(text, book, place)}


PLANTED = [
    ("foreign unit", 'say("The hem is 20 mm deep.")'),
    ("foreign unit", "// fine\nsay(`It is ${a} wide; at most 4 in ${b ? 'is' : `are`} taken`)"),
    ("key", "told(`${name}: set-allowance was not saved`)"),
    ("key", "say('the field set_to is empty')"),
    ("word", "const BROKEN = 'You can take it in again.';"),
    ("bare number", "out.textContent = ok ? '' : 'moved by 3.5 to the left'"),
]


@pytest.mark.parametrize(("kind", "script"), PLANTED)
def test_what_is_planted_in_a_script_is_found(kind: str, script: str) -> None:
    """In quotes of each sort, in a text within a text, behind a comment and a pattern."""
    assert kind in {hit.kind for hit in found_in("a = /[\"'`/]/; " + script, "planted")}


def test_a_comment_says_what_it_likes() -> None:
    """Comments and selectors reach nobody."""
    script = "// 20 mm, set_to\n/* take it in */ find('[data-name] > b 20 mm'); x = 6 / 2 / 3;"
    assert found_in(script, "sound") == set()


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda file: file.name)
def test_no_script_says_what_she_should_not_meet(script: Path) -> None:
    """Every text with a space in it that a script of ours holds."""
    assert "\n".join(map(str, found_in(script.read_text("utf-8"), script.name))) == ""
