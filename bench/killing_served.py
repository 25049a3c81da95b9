"""Kill -9 at random moments while the server answers edits, ticks, drawings, a search at once."""

from __future__ import annotations

import http.client
import json
import random
import re
import socket
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from threading import Thread
from typing import Any
from urllib.parse import urlencode

from killing import BOOK, PLAN, POCKET, Figures, beside, looked_at, new_book, past_of
from tests.web.conftest import own_port
from tests.web.intake_demo import bare, demo_piece
from tests.web.killable import serve_apart

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.sewing import order_of_work
from clothwright.store import opened, piece_to_svg
from clothwright.workroom.cutting.ticks import read_ticks
from clothwright.workroom.pieces import inbox

LIST = "sewing"
KEYS = tuple(s.key for s in order_of_work(checked_waistcoat().bought))[:12]
LONGEST_S = 15.0
"""A kill is not put off for longer, whatever was not answered until then."""
DRAWING = bare(demo_piece("skirt front"))


@dataclass
class Caller:
    """One who sends requests to the server until it is gone; what was sent and acknowledged."""

    port: int
    acts: list[str] = field(default_factory=list)
    flying: str = ""
    trouble: str = ""

    def send(self, path: str, body: bytes | dict[str, str], kind: str = "") -> dict[str, Any]:
        """POST below the workbook; return the answer's JSON. Raises OSError when it is gone."""
        data = body if isinstance(body, bytes) else urlencode({"by": "script", **body}).encode()
        head = {
            "Origin": f"http://127.0.0.1:{self.port}",
            "Accept": "application/json",
            "Content-Type": kind or "application/x-www-form-urlencoded",
        }
        while True:
            link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
            link.request("POST", f"/b/{BOOK}/{path}", data, head)
            answer = link.getresponse()
            said = answer.read()
            if answer.status == 200:
                return json.loads(said)
            assert b"is saving this workbook" in said, (path, answer.status, said)

    def asks(self, path: str, body: object) -> dict[str, Any]:
        """POST JSON."""
        return self.send(path, json.dumps(body).encode(), "application/json")

    def begin(self, act: str) -> None:
        """Note what is about to be sent."""
        self.flying = act

    def end(self) -> None:
        """Note that it was acknowledged."""
        self.acts.append(self.flying)
        self.flying = ""


def editing(mine: Caller, revision: int, seed: int) -> None:
    """Edit on and on: the title, and the pocket's drawing with it; undo and redo in between."""
    rng, n = random.Random(seed), 0
    while True:
        n += 1
        act = rng.choice(["undo", "redo", *["title"] * 5])
        mine.begin(f"s{seed}-{n}" if act == "title" else act)
        if act == "title":
            noted = piece_to_svg(replace(POCKET, note=mine.flying))
            edits = [
                {"edit": "rename-workbook", "title": mine.flying},
                {"edit": "add-pieces", "pieces": [noted], "replace": True},
            ]
            whole = {"edit": "several", "edits": edits, "words": f'called "{mine.flying}"'}
            said = mine.asks("edit", {"base": revision, "token": mine.flying, "edit": whole})
        else:
            said = mine.asks("edit", {"base": revision, "go": act})
        revision = said["revision"]
        mine.end()


def ticking(mine: Caller, seed: int) -> None:
    """Tick and untick steps of the sewing on and on."""
    rng = random.Random(seed)
    while True:
        key, done = rng.choice(KEYS), rng.random() < 0.7
        mine.begin(f"{key}={done}")
        mine.asks("sew/tick", {"key": key, "done": done})
        mine.end()


def sitting(mine: Caller) -> None:
    """Put a drawing into the inbox, name it ten times, throw it away; on and on."""
    while True:
        mine.begin("put in")
        said = mine.send("add/file?name=skirt.svg", DRAWING, "image/svg+xml")
        key = re.search(r"drawing=([^&#]+)", said["address"])[1]  # type: ignore[index]
        mine.flying = f"in {key}"
        mine.end()
        for n in range(10):
            mine.begin(f"name {key} front {n}")
            path = f"add/answer?drawing={key}&piece=0"
            mine.send(path, {"what": "name", "name": f"front {n}"})
            mine.end()
        mine.begin(f"out {key}")
        mine.send(f"add/throw?drawing={key}", {})
        mine.end()


def searching(mine: Caller) -> None:
    """Have the plan laid; a better lay is kept as soon as it is found."""
    mine.begin("lay")
    mine.send("plans/lay", {"plan": PLAN, "seconds": "10"})
    mine.end()


def kill_server(root: Path, count: int, *, seed: int = 2) -> Figures:
    """Kill the server while an edit, a tick, an answer and a search are under way, so often."""
    figures, folder, port = Figures(), new_book(root), own_port()
    rng, past = random.Random(seed), past_of(folder)
    for n in range(count):
        ticks = {k: t.done for k, t in read_ticks(folder, LIST, LIST).items()}
        names = waiting(folder)
        revision = opened(folder).revision
        it = serve_apart(folder.parent, port)
        while deaf(port):
            time.sleep(0.02)
        does = [partial(editing, revision=revision, seed=seed * 1000 + n), partial(ticking, seed=n)]
        does += [sitting] if n % 6 == 0 else []
        does += [searching] if n % 10 == 0 else []
        callers = [Caller(port) for _ in does]
        threads = [
            Thread(target=_until_gone, args=pair) for pair in zip(does, callers, strict=True)
        ]
        for thread in threads:
            thread.start()
        many = rng.randrange(1, 6)
        until = time.monotonic() + LONGEST_S
        while len(callers[0].acts) < many or not all(c.acts for c in callers):
            if time.monotonic() > until or any(c.trouble for c in callers):
                break
            time.sleep(0.01)
        time.sleep(rng.uniform(0.0, 4.0 if searching in does else 0.2))
        it.kill()
        it.join()
        for thread in threads:
            thread.join()
        figures.times += 1
        figures.lost += [c.trouble for c in callers if c.trouble]
        past = looked_at(folder, past, callers[0].acts, callers[0].flying, figures)
        ticks_kept(folder, ticks, callers[1], figures)
        if sitting in does:
            names_kept(folder, names, callers[2], figures)
        beside(folder, figures)
    return figures


def _until_gone(do: Callable[[Caller], None], mine: Caller) -> None:
    """Send until the server is gone; what else goes wrong is kept to be told."""
    try:
        do(mine)
    except (OSError, http.client.HTTPException):
        return
    except BaseException as error:
        mine.trouble = repr(error)
        raise


def deaf(port: int) -> bool:
    """Tell whether no server answers there yet."""
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) != 0


def waiting(folder: Path) -> dict[str, str]:
    """Return the names given to the drawings that wait, by key."""
    found = inbox.waiting(folder)
    assert all(w.stored.read_bytes() == DRAWING for w in found if w.came), "a drawing is torn"
    return {w.id: w.about(0).answers.name or "" for w in found}


def ticks_kept(folder: Path, was: dict[str, bool], mine: Caller, figures: Figures) -> None:
    """Check every tick against what was acknowledged."""
    sure = {**was, **dict(_tick(act) for act in mine.acts)}
    maybe = {**sure, **dict([_tick(mine.flying)] if mine.flying else [])}
    now = {k: t.done for k, t in read_ticks(folder, LIST, LIST).items()}
    figures.acknowledged += len(mine.acts)
    figures.not_done += bool(mine.flying)
    if now not in (sure, maybe):
        figures.lost.append(f"ticks {now}, acknowledged {sure}, under way {mine.flying}")


def _tick(act: str) -> tuple[str, bool]:
    key, _, done = act.rpartition("=")
    return key, done == "True"


def names_kept(folder: Path, was: dict[str, str], mine: Caller, figures: Figures) -> None:
    """Check every drawing that waits, and its name, against what was acknowledged."""
    sure = dict(was)
    for act in mine.acts:
        sure = _named(sure, act)
    now = waiting(folder)
    maybe = _named(sure, mine.flying) if mine.flying else sure
    if mine.flying == "put in":
        new = set(now) - set(sure)
        maybe = {**sure, **dict.fromkeys(new, "")} if len(new) < 2 else sure
    figures.acknowledged += len(mine.acts)
    figures.not_done += bool(mine.flying)
    if now not in (sure, maybe):
        figures.lost.append(f"waiting {now}, acknowledged {sure}, under way {mine.flying}")
    for key in now:
        inbox.throw_away(folder, key)


def _named(sure: dict[str, str], act: str) -> dict[str, str]:
    what, key, *name = act.split(" ", 2)
    if what == "in":
        return {**sure, key: ""}
    if what == "out":
        return {k: v for k, v in sure.items() if k != key}
    return {**sure, key: name[0]} if what == "name" else sure
