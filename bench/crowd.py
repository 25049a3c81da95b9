"""How long the owner waits for a page beside 300 connections that mean no good.

    python bench/crowd.py [--count 300] [--times 40] [--pause 0] [--nice 0] [--only machine]

The demo is served by a process of its own, as `clothwright open --share` serves it; another address
of this machine (127.0.0.2) stands in for that in the house, and the callers come from 127.0.1.x,
which are asked for a key as any other device is. They never leave this machine and are no more than
`--count`. They are a process of their own, too, that has no rest but `--pause` seconds between two
calls of one caller, and as little of the cores as `--nice` says: what it takes of them is part of
what the owner waits for. The owner asks as a browser does, which keeps what cookies it is given
and says that she opened the page herself, and as a program does, which does neither. The
aim for each page is a second.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import statistics
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from http.cookiejar import CookieJar
from multiprocessing.connection import Connection
from pathlib import Path
from typing import NamedTuple
from urllib.request import HTTPCookieProcessor, OpenerDirector, build_opener

from tests.web.crowd import FAST, KINDS, SLOW, Crowd

from clothwright.demo import DEMOS
from clothwright.store import create
from clothwright.web import guard, serve

AIM_MS = 1000.0
BOOK = "coat-and-skirt"
PAGES = ("/", f"/b/{BOOK}/pieces", f"/b/{BOOK}/walk", "/static/js/main.js")
HOUSE = "127.0.0.2"
SOURCES = tuple(f"127.0.1.{n}" for n in range(1, 11))
OWN = serve.HERE
SPAWN = multiprocessing.get_context("spawn")
COME_S = 60.0
"""How long it is waited for all of a crowd to have called once."""


class Beside(NamedTuple):
    """Who is there beside the owner: where they call, from where, and how."""

    what: str
    where: str = ""
    sources: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()


CROWDS = (
    Beside("nobody"),
    Beside("of the house, slow", HOUSE, SOURCES, SLOW),
    Beside("of the house, slow and fast", HOUSE, SOURCES, KINDS),
    Beside("of one device, slow and fast", HOUSE, SOURCES[:1], KINDS),
    Beside("of this machine, slow", OWN, (OWN,), SLOW),
    Beside("of this machine, slow and fast", OWN, (OWN,), KINDS),
    Beside("of this machine, fast", OWN, (OWN,), FAST),
)


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
    them: Beside, port: int, count: int, pause: float, niceness: int, line: Connection
) -> None:
    """Call a place with so many; tell what was done so far whenever the other end asks."""
    os.nice(niceness)
    place = (them.where, port)
    it = Crowd(place=place, host=f"{them.where}:{port}", book=BOOK, pause=pause)
    it.start(count, them.sources, them.kinds)
    while line.recv() != "end":
        line.send(dict(it.done))
    it.stop()


def main() -> None:
    """Serve the demo, and ask for pages without and with each crowd; print what they took."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=300, help="of the connections")
    parser.add_argument("--times", type=int, default=40, help="each page is asked for")
    parser.add_argument("--pause", type=float, default=0.0, help="seconds between a caller's calls")
    parser.add_argument("--nice", type=int, default=0, help="how much the crowd gives way")
    parser.add_argument("--only", default="", help="crowds with this word in their name")
    given = parser.parse_args()
    print(f"load {os.getloadavg()[0]:.1f}; pause {given.pause} s, nice {given.nice}")
    with tempfile.TemporaryDirectory() as place:
        create(Path(place) / BOOK, next(d for d in DEMOS if d.name == BOOK).make())
        ours, theirs = SPAWN.Pipe()
        server = SPAWN.Process(target=served, args=(Path(place), theirs))
        server.start()
        port = ours.recv()
        print("| beside | asked by | n | median | 95 % | longest, ms | held | calls a second |")
        print("| --- | --- | --: | --: | --: | --: | --: | --: |")
        try:
            for them in (one for one in CROWDS if given.only in one.what):
                _beside(them, port, ours, given)
        finally:
            ours.send("end")
            server.join(20)


def _beside(them: Beside, port: int, server: Connection, given: argparse.Namespace) -> None:
    """Ask for pages beside a crowd, and print what they took."""
    mine, others = SPAWN.Pipe()
    more = (given.count, given.pause, given.nice, others)
    process = SPAWN.Process(target=crowd, args=(them, port, *more))
    if them.where:
        process.start()
        _until(lambda: _asked(mine)["connected"] >= given.count)
    for who, owner in (("a browser", _browser()), ("a program", build_opener())):
        before = _asked(mine) if them.where else Counter[str]()
        began = time.perf_counter()
        times = [_ms(owner, port, p) for _ in range(given.times) for p in PAGES]
        after = _asked(mine) if them.where else Counter[str]()
        calls = (after - before).total() / (time.perf_counter() - began)
        server.send("how many")
        print(_row(them, who, times, server.recv(), calls), flush=True)
    if them.where:
        mine.send("end")
        process.join()


def _browser() -> OpenerDirector:
    owner = build_opener(HTTPCookieProcessor(CookieJar()))
    owner.addheaders = [("Sec-Fetch-Site", "none")]
    return owner


def _row(them: Beside, who: str, times: list[float], held: int, calls: float) -> str:
    most = sorted(times)[int(0.95 * len(times))]
    mark = "" if max(times) < AIM_MS else " TOO LONG"
    return (
        f"| {them.what} | {who} | {len(times)} | {statistics.median(times):.0f} | {most:.0f} "
        f"| {max(times):.0f}{mark} | {held} | {calls:.0f} |"
    )


def _asked(line: Connection) -> Counter[str]:
    line.send("how many")
    return Counter(line.recv())


def _until(done: Callable[[], bool]) -> None:
    until = time.monotonic() + COME_S
    while not done() and time.monotonic() < until:
        time.sleep(0.1)


def _ms(owner: OpenerDirector, port: int, page: str) -> float:
    began = time.perf_counter()
    with owner.open(f"http://{OWN}:{port}{page}", timeout=60) as answer:
        answer.read()
    return 1000 * (time.perf_counter() - began)


if __name__ == "__main__":
    main()
