"""One file per change, check and reader; each is in its package's list and explained."""

from __future__ import annotations

import importlib
import pkgutil
import re
import sys
from pathlib import Path
from types import ModuleType
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[2]
KEBAB = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


class Menu(NamedTuple):
    """A package whose modules each offer one record, gathered by hand in one tuple.

    home: the module of the package where the tuple stands; "" for the package itself.
    """

    package: str
    record: str
    tuple_name: str
    docs: str | None = None
    home: str = ""

    def where(self) -> ModuleType:
        """The module that has the tuple."""
        return importlib.import_module(self.package + self.home)


MENUS = (
    Menu("clothwright.changes", "CHANGE", "CHANGES", "docs/changes"),
    Menu("clothwright.checks", "CHECK", "CHECKS", "docs/checks"),
    Menu("clothwright.rules", "RULE", "RULES", "docs/rules", home=".kinds"),
    Menu("clothwright.sewing", "OPERATION", "OPERATIONS"),
    Menu("clothwright.intake", "READER", "READERS", home=".readers"),
)


def modules_of(package: ModuleType) -> list[ModuleType]:
    """Every module of the package, sub-packages too. One that cannot be imported is an error."""
    found = pkgutil.walk_packages(package.__path__, package.__name__ + ".")
    return [importlib.import_module(each.name) for each in found]


def offered(modules: list[ModuleType], menu: Menu, listed: tuple[object, ...]) -> dict[int, str]:
    """Every record that some module defines: by the menu's name, or by any name, by its type."""
    kinds = tuple({type(record) for record in listed})
    found: dict[int, str] = {}
    for module in modules:
        for name, value in vars(module).items():
            if name == menu.record or (kinds and isinstance(value, kinds)):
                found.setdefault(id(value), f"{module.__name__}.{name}")
    return found


def is_empty(menu: Menu) -> bool:
    """Nothing to list yet: the package has no tuple and none of its modules offers a record."""
    package = importlib.import_module(menu.package)
    nothing_offered = not offered(modules_of(package), menu, ())
    return nothing_offered and not hasattr(menu.where(), menu.tuple_name)


def faults_of_list(menu: Menu) -> list[str]:
    """What is wrong between the package's modules and its tuple."""
    package = importlib.import_module(menu.package)
    modules = modules_of(package)
    if not hasattr(menu.where(), menu.tuple_name):
        return [f"{menu.package} has no {menu.tuple_name}"]
    listed = getattr(menu.where(), menu.tuple_name)
    if not isinstance(listed, tuple):
        return [f"{menu.package}.{menu.tuple_name} is not a tuple"]
    found = offered(modules, menu, listed)
    here = {id(record) for record in listed}
    faults = [
        f"{where} is not in {menu.tuple_name}" for key, where in found.items() if key not in here
    ]
    faults += [
        f"{menu.tuple_name} lists {record.id}, which no module of {menu.package} defines"
        for record in listed
        if id(record) not in found
    ]
    return faults


def faults_of_ids(ids: list[str]) -> list[str]:
    """Ids are what files and people refer to: one meaning each, and one spelling."""
    faults = [f"{each!r} is not kebab-case" for each in ids if not KEBAB.fullmatch(each)]
    return faults + [f"{each!r} is used twice" for each in sorted(set(ids)) if ids.count(each) > 1]


def faults_of_docs(ids: list[str], folder: Path) -> list[str]:
    """Each listed thing has its page with a heading, and no page outlives its thing."""
    pages = {page.stem: page for page in folder.glob("*.md") if page.stem != "README"}
    faults = [f"{folder.name}/{each}.md is missing" for each in ids if each not in pages]
    for stem, page in sorted(pages.items()):
        if stem not in ids:
            faults.append(f"{folder.name}/{stem}.md explains nothing that is listed")
        elif not page.read_text(encoding="utf-8").lstrip().startswith("# "):
            faults.append(f"{folder.name}/{stem}.md has no heading")
    return faults


def ids_of(menu: Menu) -> list[str]:
    return [record.id for record in getattr(menu.where(), menu.tuple_name)]


@pytest.fixture(params=MENUS, ids=lambda menu: menu.tuple_name)
def menu(request: pytest.FixtureRequest) -> Menu:
    chosen: Menu = request.param
    if is_empty(chosen):
        pytest.skip(f"{chosen.package} offers nothing yet")
    return chosen


def test_every_record_is_in_its_list(menu: Menu) -> None:
    """What a module offers is in its package's tuple, and the tuple lists nothing else."""
    assert faults_of_list(menu) == []


def test_ids_are_unique_and_kebab_case(menu: Menu) -> None:
    """No two records of one list share an id; ids are lower-case words joined by hyphens."""
    assert faults_of_ids(ids_of(menu)) == []


def test_each_has_its_page(menu: Menu) -> None:
    """Every change and every check has a page of its own in docs/."""
    if menu.docs is None:
        pytest.skip(f"{menu.tuple_name} are explained together")
    assert faults_of_docs(ids_of(menu), ROOT / menu.docs) == []


# --- and these tests can fail --------------------------------------------------------------------

KIND = """
from typing import NamedTuple
class Thing(NamedTuple):
    id: str
"""


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A package of two things, both listed."""
    folder = tmp_path / "planted_shelf"
    folder.mkdir()
    (folder / "kind.py").write_text(KIND)
    for name in ("one", "two"):
        line = f"from planted_shelf.kind import Thing\nTHING = Thing({name!r})\n"
        (folder / f"{name}.py").write_text(line)
    lines = "from planted_shelf import one, two\nTHINGS = (one.THING, two.THING)\n"
    (folder / "__init__.py").write_text(lines)
    monkeypatch.syspath_prepend(tmp_path)
    forget_shelf()
    return folder


def forget_shelf() -> None:
    """Drop the planted package, so that each test imports its own."""
    importlib.invalidate_caches()
    for name in [name for name in sys.modules if name.split(".")[0] == "planted_shelf"]:
        del sys.modules[name]


SHELF = Menu("planted_shelf", "THING", "THINGS")


def test_a_whole_list_has_no_faults(shelf: Path) -> None:
    """The clean planted package passes."""
    assert faults_of_list(SHELF) == []
    assert ids_of(SHELF) == ["one", "two"]


def test_a_forgotten_record_is_named(shelf: Path) -> None:
    """A module that offers a record which nobody listed is found, in a sub-package too."""
    (shelf / "deep").mkdir()
    (shelf / "deep" / "__init__.py").write_text("")
    line = "from planted_shelf.kind import Thing\nTHING = Thing('three')\n"
    (shelf / "deep" / "three.py").write_text(line)
    assert faults_of_list(SHELF) == ["planted_shelf.deep.three.THING is not in THINGS"]


def test_a_record_under_another_name_is_named(shelf: Path) -> None:
    """A record of the right kind counts, whatever it is called."""
    line = "from planted_shelf.kind import Thing\nOTHER = Thing('three')\n"
    (shelf / "three.py").write_text(line)
    assert faults_of_list(SHELF) == ["planted_shelf.three.OTHER is not in THINGS"]


def test_a_list_made_elsewhere_is_named(shelf: Path) -> None:
    """A record that no module defines has no business in the list."""
    with (shelf / "__init__.py").open("a") as out:
        out.write("from planted_shelf.kind import Thing\nTHINGS += (Thing('stray'),)\n")
    expected = ["THINGS lists stray, which no module of planted_shelf defines"]
    assert faults_of_list(SHELF) == expected


def test_a_missing_list_is_named(shelf: Path) -> None:
    """Records without a tuple are a fault, not an empty package."""
    (shelf / "__init__.py").write_text("")
    assert not is_empty(SHELF)
    assert faults_of_list(SHELF) == ["planted_shelf has no THINGS"]


def test_a_broken_module_is_not_passed_over(shelf: Path) -> None:
    """A module that cannot be imported stops the test; it does not vanish from the list."""
    (shelf / "three.py").write_text("import nothing_of_that_name\n")
    with pytest.raises(ModuleNotFoundError):
        faults_of_list(SHELF)


def test_bad_ids_are_named() -> None:
    """Capitals, underscores and doubles are refused."""
    assert faults_of_ids(["square-hem", "lengthen", "rotate-dart-2"]) == []
    assert faults_of_ids(["Square-hem", "square_hem", "a", "a"]) == [
        "'Square-hem' is not kebab-case",
        "'square_hem' is not kebab-case",
        "'a' is used twice",
    ]


def test_missing_and_orphaned_pages_are_named(tmp_path: Path) -> None:
    """A thing without a page, a page without a thing, a page without a heading."""
    (tmp_path / "README.md").write_text("about this folder")
    (tmp_path / "one.md").write_text("# One\n")
    (tmp_path / "two.md").write_text("no heading")
    (tmp_path / "gone.md").write_text("# Gone\n")
    assert faults_of_docs(["one", "two", "three"], tmp_path) == [
        f"{tmp_path.name}/three.md is missing",
        f"{tmp_path.name}/gone.md explains nothing that is listed",
        f"{tmp_path.name}/two.md has no heading",
    ]
