"""The folders are those of the drawing in docs/tour.md, and the contracts are as it draws them."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "clothwright"
DOORS = frozenset(("cli", "web"))
FOR_DOORS = frozenset(("workroom", "words", "units", "errors", "picture"))


def drawing() -> list[dict[str, tuple[str, ...]]]:
    """Return the lines of the drawing from the top: rooms, each with its own rooms."""
    tour = (ROOT / "docs" / "tour.md").read_text(encoding="utf-8")
    block = re.search(r"## The house.*?```\n(.*?)```", tour, re.DOTALL)
    assert block is not None
    lines: list[dict[str, tuple[str, ...]]] = []
    for line in block[1].splitlines():
        room, colon, inner = line.partition(":")
        lines.append({room: tuple(inner.split())} if colon else dict.fromkeys(line.split(), ()))
    return lines


def rooms_in(folder: Path) -> set[str]:
    """Return the packages and modules in a folder, but for `__init__` and `__main__`."""
    found = {p.name for p in folder.iterdir() if (p / "__init__.py").is_file()}
    return found | {p.stem for p in folder.glob("*.py")} - {"__init__", "__main__"}


def test_the_folders_are_the_drawing() -> None:
    """No room that is not drawn, none drawn that is not there; the same for rooms within rooms."""
    drawn = {room: inner for line in drawing() for room, inner in line.items()}
    assert rooms_in(SOURCE) == set(drawn)
    for room, inner in drawn.items():
        if inner:
            found = {p.name for p in (SOURCE / room).iterdir() if (p / "__init__.py").is_file()}
            assert found == set(inner), room
            beside = rooms_in(SOURCE / room) - found
            assert not beside or room == "store", f"{room}: {beside} beside the stages"


def test_the_layers_are_the_drawing() -> None:
    """The contract that `make check` holds names the same rooms in the same order."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]
    layers = next(c for c in contracts["contracts"] if c["id"] == "layers")["layers"]
    named = [{w.strip(" ()") for w in line.split("|")} - {"__main__"} for line in layers]
    flat = [rooms for rooms in named if rooms]
    drawn = [set(line) for line in drawing()]
    # units stands over errors; in the drawing they share the last line
    assert flat[-2:] == [{"units"}, {"errors"}]
    assert [*flat[:-2], {"units", "errors"}] == drawn


def test_the_contract_of_the_doors_forbids_every_other_room() -> None:
    """What the doors may not take is every room but those the drawing gives them."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]
    doors = next(c for c in contracts["contracts"] if c["id"] == "doors")
    every = {room for line in drawing() for room in line}
    assert {m.removeprefix("clothwright.") for m in doors["source_modules"]} == DOORS
    forbidden = {m.removeprefix("clothwright.") for m in doors["forbidden_modules"]}
    assert forbidden == every - DOORS - FOR_DOORS
