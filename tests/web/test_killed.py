"""The server is killed outright (SIGKILL) while a maker works: nothing kept is lost or doubled."""

from __future__ import annotations

import signal
import socket
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any

import pytest

from clothwright.rules.weighing.laid import Laid
from clothwright.store import load
from clothwright.web.room import Room
from clothwright.workroom.searching.laying import keep_better
from tests.web.conftest import WAIT_S, PageOn, Shown, close, until
from tests.web.killable import serve_apart
from tests.web.test_cut import CUT, FREE, middle, pinned

LOST = "#link-state:has-text('lost')"
LISTEN = """() => {
    const line = document.getElementById("link-state");
    const look = () => { window.cameBack ||= line.textContent.includes("back"); };
    new MutationObserver(look).observe(line, { childList: true });
}"""
"""What is said for a while only is noted when it is said."""
PIECES = "/b/coat-and-skirt/pieces?piece=coat+back&edge=side"
EDITS = 8


@dataclass
class Server:
    """A server in a process of its own, which can be killed and started again on its port."""

    folder: Path
    port: int
    process: BaseProcess | None = None

    def start(self) -> None:
        """Start it and wait until it answers."""
        self.process = serve_apart(self.folder, self.port)

        def answers() -> bool:
            with socket.socket() as probe:
                return probe.connect_ex(("127.0.0.1", self.port)) == 0

        until(answers)

    def kill(self) -> None:
        """End it as a power cut does: SIGKILL, and gone."""
        if self.process is not None:
            self.process.kill()
            self.process.join(20)
            assert self.process.exitcode == -signal.SIGKILL
            self.process = None


Killable = Callable[[], tuple[Shown, Server]]


@pytest.fixture
def killable(page_on: PageOn, laid: Laid) -> Iterator[Killable]:
    """Give killable(): a page on the laid demo whose server may be killed."""
    servers: list[Server] = []
    pages: list[Shown] = []

    def open_() -> tuple[Shown, Server]:
        it = page_on("coat-and-skirt")
        it.spoilt = True  # its clock is a test's own, and it may still ask for what is killed
        at = it.folder / "coat-and-skirt"
        keep_better(at, load(at), laid)
        it.served.stop()
        server = Server(folder=it.folder, port=it.served.port)
        server.start()
        servers.append(server)
        pages.append(it)
        return it, server

    yield open_
    for server in servers:
        server.kill()
    for it in pages:  # refused connections while it was away are no trouble; script errors are
        it.trouble[:] = [words for words in it.trouble if "net::ERR" not in words]


def second_device(it: Shown, path: str) -> Any:
    """Open the same page in another browser context, as another device would."""
    context = it.page.context.browser.new_context()
    context.set_default_timeout(WAIT_S * 1000)
    page = context.new_page()
    page.goto(it.served.address + path)
    page.wait_for_selector("html[data-live]", state="attached")
    return page


def drag(it: Shown, dx: float, dy: float) -> None:
    """Take the free piece and move it; the pointer stays down."""
    x, y = middle(it, FREE)
    it.page.mouse.move(x, y)
    it.page.mouse.down()
    it.page.mouse.move(x + dx, y + dy, steps=5)
    it.page.wait_for_selector(f'.hold.moving[data-shape="{FREE}"]')


def test_killed_while_a_piece_is_dragged(killable: Killable) -> None:
    """Let go while the server is away, the piece waits; it is pinned there when it is back.

    What was pinned before is still pinned, and a second device shows the same places.
    """
    it, server = killable()
    it.go(CUT)
    other = second_device(it, CUT)
    it.page.locator('.hold[data-shape="skirt front"]').click()
    it.page.get_by_role("button", name="Pin it here").click()
    it.page.wait_for_selector('.hold.pinned[data-shape="skirt front"]')
    was = float(it.page.get_attribute(f'.hold[data-shape="{FREE}"]', "data-x") or "nan")
    drag(it, 30, 12)
    server.kill()
    x, y = middle(it, FREE)
    it.page.mouse.move(x + 6, y + 2, steps=3)
    it.page.mouse.up()
    it.page.wait_for_selector(LOST)
    it.page.get_by_role("alert").get_by_text("waits here").wait_for()
    assert pinned(it) == ["skirt front 1"]
    it.page.evaluate(LISTEN)
    server.start()
    it.page.wait_for_selector(f'.hold.pinned[data-shape="{FREE}"]')
    it.page.wait_for_function("() => window.cameBack")
    it.page.get_by_role("alert").wait_for(state="hidden")
    assert sorted(pinned(it)) == [FREE, "skirt front 1"]
    other.wait_for_selector(f'.hold.pinned[data-shape="{FREE}"]')
    places = [
        page.eval_on_selector_all(
            ".hold", "all => all.map(h => [h.dataset.shape, h.dataset.x, h.dataset.y])"
        )
        for page in (it.page, other)
    ]
    assert places[0] == places[1]
    now = float(next(x for name, x, _ in places[0] if name == FREE))
    assert abs(now - was) > 1
    assert not it.page.locator(".hold.moving").count()
    close(other.context)


def test_a_drag_that_cannot_be_kept_is_said(killable: Killable) -> None:
    """When the server stays away the piece goes back and the page says that it was not kept."""
    it, server = killable()
    it.page.clock.install()
    it.go(CUT)
    drag(it, 30, 12)
    server.kill()
    it.page.mouse.up()
    it.page.get_by_role("alert").get_by_text("waits here").wait_for()
    for _ in range(30):
        it.page.clock.run_for(10_000)
    it.page.get_by_role("alert").get_by_text("was not saved").wait_for()
    assert it.page.locator(".hold.moving").count() == 0
    assert pinned(it) == []


SEND = """async ([count, at]) => {
    const main = document.querySelector("script[src$='main.js']").src;
    const { send } = await import(main.replace("main.js", "edit.js"));
    window.kept = [];
    for (let k = 0; k < count; k++) {
        const params = { edges: ["coat back.side"], amount: `${22 + k} mm` };
        const edit = { edit: "add-change", kind: "set-allowance", params };
        send(edit).then((a) => {
            window.kept.push([k, a.ok, a.words]);
            if (k === at) document.documentElement.dataset.reached = "yes";
            if (k === count - 1) document.documentElement.dataset.all = "yes";
        });
    }
}"""


@pytest.mark.parametrize("last", [1, EDITS - 3])
def test_killed_between_edits_in_fast_sequence(killable: Killable, last: int) -> None:
    """Eight edits at once, killed after an early or a late one: what is said is kept, once each."""
    it, server = killable()
    it.go(PIECES)
    other = second_device(it, PIECES)
    before = len(load(it.folder / "coat-and-skirt").steps)
    it.page.evaluate(SEND, [EDITS, last])
    it.page.wait_for_selector("html[data-reached]", state="attached")
    server.kill()
    shown = it.page.evaluate("window.kept.filter(([, ok]) => ok).length")
    on_disk = len(load(it.folder / "coat-and-skirt").steps) - before
    assert shown <= on_disk <= shown + 1
    server.start()
    it.page.wait_for_selector("html[data-all]", state="attached")
    assert it.page.evaluate("window.kept.map(([k, ok]) => [k, ok])") == [
        [k, True] for k in range(EDITS)
    ]
    steps = load(it.folder / "coat-and-skirt").steps[before:]
    assert [step.params["amount"] for step in steps] == [f"{22 + k} mm" for k in range(EDITS)]
    now = Room(root=it.folder).book("coat-and-skirt").read().revision
    for page in (it.page, other):
        page.wait_for_selector(f"body[data-revision='{now}']")
        page.wait_for_selector("tr.chosen td:has-text('1 1/8 in')")  # 29 mm
    close(other.context)
