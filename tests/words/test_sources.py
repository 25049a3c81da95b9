"""No sentence of an error has a length or a number of its own making: `words` says them all.

The walker reads what is shown; this reads what could be: every error's words in the source.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import clothwright
from clothwright.units import Unit

SOURCE = Path(clothwright.__file__).parent
APART = ("words", "units", "demo", "geometry")
"""What says lengths; what knows no unit yet; what is made by us; what raises only for ourselves."""
ERRORS = frozenset({"BadInput", "CannotDo", "Slip", "slip"})
SAYS = frozenset({"with_lengths", "parse_length"})
"""What says the lengths of its text in her unit."""
UNITS = "|".join(sorted((u.value for u in Unit), key=len, reverse=True))
HARD = re.compile(rf"\d[\s\u00a0]?(?:{UNITS}|millimetres?|inch(?:es)?)(?![\w/])")
AFTER = re.compile(rf"^[\s\u00a0]?(?:{UNITS})(?![\w/])(?! (?:the|a|an|this)\b)")


def hard_numbers(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Yield line and words of each error that says a length in a unit of its own choice.

    A text that is chosen by `is_metric`, or goes through `with_lengths`, is told in her unit.
    """
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _called(node) in ERRORS:
            for value in (*node.args, *(k.value for k in node.keywords)):
                yield from _in_words(value)


def _in_words(node: ast.AST) -> Iterator[tuple[int, str]]:
    if isinstance(node, ast.Call) and _called(node) in SAYS:
        return
    if isinstance(node, ast.IfExp) and "is_metric" in ast.unparse(node.test):
        return
    if isinstance(node, ast.Constant) and isinstance(node.value, str) and HARD.search(node.value):
        yield node.lineno, node.value
    if isinstance(node, ast.JoinedStr):
        for one, after in zip(node.values, (*node.values[1:], ast.Constant("")), strict=True):
            if not isinstance(one, ast.FormattedValue):
                continue
            said = after.value if isinstance(after, ast.Constant) else ""
            if AFTER.match(str(said)):
                yield node.lineno, ast.unparse(node)
    for child in ast.iter_child_nodes(node):
        yield from _in_words(child)


def _called(node: ast.Call) -> str:
    return getattr(node.func, "id", None) or getattr(node.func, "attr", "")


PLANTED = [
    'BadInput(what="it is 35 mm deep")',
    'BadInput(what=f"it is {deep} mm deep")',
    'CannotDo(what="x", why=f"{a:.1f} cm is too much")',
    'raise BadInput(what="x", expected="one of " + "5/8 in")',
]
SOUND = [
    'BadInput(what=("it is ", 35.0, " deep"))',
    'BadInput(what="x", try_="20 cm" if unit.is_metric else "8 in")',
    'BadInput(what="x", expected=with_lengths("190 mm, 277 mm"))',
    'print("20 mm")',
    'BadInput(what=f"{count} in the list")',
]


@pytest.mark.parametrize("source", PLANTED)
def test_a_planted_length_is_found(source: str) -> None:
    """As text, as a number put into text, in a part of a sentence."""
    assert list(hard_numbers(ast.parse(source)))


@pytest.mark.parametrize("source", SOUND)
def test_what_is_told_in_her_unit_is_left_alone(source: str) -> None:
    """A sentence's number, a text chosen by her unit, an example that is said in it."""
    assert not list(hard_numbers(ast.parse(source)))


def test_no_error_has_a_unit_of_its_own() -> None:
    """Every error of the program, outside what says lengths."""
    hits = [
        f"{file.relative_to(SOURCE)}:{line}: {words}"
        for file in sorted(SOURCE.rglob("*.py"))
        if file.relative_to(SOURCE).parts[0] not in APART
        for line, words in hard_numbers(ast.parse(file.read_text("utf-8")))
    ]
    assert "\n".join(hits) == ""
