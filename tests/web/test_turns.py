"""Who is answered next: each who asks in turn, and what takes long holds up nobody."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from clothwright.web import turns
from clothwright.web.keys import MARK, Keys
from clothwright.web.turns import MOST_LONG, AnswerTurn, AnswerTurns, Gone
from tests.web.conftest import Desk


@pytest.fixture(autouse=True)
def one_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """So that the order is seen."""
    monkeypatch.setattr(turns, "SIDE_BY_SIDE", 1)


async def settled() -> None:
    """Let everything go on that can."""
    for _ in range(10):
        await asyncio.sleep(0)


class Line:
    """A line of requests: what each does is noted in `begun`, and it lasts until it is let go."""

    def __init__(self) -> None:
        self.turns = AnswerTurns()
        self.begun: list[str] = []
        self.asked: dict[str, AnswerTurn] = {}
        self._ends: dict[str, asyncio.Event] = {}
        self._tasks: list[asyncio.Task[None]] = []

    def ask(self, name: str, asker: str, before: int = 0) -> None:
        """Begin to wait for a turn."""
        self._ends[name] = asyncio.Event()
        self._tasks.append(asyncio.ensure_future(self._request(name, asker, before)))

    async def _request(self, name: str, asker: str, before: int) -> None:
        async with self.turns.turn(asker, before) as turn:
            self.asked[name] = turn
            await turn.take()
            self.begun.append(name)
            await self._ends[name].wait()

    async def end(self, *names: str) -> None:
        """Let some come to their end, one after another."""
        for name in names:
            self._ends[name].set()
            await settled()

    async def over(self) -> None:
        """Let all come to their end; all of the room is there again."""
        while waiting := [t for t in self._tasks if not t.done()]:
            await self.end(*self._ends)
            await asyncio.gather(*waiting, return_exceptions=True)
        assert (self.turns._short, self.turns._waiting, +self.turns._long) == (0, {}, {})


def run(what: Coroutine[Any, Any, None]) -> None:
    """Run to the end."""
    with ThreadPoolExecutor(1) as beside:  # a browser's test may have a loop in this thread
        beside.submit(asyncio.run, what).result()


def test_who_asks_little_does_not_wait_for_who_asks_much() -> None:
    """Thirty requests of one: another's is answered after the one at work, each other in turn."""

    async def go() -> None:
        line = Line()
        for k in range(30):
            line.ask(f"much {k}", "much")
        await settled()
        line.ask("owner", "owner")
        line.ask("owner again", "owner")
        await settled()
        assert line.begun == ["much 0"]
        await line.end("much 0", "much 1", "owner", "much 2", "owner again")
        assert line.begun[1:] == ["much 1", "owner", "much 2", "owner again", "much 3"]
        await line.over()
        assert len(line.begun) == 32

    run(go())


def test_a_new_connection_comes_before_one_that_was_answered() -> None:
    """Of one who asks: by how often the connection was answered, then who came first."""

    async def go() -> None:
        line = Line()
        for name, before in (("at work", 0), ("5", 5), ("2", 2), ("0", 0), ("0 too", 0)):
            line.ask(name, "one", before)
        await settled()
        await line.end("at work", "0", "0 too", "2", "5")
        assert line.begun == ["at work", "0", "0 too", "2", "5"]
        await line.over()

    run(go())


def test_what_takes_long_holds_up_nobody(monkeypatch: pytest.MonkeyPatch) -> None:
    """Beside a long one others begin; of one who asks no more than so many at once."""
    monkeypatch.setattr(turns, "LONG_S", 0.0)

    async def go() -> None:
        line = Line()
        for k in range(MOST_LONG + 2):
            line.ask(f"long {k}", "much")
        while len(line.begun) < MOST_LONG:
            await asyncio.sleep(0.001)
        await asyncio.sleep(0.01)
        assert len(line.begun) == MOST_LONG
        line.ask("owner", "owner")
        await settled()
        assert line.begun[-1] == "owner"
        await line.end("long 0")
        assert line.begun[-1] == f"long {MOST_LONG}"
        await line.over()

    run(go())


@pytest.mark.parametrize("how", ["hung up", "cancelled", "cancelled as it began"])
def test_who_has_gone_is_not_waited_for(how: str) -> None:
    """One that hangs up, or is ended, while it waits leaves its place to the next."""

    async def go() -> None:
        line = Line()
        for name in ("at work", "gone", "next"):
            line.ask(name, name)
        await settled()
        if how == "hung up":
            line.asked["gone"].drop()
        elif how == "cancelled":
            line._tasks[1].cancel()
        await settled()
        line.asked["at work"].give_back()
        if how == "cancelled as it began":
            line._tasks[1].cancel()
        await settled()
        assert line.begun == ["at work", "next"]
        await line.over()
        ended = line._tasks[1]
        assert ended.cancelled() or isinstance(ended.exception(), Gone)

    run(go())


def test_a_turn_is_given_back_while_a_form_is_on_its_way(desk: Desk) -> None:
    """What is sent slowly has no turn meanwhile, and takes one when it is here."""
    turns_ = desk.client.app.turns  # type: ignore[attr-defined]
    seen: list[int] = []

    def slowly() -> Any:
        for part in (b'{"base": 0', b"}"):
            seen.append(turns_._short)
            yield part

    path = "/b/coat-and-skirt/edit"
    assert desk.post(path, content=slowly()).status_code == 400
    assert turns_._short == 0


def test_a_browser_on_the_machine_is_known_again(desk: Desk) -> None:
    """Its first page brings a mark, that pages and scripts cannot read; with it, no other one."""
    first = desk.client.get("/")
    said = first.headers["set-cookie"]
    assert "HttpOnly" in said
    assert "SameSite=Strict" in said
    assert "set-cookie" not in desk.client.get("/").headers
    desk.client.cookies.clear()
    desk.client.cookies.set(MARK, "made.up")
    assert MARK in desk.client.get("/").headers["set-cookie"]
    assert "set-cookie" not in desk.open("192.168.7.30").get("/enter").headers


def test_a_mark_opens_nothing(desk: Desk) -> None:
    """A device in the house with a mark of the machine is refused as without."""
    mark = desk.client.get("/").cookies[MARK]
    other = desk.open("192.168.7.30")
    other.cookies.set(MARK, mark)
    assert other.get("/").status_code == 401


def test_only_our_own_marks_are_known() -> None:
    """One of another run, with another name, or cut short is none."""
    ours, others = Keys(), Keys()
    mark = ours.make_mark()
    assert ours.made(mark)
    assert not any(
        ours.made(m) for m in (others.make_mark(), "x" + mark, mark[:-1], "", ".", "é.é")
    )


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ({}, {}, True),
        ({"sec-fetch-site": "none"}, {}, False),
        ({"sec-fetch-site": "none"}, {"sec-fetch-site": "cross-site"}, False),
        ({"sec-fetch-site": "made up"}, {"sec-fetch-site": "more"}, True),
        ({"cookie": f"{MARK}=made.up"}, {}, True),
    ],
)
def test_who_is_not_known_has_turns_by_where_it_comes_from(
    desk: Desk,
    monkeypatch: pytest.MonkeyPatch,
    one: dict[str, str],
    other: dict[str, str],
    same: bool,
) -> None:
    """What a browser opened by hand is apart from another site's page, and from any program."""
    askers: list[str] = []
    real = AnswerTurns.turn

    def seen(turns_: AnswerTurns, asker: str, before: int = 0) -> Any:
        askers.append(asker)
        return real(turns_, asker, before)

    monkeypatch.setattr(AnswerTurns, "turn", seen)
    for headers in (one, other):
        desk.client.cookies.clear()
        assert desk.client.get("/", headers=headers).status_code == 200
    assert (askers[0] == askers[1]) is same
