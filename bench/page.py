"""The page while it is used: a drag answered, an edit drawn, bytes of the heaviest page.

    python bench/page.py

Aims: an answer to a drag on a lay of thirty pieces under 50 ms in the median; an edit and the
drawing and findings after it under 200 ms; a page with all it fetches under 300 kB.
"""

from __future__ import annotations

import json
import re
import statistics
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from starlette.testclient import TestClient

sys.path.insert(0, str(Path(__file__).parent))
from outfit import thirty_pieces

from clothwright.demo import DEMOS
from clothwright.store import create, load
from clothwright.web.app import make_app
from clothwright.web.room import Room
from clothwright.workbook import Workbook
from clothwright.workroom.laying import keep_better, lay_plan

PLACE = "127.0.0.1:8000"
ASKING = {"origin": f"http://{PLACE}", "accept": "application/json"}
PIECES = 30
MOVES = 60
EDITS = 15
LAY_S = 12.0


def large_book() -> Workbook:
    """Return the demo outfit three times over on cloth without an end."""
    book = next(d for d in DEMOS if d.name == "coat-and-skirt").make()
    cloths = tuple(replace(c, length=None, flaws=()) for c in book.cloths)
    return replace(book, bought=thirty_pieces(book.bought), cloths=cloths)


def served(folder: Path, book: Workbook) -> TestClient:
    """Return a client of the page on a fresh workbook of this name."""
    create(folder / "outfit", book)
    app = make_app(Room(root=folder, run="bench"), hosts=frozenset({PLACE}))
    return TestClient(app, base_url=f"http://{PLACE}", client=("127.0.0.1", 5000))


def drags(client: TestClient) -> None:
    """Measure the answers to a drag over the whole lay, by HTTP."""
    text = client.get("/b/outfit/cut").text
    holds = re.findall(r'data-shape="([^"]+)".*?data-x="([^"]+)" data-y="([^"]+)"', text)
    times = []
    for k in range(MOVES):
        name, x, y = holds[k % len(holds)]
        sent = {"shape": name, "x": float(x) + 7 * k, "y": float(y) + 3 * k, "turn": 0.0}
        began = time.perf_counter()
        answer = client.post("/b/outfit/cut/try", headers=ASKING, json=sent)
        times.append(1000 * (time.perf_counter() - began))
        if answer.status_code != 200:
            raise SystemExit(answer.text)
    times.sort()
    print(
        f"drag: {len(holds)} pieces on the cloth, median {statistics.median(times):.1f} ms, "
        f"95 % under {times[int(0.95 * len(times))]:.1f} ms (aim 50)"
    )


def edits(client: TestClient, change: str) -> None:
    """Measure a change switched off and on, then the parts of the page that show it."""
    shown = "/b/outfit/pieces?part=table,piece"
    revision = int(_found(r'data-revision="(\d+)"', client.get("/b/outfit/pieces").text))
    client.get(shown)
    times = []
    for k in range(EDITS):
        edit = {"edit": "switch-change", "change": change, "on": k % 2 == 1}
        began = time.perf_counter()
        body = {"base": revision, "token": "", "edit": edit}
        answer = client.post("/b/outfit/edit", headers=ASKING, content=json.dumps(body))
        client.get(shown)
        times.append(1000 * (time.perf_counter() - began))
        if answer.status_code != 200:
            raise SystemExit(answer.text)
        revision = answer.json()["revision"]
    print(f"edit and its drawing: median {statistics.median(times):.0f} ms (aim 200)")


def weight(client: TestClient, name: str) -> None:
    """Measure what a page and everything it fetches weigh."""
    text = client.get(f"/b/outfit/{name}").text
    own, seen = len(text.encode()), set()
    queue = re.findall(r'(?:src|href)="(/static/[^"]+)"', text)
    total = own
    while queue:
        address = queue.pop()
        if address in seen:
            continue
        seen.add(address)
        got = client.get(address)
        total += len(got.content)
        if address.endswith(".js"):
            queue += [f"/static/js/{m}" for m in re.findall(r'from "\./([^"]+)"', got.text)]
    print(f"page {name}: {own / 1000:.0f} kB, with all it fetches {total / 1000:.0f} kB (aim 300)")


def _found(pattern: str, text: str) -> str:
    match = re.search(pattern, text)
    if match is None:
        raise SystemExit(f"{pattern} is not on the page")
    return match[1]


def main() -> None:
    """Lay a large outfit, then measure."""
    with tempfile.TemporaryDirectory() as place:
        client = served(Path(place), large_book())
        book = load(Path(place) / "outfit")
        laid = keep_better(Path(place) / "outfit", book, lay_plan(book, seconds=LAY_S))
        if len(laid.lay.placements) < PIECES or laid.faults:
            raise SystemExit(f"only {len(laid.lay.placements)} pieces were laid")
        with client:
            drags(client)
            weight(client, "cut")
            weight(client, "pieces")
            edits(client, "1")


if __name__ == "__main__":
    main()
