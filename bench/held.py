"""How long others wait while one page computes for six seconds: files, a socket, a second page.

    python bench/held.py [--seconds 6]

The demo is served by a process of its own, as `clothwright open` serves it. What every page of the
pieces needs (the replay) is planted to keep a core busy for so long in plain Python; one page asks
for it, and meanwhile others are asked for. The aim of each is 50 ms.
"""

from __future__ import annotations

import argparse
import multiprocessing
import tempfile
import threading
import time
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any
from urllib.request import urlopen

from page import Line
from websockets.sync.client import connect

from clothwright.demo import DEMOS
from clothwright.store import create
from clothwright.web.serve import prepare
from clothwright.workroom.editing import opened

AIM_MS = 50.0
TIMES = 20
BOOK = "/b/coat-and-skirt"
OTHERS = ("/static/js/main.js", "/static/css/page.css", "/style", f"{BOOK}/length?text=1")


def serve(folder: Path, seconds: float, line: Connection) -> None:
    """Serve a folder, with the planted computation, until the other end says something."""
    real = opened.replay

    def long(*args: Any, **more: Any) -> Any:
        until = time.perf_counter() + seconds
        while time.perf_counter() < until:
            sum(range(1000))
        return real(*args, **more)

    opened.replay = long
    served = prepare(folder, whole=True)
    served.start()
    line.send(served.address)
    line.recv()
    served.stop()


def measure(address: str) -> None:
    """Ask for the page that computes, and for the others meanwhile; print what each took."""
    first = threading.Thread(target=lambda: _get(f"{address}{BOOK}/pieces"))
    _get(address + OTHERS[0])
    first.start()
    time.sleep(0.5)
    live = address.replace("http", "ws") + f"/live{BOOK.removeprefix('/b')}"
    socket = _ms(lambda: _hello(live, address))
    rows = [Line(what="a second page's socket", values=[socket], aim=AIM_MS)]
    for path in OTHERS:
        times = [_ms(lambda path=path: _get(address + path)) for _ in range(TIMES)]
        rows.append(Line(what=path, values=times, aim=AIM_MS))
    if not first.is_alive():
        raise SystemExit("the computation was over before the others were asked for")
    first.join()
    print("| while it computes | n | median | 95 % | unit | aim | met |")
    print("| --- | --: | --: | --: | --- | --: | --- |")
    for row in rows:
        print(row.row())


def _get(url: str) -> bytes:
    with urlopen(url, timeout=60) as answer:
        found: bytes = answer.read()
    return found


def _hello(live: str, origin: str) -> None:
    with connect(live, origin=origin) as socket:  # type: ignore[arg-type]
        socket.recv(timeout=60)


def _ms(do: Callable[[], object]) -> float:
    began = time.perf_counter()
    do()
    return 1000 * (time.perf_counter() - began)


def main() -> None:
    """Serve the demo, measure, end the server."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--seconds", type=float, default=6.0, help="of the planted computation")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        book = next(d for d in DEMOS if d.name == "coat-and-skirt").make()
        create(Path(place) / "coat-and-skirt", book)
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        server = context.Process(target=serve, args=(Path(place), given.seconds, theirs))
        server.start()
        try:
            measure(ours.recv())
        finally:
            ours.send("end")
            server.join(10)


if __name__ == "__main__":
    main()
