"""What the tests of the page share: demo workbooks, the application, a browser, screenshots."""

from __future__ import annotations

import os
import shutil
import socket
import time
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from starlette.testclient import TestClient

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.demo.workbooks import DEMOS
from clothwright.rules.weighing.laid import Laid
from clothwright.store import create
from clothwright.web.app import make_app
from clothwright.web.keys import Keys
from clothwright.web.room import Room
from clothwright.web.serve import Served, prepare
from clothwright.workroom.searching.laying import lay_plan

CHROMIUM = "/usr/bin/chromium"
PLACE = "127.0.0.1:8000"
WAIT_S = 600.0
"""A test that waits this long for what it waits for has failed, however busy the machine is."""
LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}


def demo_at(folder: Path, name: str) -> Path:
    """Make a demo workbook in a folder; return the workbook's own."""
    create(folder / name, next(d for d in DEMOS if d.name == name).make())
    return folder / name


@dataclass
class Desk:
    """The application in this process, as the owner of the machine sees it."""

    client: TestClient
    room: Room
    keys: Keys
    folder: Path
    open: Callable[[str], TestClient]

    def listen(self, origin: str | None = f"http://{PLACE}", client: Any = None) -> Any:
        """Open the websocket of the coat and skirt as a page of `origin` does."""
        headers = {} if origin is None else {"origin": origin}
        url = f"ws://{PLACE}/live/coat-and-skirt"
        return (client or self.client).websocket_connect(url, headers=headers)

    def post(self, path: str, **more: Any) -> Any:
        """Send a POST as our own page does."""
        headers = {"origin": f"http://{PLACE}", **more.pop("headers", {})}
        return self.client.post(path, headers=headers, follow_redirects=False, **more)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A folder with the coat and skirt, served to a client without a browser."""
    demo_at(tmp_path, "coat-and-skirt")
    room, keys = Room(root=tmp_path, run="one"), Keys()
    app = make_app(room, hosts=frozenset({PLACE, "192.168.7.2:8000"}), keys=keys)

    def from_(address: str) -> TestClient:
        return TestClient(
            app,
            base_url=f"http://{PLACE}",
            client=(address, 50000),
            raise_server_exceptions=False,
        )

    with from_("127.0.0.1") as client:
        yield Desk(client=client, room=room, keys=keys, folder=tmp_path, open=from_)
    end_searches(room)


def end_searches(room: Room) -> None:
    """Let a room's searches end, and wait: one left behind has the cores of the tests after it."""
    known = tuple(room.searches._known.values())
    for one in known:
        one.unwanted.set()
    for one in known:
        assert one.over.wait(WAIT_S)


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Chromium, driven by Playwright; without either the test says what is missing."""
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if not Path(CHROMIUM).exists():
        pytest.skip(f"no browser at {CHROMIUM}")
    with playwright.sync_playwright() as it:
        chromium = it.chromium.launch(
            executable_path=CHROMIUM,
            args=["--no-sandbox", "--disable-gpu", "--disable-software-rasterizer"],
        )
        yield chromium
        chromium.close()


@dataclass
class Shown:
    """A page on a served folder. strays: requests to any other host; trouble: script errors.

    lately: the last things it asked for, was answered and was pressed on, told when a test fails.

    untouched: the path and width it was loaded at, where nothing was done to it since, else "".
    spoilt: whether something was done to it that stays, so that no test after may have the page.
    """

    page: Any
    served: Served
    folder: Path
    untouched: str = ""
    spoilt: bool = False
    strays: list[str] = field(default_factory=list)
    trouble: list[str] = field(default_factory=list)
    lately: deque[str] = field(default_factory=lambda: deque(maxlen=60))

    def go(self, path: str) -> None:
        """Open a path of the server and wait until its websocket is there."""
        self.page.goto(self.served.address + path)
        if path.startswith("/b/"):
            self.page.wait_for_selector("html[data-live]", state="attached")


PORTS = 250
"""How many ports a process of tests has for itself."""


@cache
def _own_ports() -> tuple[socket.socket, range]:
    """Return this process's ports, and the socket that keeps others off them.

    No other process of tests on this machine, of this run or another, binds the same first port.
    """
    for first in range(20_000, 32_000, PORTS):
        mark = socket.socket()
        try:
            mark.bind(("127.0.0.1", first))
        except OSError:
            mark.close()
            continue
        return mark, range(first + 1, first + PORTS)
    raise AssertionError("every block of ports is taken by other tests")


def own_port() -> int:
    """Return the first free port of those that no other process of tests takes.

    A test that kills its server and starts it again on the same port must not find another test's
    server there in between. It is nearly always the same one: what a browser has fetched and
    compiled, it keeps by the address.
    """
    _, ports = _own_ports()
    for port in ports:
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) != 0:
                return port
    raise AssertionError("every port of these tests is taken")


PageOn = Callable[..., Shown]


@contextmanager
def served_at(folder: Path) -> Iterator[Served]:
    """Serve a folder from this process, on a port of this worker's own."""
    served = prepare(folder, port=own_port(), whole=True)
    served.start()
    try:
        yield served
    finally:
        served.stop()
        end_searches(served.room)


def new_page(browser: Any, size: dict[str, int]) -> Any:
    """Open an empty page in a browser context of its own, as another device would."""
    phone = size["width"] < 600
    context = browser.new_context(viewport=size, color_scheme="light", has_touch=phone)
    context.set_default_timeout(WAIT_S * 1000)
    page = context.new_page()
    page.add_init_script(PRESSES)
    return page


@contextmanager
def shown_on(page: Any, served: Served, folder: Path) -> Iterator[Shown]:
    """Show a server on a page, watched as long as it is."""
    it = Shown(page=page, served=served, folder=folder)
    unwatch = watch(it)
    ALL_SHOWN.append(it)
    try:
        yield it
    finally:
        ALL_SHOWN.remove(it)
        unwatch()


@contextmanager
def shown_by(browser: Any, served: Served, folder: Path, size: dict[str, int]) -> Iterator[Shown]:
    """Show a server on a page that no test had before."""
    page = new_page(browser, size)
    try:
        with shown_on(page, served, folder) as it:
            yield it
    finally:
        close(page.context)


@dataclass
class Devices:
    """Laptops and phones, each a page in a browser context of its own, lent to one test at a time.

    To begin such a page and its scripts takes three times as long as to look at one.
    """

    browser: Any
    free: dict[bool, list[Any]] = field(default_factory=lambda: {False: [], True: []})

    @contextmanager
    def lent(self, served: Served, folder: Path, size: dict[str, int]) -> Iterator[Shown]:
        """Show a server on a page that keeps nothing of the tests which had it before."""
        free = self.free[size["width"] < 600]
        page = free.pop() if free else new_page(self.browser, size)
        page.set_viewport_size(size)
        with shown_on(page, served, folder) as it:
            try:
                yield it
            finally:
                if it.spoilt or not emptied(page, served.address):
                    close(page.context)
                else:
                    free.append(page)


def emptied(page: Any, address: str) -> bool:
    """Make a page as a new one is, but for the scripts it has fetched; say whether that went."""
    sync_api = pytest.importorskip("playwright.sync_api")
    try:
        for other in page.context.pages:
            if other is not page:
                other.goto("about:blank", timeout=20_000)
                other.close()
        page.mouse.up()
        page.unroute_all()
        page.emulate_media(color_scheme="light")
        if page.url.startswith(address):
            page.evaluate("sessionStorage.clear(), localStorage.clear()")
        page.goto("about:blank", timeout=20_000)
        page.context.clear_cookies()
    except sync_api.Error:
        return False
    return True


@pytest.fixture(scope="session")
def devices(browser: Any) -> Devices:
    """Give devices.lent(served, folder, size): a page on a laptop or a phone."""
    return Devices(browser)


def close(context: Any) -> None:
    """Close a browser context, every page of it come to rest before.

    Chromium says that a page which is just going elsewhere is closed and does not close it; the
    driver then waits for ever (playwright, issue 42366). A page that will not go stays where it is.
    """
    sync_api = pytest.importorskip("playwright.sync_api")
    for page in context.pages:
        with suppress(sync_api.Error):
            page.goto("about:blank", timeout=20_000)
    context.close()


@pytest.fixture
def page_on(devices: Devices, tmp_path: Path) -> Iterator[PageOn]:
    """Give page_on("coat-and-skirt"): a browser page on a fresh copy of that demo.

    Without a name an empty folder is served. At the end no request may have gone to another host
    and no script may have failed (`strays`, `trouble`).
    """
    shown: list[Shown] = []
    with ExitStack() as stack:

        def open_(*demos: str, size: dict[str, int] = LAPTOP) -> Shown:
            for name in demos:
                demo_at(tmp_path, name)
            served = stack.enter_context(served_at(tmp_path))
            it = stack.enter_context(devices.lent(served, tmp_path, size))
            shown.append(it)
            return it

        yield open_
        for it in shown:
            assert it.strays == []
            assert it.trouble == []


@pytest.fixture(scope="module")
def looks(devices: Devices, tmp_path_factory: pytest.TempPathFactory) -> Iterator[PageOn]:
    """One server on one coat and skirt for all of a module, a laptop's page and a phone's."""
    folder = tmp_path_factory.mktemp("looked-at")
    demo_at(folder, "coat-and-skirt")
    open_: dict[bool, Shown] = {}
    with ExitStack() as stack:
        served = stack.enter_context(served_at(folder))

        def look(size: dict[str, int]) -> Shown:
            phone = size["width"] < 600
            if phone not in open_:
                open_[phone] = stack.enter_context(devices.lent(served, folder, size))
            return open_[phone]

        yield look


@pytest.fixture
def look_at(looks: PageOn) -> Iterator[PageOn]:
    """Give look_at("/b/coat-and-skirt/walk"): that page, for tests that change nothing.

    Server and pages are shared by the module's tests, and a page that was looked at last, at that
    width, is not loaded again. With afresh=True a test may change the page itself: it is loaded
    for this test alone. The same is asserted at the end as by `page_on`.
    """
    shown: list[Shown] = []

    def look(path: str, *, size: dict[str, int] = LAPTOP, afresh: bool = False) -> Shown:
        it, wanted = looks(size), f"{path} {size['width']}"
        it.page.set_viewport_size(size)
        if afresh or it.untouched != wanted:
            it.go(path)
        it.untouched = "" if afresh else wanted
        shown.append(it)
        return it

    yield look
    for it in shown:
        assert it.strays == []
        assert it.trouble == []


@pytest.fixture(scope="session")
def laid() -> Laid:
    """The chosen plan of the coat and skirt, laid once."""
    return lay_plan(coat_and_skirt(), seconds=60.0, rounds=3)


def until(true: Callable[[], bool], page: Any = None) -> None:
    """Wait until something is true; a page given is kept alive meanwhile (its events are heard)."""
    end = time.monotonic() + WAIT_S
    while not true():
        assert time.monotonic() < end, "it did not come to pass"
        if page is None:
            time.sleep(0.05)
        else:
            page.wait_for_timeout(50)


def wait_for_a_lay(it: Shown, name: str = "coat-and-skirt") -> None:
    """Wait until the search has found a place for every piece, however busy the machine is."""
    lays = it.served.room.lays(it.served.room.book(name))

    def found() -> bool:
        best = lays.state().laid
        return best is not None and not best.faults

    until(found, it.page)


def until_laid(it: Shown, count: int) -> None:
    """Wait on the page of plans until nothing is searched and so many cloths are drawn."""
    going, drawings = it.page.locator("progress"), it.page.locator(".small")
    until(lambda: going.count() == 0 and drawings.count() >= count, it.page)


PRESSES = """for (const kind of ["mousedown", "mouseup", "click", "submit"])
    addEventListener(kind, e => console.debug(kind, e.target.outerHTML?.slice(0, 120)), true);
"""

ALL_SHOWN: list[Shown] = []
"""The pages of the test that runs now."""


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(call: pytest.CallInfo[None]) -> Iterator[None]:
    """Tell with a failed test what its pages showed and did last."""
    report: Any = yield
    if call.when == "call" and report.failed:
        for it in ALL_SHOWN:
            it.spoilt = True
            with suppress(Exception):
                words = it.page.locator("body").inner_text(timeout=5_000)
                report.sections.append(("lately", "\n".join(it.lately)))
                report.sections.append((it.page.url, words[:6_000]))
    return report


def watch(it: Shown) -> Callable[[], None]:
    """Note every request to another host, and every error a script or the CSP reports.

    Returns what ends it.
    """
    note = it.lately.append

    def asked(request: Any) -> None:
        parts = urlsplit(request.url)
        if parts.scheme not in ("data", "blob") and parts.netloc != f"127.0.0.1:{it.served.port}":
            it.strays.append(request.url)

    def said(message: Any) -> None:
        note(f"{message.type}: {message.text[:200]}")
        if message.type == "error" and "WebSocket" not in message.text:
            it.trouble.append(message.text)

    heard: tuple[tuple[str, Callable[[Any], None]], ...] = (
        ("request", asked),
        ("request", lambda r: note(f"asks {r.method} {r.url}")),
        ("response", lambda r: note(f"gets {r.status} {r.url}")),
        ("requestfailed", lambda r: note(f"gets nothing {r.url}")),
        ("websocket", asked),
        ("pageerror", lambda error: it.trouble.append(str(error))),
        ("console", said),
    )
    for event, hear in heard:
        it.page.on(event, hear)

    def unwatch() -> None:
        for event, hear in heard:
            it.page.remove_listener(event, hear)

    return unwatch


def drawn(page: Any) -> None:
    """Wait until the page has been laid out and painted as it is now, its moving parts at rest.

    They are brought to their end, not waited for: in a part that is folded away none ever ends.
    """
    page.evaluate(
        """async () => {
            const frame = () => new Promise(done => requestAnimationFrame(done));
            await frame();
            const ends = a => Number.isFinite(a.effect.getComputedTiming().endTime);
            document.getAnimations().filter(ends).forEach(a => a.finish());
            await frame();
        }"""
    )


@pytest.fixture
def shots() -> Callable[[Shown, str], None]:
    """Give shots(shown, name): laptop light and dark, phone, into $CLOTHWRIGHT_SHOTS.

    Where that is not set nobody would look at them, and none are taken.
    """
    kept = os.environ.get("CLOTHWRIGHT_SHOTS")
    folder = Path(kept or ".")

    def take(it: Shown, name: str) -> None:
        if not kept:
            drawn(it.page)
            return
        folder.mkdir(parents=True, exist_ok=True)
        for label, size, theme in (
            ("laptop-light", LAPTOP, "light"),
            ("laptop-dark", LAPTOP, "dark"),
            ("phone", PHONE, "light"),
        ):
            it.page.set_viewport_size(size)
            it.page.emulate_media(color_scheme=theme)
            drawn(it.page)
            it.page.screenshot(path=folder / f"{name}-{label}.png", full_page=True)
        it.page.set_viewport_size(LAPTOP)
        it.page.emulate_media(color_scheme="light")

    return take


def node() -> str:
    """Return the path of node, or skip with what is missing."""
    found = shutil.which("node")
    if found is None:
        pytest.skip("node is not installed")
    return found


def node_tool(name: str) -> Path:
    """Return a file below node_modules of a test tool, or skip with how to get it."""
    default = Path.home() / ".cache" / "clothwright-web"
    folder = Path(os.environ.get("CLOTHWRIGHT_NODE_TOOLS", default))
    found = folder / "node_modules" / name
    if not found.exists():
        pytest.skip(f"{name} is not there; npm i --prefix {folder} axe-core typescript brings it")
    return found
