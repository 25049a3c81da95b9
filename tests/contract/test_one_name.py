"""A name stands for one thing: no public class is called as one elsewhere in the source."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src" / "clothwright"
ALLOWED = {
    "AtPhase": "the digest of a kept lay is made of the name in lay.problem",
    "KeepOff": "the digest of a kept lay is made of the name in lay.problem",
}
"""A placing rule and the rule on shapes it becomes: why neither can be called otherwise."""


def named_twice(folder: Path) -> dict[str, list[str]]:
    """Return the public names of classes that more than one place defines, and the places."""
    found: dict[str, list[str]] = defaultdict(list)
    for path in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                found[node.name].append(f"{path.relative_to(folder)}:{node.lineno}")
    return {name: places for name, places in found.items() if len(places) > 1}


def test_no_class_is_called_as_another() -> None:
    """The second is told apart in a word of the trade, or the two are made one."""
    twice = named_twice(SOURCE)
    assert not {name: places for name, places in twice.items() if name not in ALLOWED}
    assert set(ALLOWED) == set(twice), "an exception that is needed no more"


def test_a_second_class_of_a_name_is_found(tmp_path: Path) -> None:
    """The planted one is found, wherever it stands; one of a module's own is not."""
    (tmp_path / "one.py").write_text("class Hem: ...\nclass _Own: ...\n")
    assert not named_twice(tmp_path)
    (tmp_path / "room").mkdir()
    (tmp_path / "room" / "two.py").write_text("class _Own: ...\nif True:\n    class Hem: ...\n")
    assert named_twice(tmp_path) == {"Hem": ["one.py:1", "room/two.py:3"]}
