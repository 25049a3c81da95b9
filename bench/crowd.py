"""How long the owner waits for a page beside 300 connections that mean no good.

    python bench/crowd.py [--count 300] [--times 40]

The demo is served by a process of its own, as `clothwright open --share` serves it; another address
of this machine (127.0.0.2) stands in for that in the house, and the callers come from 127.0.1.x,
which are asked for a key as any other device is. They never leave this machine and are no more than
`--count`. The aim for each page is a second.
"""

from __future__ import annotations

import argparse
import multiprocessing
import tempfile
import time
from multiprocessing.connection import Connection
from pathlib import Path
from urllib.request import urlopen

from page import Line
from tests.web.crowd import KINDS, SLOW, Crowd

from clothwright.demo import DEMOS
from clothwright.store import create
from clothwright.web import guard, serve

AIM_MS = 1000.0
BOOK = "coat-and-skirt"
PAGES = ("/", f"/b/{BOOK}/pieces", f"/b/{BOOK}/walk", "/static/js/main.js")
HOUSE = "127.0.0.2"
SOURCES = tuple(f"127.0.1.{n}" for n in range(1, 11))
OWN = serve.HERE


def served(folder: Path, line: Connection) -> None:
    """Serve a folder, shared, until the other end says something; then tell who was connected."""
    serve.house_address = lambda: HOUSE
    guard.is_local = lambda scope: guard.address_of(scope) == OWN
    it = serve.prepare(folder, whole=True, share=True)
    it.start()
    line.send(it.port)
    while line.recv() != "end":
        line.send(len(it.callers.calls))
    it.stop()


def crowd(
    place: tuple[str, int],
    count: int,
    sources: tuple[str, ...],
    kinds: tuple[str, ...],
    line: Connection,
) -> None:
    """Call a place with so many until the other end says something; then tell how it went."""
    it = Crowd(place=place, host=f"{place[0]}:{place[1]}")
    it.start(count, sources, kinds)
    line.recv()
    it.stop()
    line.send(dict(it.answered))


def main() -> None:
    """Serve the demo, and ask for pages without and with each crowd; print what they took."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=300, help="of the connections")
    parser.add_argument("--times", type=int, default=40, help="each page is asked for")
    given = parser.parse_args()
    context = multiprocessing.get_context("spawn")
    with tempfile.TemporaryDirectory() as place:
        create(Path(place) / BOOK, next(d for d in DEMOS if d.name == BOOK).make())
        ours, theirs = context.Pipe()
        server = context.Process(target=served, args=(Path(place), theirs))
        server.start()
        port = ours.recv()
        print("| owner's pages beside | n | median | 95 % | unit | aim | met | longest | held |")
        print("| --- | --: | --: | --: | --- | --: | --- | --: | --: |")
        try:
            for what, where, sources, kinds in (
                ("nobody", "", (), ()),
                (f"{given.count} of the house, slow", HOUSE, SOURCES, SLOW),
                (f"{given.count} of the house, slow and fast", HOUSE, SOURCES, KINDS),
                (f"{given.count} of one device, slow and fast", HOUSE, SOURCES[:1], KINDS),
                (f"{given.count} of this machine, slow", OWN, (OWN,), SLOW),
                (f"{given.count} of this machine, slow and fast", OWN, (OWN,), KINDS),
            ):
                mine, others = context.Pipe()
                if where:
                    them = context.Process(
                        target=crowd, args=((where, port), given.count, sources, kinds, others)
                    )
                    them.start()
                    time.sleep(3.0)
                times = [_ms(f"http://{OWN}:{port}{p}") for _ in range(given.times) for p in PAGES]
                ours.send("how many")
                held = ours.recv()
                row = Line(what=what, values=times, aim=AIM_MS).row()
                print(f"{row} {max(times):.0f} | {held} |", flush=True)
                if where:
                    mine.send("end")
                    mine.recv()
                    them.join()
        finally:
            ours.send("end")
            server.join(20)


def _ms(url: str) -> float:
    began = time.perf_counter()
    with urlopen(url, timeout=60) as answer:
        answer.read()
    return 1000 * (time.perf_counter() - began)


if __name__ == "__main__":
    main()
