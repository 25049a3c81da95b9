"""The server loads what its first answer needs and nothing more; counted by what is imported."""

from __future__ import annotations

import pytest

from clothwright.web.pages import PAGES
from tests.cli.test_startup import HEAVY, loaded
from tests.web.conftest import Desk

SERVE = """
import json, sys
from pathlib import Path
from clothwright.web.serve import prepare
prepare(Path(sys.argv[1])).sockets[0].close()
print(json.dumps([0, sorted(sys.modules)]), file=sys.stderr)
"""
SERVED = frozenset(
    {"http.client", "jinja2", "numpy", "pydantic", "shapely", "starlette", "tomlkit", "uvicorn"}
)
"""What serving itself needs: the web, and reading a workbook."""


def test_the_server_loads_no_page(tmp_path):
    """Ready to be asked, it has loaded no page, no reader of files, no writer, no demo."""
    found = loaded(str(tmp_path), script=SERVE)
    rooms = {".".join(m.split(".")[:2]) for m in found if m.startswith("clothwright.")}
    assert {m for m in found if m.startswith("clothwright.web.pages")} == {"clothwright.web.pages"}
    assert not rooms & {f"clothwright.{room}" for room in ("demo", "intake", "outputs", "photo")}
    assert not found & (HEAVY - SERVED)


ASK = """
import json, sys
from pathlib import Path
from starlette.testclient import TestClient
from clothwright.web.app import make_app
from clothwright.web.room import Room
app = make_app(Room(root=Path(sys.argv[1])), hosts=frozenset({"testserver"}))
client = TestClient(app, client=("127.0.0.1", 1))
assert client.get(sys.argv[2]).status_code == 404
print(json.dumps([0, sorted(sys.modules)]), file=sys.stderr)
"""


@pytest.mark.parametrize(
    ("path", "own"),
    [
        ("/b/none/sew/tick/more", {"sew"}),
        ("/b/none/cloth/photo/none", {"cloth", "cloth_photo"}),
        ("/b/none/sewn", set()),
        ("/start/none", {"start"}),
    ],
)
def test_a_request_loads_the_page_it_is_for(tmp_path, path, own):
    """Its own page and no other: what is asked for below a page's path is that page's to answer."""
    found = loaded(str(tmp_path), path, script=ASK)
    pages = {m for m in found if m.startswith("clothwright.web.pages.")}
    assert pages == {f"clothwright.web.pages.{page}" for page in own}


def test_every_door_lies_below_its_page_and_is_open_at_once(desk: Desk) -> None:
    """Each door answers as the first thing asked of its page, and no two are at one address."""
    doors = [(page.below(door.path), door.method) for page in PAGES for door in page.file.doors]
    assert len(doors) == len(set(doors))
    for path, method in doors:
        address = path.replace("{book}", "none")
        answer = desk.post(address) if method == "POST" else desk.client.get(address)
        assert answer.status_code in (303, 400, 404, 409), address
        assert "There is no such page here" not in answer.text, address
