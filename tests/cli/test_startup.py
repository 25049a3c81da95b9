"""A command loads what it uses and nothing more; counted by what is imported, not by time."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.store import create

HEAVY = frozenset(
    {"PIL", "cv2", "distributed", "ezdxf", "http.client", "jinja2", "numpy", "pikepdf", "pydantic"}
    | {"pypdfium2", "reportlab", "scipy", "segno", "shapely", "spyrrow", "starlette", "tomlkit"}
    | {"uvicorn"}
)
"""What takes its time to load."""

RUN = """
import json, sys
from clothwright.cli.app import run
code = run(sys.argv[1:])
print(json.dumps([code, sorted(sys.modules)]), file=sys.stderr)
"""


def loaded(*argv: str, script: str = RUN) -> frozenset[str]:
    """Run a command in a process of its own and return the modules it left loaded."""
    done = subprocess.run(
        [sys.executable, "-c", script, *argv],
        env={**os.environ, "COLUMNS": "200"},
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    code, modules = json.loads(done.stderr.splitlines()[-1])
    assert code == 0, done.stdout + done.stderr
    return frozenset(modules)


@pytest.mark.parametrize("argv", [("--help",), ("--version",)])
def test_help_loads_no_command(argv):
    """The list of commands is said without any of them: no room of the house is entered."""
    found = loaded(*argv)
    assert not found & HEAVY
    own = {m for m in found if m.startswith("clothwright.") and not m.startswith("clothwright.cli")}
    assert own == {"clothwright.errors"}
    assert {m for m in found if m.startswith("clothwright.cli.")} == {"clothwright.cli.app"}


LOAD = """
import json, sys
from clothwright.cli.app import COMMANDS
next(c for c in COMMANDS if c.name == sys.argv[1]).load()
print(json.dumps([0, sorted(sys.modules)]), file=sys.stderr)
"""
LIGHT = "new seams name together body show change undo redo history recover walk".split()  # noqa: SIM905
"""Commands that neither read a bought file nor write one."""


@pytest.mark.parametrize("name", LIGHT)
def test_a_command_loads_what_it_uses(name):
    """No reader of drawings or photos, no writer, no demo, no page, nothing they need.

    Which edges may be sewn together is found in `intake.seams`, which reads no file.
    """
    found = loaded(name, script=LOAD)
    own = {m for m in found if m.startswith("clothwright.")}
    if name == "seams":
        own -= {m for m in own if f"{m}.".startswith("clothwright.intake.seams.")}
        own.remove("clothwright.intake")  # the package itself: it holds nothing
    rooms = {".".join(m.split(".")[:2]) for m in own}
    assert f"clothwright.cli.{name}" in found
    assert not rooms & {
        f"clothwright.{room}" for room in ("demo", "intake", "outputs", "photo", "web")
    }
    assert not found & (HEAVY - {"numpy", "shapely", "tomlkit"})


@pytest.mark.parametrize("name", ["print", "guide"])
def test_what_writes_no_dxf_loads_none_of_it(name):
    """Few ask for a DXF, and its library takes long to load."""
    assert "ezdxf" not in loaded(name, script=LOAD)


def test_show_loads_neither_readers_nor_writers_nor_the_page(tmp_path):
    """To show a workbook, no reader of drawings or photos, no writer, no search is loaded."""
    create(tmp_path / "w", checked_waistcoat())
    found = loaded("show", str(tmp_path / "w"))
    assert "clothwright.store" in found
    rooms = {".".join(m.split(".")[:2]) for m in found if m.startswith("clothwright.")}
    assert not rooms & {
        f"clothwright.{room}" for room in ("demo", "intake", "outputs", "photo", "web")
    }
    assert not found & (HEAVY - {"numpy", "pydantic", "shapely", "tomlkit"})


THREADS = """
import json, os, sys
import clothwright, numpy
numpy.ones((400, 400)) @ numpy.ones((400, 400))
print(json.dumps([0, os.listdir("/proc/self/task")]), file=sys.stderr)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="Linux tells the threads of a process")
def test_small_matrices_are_counted_on_one_core(monkeypatch: pytest.MonkeyPatch) -> None:
    """numpy begins no threads of its own beside us, unless somebody asks for them."""
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    assert len(loaded(script=THREADS)) == 1
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "2")
    assert len(loaded(script=THREADS)) == min(2, os.cpu_count() or 1)
