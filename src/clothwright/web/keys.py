"""Keys for other devices: a short-lived one-time key is exchanged for a session in a cookie.

On the machine itself no key is asked for. Everything is forgotten when the server stops. Only
digests are kept, so what lies in memory opens nothing.

A key of 128 bits cannot be guessed: wrong ones are never held against the right one, wherever they
come from. They are answered later and later, by address, so that trying is no use.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from clothwright.errors import BadInput

T = TypeVar("T")
KEY_LIFE_S = 600.0
"""A key that nobody used within ten minutes opens nothing any more."""
SESSION_LIFE_S = 12 * 3600.0
"""A device is let in for one long day at the table."""
COOKIE = "clothwright-session"
MARK = "clothwright-visit"
"""The cookie by which a browser on the machine itself is known again; it opens nothing."""
SLOWER_S, SLOWEST_S = 0.25, 5.0
"""By how much each wrong key of an address is answered later than its last, and at most."""
FORGIVEN_S = 600.0
"""An address that sent no wrong key for this long is answered at once again."""
AT_ONCE, A_SECOND = 60, 20
"""How many requests of an address without a session are answered at once, and then each second."""
MOST_ADDRESSES = 1000
"""Addresses that are remembered; the one quiet for longest makes room."""


class WrongKey(BadInput):
    """A key that opens nothing."""


def _remember(known: dict[str, T], address: str, value: T) -> None:
    if len(known) >= MOST_ADDRESSES:
        del known[next(iter(known))]
    known[address] = value


def _digest(secret: str) -> bytes:
    return hashlib.sha256(secret.encode("utf-8", "replace")).digest()


@dataclass(slots=True)
class Keys:
    """The keys that may still be used and the sessions that were opened with used ones."""

    now: Callable[[], float] = time.monotonic
    _keys: dict[bytes, float] = field(default_factory=dict)
    _sessions: dict[bytes, float] = field(default_factory=dict)
    _wrong: dict[str, tuple[int, float]] = field(default_factory=dict)
    _asked: dict[str, float] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _seal: bytes = field(default_factory=lambda: secrets.token_bytes(32))

    def make_mark(self) -> str:
        """Return a new mark for a browser; none is kept here, for it carries a seal."""
        return self._sealed(secrets.token_urlsafe(8))

    def made(self, mark: str) -> bool:
        """Tell whether a mark was made here."""
        made = self._sealed(mark.partition(".")[0])
        return hmac.compare_digest(made.encode(), mark.encode("utf-8", "replace"))

    def _sealed(self, name: str) -> str:
        seal = hmac.digest(self._seal, name.encode("utf-8", "replace"), "sha256")
        return f"{name}.{seal.hex()}"

    def make_key(self) -> str:
        """Return a new key: 128 random bits, good once, for ten minutes."""
        key = secrets.token_urlsafe(16)
        with self._lock:
            self._tidy()
            self._keys[_digest(key)] = self.now() + KEY_LIFE_S
        return key

    def exchange(self, key: str) -> str | None:
        """Take a key and return a session's secret for the cookie; None when it opens nothing."""
        with self._lock:
            self._tidy()
            if self._keys.pop(_digest(key), None) is None:
                return None
            session = secrets.token_urlsafe(32)
            self._sessions[_digest(session)] = self.now() + SESSION_LIFE_S
            return session

    def slowed(self, address: str) -> float:
        """Note a wrong key of an address; return the seconds after which it is to be answered."""
        with self._lock:
            now = self.now()
            tries, last = self._wrong.pop(address, (0, now))
            tries = tries + 1 if now - last < FORGIVEN_S else 1
            _remember(self._wrong, address, (tries, now))
            return min(tries * SLOWER_S, SLOWEST_S)

    def paced(self, address: str) -> float:
        """Note a request without a session; return the seconds after which it is to be answered."""
        with self._lock:
            now = self.now()
            rested = now - AT_ONCE / A_SECOND
            turn = max(self._asked.pop(address, rested), rested) + 1 / A_SECOND
            _remember(self._asked, address, turn)
            return max(turn - now, 0.0)

    def lets_in(self, session: str) -> bool:
        """Tell whether a cookie's secret is that of an open session."""
        with self._lock:
            self._tidy()
            return bool(session) and _digest(session) in self._sessions

    def _tidy(self) -> None:
        now = self.now()
        self._keys = {k: until for k, until in self._keys.items() if until > now}
        self._sessions = {k: until for k, until in self._sessions.items() if until > now}
