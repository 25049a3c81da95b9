"""A browser without scripts on the machine itself, for what pages say."""

from __future__ import annotations

from pathlib import Path

from starlette.testclient import TestClient

from clothwright.web.app import make_app
from clothwright.web.room import Room
from tests.words.shown import PLACE


def reader_of(root: Path) -> TestClient:
    """Return one that reads the pages of the workbooks in a folder, and sends their forms."""
    return TestClient(
        make_app(Room(root=root), hosts=frozenset({PLACE})),
        base_url=f"http://{PLACE}",
        headers={"origin": f"http://{PLACE}", "accept": "text/html"},
        client=("127.0.0.1", 1),
    )
