"""Whose turn it is to be answered, so that who asks much waits longer than who asks little.

All answers are computed by one interpreter: forty at once take forty times as long each, the
owner's among them. So only a few are made side by side, and those who ask have turns one after the
other, however many requests each has waiting (round robin, as in fair queueing: Nagle, RFC 970).
What takes long gives its place to the next, so that it holds up nobody.
"""

from __future__ import annotations

import asyncio
from collections import Counter
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field

SIDE_BY_SIDE = 2
"""Answers that are made at once: one may wait for the disk while another is computed."""
LONG_S = 0.1
"""An answer that takes longer is long: another one is begun beside it."""
MOST_LONG = 8
"""Long ones of one who asks; a browser sends no more than six at once."""


class Gone(Exception):  # noqa: N818
    """Who asked has hung up while waiting."""


@dataclass(slots=True, eq=False)
class AnswerTurn:
    """A request's turn. asker: who asks. before: how many of its connection were answered."""

    asker: str
    before: int
    _turns: AnswerTurns
    _begun: asyncio.Future[None] | None = None
    _timer: asyncio.TimerHandle | None = None
    _long: bool = False

    async def take(self) -> None:
        """Wait for it. Raises Gone when `drop` ended the waiting."""
        self._begun = self._turns.wait(self)
        try:
            await self._begun
        except BaseException:
            self.give_back()
            raise

    def drop(self) -> None:
        """Wait for it no longer: nobody would read the answer."""
        if self._begun is not None and not self._begun.done():
            self._turns.leave(self)
            self._begun.set_exception(Gone())

    def begin(self) -> bool:
        """Have it now; False when nobody waits for it any more."""
        if self._begun is None or self._begun.done():
            return False
        self._begun.set_result(None)
        self._timer = asyncio.get_running_loop().call_later(LONG_S, self._is_long)
        return True

    def give_back(self) -> None:
        """Let the next one have its turn; it may be given back twice."""
        if self._timer is None:
            return
        self._timer.cancel()
        self._timer = None
        self._turns.over(self.asker, long=self._long)
        self._long = False

    def _is_long(self) -> None:
        self._long = True
        self._turns.long(self.asker)


@dataclass(slots=True)
class AnswerTurns:
    """Everybody who waits, and how many are being answered."""

    _waiting: dict[str, list[AnswerTurn]] = field(default_factory=dict)
    _short: int = 0
    _long: Counter[str] = field(default_factory=Counter)

    @asynccontextmanager
    async def turn(self, asker: str, before: int = 0) -> AsyncIterator[AnswerTurn]:
        """Give a turn that was not taken yet, and take it back at the end if need be."""
        turn = AnswerTurn(asker, before, self)
        try:
            yield turn
        finally:
            turn.give_back()

    def wait(self, turn: AnswerTurn) -> asyncio.Future[None]:
        """Return what is done when a turn begins."""
        begun = turn._begun = asyncio.get_running_loop().create_future()
        self._waiting.setdefault(turn.asker, []).append(turn)
        self._next()
        return begun

    def leave(self, turn: AnswerTurn) -> None:
        """Forget one that waits no more."""
        own = self._waiting[turn.asker]
        own.remove(turn)
        if not own:
            del self._waiting[turn.asker]

    def over(self, asker: str, *, long: bool) -> None:
        """Note that a turn is over, and begin the next."""
        if long:
            self._long -= Counter((asker,))
        else:
            self._short -= 1
        self._next()

    def long(self, asker: str) -> None:
        """Note that an answer takes long, and begin the next."""
        self._short -= 1
        self._long[asker] += 1
        self._next()

    def _next(self) -> None:
        """Begin turns while there is room; who had one comes after all others who ask.

        Of what one asks, a connection that was answered less often comes first.
        """
        while self._short < SIDE_BY_SIDE:
            asker = next((a for a in self._waiting if self._long[a] < MOST_LONG), None)
            if asker is None:
                return
            own = self._waiting.pop(asker)
            turn = min(own, key=lambda one: one.before)  # of as many, who waits longest
            own.remove(turn)
            if own:
                self._waiting[asker] = own
            self._short += turn.begin()
