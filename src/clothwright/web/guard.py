"""What every request passes before a page sees it, and the headers every answer carries.

Against other web pages open in the same browser (a foreign page posting to this one, a name that
is made to point here) stand the Host and Origin checks; against others in the house the key.
Nothing here guards against whoever controls this machine.
"""

from __future__ import annotations

import asyncio
import ipaddress
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from starlette.websockets import WebSocketClose

from clothwright.web.keys import COOKIE, Keys
from clothwright.web.still import KEPT_S, STILL

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
ENTER, LOOKS = "/enter", "/static/"
"""What a device without a key may fetch: the page that takes the key, and how pages look."""


@dataclass(slots=True)
class Guard:
    """Wraps the application. hosts: every "name:port" it answers to."""

    app: ASGIApp
    hosts: frozenset[str]
    keys: Keys

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or refuse it in a sentence."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        known = is_local(scope) or self.keys.lets_in(_cookie(headers))
        if not known:
            # Waited for on the loop, in no thread: who asks without end holds up nobody else.
            await asyncio.sleep(self.keys.paced(address_of(scope)))
        refusal = self._refusal(scope, headers, known)
        if refusal is not None:
            status, words = refusal
            if scope["type"] == "websocket":
                await WebSocketClose(code=1008, reason=words[:100])(scope, receive, send)
                return
            answer = PlainTextResponse(words + "\n", status_code=status)
            await answer(scope, receive, self._marked(scope, send))
            return
        marked = send if scope["type"] == "websocket" else self._marked(scope, send)
        await self.app(scope, receive, marked)

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

    def _marked(self, scope: Scope, send: Send) -> Send:
        async def marked(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS:
                    headers.setdefault(name, value)
                headers.setdefault("cache-control", _kept(scope["path"], message["status"]))
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


def _cookie(headers: Headers) -> str:
    try:
        jar = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return ""
    return jar[COOKIE].value if COOKIE in jar else ""
