"""Docstrings of the whole package: their examples hold; they name units and what is raised."""

from __future__ import annotations

import ast
import doctest
import importlib
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import clothwright

PACKAGES = sorted(m.name for m in pkgutil.iter_modules(clothwright.__path__) if m.ispkg)


@pytest.mark.parametrize("name", PACKAGES)
def test_docstring_examples(name: str) -> None:
    """Every example in a docstring gives what it says."""
    package = importlib.import_module(f"clothwright.{name}")
    failed = {}
    for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        wrong = doctest.testmod(importlib.import_module(found.name)).failed
        if wrong:
            failed[found.name] = wrong
    assert failed == {}


SOURCE = Path(clothwright.__file__).parent
Function = ast.FunctionDef | ast.AsyncFunctionDef
UNIT = re.compile(
    r"\b(mm2?|mm²|1/mm|cm|in|px|pt|degrees?|radians?|seconds?|shares?|percent|factor|ratio|units?"
    r"|0 to 1|numbers? of|lengths?|distances?|amount|parameter|per inch)\b|_deg|°|%|\\[0, 1\\]",
    re.IGNORECASE,
)
"""What a docstring may say of a number that is no count: its unit, or that it has none."""
RAISED = frozenset(("BadInput", "CannotDo", "Mistakes", "WrongRule", "ValueError", "TypeError"))


def public_functions() -> Iterator[tuple[str, Function]]:
    """Yield every public function and method with its place."""

    def inside(body: list[ast.stmt], place: str) -> Iterator[tuple[str, Function]]:
        for node in body:
            name = getattr(node, "name", "_")
            if name.startswith("_"):
                continue
            if isinstance(node, ast.ClassDef):
                yield from inside(node.body, f"{place}, {name}")
            elif isinstance(node, Function):
                yield f"{place}, {name}", node

    for file in sorted(SOURCE.rglob("*.py")):
        if file.parent.name == "cli":
            continue  # there a docstring is the help that a maker reads
        place = file.relative_to(SOURCE).as_posix()
        yield from inside(ast.parse(file.read_text(encoding="utf-8")).body, place)


def takes_floats(node: Function) -> bool:
    """Tell whether a signature speaks of numbers that are no counts."""
    args = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    told = [a.annotation for a in args] + [node.returns]
    return any(re.search(r"\bfloat\b", ast.unparse(a)) for a in told if a is not None)


def raised_in(node: Function) -> set[str]:
    """Return the errors that a function raises itself."""
    made = (n.exc for n in ast.walk(node) if isinstance(n, ast.Raise))
    called = (e.func for e in made if isinstance(e, ast.Call))
    return {f.id for f in called if isinstance(f, ast.Name)} & RAISED


def lacks(node: Function) -> str:
    """Return what a function's docstring leaves out, "" for nothing."""
    said = ast.get_docstring(node) or ""
    if not said:
        return "no docstring"
    if takes_floats(node) and not UNIT.search(said):
        return "no unit"
    raised = raised_in(node)
    if raised and not re.search("|".join((r"\b[Rr]aises?\b", "[Rr]efuse", *raised)), said):
        return f"raises {', '.join(sorted(raised))} unsaid"
    return ""


def test_docstrings_name_units_and_errors() -> None:
    """Every public function says the unit of its numbers and what it raises."""
    found = {place: what for place, node in public_functions() if (what := lacks(node))}
    assert found == {}


@pytest.mark.parametrize(
    ("code", "what"),
    [
        ("def f() -> int:\n    return 1", "no docstring"),
        ('def f(wide: float) -> None:\n    """Widen it."""', "no unit"),
        ('def f() -> list[float]:\n    """Return the sides."""', "no unit"),
        (
            'def f() -> None:\n    """Do it."""\n    raise BadInput(what="no")',
            "raises BadInput unsaid",
        ),
        ('def f(wide: float) -> None:\n    """Widen it by `wide` mm. Raises BadInput."""', ""),
    ],
)
def test_what_a_docstring_lacks_is_found(code: str, what: str) -> None:
    """Each planted gap is told."""
    node = ast.parse(code).body[0]
    assert isinstance(node, ast.FunctionDef)
    assert lacks(node) == what
