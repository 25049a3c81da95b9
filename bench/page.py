"""The page while it is used, in figures: drag, change, weight, and how soon it can be used.

    python bench/page.py                     everything, about three minutes
    python bench/page.py --only change,weight --seconds 4

An outfit of more than thirty pieces is laid once; then it is served by a process of its own, as
`clothwright open` serves it, and looked at in Chromium (without Playwright or Chromium only the
lines measured in one process are printed). Every line has the median and the time that 95 of 100
stay under, the aim beside them where there is one. `--only` names groups of `GROUPS`.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import re
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

from starlette.testclient import TestClient

sys.path.insert(0, str(Path(__file__).parent))
from outfit import thirty_pieces

from clothwright.demo import DEMOS
from clothwright.store import create, load
from clothwright.web.app import make_app
from clothwright.web.page import STAGES
from clothwright.web.room import Room
from clothwright.web.serve import prepare
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import keep_better, lay_plan

CHROMIUM = "/usr/bin/chromium"
PLACE = "127.0.0.1:8000"
ASKING = {"origin": f"http://{PLACE}", "accept": "application/json"}
GROUPS = ("drag", "change", "weight", "ready")
NAMES = tuple(s.name for s in STAGES)
PIECES, MOVES, EDITS, LOADS = 30, 60, 15, 5
DRAG_MS, CHANGE_MS, READY_MS, WEIGHT_KB = 50.0, 200.0, 1000.0, 300.0
SLOWER = 4
"""For information: Chromium on a processor this many times slower."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A row of the table: what was measured, how often, median, 95 %, unit, aim (0: none)."""

    what: str
    values: Sequence[float]
    unit: str = "ms"
    aim: float = 0.0

    def row(self) -> str:
        """Return it as a row; the aim is met by the median."""
        at = sorted(self.values)
        middle, most = statistics.median(at), at[min(len(at) - 1, int(0.95 * len(at)))]
        met = "" if not self.aim else "yes" if middle < self.aim else "NO"
        aim = f"{self.aim:.0f}" if self.aim else ""
        return (
            f"| {self.what} | {len(at)} | {middle:.0f} | {most:.0f} | {self.unit} | {aim} | {met} |"
        )


Say = Callable[[Line], None]


def large_book() -> Workbook:
    """Return the demo outfit three times over on cloth without an end."""
    book = next(d for d in DEMOS if d.name == "coat-and-skirt").make()
    cloths = tuple(replace(c, length=None, flaws=()) for c in book.cloths)
    return replace(book, bought=thirty_pieces(book.bought), cloths=cloths)


def change_edit(k: int) -> dict[str, object]:
    """Return an edit never made before: the coat's back cropped a little longer each time."""
    params = {"length": f"{508 + 0.037 * (k + 1):.3f} mm"}
    return {"edit": "set-change", "change": "1", "params": params}


# --- in one process -------------------------------------------------------------------------------


def drags_inside(client: TestClient, say: Say) -> None:
    """Measure the answers to a drag over the whole lay, without a network."""
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
    say(Line(what=f"drag, {len(holds)} pieces on the cloth, in one process", values=times, aim=50))


def changes_inside(client: TestClient, say: Say, names: Sequence[str]) -> None:
    """Measure a new change, then all parts that a page which shows the workbook draws anew."""
    done = 0
    for name in names:
        text = client.get(f"/b/outfit/{name}").text
        parts = ",".join(_parts(text))
        revision = int(_found(r'data-revision="(\d+)"', text))
        times = []
        for _ in range(EDITS):
            body = {"base": revision, "token": "", "edit": change_edit(done)}
            done += 1
            began = time.perf_counter()
            answer = client.post("/b/outfit/edit", headers=ASKING, content=json.dumps(body))
            drawn = client.get(f"/b/outfit/{name}?part={parts}")
            times.append(1000 * (time.perf_counter() - began))
            if answer.status_code != 200 or drawn.status_code != 200:
                raise SystemExit(answer.text + drawn.text)
            revision = answer.json()["revision"]
        say(Line(what=f"change and {name} drawn anew, in one process", values=times, aim=CHANGE_MS))


def _parts(text: str) -> list[str]:
    """Return the parts of a page that show the workbook."""
    found = []
    for tag in re.findall(r"<[^>]*data-part=[^>]*>", text):
        topics = re.search(r'data-topics="([^"]*)"', tag)
        if topics is None or "book" in topics[1].split():
            found.append(_found(r'data-part="([^"]+)"', tag))
    return found


def weights(client: TestClient, say: Say) -> None:
    """Measure what each page and everything it fetches weigh: as sent, and unpacked."""
    for name in ("", *NAMES, "style"):
        path = f"/b/outfit/{name}" if name in NAMES else f"/{name}"
        sent, whole = _weight(client, path)
        what = f"{path} and all it fetches"
        say(Line(what=f"{what}, as sent", values=[sent], unit="kB", aim=WEIGHT_KB))
        say(Line(what=f"{what}, unpacked", values=[whole], unit="kB"))


def _weight(client: TestClient, path: str) -> tuple[float, float]:
    got = client.get(path)
    text = got.text
    sent, whole, seen = _sent(got), len(got.content), set()
    queue = re.findall(r'(?:src="|rel="stylesheet" href=")(/[^"]+)"', text)
    while queue:
        address = queue.pop()
        if address in seen:
            continue
        seen.add(address)
        got = client.get(address)
        sent += _sent(got)
        whole += len(got.content)
        if address.endswith(".js"):
            queue += [urljoin(address, m) for m in re.findall(r'from "(\./[^"]+)"', got.text)]
    return sent / 1000, whole / 1000


def _sent(got: Any) -> int:
    """Return the bytes of a body as it travelled."""
    return int(got.headers.get("content-length", len(got.content)))


# --- in Chromium ----------------------------------------------------------------------------------


def _serve(folder: str, port: Any) -> None:
    served = prepare(Path(folder), port=0, whole=True)
    port.send(served.address)
    served.run()


@contextmanager
def a_server(folder: Path) -> Iterator[str]:
    """Serve the folder by a process of its own; give its address."""
    here, there = multiprocessing.Pipe()
    process = multiprocessing.get_context("spawn").Process(
        target=_serve, args=(str(folder), there), daemon=False
    )
    process.start()
    try:
        yield here.recv()
    finally:
        process.terminate()
        process.join(10)


def drags_outside(page: Any, address: str, say: Say) -> None:
    """Drag pieces with the pointer; measure each question and its answer as the page sees them."""
    _go(page, address + "/b/outfit/cut")
    page.evaluate("performance.setResourceTimingBufferSize(5000)")
    holds = page.locator(".hold")
    count, times = holds.count(), []
    for k in range(0, count, max(1, count // 12)):
        holds.nth(k).scroll_into_view_if_needed()
        box = holds.nth(k).bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        for n in range(8):
            page.mouse.move(x + 6 * (n + 1), y + 2 * n)
            page.wait_for_timeout(40)
        page.dispatch_event("body", "pointercancel")
        page.mouse.up()
    times = page.evaluate(
        "performance.getEntriesByType('resource').filter(e => e.name.endsWith('/cut/try'))"
        ".map(e => e.duration)"
    )
    say(
        Line(
            what=f"drag, {count} pieces, asked and answered in Chromium", values=times, aim=DRAG_MS
        )
    )


CHANGE = """async edit => {
    const main = document.querySelector("script[src$='main.js']").src;
    const { send } = await import(main.replace("main.js", "edit.js"));
    const began = performance.now();
    const answer = await send(edit);
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
    return [performance.now() - began, answer.ok, answer.words];
}"""


def changes_outside(page: Any, address: str, say: Say, names: Sequence[str]) -> None:
    """Send a new change from the page; measure until drawing and findings are on the screen."""
    done = 1000
    for name in names:
        _go(page, f"{address}/b/outfit/{name}")
        times = []
        for _ in range(EDITS):
            done += 1
            took, ok, words = page.evaluate(CHANGE, change_edit(done))
            if not ok:
                raise SystemExit(words)
            times.append(took)
            page.wait_for_timeout(100)
        say(Line(what=f"change to {name} on the screen, Chromium", values=times, aim=CHANGE_MS))


def ready(browser: Any, address: str, say: Say, names: Sequence[str]) -> None:
    """Measure from the start of a visit until every module runs: new to it, and again; slowed."""
    for name in names:
        url, cold, warm, slowed = f"{address}/b/outfit/{name}", [], [], []
        for _ in range(LOADS):
            context = browser.new_context()
            page = context.new_page()
            cold.append(_ready(page, url))
            warm.append(_ready(page, url))
            tools = context.new_cdp_session(page)
            tools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
            slowed.append(_ready(page, url))
            context.close()
        say(Line(what=f"{name} ready, first visit", values=cold, aim=READY_MS))
        say(Line(what=f"{name} ready, again", values=warm, aim=READY_MS))
        say(Line(what=f"{name} ready, again, processor {SLOWER}x slower", values=slowed))


def _go(page: Any, url: str) -> None:
    page.goto(url)
    page.wait_for_selector("html[data-live]", state="attached")


def _ready(page: Any, url: str) -> float:
    _go(page, url)
    return float(page.evaluate("performance.getEntriesByName('ready')[0].startTime"))


def in_chromium(folder: Path, only: Sequence[str], say: Say, names: Sequence[str]) -> None:
    """Do what needs a browser, if there is one."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        print("playwright is not installed: nothing was measured in a browser")
        return
    if not Path(CHROMIUM).exists():
        print(f"no browser at {CHROMIUM}: nothing was measured in it")
        return
    with sync_playwright() as it, a_server(folder) as address:
        browser = it.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        if "ready" in only:
            ready(browser, address, say, names)
        if "drag" in only:
            drags_outside(page, address, say)
        if "change" in only:
            changes_outside(page, address, say, names)
        browser.close()


def _found(pattern: str, text: str) -> str:
    match = re.search(pattern, text)
    if match is None:
        raise SystemExit(f"{pattern} is not on the page")
    return match[1]


def main(argv: Sequence[str] | None = None) -> None:
    """Lay a large outfit, then measure."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--only", default=",".join(GROUPS))
    parser.add_argument("--seconds", type=float, default=12.0, help="for the lay")
    parser.add_argument("--pages", default=",".join(NAMES), help="for changes and readiness")
    parser.add_argument("--inside", action="store_true", help="no browser")
    given = parser.parse_args(argv)
    only, names = given.only.split(","), given.pages.split(",")
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        create(folder / "outfit", large_book())
        book = load(folder / "outfit")
        laid = keep_better(folder / "outfit", book, lay_plan(book, seconds=given.seconds))
        if len(laid.lay.placements) < PIECES or laid.faults:
            raise SystemExit(f"only {len(laid.lay.placements)} pieces were laid")
        print("| what | n | median | 95 % | unit | aim | met |")
        print("| --- | --: | --: | --: | --- | --: | --- |")

        def say(line: Line) -> None:
            print(line.row(), flush=True)

        app = make_app(Room(root=folder, run="bench"), hosts=frozenset({PLACE}))
        with TestClient(app, base_url=f"http://{PLACE}", client=("127.0.0.1", 5000)) as client:
            if "weight" in only:
                weights(client, say)  # before any change: with the lay in the guide
            if not given.inside:
                in_chromium(folder, only, say, names)
            if "drag" in only and given.inside:
                drags_inside(client, say)
            if "change" in only:
                changes_inside(client, say, names)


if __name__ == "__main__":
    main()
