"""What every request passes before a page sees it, and the headers every answer carries.

Against other web pages open in the same browser (a foreign page posting to this one, a name that
is made to point here) stand the Host and Origin checks; against others in the house the key.
Nothing here guards against whoever controls this machine.
"""

from __future__ import annotations

import asyncio
import contextlib
import ipaddress
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from starlette.websockets import WebSocketClose

from clothwright.web.callers import CALL, Call
from clothwright.web.keys import COOKIE, MARK, Keys
from clothwright.web.still import KEPT_S, STILL
from clothwright.web.turns import AnswerTurn, AnswerTurns, Gone

CSP = (
    "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'"
)
"""Everything from this server; no script and no style written into a page."""

HEADERS = (
    ("content-security-policy", CSP),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("permissions-policy", "camera=(), microphone=(), geolocation=(), payment=(), usb=()"),
)
SITES = ("none", "same-origin", "same-site", "cross-site")
"""Where a request comes from, as a browser says it."""
KEPT_TO_US = "Path=/; HttpOnly; SameSite=Strict"
TURN = "clothwright.turn"
"""What a request calls its turn."""
ENTER, LOOKS = "/enter", "/static/"
"""What a device without a key may fetch: the page that takes the key, and how pages look."""


@dataclass(slots=True)
class Guard:
    """Wraps the application. hosts: every "name:port" it answers to."""

    app: ASGIApp
    hosts: frozenset[str]
    keys: Keys
    turns: AnswerTurns = field(default_factory=AnswerTurns)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or refuse it in a sentence."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        session, mark = _cookie(headers, COOKIE), _cookie(headers, MARK)
        local, let_in = is_local(scope), self.keys.lets_in(session)
        marked = local and self.keys.made(mark)
        if not (local or let_in):
            # Waited for on the loop, in no thread: who asks without end holds up nobody else.
            await asyncio.sleep(self.keys.paced(address_of(scope)))
        refusal = self._refusal(scope, headers, local or let_in)
        asker = mark if marked else session if let_in else _unknown(scope, headers)
        call: Call | None = scope.get("state", {}).get(CALL)
        async with self.turns.turn(asker, call.asked if call else 0) as turn:
            if call is not None:
                call.turn, call.asked = turn, call.asked + 1
            with contextlib.suppress(Gone):
                await turn.take()
                scope[TURN] = turn
                new = "" if marked or not local else self.keys.make_mark()
                await self._answer(scope, receive, self._marked(scope, send, turn, new), refusal)

    async def _answer(
        self, scope: Scope, receive: Receive, send: Send, refusal: tuple[int, str] | None
    ) -> None:
        if refusal is None:
            await self.app(scope, receive, send)
        elif scope["type"] == "websocket":
            await WebSocketClose(code=1008, reason=refusal[1][:100])(scope, receive, send)
        else:
            answer = PlainTextResponse(refusal[1] + "\n", status_code=refusal[0])
            await answer(scope, receive, send)

    def _refusal(self, scope: Scope, headers: Headers, known: bool) -> tuple[int, str] | None:
        host = headers.get("host", "").lower()
        if host not in self.hosts:
            return 421, "This server answers only to the address it was opened with."
        asks = scope["type"] == "http" and scope["method"] in ("GET", "HEAD")
        if not asks and headers.get("origin", "").lower() != f"http://{host}":
            return 403, "Refused: this came from another page than Clothwright's own."
        path = scope["path"]
        if not (known or path == ENTER or path.startswith(LOOKS)):
            return 401, (
                "This device has no key yet. On the computer that runs Clothwright, open "
                '"Another device" and read the square with this device.'
            )
        return None

    def _marked(self, scope: Scope, send: Send, turn: AnswerTurn, mark: str) -> Send:
        """Return how an answer is sent: its turn is over, with our headers, and with a new mark."""

        async def marked(message: Message) -> None:
            if message["type"] == "http.response.start":
                turn.give_back()
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS:
                    headers.setdefault(name, value)
                headers.setdefault("cache-control", _kept(scope["path"], message["status"]))
                if mark and headers.get("content-type", "").startswith("text/html"):
                    headers.append("set-cookie", f"{MARK}={mark}; {KEPT_TO_US}")
            await send(message)

        return marked


def _kept(path: str, status: int) -> str:
    """Return how long an answer may be kept: a file at the address of its stamp, for good."""
    if path.startswith(f"{STILL}/") and status in (200, 304):
        return f"max-age={KEPT_S}, immutable"
    return "no-cache" if path.startswith("/static/") else "no-store"


def is_local(scope: Scope) -> bool:
    """Tell whether a request comes from the machine the server runs on."""
    try:
        return ipaddress.ip_address(address_of(scope)).is_loopback
    except ValueError:
        return False


def address_of(scope: Scope) -> str:
    """Return the address a request comes from, "" where that is not known."""
    client = scope.get("client")
    return str(client[0]) if client else ""


def _unknown(scope: Scope, headers: Headers) -> str:
    """Return whose turn it is that has neither mark nor key: apart for what a browser says of it.

    So a first page that is opened by hand does not wait behind programs, nor behind another page
    that asks (Sec-Fetch-Site: W3C, Fetch Metadata Request Headers).
    """
    site = headers.get("sec-fetch-site", "")
    return f"{address_of(scope)} {site if site in SITES else ''}"


def turn_of(scope: Scope) -> AnswerTurn:
    """Return the turn of a request that the guard has let in."""
    turn: AnswerTurn = scope[TURN]
    return turn


def _cookie(headers: Headers, name: str) -> str:
    try:
        jar = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return ""
    return jar[name].value if name in jar else ""
